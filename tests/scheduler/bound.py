"""Tiny problems in which company, pairs and the limits of a day decide."""

from dataclasses import replace
from fractions import Fraction
from random import Random

from scheduler.problem import (
    Calendar,
    Edge,
    JobAim,
    Need,
    Problem,
    Stage,
    Way,
    Worker,
)
from tests.scheduler.goings import a_trip

HORIZON = 14
BY_ONE = (Need(skill=0, can=1),)
BY_TWO = (Need(skill=0, can=1, helps=1),)
EVERYBODY = frozenset({0})


def bind(problem: Problem, draw: Random) -> Problem:
    """Add company, a pair and limits of a day, some of each."""
    stages = [_bound(stage, draw) for stage in problem.stages]
    if draw.random() < 0.4:
        stages[1] = replace(stages[1], same_team_as=0)
    return replace(
        problem,
        stages=tuple(stages),
        workers=tuple(_limited(worker, draw) for worker in problem.workers),
        days=((0, 7), (7, HORIZON)),
        half_days=((0, 4), (4, 7), (7, 11), (11, HORIZON)),
        pieces_max=draw.choice([None, 1, 1, 2]),
    )


def _bound(stage: Stage, draw: Random) -> Stage:
    given = stage.fixed_start is not None and stage.only_asked
    return replace(
        stage,
        company=draw.random() < 0.5,
        piece=draw.choice([None, 0, 1]),
        sands=draw.random() < 0.5,
        under_way=given and draw.random() < 0.7,
    )


def _limited(worker: Worker, draw: Random) -> Worker:
    start = draw.randint(0, 10)
    return replace(
        worker,
        sanding_max=draw.choice([None, 1, 2, 3, 4]),
        away=((start, start + draw.randint(1, 4)),) if draw.random() < 0.2 else (),
    )


def bound_problem(seed: int) -> Problem:
    """Two or three stages and workers who can do all of it, but for those rules."""
    draw = Random(f"{seed} bound")
    stages = [_stage(draw) for _ in range(2 + seed % 2)]
    if draw.random() < 0.3:
        asked = (draw.randint(0, 1),)
        fixed = {"fixed_start": draw.randint(0, 3), "asked": asked, "only_asked": True}
        way = Way(work=Fraction(draw.randint(1, 3)), needs=BY_ONE)
        stages[0] = replace(stages[0], ways=(way,), **fixed)  # type: ignore[arg-type]
    problem = Problem(
        horizon=HORIZON,
        stages=tuple(stages),
        edges=_edges(draw, len(stages)),
        calendars=(_calendar(draw), _calendar(draw)),
        workers=tuple(_worker(draw) for _ in range(2)),
        jobs=(_job(draw, len(stages)),),
    )
    return bind(problem, draw)


def _stage(draw: Random) -> Stage:
    ways = tuple(
        Way(
            work=Fraction(draw.randint(1, 5)),
            needs=draw.choice([BY_ONE, BY_ONE, BY_TWO]),
            cost=draw.randint(0, 1),
        )
        for _ in range(draw.choice([1, 1, 2]))
    )
    return Stage(
        ways=ways,
        job=0,
        one_go=draw.random() < 0.3,
        watch=draw.randint(0, 1),
        longest_pause=draw.choice([None, None, 3]),
        release=draw.choice([0, 0, 0, 2]),
    )


def _edges(draw: Random, count: int) -> tuple[Edge, ...]:
    return tuple(
        Edge(before=after - 1, after=after, most=draw.choice([None, None, 2]))
        for after in range(1, count)
        if draw.random() < 0.4
    )


def _calendar(draw: Random) -> Calendar:
    first, second, third = draw.randint(0, 2), draw.randint(4, 6), draw.randint(7, 10)
    opens = ((first, 3), (second, 7), (third, draw.randint(11, HORIZON)))
    bridged = ((first, 7), opens[2])
    return Calendar(open=opens, shifts=draw.choice([opens, bridged]))


def _worker(draw: Random) -> Worker:
    return Worker(
        calendar=draw.choice([None, 0, 1, 1]),
        can=EVERYBODY,
        helps=EVERYBODY,
        pace=draw.choice([Fraction(1), Fraction(1), Fraction(1), Fraction(1, 2)]),
    )


def _job(draw: Random, count: int) -> JobAim:
    latest = draw.randint(5, 12)
    trip = None
    if draw.random() < 0.5:
        options = ((latest, latest + 1, latest + 2), (latest + 1, latest + 3, latest + 3))
        crew = draw.choice([(0,), (1,), (0, 1)])
        trip = a_trip(*options, crew=crew, makes_window=draw.random() < 0.8)
    return JobAim(
        lasts=(draw.randrange(count),),
        latest=latest,
        wish=draw.choice([None, latest - 2]),
        floor=((0, count - 1),),
        trip=trip,
    )
