"""Pulling a schedule together job by job: one moves as late as it can, all others stay.

Where a whole schedule can't be pulled together at once, since too much stands about for it to
be placed anew from behind, each job by itself mostly can: all it finds in its way stays put.
"""

from collections.abc import Iterable

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.justify import justify
from scheduler.mirror import Mirror
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.spots import spot_of, stays
from scheduler.stop import Stop

ROUNDS_MAX = 3
UNITS = 3


def tighten(index: Index, schedule: Schedule, stop: Stop) -> Schedule:
    """Return the schedule pulled together in every way there is, again as long as that helps.

    Each way counts for some units of effort: a pass or more.
    """
    best, reached = schedule, levels(index.problem, schedule)
    for _ in range(ROUNDS_MAX):
        before = reached
        for way in (_by_start, _by_end, pull):
            if stop.reason() is not None:
                return best
            stop.spend(UNITS)
            found = way(index, best)
            if found is not None and (other := levels(index.problem, found)) < reached:
                best, reached = found, other
        if reached == before:
            break
    return best


def _by_start(index: Index, schedule: Schedule) -> Schedule | None:
    return justify(index, schedule, by_start=True)


def _by_end(index: Index, schedule: Schedule) -> Schedule | None:
    return justify(index, schedule)


def pull(index: Index, schedule: Schedule, jobs: Iterable[int] | None = None) -> Schedule:
    """Return the schedule with jobs pulled together, one after another, where it is better so.

    jobs: None for all, those that load last first.
    """
    if jobs is None:
        jobs = _last_first(index, schedule)
    reached = levels(index.problem, schedule)
    for job in jobs:
        found = _pulled(index, schedule, job)
        if found is not None and (other := levels(index.problem, found)) < reached:
            schedule, reached = found, other
    return schedule


def _last_first(index: Index, schedule: Schedule) -> list[int]:
    problem = index.problem
    ends = [max((schedule.ends[last] for last in job.lasts), default=0) for job in problem.jobs]
    return sorted(range(len(ends)), key=lambda job: (-ends[job], job))


def _pulled(index: Index, schedule: Schedule, job: int) -> Schedule | None:
    mirror = index.once(Mirror)
    asked = index.problem.stages
    placed = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
    free = {stage for stage in placed if asked[stage].job == job and not stays(asked[stage])}
    if not free:
        return None
    found = place(
        mirror.index(schedule),
        sorted(placed, key=lambda stage: (-schedule.ends[stage], -schedule.starts[stage])),
        fixed={
            stage: mirror.turned_spot(spot_of(schedule, stage))
            for stage in placed
            if stage not in free
        },
        inserted=frozenset(stage for stage in placed if asked[stage].optional),
    )
    return None if isinstance(found, Unfit) else mirror.back(found, schedule.trips)
