"""Small changes of books and plans, and what the check says of them."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from scheduler.check import check
from shared.book import Book, Job, Step, Temperature
from shared.ids import JobId, PersonId, PlaceId, StepId
from shared.plan import Placement, Plan, Trip
from tests.builders import at

QUARTER = timedelta(minutes=15)

Pair = tuple[Book, Plan]
Change = Callable[[Book, Plan], Pair]


def placed(
    job: str, step: str, start: str, end: str, *people: str, place: str | None = None, **more: Any
) -> Placement:
    usual = Placement(
        job=JobId(job),
        step=StepId(step),
        start=at(start),
        end=at(end),
        way="bench",
        people=tuple(PersonId(person) for person in people),
        place=None if place is None else PlaceId(place),
    )
    return replace(usual, **more)


def named(book: Book, plan: Plan, now: datetime | None = None) -> set[tuple[str, str]]:
    """Give the broken rules, each with what it is about."""
    return {(found.rule, found.where) for found in check(book, plan, now=now).breaches}


def step_changed(book: Book, step: str, **changes: Any) -> Book:
    """Change a step of whichever job has it."""

    def changed(each: Step) -> Step:
        return replace(each, **changes) if each.id == step else each

    jobs = tuple(
        replace(job, steps=tuple(changed(each) for each in job.steps)) for job in book.jobs
    )
    assert jobs != book.jobs, f"no change of {step}"
    return replace(book, jobs=jobs)


def damp(book: Book, step: str, **changes: Any) -> Book:
    """Change a step, in air of 20 degrees that is 80 % damp all year."""
    air = Temperature(
        months=tuple(range(1, 13)),
        day_celsius=Decimal(20),
        night_celsius=Decimal(20),
        humidity_percent=Decimal(80),
    )
    book = replace(book, workshop=replace(book.workshop, temperatures=(air,)))
    return step_changed(book, step, **changes)


def job_changed(book: Book, job: str, **changes: Any) -> Book:
    def changed(each: Job) -> Job:
        return replace(each, **changes) if each.id == job else each

    return replace(book, jobs=tuple(changed(each) for each in book.jobs))


def _one_changed(things: tuple[Any, ...], name: str, changes: dict[str, Any]) -> tuple[Any, ...]:
    found = tuple(replace(one, **changes) if one.id == name else one for one in things)
    assert found != things, f"no change of {name}"
    return found


def person_changed(book: Book, person: str, **changes: Any) -> Book:
    return replace(book, people=_one_changed(book.people, person, changes))


def place_changed(book: Book, place: str, **changes: Any) -> Book:
    return replace(book, places=_one_changed(book.places, place, changes))


def thing_changed(book: Book, thing: str, **changes: Any) -> Book:
    return replace(book, equipment=_one_changed(book.equipment, thing, changes))


def is_slot(placement: Placement, step: str, number: int, part: str) -> bool:
    return (placement.step, placement.round, placement.part) == (step, number, part)


def moved(plan: Plan, step: str, number: int = 0, part: str = "", /, **changes: Any) -> Plan:
    """Change the one placement of a step, round and part."""
    found = tuple(
        replace(each, **changes) if is_slot(each, step, number, part) else each
        for each in plan.placements
    )
    assert found != plan.placements, f"no change of {step}"
    return replace(plan, placements=found)


def retimed(plan: Plan, step: str, start: str, end: str, number: int = 0, part: str = "") -> Plan:
    return moved(plan, step, number, part, start=at(start), end=at(end))


def trip_changed(plan: Plan, **changes: Any) -> Plan:
    trip: Trip = plan.trips[0]
    return replace(plan, trips=(replace(trip, **changes),))
