"""The same problem with time running backwards from its horizon.

One pass serves both directions: what ends soonest backwards starts latest forwards.
"""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.problem import Calendar, Going, Problem, Schedule, Spans, Stage, Way
from scheduler.search import Spot
from scheduler.spans import merged, turned
from scheduler.spots import journeys
from scheduler.terms import Bounds, turned_bounds, turned_terms


class Mirror:
    """An index seen backwards, journeys aside; made once for each index."""

    def __init__(self, index: Index) -> None:
        self._forward = index
        self._horizon = index.problem.horizon
        self._lasts = {stage for job in index.problem.jobs for stage in job.lasts}
        self._punctual = {
            stage
            for job in index.problem.jobs
            if job.trip is not None and job.trip.stands_most is not None
            for stage in job.loads
        }
        self._followed = {link.before for link in index.terms.links if link.lag is not None}
        self._backward = Index(
            _turned_problem(index.problem),
            terms=turned_terms(index.terms, self._horizon),
            watch_first=True,
            tables=index.tables,
        )

    def index(self, schedule: Schedule) -> Index:
        """Return the backward index for improving a schedule.

        Its journeys are where they are, and no stage that loads, or that nothing follows, ends
        later than in the schedule.
        """
        problem = self._forward.problem
        bounds = [
            turned_bounds(self._bounds(stage, schedule), self._horizon)
            for stage in range(len(problem.stages))
        ]
        away = [going for _, going in journeys(problem, schedule)]
        workers = [
            replace(
                worker,
                busy=self._turned_spans(worker.busy, away, number),
                away=self._turned_spans(worker.away, away, number),
            )
            for number, worker in enumerate(problem.workers)
        ]
        rooms = [
            replace(room, busy=(*room.busy, *self._turned_uses(away, number)))
            for number, room in enumerate(self._backward.problem.rooms)
        ]
        taken = replace(self._backward.problem, workers=tuple(workers), rooms=tuple(rooms))
        return self._backward.variant(taken, tuple(bounds))

    def _bounds(self, stage: int, schedule: Schedule) -> Bounds:
        bounds = self._forward.terms.bounds[stage]
        if schedule.ways[stage] < 0 or (stage in self._followed and stage not in self._lasts):
            return bounds
        end = schedule.ends[stage]
        soonest = end if stage in self._punctual else bounds.earliest_end
        return replace(bounds, earliest_end=soonest, latest_end=min(bounds.latest_end, end))

    def _turned_spans(self, spans: Spans, goings: list[Going], worker: int) -> Spans:
        gone = [(a, b) for going in goings for one, a, b in going.absences if one == worker]
        return turned(merged((*spans, *gone)), self._horizon)

    def _turned_uses(self, goings: list[Going], room: int) -> Iterator[tuple[int, int, int]]:
        for going in goings:
            for taken, first, last, units in going.takes:
                if taken == room:
                    for start, end in turned(((first, last),), self._horizon):
                        yield start, end, units

    def back(self, spots: Schedule, trips: tuple[int, ...]) -> Schedule:
        """Return a schedule of the backward index as one of the forward one."""
        placed = [way >= 0 for way in spots.ways]
        return replace(
            spots,
            starts=self._turned_moments(spots.ends, placed),
            ends=self._turned_moments(spots.starts, placed),
            trips=trips,
        )

    def _turned_moments(self, moments: tuple[int, ...], placed: list[bool]) -> tuple[int, ...]:
        return tuple(
            self._horizon - t if is_placed else -1
            for t, is_placed in zip(moments, placed, strict=True)
        )

    def turned_spot(self, spot: Spot) -> Spot:
        """Return a spot with time running the other way."""
        return replace(spot, start=self._horizon - spot.end, end=self._horizon - spot.start)


def _turned_problem(problem: Problem) -> Problem:
    horizon = problem.horizon
    return replace(
        problem,
        calendars=tuple(
            Calendar(open=turned(each.open, horizon), shifts=turned(each.shifts, horizon))
            for each in problem.calendars
        ),
        rooms=tuple(
            replace(
                room,
                busy=tuple(
                    (start, end, units)
                    for a, b, units in room.busy
                    for start, end in turned(((a, b),), horizon)
                ),
            )
            for room in problem.rooms
        ),
        jobs=tuple(replace(job, trip=None) for job in problem.jobs),
        stages=tuple(_turned_stage(stage, horizon) for stage in problem.stages),
        shut=turned(problem.shut, horizon),
        days=turned(problem.days, horizon),
        half_days=turned(problem.half_days, horizon),
    )


def _turned_stage(stage: Stage, horizon: int) -> Stage:
    if all(way.clear is None for way in stage.ways):
        return stage
    return replace(stage, ways=tuple(_turned_way(way, horizon) for way in stage.ways))


def _turned_way(way: Way, horizon: int) -> Way:
    if way.clear is None:
        return way
    # Both limits of each stretch are included, so that the whole of it turns round.
    return replace(way, clear=tuple((horizon - b, horizon - a) for a, b in reversed(way.clear)))
