"""Between schedules and spots: where each stage is, and which journeys leave."""

from collections.abc import Iterator, Mapping, Sequence

from scheduler.problem import Going, Problem, Schedule, Stage
from scheduler.search import Spot

NOWHERE = Spot(start=-1, end=-1, way=-1, team=())


def spot_of(schedule: Schedule, stage: int) -> Spot:
    """Return where a stage is in a schedule."""
    return Spot(
        start=schedule.starts[stage],
        end=schedule.ends[stage],
        way=schedule.ways[stage],
        team=schedule.teams[stage],
    )


def spots_of(schedule: Schedule) -> dict[int, Spot]:
    """Return the spots of all stages that are placed."""
    return {stage: spot_of(schedule, stage) for stage, way in enumerate(schedule.ways) if way >= 0}


def schedule_of(
    spots: Mapping[int, Spot], stages_count: int, trips: Sequence[int] = ()
) -> Schedule:
    """Return the schedule of some spots; other stages are not placed."""
    found = [spots.get(stage, NOWHERE) for stage in range(stages_count)]
    return Schedule(
        starts=tuple([spot.start for spot in found]),
        ends=tuple([spot.end for spot in found]),
        ways=tuple([spot.way for spot in found]),
        teams=tuple([spot.team for spot in found]),
        trips=tuple(trips),
    )


def journeys(problem: Problem, schedule: Schedule) -> Iterator[tuple[int, Going]]:
    """Give the journeys that leave, by job."""
    for job, (aim, option) in enumerate(zip(problem.jobs, schedule.trips, strict=True)):
        if aim.trip is not None and option >= 0:
            yield job, aim.trip.options[option]


def stays(stage: Stage) -> bool:
    """Return whether a stage is pinned or was told."""
    return stage.fixed_start is not None or stage.told_start is not None
