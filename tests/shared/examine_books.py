"""Books in which one thing is not as usual."""

from typing import Any

from shared.book import (
    Book,
    Departure,
    LegKind,
    Step,
)
from shared.findings import Fact
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_segment,
    a_stage,
    a_way,
    a_workshop,
    at,
    on,
)

STEP0 = ("jobs", 0, "steps", 0)
JOURNEY = ("jobs", 0, "steps", 2)


def with_workshop(**changes: Any) -> Book:
    return a_book(workshop=a_workshop(**changes))


def with_step(step: Step, **changes: Any) -> Book:
    """Give a book whose job has this step before its loading and journey."""
    steps = (step, a_gate("heron-loading"), a_journey("heron-journey"))
    return a_book(a_job(steps=steps), **changes)


def with_way(**changes: Any) -> Book:
    return with_step(a_stage(ways=(a_way(**changes),)))


def with_leg(**changes: Any) -> Book:
    legs = (a_leg(**changes), a_leg(LegKind.ASSEMBLE, inside=True))
    steps = (a_stage(), a_gate(), a_journey(legs=legs))
    return a_book(a_job(steps=steps))


def with_segments(*segments: Any, **changes: Any) -> Book:
    return a_book(a_job(segments=segments, **changes))


def sailing(*departures: Departure) -> Book:
    return with_leg(kind=LegKind.SAILING, departures=departures)


def departs(start: str, end: str) -> Departure:
    return Departure(leaves=at(start), arrives=at(end))


LATER, EARLIER = on("2026-02-09"), on("2026-02-02")
TEN = at("2026-02-02 10:00")
TWO = (a_segment("heron-a"), a_segment("heron-b"))


Case = tuple[str, Book, tuple[str | int, ...], dict[str, Fact]]
"""A code, a book, the path of the finding, and some of its facts."""
