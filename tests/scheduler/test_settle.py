"""Settling: nothing breaks, nothing is worse, and it takes floor time that a pass back leaves."""

from functools import cache

import pytest

from scheduler.aims import Levels, levels, loading_end
from scheduler.calendar import Index
from scheduler.place import Unfit
from scheduler.problem import Edge, JobAim, Problem, Schedule
from scheduler.pull import tighten
from scheduler.replay import breaches
from scheduler.settle import settle
from scheduler.shifts import first_schedule
from scheduler.stop import AfterEffort
from tests.scheduler.problems import random_problem
from tests.scheduler.shops import a_worker, by_hand, stage_of

EFFORT = 4


@cache
def planned(seed: int) -> tuple[Problem, Schedule] | None:
    problem = random_problem(seed, jobs=1 + seed % 4, segments=3 + seed % 4, workers=3 + seed % 3)
    found = first_schedule(Index(problem), 1)
    return None if isinstance(found, Unfit) else (problem, found)


@pytest.mark.parametrize("seed", range(40))
def test_it_breaks_nothing_and_nothing_loads_later(seed: int) -> None:
    given = planned(seed)
    if given is None:
        pytest.skip("nothing fits")
    problem, schedule = given
    told: list[Levels] = []

    found = settle(
        Index(problem),
        schedule,
        seed=seed,
        stop=AfterEffort(EFFORT),
        on_better=lambda _, reached: told.append(reached),
    )

    reached = levels(problem, found)
    assert breaches(problem, found) == ()
    assert reached <= levels(problem, schedule)
    assert told == sorted(told, reverse=True)
    assert (told[-1] == reached) if told else found is schedule
    for job in problem.jobs:
        assert loading_end(job, found) <= loading_end(job, schedule)


def test_it_takes_floor_time_that_pulling_together_leaves() -> None:
    before = after = better = 0
    for seed in range(40):
        given = planned(seed)
        if given is None:
            continue
        problem, schedule = given
        index = Index(problem)
        tight = tighten(index, schedule, AfterEffort(1000))
        found = settle(index, tight, seed=1, stop=AfterEffort(EFFORT))
        before += levels(problem, tight)[7]
        after += levels(problem, found)[7]
        better += found is not tight

    assert better >= 5
    assert after < before


def test_it_gives_the_same_for_the_same_seed() -> None:
    given = planned(7)
    assert given is not None
    problem, schedule = given

    one, other = (
        settle(Index(problem), schedule, seed=3, stop=AfterEffort(EFFORT)) for _ in range(2)
    )

    assert one == other


def test_it_leaves_alone_what_was_told() -> None:
    for seed in range(60):
        given = planned(seed)
        if given is None:
            continue
        problem, schedule = given
        found = settle(Index(problem), schedule, seed=seed, stop=AfterEffort(EFFORT))
        for stage, asked in enumerate(problem.stages):
            if asked.told_start is not None or asked.fixed_start is not None:
                assert found.starts[stage] == schedule.starts[stage]


def test_two_jobs_that_hold_each_other_up_change_places() -> None:
    """One person, two jobs to be loaded by the same moment: the longer one before the last work."""
    problem = Problem(
        horizon=200,
        stages=(
            stage_of(by_hand(2), job=0),
            stage_of(by_hand(2), job=0),
            stage_of(by_hand(2), job=1),
            stage_of(by_hand(2), job=1),
        ),
        edges=(Edge(before=0, after=1), Edge(before=2, after=3)),
        workers=(a_worker(None),),
        jobs=(
            JobAim(lasts=(1,), latest=100, floor=((0, 1),)),
            JobAim(lasts=(3,), latest=100, floor=((2, 3),)),
        ),
    )
    crossed = Schedule(
        starts=(0, 4, 2, 6),
        ends=(2, 6, 4, 8),
        ways=(0, 0, 0, 0),
        teams=((0,), (0,), (0,), (0,)),
        trips=(-1, -1),
    )
    assert breaches(problem, crossed) == ()

    found = settle(Index(problem), crossed, seed=1, stop=AfterEffort(3))

    assert breaches(problem, found) == ()
    assert levels(problem, crossed)[7] == 12
    assert levels(problem, found)[7] == 8
