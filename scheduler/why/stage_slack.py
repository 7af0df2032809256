"""How far each stage can slip while everybody's other work keeps its order, and who shares that.

The latest form of the order says how late a stage can be with every window kept that is kept now;
what is missed stays no later than it is. Slack is told in the workshop's normal working time.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.normalise import Normal
from scheduler.problem import Going, JobAim, Schedule
from scheduler.slack import working_minutes
from scheduler.spots import journeys
from scheduler.verdicts import stand_of
from scheduler.why.order_graph import OrderGraph, Sliding
from scheduler.why.order_values import Arc
from shared.ids import JobId, StepId
from shared.units import instant_of

_NEAR = 96
"""A stage that is ready within a day before the next one starts is told as pushing it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageSlack:
    """How far a stage can slip.

    stage: its position in the problem. start, latest_start: steps. minutes: of the workshop's
    working time from the one to the other. shared_with: stages that have used up their own slack
    once this one has used up its. held_by: of one that can't slip at all, the last that can't
    behind it: what holds all of them.
    """

    stage: int
    step: StepId
    start: int
    latest_start: int
    minutes: int
    shared_with: tuple[int, ...] = ()
    held_by: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JobSlack:
    """How far the work of a job can slip: as far as its tightest stage; and every stage of it.

    names: by stage, the step and the job of all that are spoken of, those of other jobs too.
    """

    job: JobId
    minutes: int
    stages: tuple[StageSlack, ...]
    names: tuple[tuple[int, StepId, JobId], ...] = ()


class Slacks:
    """Slack in one schedule, worked out once and asked for by job."""

    def __init__(self, normal: Normal, schedule: Schedule, index: Index | None = None) -> None:
        """Take the schedule of a normalised book."""
        self._normal, self._schedule = normal, schedule
        index = Index(normal.problem) if index is None else index
        goings = latest_goings(normal, schedule)
        self._graph = OrderGraph(index, schedule, goings=goings)
        self._limits = _limits(normal, schedule, goings)
        self._latest: Sliding = self._graph.latest(self._limits)

    def of(self, job: JobId) -> JobSlack:
        """Return the slack of a job and of each of its stages that is still to begin."""
        normal, starts = self._normal, self._schedule.starts
        stages = [
            stage
            for stage in self._graph.placed
            if normal.stages[stage].job == job and normal.stages[stage].is_told
        ]
        found = tuple(
            StageSlack(
                stage=stage,
                step=normal.stages[stage].step,
                start=starts[stage],
                latest_start=self._latest.starts[stage],
                minutes=self.minutes(stage),
                shared_with=self._sharing(stage),
                held_by=self._held_by(stage),
            )
            for stage in stages
            if not self._graph.is_fixed(stage)
        )
        least = min((each.minutes for each in found), default=0)
        spoken = {other for each in found for other in (each.stage, *each.shared_with)}
        spoken.update(each.held_by for each in found if each.held_by is not None)
        names = tuple(
            (stage, normal.stages[stage].step, normal.stages[stage].job) for stage in sorted(spoken)
        )
        return JobSlack(job=job, minutes=least, stages=found, names=names)

    def minutes(self, stage: int) -> int:
        """Return the working minutes by which a stage can slip."""
        start, latest = self._schedule.starts[stage], self._latest.starts[stage]
        origin = self._normal.origin
        return working_minutes(
            self._normal.book.workshop, instant_of(origin, start), instant_of(origin, latest)
        )

    def _held_by(self, stage: int) -> int | None:
        """Return the last of those behind a stage that can't slip, where it can't itself."""
        starts, latest = self._schedule.starts, self._latest.starts
        if latest[stage] > starts[stage]:
            return None
        seen: set[int] = set()
        at: int | None = stage
        last = stage
        while at is not None:
            seen.add(at)
            last = at
            behind = (
                arc.after
                for arc in self._graph.outs[at]
                if arc.after not in seen
                and latest[arc.after] <= starts[arc.after]
                and self._is_pushing(arc)
            )
            at = min(behind, key=lambda one: (starts[one], one), default=None)
        return last if self._normal.stages[last].is_told else None

    def _is_pushing(self, arc: Arc) -> bool:
        """Return whether the second of an arc would have to be later with the first."""
        starts, ends = self._schedule.starts, self._schedule.ends
        came = ends[arc.before] if arc.from_end else starts[arc.before]
        ready = None if arc.lag is None else arc.lag.of(came + 1)
        comes = ends[arc.after] if arc.to_end else starts[arc.after]
        return ready is not None and ready > comes - _NEAR

    def _sharing(self, stage: int) -> tuple[int, ...]:
        """Return the stages that are at their latest once this one is at its."""
        planned, latest = self._schedule, self._latest
        if latest.starts[stage] <= planned.starts[stage]:
            return ()
        pushed = self._graph.pushed(stage, latest.starts[stage])
        return tuple(
            other
            for other, start in sorted(pushed.items())
            if other != stage
            and start >= latest.starts[other] > planned.starts[other]
            and self._normal.stages[other].is_told
        )


def latest_goings(normal: Normal, schedule: Schedule) -> dict[int, Going]:
    """Return by job the departure that leaves most room: as planned, or later and in nobody's way.

    Later ones count only where they make the window, cost no more and collide with nothing.
    """
    found = dict(journeys(normal.problem, schedule))
    for job, planned in list(found.items()):
        aim = normal.problem.jobs[job]
        if not planned.in_time or aim.trip is None:
            continue
        later = [
            going
            for going in aim.trip.options
            if going.in_time and going.leaves > planned.leaves and going.price <= planned.price
        ]
        later.sort(key=lambda going: -going.leaves)
        others = {other: going for other, going in found.items() if other != job}
        free = (going for going in later if _is_free(normal, schedule, going, others))
        found[job] = next(free, planned)
    return found


def _is_free(normal: Normal, schedule: Schedule, going: Going, others: Mapping[int, Going]) -> bool:
    problem = normal.problem
    if going.takes:
        return False
    for worker, start, end in going.absences:
        stages = (stage for stage, team in enumerate(schedule.teams) if worker in team)
        spans = [
            *((schedule.starts[stage], schedule.ends[stage]) for stage in stages),
            *problem.workers[worker].busy,
            *((a, b) for other in others.values() for one, a, b in other.absences if one == worker),
        ]
        if any(a < end and b > start for a, b in spans):
            return False
    return True


def _limits(normal: Normal, schedule: Schedule, goings: Mapping[int, Going]) -> dict[int, int]:
    """Return by when the last stages of jobs must end: their windows, or no later than now."""
    found: dict[int, int] = {}
    for position, aim in enumerate(normal.problem.jobs):
        by = _limit(normal, schedule, position, goings.get(position))
        for last in aim.lasts:
            planned = schedule.ends[last]
            found[last] = min(found.get(last, by), max(by, planned) if planned >= 0 else by)
    return found


def _limit(normal: Normal, schedule: Schedule, position: int, going: Going | None) -> int:
    aim = normal.problem.jobs[position]
    end = max((schedule.ends[last] for last in aim.lasts), default=0)
    if aim.latest is None or not stand_of(normal, position, schedule).kept:
        return end
    if going is not None and aim.trip is not None:
        return max(end, _loaded_by(aim, going))
    return max(end, aim.latest)


def _loaded_by(aim: JobAim, going: Going) -> int:
    return going.leaves if aim.latest is None else min(going.leaves, aim.latest)
