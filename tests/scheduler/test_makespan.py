"""The door for plain instances: whatever the kind, the same least makespan."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from scheduler.calendar import Index
from scheduler.model import makespan, objective
from scheduler.model.build import build
from scheduler.model.makespan import least_makespan
from scheduler.model.menu import menus
from scheduler.model.run import Limits, Status, Tuning, run
from scheduler.model.who import with_people
from scheduler.problem import Edge, Need, Problem, Room, Schedule, Stage, Use, Way, Worker
from scheduler.replay import breaches

LIMITS = Limits(effort=2000, workers=2)


def _with_people(seed: int) -> Problem:
    """A few stages for people with some of three skills."""
    draw = Random(seed)
    workers = tuple(
        Worker(calendar=None, can=can, helps=can)
        for can in (
            frozenset({draw.randrange(3), draw.randrange(3)}) for _ in range(draw.randint(3, 5))
        )
    )
    held = sorted(set().union(*(worker.can for worker in workers)))
    stages = []
    for _ in range(draw.randint(3, 7)):
        need = Need(skill=draw.choice(held), can=1)
        stages.append(Stage(ways=(Way(needs=(need,), work=Fraction(draw.randint(1, 5))),)))
    return _closed(draw, stages, workers=workers)


def _with_rooms(seed: int, *, capacity: int) -> Problem:
    draw = Random(seed)
    stages = []
    for _ in range(draw.randint(4, 8)):
        use = Use(room=draw.randrange(2), units=draw.randint(1, capacity))
        stages.append(Stage(ways=(Way(uses=(use,), work=Fraction(draw.randint(1, 5))),)))
    return _closed(draw, stages, rooms=(Room(capacity=capacity),) * 2)


def _closed(
    draw: Random,
    stages: list[Stage],
    workers: tuple[Worker, ...] = (),
    rooms: tuple[Room, ...] = (),
) -> Problem:
    count = len(stages)
    edges = [
        Edge(before=draw.randrange(after), after=after)
        for after in range(1, count)
        if draw.random() < 0.4
    ]
    return Problem(
        horizon=sum(stage.ways[0].work.numerator for stage in stages),
        stages=(*stages, Stage(ways=(Way(),))),
        edges=(*edges, *(Edge(before=at, after=count) for at in range(count))),
        workers=workers,
        rooms=rooms,
        makespan=count,
    )


def _straight(problem: Problem) -> int | None:
    frame = build(Index(problem))
    goal = objective.makespan(frame)
    assert goal is not None
    found = run(frame, goal, replace(LIMITS, workers=1), tuning=Tuning())
    assert found.status is Status.PROVED
    return found.value


def _few_and_many(few: range, many: range) -> list[object]:
    return [*few, *(pytest.param(seed, marks=pytest.mark.slow) for seed in many)]


@pytest.mark.parametrize("seed", _few_and_many(range(25), range(25, 100)))
def test_people_last_finds_what_the_whole_model_finds(seed: int) -> None:
    _hold(_with_people(seed))


@pytest.mark.parametrize("many", [2, makespan.MANY_STAGES])
@pytest.mark.parametrize("capacity", [1, 3])
@pytest.mark.parametrize("seed", range(6))
def test_starting_from_passes_finds_what_the_whole_model_finds(
    seed: int, capacity: int, many: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(makespan, "MANY_STAGES", many)
    _hold(_with_rooms(seed, capacity=capacity))


def test_breeding_beside_the_solver_gives_a_sound_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(makespan, "MANY_STAGES", 2)
    problem = _with_rooms(4, capacity=3)
    found = least_makespan(Index(problem), Limits(seconds=20, workers=2))
    assert found.values == (_straight(problem),)


def _hold(problem: Problem) -> None:
    told: list[Schedule] = []
    found = least_makespan(Index(problem), LIMITS, on_schedule=told.append)

    assert found.status is Status.PROVED
    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
    assert found.values == found.bounds == (_straight(problem),)
    assert told[-1] == found.schedule
    ends = [schedule.starts[-1] for schedule in told]
    assert ends == sorted(set(ends), reverse=True)


def test_who_does_what_is_found_where_somebody_can() -> None:
    both = Worker(calendar=None, can=frozenset({0, 1}), helps=frozenset({0, 1}))
    first = Worker(calendar=None, can=frozenset({0}), helps=frozenset({0}))
    stages = tuple(
        Stage(ways=(Way(needs=(Need(skill=skill, can=1),), work=Fraction(2)),)) for skill in (0, 1)
    )
    problem = Problem(horizon=4, stages=stages, workers=(both, first), makespan=0)
    index = Index(problem)
    at_once = Schedule(starts=(0, 0), ends=(2, 2), ways=(0, 0), teams=((), ()))

    named, _ = with_people(index, menus(index), at_once, LIMITS)

    assert named is not None
    assert named.teams == ((1,), (0,))
    alone = Index(replace(problem, workers=(both,)))
    assert with_people(alone, menus(alone), at_once, LIMITS)[0] is None


def test_nothing_that_fits_is_proved_and_not_guessed() -> None:
    problem = replace(_with_people(1), horizon=1)
    found = least_makespan(Index(problem), LIMITS)
    assert found.status is Status.NOTHING_FITS
    assert found.schedule is None
