"""Quick passes: the same rule as the general pass, and only for problems it can say all of."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.model.build import build
from scheduler.model.objective import makespan
from scheduler.model.run import Limits, Status, Tuning, run
from scheduler.passes import Passes
from scheduler.place import place
from scheduler.problem import Edge, Need, Problem, Room, Stage, Use, Wait, Way
from scheduler.quick import Quick, is_for
from scheduler.replay import breaches


def _problem(seed: int) -> Problem:
    """Stages with rooms, each after some of those before it; the last one closes."""
    draw = Random(seed)
    rooms = tuple(Room(capacity=draw.randint(2, 6)) for _ in range(draw.randint(1, 3)))
    stages = [_stage(draw, rooms) for _ in range(draw.randint(4, 25))]
    edges = [_edge(draw, stages, after) for after in range(1, len(stages)) for _ in range(2)]
    count = len(stages)
    closing = [Edge(before=at, after=count) for at in range(count)]
    stages.append(Stage(ways=(Way(),)))
    horizon = sum(stage.ways[0].work.numerator + 3 for stage in stages)
    return Problem(
        horizon=horizon,
        stages=tuple(stages),
        edges=(*edges, *closing),
        rooms=rooms,
        makespan=count,
    )


def _stage(draw: Random, rooms: tuple[Room, ...]) -> Stage:
    length = draw.randint(0, 7)
    uses = tuple(
        Use(room=number, units=draw.randint(1, room.capacity))
        for number, room in enumerate(rooms)
        if length and draw.random() < 0.7
    )
    return Stage(ways=(Way(work=Fraction(length), uses=uses),))


def _edge(draw: Random, stages: list[Stage], after: int) -> Edge:
    before = draw.randrange(after)
    lag = draw.choice([0, 0, 0, 2])
    if draw.random() < 0.3:
        length = stages[before].ways[0].work.numerator
        return Edge(before=before, after=after, least=length + lag, from_start=True)
    return Edge(before=before, after=after, least=lag)


@pytest.mark.parametrize("seed", range(60))
def test_a_quick_pass_places_as_the_general_pass_does(seed: int) -> None:
    problem = _problem(seed)
    assert is_for(problem)
    order = list(range(len(problem.stages)))

    quick = Quick(problem).forwards(order)
    placed = place(Index(problem), order)

    assert not isinstance(placed, Unfit)
    assert tuple(quick) == placed.starts


@pytest.mark.parametrize("seed", range(60))
def test_backwards_is_forwards_through_the_same_problem_turned_round(seed: int) -> None:
    problem = _problem(seed)
    count = len(problem.stages)
    lengths = [stage.ways[0].work.numerator for stage in problem.stages]
    turned = replace(
        problem,
        stages=tuple(reversed(problem.stages)),
        edges=tuple(
            Edge(
                before=count - 1 - edge.after,
                after=count - 1 - edge.before,
                least=_lag(edge, lengths),
            )
            for edge in problem.edges
        ),
    )
    order = list(range(count))

    back = Quick(problem).backwards(order[::-1])

    assert back[::-1] == Quick(turned).forwards(order)


def _lag(edge: Edge, lengths: list[int]) -> int:
    return edge.least - lengths[edge.before] if edge.from_start else edge.least


@pytest.mark.parametrize("seed", range(20))
def test_every_pass_is_sound_and_more_of_them_never_worse(seed: int) -> None:
    problem = _problem(seed)
    passes = Passes(problem, seed)
    values = []
    for count in (1, 5, 40, 80):
        passes.run(lambda done, count=count: done >= count)  # type: ignore[misc]
        assert passes.best is not None
        assert not breaches(problem, passes.best)
        assert passes.value == passes.best.starts[-1]
        values.append(passes.value)

    assert values == sorted(values, reverse=True)


def test_the_same_seed_gives_the_same_passes() -> None:
    found = []
    for _ in range(2):
        passes = Passes(_problem(3), 7)
        passes.run(lambda done: done >= 100)
        found.append(passes.best)

    assert found[0] == found[1]


def test_what_is_said_besides_is_not_passed_over() -> None:
    problem = _problem(1)
    plain = problem.stages[0]
    (way,) = plain.ways
    others = (
        replace(plain, cure=Wait(least=1)),
        replace(plain, release=2),
        replace(plain, start_by=20),
        replace(plain, fixed_start=0),
        replace(plain, optional=True),
        replace(plain, ways=(way, way)),
        replace(plain, ways=(Way(uses=(Use(room=0, units=1),)),)),
        replace(plain, ways=(replace(way, needs=(Need(skill=0, can=1),)),)),
        replace(plain, ways=(replace(way, calendar=0),)),
        replace(plain, ways=(replace(way, clear=((0, 9),)),)),
        replace(plain, ways=(replace(way, consumes=((0, 1),)),)),
        replace(plain, ways=(replace(way, uses=(Use(room=0, units=1, after=1),)),)),
        replace(plain, ways=(replace(way, uses=(Use(room=0, units=99),)),)),
    )
    for stage in others:
        assert not is_for(replace(problem, stages=(stage, *problem.stages[1:])))
    for edge in (
        Edge(before=0, after=1, most=9),
        Edge(before=0, after=1, least=-1),
        Edge(before=1, after=0, least=-9, from_start=True),
    ):
        assert not is_for(replace(problem, edges=(*problem.edges, edge)))
    assert not is_for(replace(problem, rooms=(Room(capacity=9, busy=((0, 1, 1),)),) * 3))
    assert not is_for(replace(problem, makespan=None))


@pytest.mark.parametrize("seed", range(40))
def test_no_schedule_ends_before_the_bound(seed: int) -> None:
    problem = _problem(seed)
    passes = Passes(problem, 1)
    passes.run(lambda done: done >= 30)
    frame = build(Index(problem))
    goal = makespan(frame)
    assert goal is not None
    found = run(frame, goal, Limits(effort=500, workers=1), tuning=Tuning())

    assert found.status is Status.PROVED
    assert passes.value is not None
    assert found.value is not None
    assert passes.bound <= found.value <= passes.value
    assert passes.is_least == (passes.value <= passes.bound)
