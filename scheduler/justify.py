"""Pulling a schedule together from behind: every stage as late as what follows allows.

Loading ends no later than before and journeys stay; stages move towards it, so that segments
stand about for less time. Source: the justification of Valls, Ballestin and Quintanilla,
"Justification and RCPSP", European Journal of Operational Research 165 (2005), backward half.
"""

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.later import put_later
from scheduler.mirror import Mirror
from scheduler.place import place
from scheduler.problem import JobAim, Schedule
from scheduler.spots import spot_of, stays


def justify(index: Index, schedule: Schedule, *, by_start: bool = False) -> Schedule:
    """Return the schedule justified.

    Everything is placed anew from behind; where some stage then does not fit any more, or jobs
    load too late as it is, units move one by one instead. Stages that are pinned or were told
    stay where they are. by_start: what starts last comes first, not what ends last; where much
    stands about, what that finds differs.
    """
    if not any(_is_late(job, schedule) for job in index.problem.jobs):
        found = _backwards(index, schedule, by_start=by_start)
        if found is not None:
            return found
    return put_later(index, schedule, by_start=by_start)


def _is_late(job: JobAim, schedule: Schedule) -> bool:
    return job.latest is not None and loading_end(job, schedule) > job.latest


def _backwards(index: Index, schedule: Schedule, *, by_start: bool) -> Schedule | None:
    mirror = index.once(Mirror)
    backward = mirror.index(schedule)
    stages = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
    first, then = schedule.ends, schedule.starts
    if by_start:
        first, then = then, first
    order = sorted(stages, key=lambda stage: (-first[stage], -then[stage]))
    asked = index.problem.stages
    inserted = frozenset(stage for stage in stages if asked[stage].optional)
    fixed = {
        stage: mirror.turned_spot(spot_of(schedule, stage))
        for stage in stages
        if stays(asked[stage])
    }
    found = place(backward, order, fixed=fixed, inserted=inserted)
    return None if isinstance(found, Unfit) else mirror.back(found, schedule.trips)
