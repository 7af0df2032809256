"""People as pools: never more than there is, and all there is for one moment."""

from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from random import Random

import pytest

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.model import objective
from scheduler.model.build import build
from scheduler.model.pools import pools_of
from scheduler.model.run import Limits, Status, run
from scheduler.problem import Edge, Need, Problem, Schedule, Stage, Way, Worker
from scheduler.shifts import first_schedule
from tests.scheduler.problems import random_problem
from tests.scheduler.tiny import best_levels, tiny_problem

LIMITS = Limits(effort=2000, workers=1)


def _few_and_many(few: range, many: range) -> list[object]:
    return [*few, *(pytest.param(seed, marks=pytest.mark.slow) for seed in many)]


@pytest.mark.parametrize("seed", _few_and_many(range(12), range(12, 60)))
def test_no_level_without_people_is_above_what_trying_everything_finds(seed: int) -> None:
    problem = tiny_problem(seed)
    best = best_levels(problem)
    if best is None:
        return
    for number in range(1, objective.LEVEL_COUNT + 1):
        frame = build(Index(problem), people=False)
        found = run(frame, objective.level(frame, number), LIMITS)

        assert found.status is Status.PROVED
        assert found.value is not None
        assert found.value <= _least(problem, number, best)


def _least(problem: Problem, number: int, best: tuple[int, ...]) -> int:
    """The best plan's level is no less than the least of that level alone."""
    frame = build(Index(problem))
    found = run(frame, objective.level(frame, number), LIMITS)
    assert found.status is Status.PROVED
    assert found.value is not None
    assert found.value <= best[number - 1]
    return found.value


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_a_workshop_s_bound_is_not_above_a_plan_of_it(seed: int) -> None:
    problem = random_problem(seed, jobs=1, segments=1, workers=3)
    index = Index(problem)
    plan = first_schedule(index, 1)
    assert isinstance(plan, Schedule)
    pooled = build(index, people=False)
    bound = run(pooled, objective.level(pooled, 3), replace(LIMITS, effort=100))

    assert bound.status is not Status.NOTHING_FITS
    assert bound.bound is None or bound.bound <= levels(problem, plan)[2]


@pytest.mark.parametrize("seed", range(60))
def test_for_one_moment_pools_say_all_there_is(seed: int) -> None:
    draw = Random(seed)
    problem = _at_once(draw)
    frame = build(Index(problem), people=False)
    for stage in frame.stages:
        frame.model.add(stage.start == 0)

    found = run(frame, 0, LIMITS)

    assert (found.status is not Status.NOTHING_FITS) == _can_all_be_filled(problem)


def _at_once(draw: Random) -> Problem:
    """A few stages of one step, and workers with some of three skills."""
    workers = []
    for _ in range(draw.randint(2, 5)):
        can = frozenset(skill for skill in range(3) if draw.random() < 0.4)
        helps = can | {draw.randrange(3)}
        workers.append(Worker(calendar=None, can=can, helps=helps))
    stages = []
    for _ in range(draw.randint(1, 3)):
        need = Need(skill=draw.randrange(3), can=draw.randint(0, 1), helps=draw.randint(0, 1))
        needs = (need,) if need.can + need.helps else (Need(skill=0, can=1),)
        stages.append(Stage(ways=(Way(needs=needs, work=Fraction(1)),)))
    return Problem(horizon=1, stages=tuple(stages), workers=tuple(workers), makespan=0)


def _can_all_be_filled(problem: Problem) -> bool:
    seats = [
        (need.skill, helping)
        for stage in problem.stages
        for need in stage.ways[0].needs
        for helping, count in ((False, need.can), (True, need.helps))
        for _ in range(count)
    ]
    return any(
        all(
            skill in (problem.workers[worker].helps if helping else problem.workers[worker].can)
            for (skill, helping), worker in zip(seats, chosen, strict=True)
        )
        for chosen in permutations(range(len(problem.workers)), len(seats))
    )


def test_who_stays_with_a_stage_is_left_out() -> None:
    """Two of three skills each: at every moment somebody is free for the third stage, but not
    the same one throughout."""
    workers = tuple(
        Worker(calendar=None, can=frozenset(can), helps=frozenset(can)) for can in ((0, 2), (1, 2))
    )
    long = Stage(ways=(Way(needs=(Need(skill=2, can=1),), work=Fraction(4)),))
    first, second = (
        Stage(ways=(Way(needs=(Need(skill=skill, can=1),), work=Fraction(2)),)) for skill in (0, 1)
    )
    problem = Problem(
        horizon=20,
        stages=(first, second, long, Stage(ways=(Way(),))),
        edges=(
            Edge(before=0, after=1),
            *(Edge(before=at, after=3) for at in range(3)),
        ),
        workers=workers,
        makespan=3,
    )
    values = []
    for people in (False, True):
        frame = build(Index(problem), people=people)
        goal = objective.makespan(frame)
        assert goal is not None
        values.append(run(frame, goal, LIMITS).value)

    assert values == [4, 6]


def test_pools_that_nothing_joins_are_not_counted_together() -> None:
    apart = tuple(
        Worker(calendar=None, can=frozenset({skill}), helps=frozenset({skill}))
        for skill in (0, 0, 1)
    )
    stages = tuple(
        Stage(ways=(Way(needs=(Need(skill=skill, can=2 - skill),), work=Fraction(1)),))
        for skill in (0, 0, 1, 1)
    )
    problem = Problem(horizon=9, stages=stages, workers=apart, makespan=0)

    assert {pool.workers for pool in pools_of(problem)} == {frozenset({0, 1}), frozenset({2})}
