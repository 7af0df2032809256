"""Whoever could still leave does: journeys that a solution left at home for no reason.

The model may let a journey stay; where crew and vehicles are free for one of its departures
after loading, it takes the one it would rather.
"""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.laws import Laws, laws_of
from scheduler.problem import JobAim, Problem, Schedule, Stage, Trip, Use, Wait
from scheduler.search import Spot
from scheduler.spots import journeys


def let_leave(index: Index, schedule: Schedule) -> Schedule:
    """Return the schedule with every journey gone that can go, in the order of jobs."""
    problem = index.problem
    for number, job in enumerate(problem.jobs):
        if job.trip is not None and schedule.trips[number] < 0:
            laws = _laws(index, schedule)
            option = _first_free(problem, schedule, job, job.trip, laws)
            trips = (*schedule.trips[:number], option, *schedule.trips[number + 1 :])
            schedule = replace(schedule, trips=trips)
    return schedule


def _laws(index: Index, schedule: Schedule) -> Laws | None:
    """Return who has company of whom in a schedule, None where nobody must have any."""
    laws = laws_of(index)
    if laws is None:
        return None
    for _, going in journeys(index.problem, schedule):
        laws.leave(going)
    placed = zip(schedule.starts, schedule.ends, schedule.ways, schedule.teams, strict=True)
    for stage, (start, end, way, team) in enumerate(placed):
        laws.book(stage, Spot(start=start, end=end, way=way, team=team))
    return laws


def _first_free(
    problem: Problem, schedule: Schedule, job: JobAim, trip: Trip, laws: Laws | None
) -> int:
    ready = max((schedule.ends[last] for last in job.lasts), default=0)
    loaded = max((schedule.ends[load] for load in job.loads), default=0)
    for option in trip.preferred:
        going = trip.options[option]
        if (
            trip.may_leave(option, ready, loaded)
            and all(_is_free(problem, schedule, *each) for each in going.away)
            and all(_is_free(problem, schedule, *each, rests=True) for each in going.rests)
            and all(_has_room(problem, schedule, *each) for each in going.takes)
            and (laws is None or laws.may_leave(going))
        ):
            return option
    return -1


def _is_free(
    problem: Problem, schedule: Schedule, worker: int, start: int, end: int, *, rests: bool = False
) -> bool:
    held = _held(problem, schedule, worker, rests=rests)
    return all(b <= start or a >= end for a, b in held if a < b)


def _held(
    problem: Problem, schedule: Schedule, worker: int, *, rests: bool
) -> Iterator[tuple[int, int]]:
    """Give what a worker does; for what is no rest itself, their rests too."""
    yield from problem.workers[worker].busy
    for team, start, end in zip(schedule.teams, schedule.starts, schedule.ends, strict=True):
        if worker in team:
            yield start, end
    for _, going in journeys(problem, schedule):
        for one, start, end in going.away if rests else going.absences:
            if one == worker:
                yield start, end


def _has_room(
    problem: Problem, schedule: Schedule, room: int, first: int, last: int, units: int
) -> bool:
    taken = [
        (max(a, first), min(b, last), there)
        for a, b, there in _taken(problem, schedule, room)
        if a < last and b > first and a < b
    ]
    free = problem.rooms[room].capacity - units
    return free >= 0 and all(
        sum(there for a, b, there in taken if a <= at < b) <= free for at, _, _ in taken
    )


def _taken(problem: Problem, schedule: Schedule, room: int) -> Iterator[tuple[int, int, int]]:
    yield from problem.rooms[room].busy
    for number, (stage, way) in enumerate(zip(problem.stages, schedule.ways, strict=True)):
        for use in stage.ways[way].uses if way >= 0 else ():
            if use.room == room:
                yield *_use_span(stage, use, schedule, number), use.units
    for hold in problem.holds:
        if hold.room == room:
            first = 0 if hold.first is None else schedule.starts[hold.first]
            yield first, schedule.ends[hold.last], hold.units
    for _, going in journeys(problem, schedule):
        for name, start, end, units in going.takes:
            if name == room:
                yield start, end, units


def _use_span(stage: Stage, use: Use, schedule: Schedule, number: int) -> tuple[int, int]:
    end = schedule.ends[number]
    ready = _ready(stage.cure, end) if use.through_cure else end
    return max(0, schedule.starts[number] - use.before), ready + use.after


def _ready(cure: Wait, end: int) -> int:
    value = None if cure.table is None else cure.table.value(end)
    return max(end + cure.least, end if value is None else value)
