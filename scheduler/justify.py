"""Pulling a schedule together from behind: every stage as late as what follows allows.

Loading ends no later than before and journeys stay; stages move towards it, so that segments
stand about for less time. Source: the justification of Valls, Ballestin and Quintanilla,
"Justification and RCPSP", European Journal of Operational Research 165 (2005), backward half.
"""

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.mirror import Mirror
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.search import Spot


def justify(index: Index, schedule: Schedule) -> Schedule | None:
    """Return the schedule justified, or None if the way back does not work out.

    Stages that are pinned or stand as told stay where they are; so do those of a job that would
    not fit any more.
    """
    mirror = index.once(Mirror)
    backward = mirror.index(schedule)
    stages = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
    order = sorted(
        stages, key=lambda stage: (-schedule.ends[stage], -schedule.starts[stage], stage)
    )
    inserted = frozenset(stage for stage in stages if index.problem.stages[stage].optional)
    staying = {stage for stage in stages if _stays(index, schedule, stage)}
    for _ in range(len(index.problem.jobs) + 1):
        fixed = {stage: mirror.turned_spot(_spot(schedule, stage)) for stage in sorted(staying)}
        found = place(backward, order, fixed=fixed, inserted=inserted)
        if not isinstance(found, Unfit):
            return mirror.back(found, schedule.trips)
        job = index.problem.stages[found.stage].job
        mates = {stage for stage in stages if index.problem.stages[stage].job == job}
        if mates <= staying:
            return None
        staying |= mates
    return None


def _spot(schedule: Schedule, stage: int) -> Spot:
    return Spot(
        start=schedule.starts[stage],
        end=schedule.ends[stage],
        way=schedule.ways[stage],
        team=schedule.teams[stage],
    )


def _stays(index: Index, schedule: Schedule, stage: int) -> bool:
    asked = index.problem.stages[stage]
    if asked.fixed_start is not None:
        return True
    same_team = asked.told_team is None or sorted(asked.told_team) == sorted(schedule.teams[stage])
    return asked.told_start == schedule.starts[stage] and same_team
