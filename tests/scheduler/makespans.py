"""Tiny problems and the least makespan that the model proves of them."""

from fractions import Fraction
from typing import Any

from scheduler.calendar import Index
from scheduler.model.makespan import least_makespan
from scheduler.model.run import Limits, Status
from scheduler.problem import Edge, Need, Problem, Stage, Way, Worker
from scheduler.replay import breaches

LIMITS = Limits(effort=1000, workers=1)
HORIZON = 30
BY_HAND = (Need(skill=0, can=1),)


def way(steps: int, **said: Any) -> Way:
    return Way(work=Fraction(steps), **said)


def stage(steps: int, **said: Any) -> Stage:
    given = {
        name: said.pop(name)
        for name in ("needs", "uses", "consumes", "calendar", "clear")
        if name in said
    }
    return Stage(ways=(way(steps, **given),), **said)


def worker(*can: int, **said: Any) -> Worker:
    said.setdefault("calendar", None)
    said.setdefault("helps", frozenset(can))
    return Worker(can=frozenset(can), **said)


def least(*stages: Stage, edges: tuple[Edge, ...] = (), **said: Any) -> int | None:
    """The least makespan, proved and replayed; None: proved that nothing fits."""
    count = len(stages)
    to_the_end = tuple(
        Edge(before=at, after=count) for at in range(count) if not stages[at].optional
    )
    said.setdefault("horizon", HORIZON)
    problem = Problem(
        stages=(*stages, Stage(ways=(Way(),))),
        edges=(*edges, *to_the_end),
        makespan=count,
        **said,
    )
    found = least_makespan(Index(problem), LIMITS)
    if found.status is Status.NOTHING_FITS:
        return None
    assert found.status is Status.PROVED
    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
    return found.values[0]
