"""From a schedule back to a plan: every step of the book with its instants, people and places."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from itertools import pairwise

from scheduler.normalise import JobName, Normal, StageName
from scheduler.normalise.answers import answerer, due_at
from scheduler.normalise.names import Ridden
from scheduler.normalise.order import journeys_of
from scheduler.problem import Schedule
from scheduler.reasons import Reason
from scheduler.teams import call_of, teams_among
from scheduler.told_steps import told_steps
from scheduler.trip_times import trip_of, trip_of_run
from shared.book import Gate, GateKind, Journey
from shared.ids import StepId
from shared.plan import LegTime, LetGo, Placement, Plan, Trip, Unplaced
from shared.units import ceil_to_step, instant_of


def to_plan(normal: Normal, schedule: Schedule, *, seed: int = 0) -> Plan:
    """Return the plan that a schedule of the normalised book stands for."""
    made = _Unfolding(normal, schedule)
    told_placements, told_unplaced = told_steps(normal)
    placements = [*made.placements(), *told_placements]
    trips = [trip for gone in normal.gone for trip in gone.trips]
    unplaced = [*normal.unplaced, *told_unplaced]
    for position, name in enumerate(normal.jobs):
        found = made.trips(position, name)
        trips += found
        unplaced += made.left_behind(name, found)
        placements += made.doors(name, found)
    return Plan(
        made_from=normal.made_from,
        now=normal.now,
        seed=seed,
        jobs=tuple(sorted(normal.planned)),
        placements=tuple(sorted(placements, key=_in_order)),
        trips=tuple(sorted(trips, key=lambda trip: (trip.job, trip.step))),
        unplaced=tuple(sorted(unplaced, key=lambda one: (one.job, one.step))),
        let_go=_let_go(normal),
    )


def _let_go(normal: Normal) -> tuple[LetGo, ...]:
    """Return what was told for today or tomorrow and is not held, in order."""
    found = (
        LetGo(job=name.job, step=name.step, round=name.round, part=name.part)
        for name in normal.let_go
    )
    return tuple(sorted(found, key=lambda one: (one.job, one.step, one.round, one.part)))


def _in_order(placement: Placement) -> tuple[str, str, int, str]:
    return placement.job, placement.step, placement.round, placement.part


class _Unfolding:
    """A schedule on its way back."""

    def __init__(self, normal: Normal, schedule: Schedule) -> None:
        self._normal, self._schedule = normal, schedule
        self._jobs = {job.id: job for job in normal.book.jobs}
        self._steps = {step.id: step for job in normal.book.jobs for step in job.steps}

    def _at(self, step: int) -> datetime:
        return instant_of(self._normal.origin, step)

    def placements(self) -> Iterator[Placement]:
        """Give the placement of every stage that stands for a step and is placed."""
        for position, name in enumerate(self._normal.stages):
            if name.is_told and self._schedule.ways[position] >= 0:
                yield self._placement(position, name)

    def _placement(self, position: int, name: StageName) -> Placement:
        normal, schedule = self._normal, self._schedule
        way = normal.ways[position][schedule.ways[position]]
        return Placement(
            job=name.job,
            step=name.step,
            start=self._at(schedule.starts[position]) if name.begun is None else name.begun,
            end=self._end(position, name),
            way=way.way,
            people=tuple(normal.workers[worker] for worker in self._team(position)),
            place=way.place,
            equipment=way.equipment,
            round=name.round,
            part=name.part,
        )

    def _end(self, position: int, name: StageName) -> datetime:
        """Return the end of a stage; of an answer, when it is due."""
        end = self._at(self._schedule.ends[position])
        step = self._steps[name.step]
        if name.due is not None:
            return ceil_to_step(name.due)
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER and not name.part:
            return ceil_to_step(due_at(answerer(self._jobs[name.job], step), step, end))
        return end

    def _team(self, position: int) -> tuple[int, ...]:
        """Return the team; for work of no length, which holds nobody, one that could do it."""
        team = self._schedule.teams[position]
        stage = self._normal.problem.stages[position]
        way = stage.ways[self._schedule.ways[position]]
        if team or not way.needs:
            return team
        workers = self._normal.problem.workers
        call = call_of(stage, replace(way, work=Fraction(1)))
        return next(teams_among(workers, call, range(len(workers))), ())

    def trips(self, position: int, name: JobName) -> list[Trip]:
        """Return the journeys of a job in time, none where it can't leave."""
        option = self._schedule.trips[position] if self._schedule.trips else -1
        if option < 0:
            return []
        rides = dict(name.options[option].rides)
        return [self._trip(name, journey, rides[journey.id]) for journey in journeys_of(name.job)]

    def _trip(self, name: JobName, journey: Journey, found: Ridden) -> Trip:
        rest_hours = self._normal.book.workshop.rest_hours
        if found.run is not None:
            return trip_of_run(rest_hours, name.job, found.run, found.means)
        ride = found.ride
        times = [self._at(step) for step in (ride.leaves, *ride.ends)]
        legs = tuple(LegTime(start=start, end=end) for start, end in pairwise(times))
        trip = trip_of(rest_hours, name.job, journey, times[0], legs)
        return trip if found.means is None else replace(trip, means=found.means)

    def left_behind(self, name: JobName, trips: list[Trip]) -> list[Unplaced]:
        """Return the journeys that nothing lets leave, and the doors behind them."""
        known = {one.step for one in self._normal.unplaced}
        left = [] if trips else [journey.id for journey in journeys_of(name.job)]
        behind = [] if trips else list(name.behind)
        return [
            *(_unplaced(name, step, Reason.NO_DEPARTURE) for step in left if step not in known),
            *(_unplaced(name, step, Reason.FOLLOWS_UNPLACED) for step in behind),
        ]

    def doors(self, name: JobName, trips: list[Trip]) -> list[Placement]:
        """Return the doors at the site, which open once all journeys are over."""
        if not trips:
            return []
        at = max(trip.end for trip in trips)
        return [Placement(job=name.job.id, step=step, start=at, end=at) for step in name.behind]


def _unplaced(name: JobName, step: StepId, reason: Reason) -> Unplaced:
    return Unplaced(job=name.job.id, step=step, code=reason.value)
