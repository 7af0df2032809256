"""Tiny problems of one job in which one rung of the ladder proves what the rung below cannot."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from scheduler.problem import Edge, JobAim, Need, Problem, Room, Stage, Use, Way, Worker

HORIZON = 60
BY_ONE = (Need(skill=0, can=1),)


def of_stages(latest: int, *stages: Stage, **more: object) -> Problem:
    """Give the problem of some stages that must all end by the latest."""
    lasts = tuple(range(len(stages)))
    aim = JobAim(lasts=lasts, latest=latest)
    return Problem(horizon=HORIZON, stages=stages, jobs=(aim,), **more)  # type: ignore[arg-type]


def one_after_the_other(latest: int) -> Problem:
    """Two stages of 4 steps: only after one another, so that 8 is the soonest end."""
    stage = Stage(ways=(Way(work=Fraction(4)),), job=0)
    return of_stages(latest, stage, stage, edges=(Edge(before=0, after=1),))


def by_few(latest: int) -> Problem:
    """Three stages of 4 steps and two workers: 12 steps of work, so that 6 is no end; 8 is."""
    stage = Stage(ways=(Way(work=Fraction(4), needs=BY_ONE),), job=0)
    return of_stages(latest, stage, stage, stage, workers=(a_worker(), a_worker()))


def in_one_bay(latest: int) -> Problem:
    """Three stages of 4 steps in a bay that holds one: 12 is the soonest end."""
    stage = Stage(ways=(Way(work=Fraction(4), uses=(Use(room=0, units=1),)),), job=0)
    return of_stages(latest, stage, stage, stage, rooms=(Room(capacity=1),))


def one_at_a_time(latest: int) -> Problem:
    """Three stages of 4 steps that take two units of three: 12 is the soonest end, 8 by area."""
    stage = Stage(ways=(Way(work=Fraction(4), uses=(Use(room=0, units=2),)),), job=0)
    return of_stages(latest, stage, stage, stage, rooms=(Room(capacity=3),))


def by_the_same(latest: int) -> Problem:
    """Two stages of 4 steps by the same one of two workers: 8 is the soonest end, 4 by pools."""
    first = Stage(ways=(Way(work=Fraction(4), needs=BY_ONE),), job=0)
    second = replace(first, same_team_as=0)
    return of_stages(latest, first, second, workers=(a_worker(), a_worker()))


def a_worker() -> Worker:
    return Worker(calendar=None, can=frozenset({0}), helps=frozenset({0}))


LADDER: dict[str, tuple[Callable[[int], Problem], int]] = {
    "chain": (one_after_the_other, 8),
    "energy": (in_one_bay, 12),
    "pools": (one_at_a_time, 12),
    "solver": (by_the_same, 8),
}
"""By rung: a problem that it proves, and the soonest end."""
