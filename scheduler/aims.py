"""The eight levels of the objective, level 1 first; less is better.

Of two schedules the better one is less at the first level where they differ.
"""

from collections.abc import Iterable

from scheduler.problem import JobAim, Problem, Schedule, Stage

Levels = tuple[int, int, int, int, int, int, int, int]
DAY_STEPS = 96
SOON_STEPS = 2 * DAY_STEPS
MOVED_STEPS = 4
TEAM_POINTS, DAY_POINTS, HOUR_POINTS = 4, 2, 1


def levels(problem: Problem, schedule: Schedule) -> Levels:
    """Return the levels of a schedule.

    1, 2: windows missed of firm jobs and of the others. 3: steps by which loading is late. 4:
    steps short of the wish. 5: workers told something else for the first two days. 6: change
    points. 7: cost of ways and journeys. 8: steps from the first start to the last end, over
    segments.
    """
    missed = [job for number, job in enumerate(problem.jobs) if _misses(job, schedule, number)]
    return (
        sum(job.firm for job in missed),
        sum(not job.firm for job in missed),
        sum(_late_steps(job, schedule) for job in problem.jobs),
        sum(_short_steps(job, schedule) for job in problem.jobs),
        len(_told_anew(problem, schedule)),
        sum(_points(stage, schedule, number) for number, stage in enumerate(problem.stages)),
        _cost(problem, schedule),
        sum(_floor_steps(job, schedule) for job in problem.jobs),
    )


def loading_end(job: JobAim, schedule: Schedule) -> int:
    """Return the end of a job's loading, -1 if it has no last stage that is placed."""
    return max((schedule.ends[stage] for stage in job.lasts), default=-1)


def missed_jobs(problem: Problem, schedule: Schedule) -> frozenset[int]:
    """Return the jobs whose windows a schedule misses."""
    return frozenset(
        number for number, job in enumerate(problem.jobs) if _misses(job, schedule, number)
    )


def _misses(job: JobAim, schedule: Schedule, number: int) -> bool:
    if job.latest is None or loading_end(job, schedule) > job.latest:
        return True
    trip = job.trip
    return trip is not None and not trip.is_in_time(schedule.trips[number]) and trip.makes_window


def _late_steps(job: JobAim, schedule: Schedule) -> int:
    return 0 if job.latest is None else max(0, loading_end(job, schedule) - job.latest)


def _short_steps(job: JobAim, schedule: Schedule) -> int:
    if job.wish is None:
        return 0
    end = loading_end(job, schedule)
    return max(0, (end if job.latest is None else min(end, job.latest)) - job.wish)


def _told_anew(problem: Problem, schedule: Schedule) -> set[int]:
    return {
        worker
        for number, stage in enumerate(problem.stages)
        if stage.told_start is not None
        and stage.told_start < SOON_STEPS
        and (_has_moved(stage, schedule, number) or _has_other_team(stage, schedule, number))
        for worker in stage.told_team or ()
    }


def _points(stage: Stage, schedule: Schedule, number: int) -> int:
    if stage.told_start is None:
        return 0
    if _has_other_team(stage, schedule, number):
        return TEAM_POINTS
    start = schedule.starts[number]
    if start // DAY_STEPS != stage.told_start // DAY_STEPS:
        return DAY_POINTS
    return HOUR_POINTS if abs(start - stage.told_start) >= MOVED_STEPS else 0


def _has_moved(stage: Stage, schedule: Schedule, number: int) -> bool:
    return schedule.starts[number] != stage.told_start


def _has_other_team(stage: Stage, schedule: Schedule, number: int) -> bool:
    return stage.told_team is not None and _sorted(stage.told_team) != _sorted(
        schedule.teams[number]
    )


def _sorted(team: Iterable[int]) -> list[int]:
    return sorted(team)


def _cost(problem: Problem, schedule: Schedule) -> int:
    ways = sum(
        stage.ways[way].cost
        for stage, way in zip(problem.stages, schedule.ways, strict=True)
        if way >= 0
    )
    return ways + sum(
        job.trip.dearest if option < 0 else job.trip.options[option].price
        for job, option in zip(problem.jobs, schedule.trips, strict=True)
        if job.trip is not None
    )


def _floor_steps(job: JobAim, schedule: Schedule) -> int:
    return sum(schedule.ends[last] - schedule.starts[first] for first, last in job.floor)
