"""Tiny problems for tests: name only what matters."""

from fractions import Fraction

from scheduler.calendar import Index
from scheduler.place import Unfit, place
from scheduler.problem import Calendar, Need, Problem, Schedule, Spans, Stage, Use, Way, Worker
from scheduler.replay import breaches

SKILL = 0
NINE_TO_FIVE: Spans = tuple((day * 24 + 9, day * 24 + 17) for day in range(10))


def a_calendar(*open_spans: tuple[int, int], shifts: Spans | None = None) -> Calendar:
    return Calendar(open=open_spans, shifts=open_spans if shifts is None else shifts)


def a_worker(calendar: int | None = None, *skills: int) -> Worker:
    can = frozenset(skills or (SKILL,))
    return Worker(calendar=calendar, can=can, helps=can)


def by_hand(work: int, hands: int = 1, *uses: Use, skill: int = SKILL) -> Way:
    return Way(needs=(Need(skill=skill, can=hands),), work=Fraction(work), uses=uses)


def elapsed(work: int, *uses: Use) -> Way:
    return Way(work=Fraction(work), uses=uses)


def stage_of(*ways: Way, **fields: object) -> Stage:
    return Stage(ways=ways, **fields)  # type: ignore[arg-type]


def placed(problem: Problem, order: list[int] | None = None, **how: object) -> Schedule:
    """Place in the order given and hold the judge's word against it."""
    found = try_place(problem, order, **how)
    assert isinstance(found, Schedule), found
    assert breaches(problem, found) == ()
    return found


def try_place(problem: Problem, order: list[int] | None = None, **how: object) -> Schedule | Unfit:
    wanted = list(range(len(problem.stages))) if order is None else order
    return place(Index(problem), wanted, **how)  # type: ignore[arg-type]
