"""Pulling a schedule together from behind: every stage as late as what follows allows.

Loading ends no later than before and journeys stay; stages move towards it, so that segments
stand about for less time. Source: the justification of Valls, Ballestin and Quintanilla,
"Justification and RCPSP", European Journal of Operational Research 165 (2005), backward half.
"""

from collections.abc import Mapping

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.mirror import Mirror
from scheduler.place import place
from scheduler.problem import Schedule, Stage
from scheduler.search import Spot
from scheduler.teams import Team

FREE_TRIES_MAX = 3


def justify(index: Index, schedule: Schedule) -> Schedule | None:
    """Return the schedule justified, or None if the way back does not work out.

    Stages that are pinned or were told stay where they are, and so do those of a job that does
    not fit any more. If that happens to too many, everybody keeps their own stages.
    """
    kept = {
        stage: (way, team)
        for stage, (way, team) in enumerate(zip(schedule.ways, schedule.teams, strict=True))
        if way >= 0
    }
    found = _backwards(index, schedule, FREE_TRIES_MAX, {})
    if found is None:
        found = _backwards(index, schedule, len(index.problem.jobs) + 1, kept)
    return found


def _backwards(
    index: Index, schedule: Schedule, tries_max: int, teams: Mapping[int, tuple[int, Team]]
) -> Schedule | None:
    mirror = index.once(Mirror)
    backward = mirror.index(schedule)
    stages = [stage for stage, way in enumerate(schedule.ways) if way >= 0]
    order = sorted(stages, key=lambda stage: (-schedule.ends[stage], -schedule.starts[stage]))
    asked = index.problem.stages
    inserted = frozenset(stage for stage in stages if asked[stage].optional)
    staying = {stage for stage in stages if _stays(asked[stage])}
    for _ in range(tries_max):
        fixed = {stage: mirror.turned_spot(_spot(schedule, stage)) for stage in sorted(staying)}
        found = place(backward, order, fixed=fixed, inserted=inserted, teams=teams)
        if not isinstance(found, Unfit):
            return mirror.back(found, schedule.trips)
        job = asked[found.stage].job
        mates = {stage for stage in stages if asked[stage].job == job}
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


def _stays(stage: Stage) -> bool:
    return stage.fixed_start is not None or stage.told_start is not None
