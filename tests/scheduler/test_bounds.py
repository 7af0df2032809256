"""Bounds by level: none above what trying everything finds, and some that say something."""

from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.aims import levels
from scheduler.bounds import Bounds, reached
from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.floor_time import FloorTime
from scheduler.problem import Calendar, Edge, JobAim, Problem, Schedule, Stage, Wait, Way
from scheduler.shifts import first_schedule
from tests.scheduler.bound import bound_problem
from tests.scheduler.problems import random_problem
from tests.scheduler.tiny import every_schedule, tiny_problem

JOBS = tuple(JobAim(lasts=(), latest=9, firm=firm) for firm in (True, True, True, False, False))


def bounds_of_jobs(*jobs: JobAim) -> Bounds:
    return Bounds(Problem(horizon=20, stages=(), jobs=jobs))


@pytest.mark.parametrize("make", [tiny_problem, bound_problem])
@pytest.mark.parametrize("seed", range(60))
def test_no_bound_is_above_what_trying_everything_finds(seed: int, make: object) -> None:
    problem: Problem = make(seed)  # type: ignore[operator]
    found = Bounds(problem)
    for job in range(len(problem.jobs)):
        found.add_floor(job)
    bounds = found.levels()

    for schedule in every_schedule(problem):
        values = levels(problem, schedule)
        assert all(bound <= value for bound, value in zip(bounds, values, strict=True))


@pytest.mark.parametrize("seed", range(12))
def test_no_floor_time_is_above_that_of_a_plan(seed: int) -> None:
    problem = random_problem(seed, jobs=2, segments=3, workers=3)
    index = Index(problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    found = FloorTime(index, earliest(index))
    for aim in problem.jobs:
        for one, last in aim.floor:
            least = found.least(one, last)
            assert 0 < least <= first.ends[last] - first.starts[one]


def test_floor_time_counts_nights_waits_and_the_best_moment_to_begin() -> None:
    """Days of 4 steps in 10: 3 steps, a wait of 5, then 3: begun at 0 it ends at 13.

    Begun a step later it is no shorter: 3 + 5 ends past the second morning, 10, so 1 step of it is
    lost; the best is to begin at 1, to end at 4, be ready at 9, start at 10 and end at 13.
    """
    day = tuple((at, at + 4) for at in range(0, 100, 10))
    stage = Stage(ways=(Way(work=Fraction(3), calendar=0),), job=0)
    problem = Problem(
        horizon=100,
        stages=(replace(stage, cure=Wait(least=5)), stage),
        edges=(Edge(before=0, after=1),),
        calendars=(Calendar(open=day, shifts=day),),
        jobs=(JobAim(lasts=(1,), latest=None, floor=((0, 1),)),),
    )
    index = Index(problem)

    assert FloorTime(index, earliest(index)).least(0, 1) == 12
    assert FloorTime(index, earliest(index)).least(0, 0) == 3


def test_late_jobs_are_lost_and_their_steps_added_up() -> None:
    found = bounds_of_jobs(*JOBS)
    found.late(0, 5)
    found.late(0, 3)
    found.late(3, 2)

    assert found.levels()[:3] == (1, 1, 7)


def test_of_jobs_that_do_not_go_together_the_fewest_are_lost() -> None:
    found = bounds_of_jobs(*JOBS)
    for pair in ((0, 1), (1, 2), (0, 2)):
        found.conflict(pair)
    assert found.levels()[:3] == (2, 0, 1)

    found.late(1, 4)
    assert found.levels()[:3] == (2, 0, 5)


def test_a_firm_job_and_an_enquiry_that_do_not_go_together_lose_neither_for_sure() -> None:
    found = bounds_of_jobs(*JOBS)
    found.conflict((0, 3))
    assert found.levels()[:3] == (0, 0, 1)

    found.conflict((3, 4))
    assert found.levels()[:3] == (0, 1, 1)


def test_a_wish_that_no_plan_comes_to_is_short_up_to_the_latest() -> None:
    stage = Stage(ways=(Way(work=Fraction(8)),), job=0)
    aim = JobAim(lasts=(0,), latest=9, wish=5)
    assert Bounds(Problem(horizon=20, stages=(stage,), jobs=(aim,))).levels()[3] == 3
    late = replace(aim, latest=6)
    assert Bounds(Problem(horizon=20, stages=(stage,), jobs=(late,))).levels()[:4] == (1, 0, 2, 1)


def test_told_stages_that_are_sure_to_move_count() -> None:
    told = Stage(ways=(Way(work=Fraction(1)),), release=100, told_start=90, told_team=(0, 2))
    moved = Bounds(Problem(horizon=400, stages=(told,))).levels()
    assert moved[4:6] == (2, 2)
    kept = Bounds(Problem(horizon=400, stages=(replace(told, release=90),))).levels()
    assert kept[4:6] == (0, 0)
    soon = Bounds(Problem(horizon=400, stages=(replace(told, release=94, told_start=90),)))
    assert soon.levels()[4:6] == (2, 1)


def test_levels_are_reached_up_to_the_first_that_is_not() -> None:
    assert reached((1, 0, 5, 2), (1, 0, 4, 2)) == 2
    assert reached((1, 0), (1, 0)) == 2
