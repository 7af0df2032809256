"""What was told and can't all be so: it stands, the rest is planned around, no plan to blame."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check import check
from shared.book import Book, Booking, Certificate, FactKind, Kind, OtherWork
from shared.edits import tell_plan
from shared.files.read import read_book
from shared.files.write import write_book
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_place,
    a_placement,
    a_plan,
    a_stage,
    a_told,
    an_equipment,
    at,
    on,
)
from tests.scheduler.normals import placed, solved

GONE_AT = at("2026-03-02 10:00")
NOW = at("2026-03-02 10:30")


def both_gone(**thing: Any) -> Book:
    """Give two journeys with Ana and the only van that were told to have left at one time."""
    journey = a_journey(crew=("ana",), vehicles=("van",))
    jobs = tuple(a_job(name, steps=_steps(name, journey)) for name in ("fox", "hen"))
    facts = tuple(
        a_fact(f"gone-{name}", f"{name}-journey", kind=FactKind.GONE, at=GONE_AT)
        for name in ("fox", "hen")
    )
    van = an_equipment("van", **thing)
    book = replace(a_book(*jobs), facts=facts, equipment=(van,))
    return replace(book, people=(a_person("ana"), a_person("ben")))


def _steps(name: str, journey: Any) -> tuple[Any, ...]:
    steps = a_stage("carve"), a_gate(), journey
    return tuple(replace(each, id=f"{name}-{each.id}") for each in steps)


def sound(book: Book, now: datetime = NOW) -> bool:
    outcome = solved(book, now=now)
    assert {trip.start for trip in outcome.plan.trips} == {GONE_AT}
    return check(book, outcome.plan).sound


def test_somebody_told_to_have_left_with_two_lorries_has() -> None:
    assert sound(both_gone())


@pytest.mark.parametrize(
    "thing",
    [
        {"test_due": on("2026-03-01")},
        {"usable_until": on("2026-03-01")},
        {"bookings": (Booking(start=NOW, end=at("2026-03-02 12:00")),)},
    ],
)
def test_a_van_told_to_have_left_has_whatever_it_is_booked_or_due_for(thing: Any) -> None:
    assert sound(both_gone(**thing))


def test_somebody_who_has_left_has_whatever_else_they_were_to_do() -> None:
    other = OtherWork(
        id="fair",
        name="The fair",
        start=NOW,
        end=at("2026-03-03 12:00"),
        people=(a_person("ana").id,),
        equipment=(an_equipment("van").id,),
    )
    assert sound(replace(both_gone(), other_work=(other,)))


def test_what_was_told_of_a_piece_that_has_left_is_off_the_sheet() -> None:
    steps = a_stage("carve", Kind.FOAM), a_gate(), a_journey(crew=("ana",))
    book = replace(a_book(a_job("fox", steps=steps)), people=(a_person("ana"), a_person("ben")))
    plan = solved(book, now=NOW).plan
    told = replace(book, told=a_told(plan, at=NOW))
    gone = a_fact(kind=FactKind.GONE, step="journey", at=GONE_AT)
    left = solved(replace(told, facts=(gone,)), now=NOW)

    (carve,) = (each for each in plan.placements if each.step == "carve")
    assert placed(solved(told, now=NOW), "carve") == carve
    assert (carve.start.date(), carve.people) == (on("2026-03-03"), ("ben",))
    assert [(one.step, one.code) for one in left.plan.unplaced] == [
        ("carve", "gone"),
        ("loading", "gone"),
    ]


def test_somebody_told_to_be_at_work_is_whatever_they_may_not_do() -> None:
    spray = a_stage("spray", Kind.COAT, certificates=("isocyanates",))
    licensed = Certificate(certificate="isocyanates", expires=None)
    people = a_person("ana"), a_person("ben", certificates=(licensed,))
    running = a_fact(
        step="spray", kind=FactKind.RUNNING, at=GONE_AT, people=("ana",), remaining_hours=Decimal(2)
    )
    book = replace(a_book(a_job("fox", steps=(spray, a_gate(), a_journey()))), people=people)

    assert placed(solved(book, now=NOW), "spray").people == ("ben",)
    told = solved(replace(book, facts=(running,)), now=NOW)
    assert placed(told, "spray").people == ("ana",)


def in_a_full_hall(**changes: Any) -> Book:
    """Give a carving that goes on from Wednesday on, with bay and hall booked for longer.

    Ben needs no place to sign the piece.
    """
    booked = (Booking(start=GONE_AT, end=at("2026-03-09 12:00")),)
    places = a_place("hall", standing=True, bookings=booked), a_place("bay", bookings=booked)
    course = OtherWork(
        id="course", name="", start=NOW, end=at("2026-03-04 12:30"), people=(a_person("ana").id,)
    )
    sign = a_stage("sign", Kind.PAINT, after=(), people=("ben",))
    steps = a_stage("carve", places=("bay",)), sign, a_gate(), a_journey()
    book = a_book(a_job("fox", steps=steps), people=(a_person("ana"), a_person("ben")))
    return replace(book, places=places, other_work=(course,), **changes)


def test_a_piece_under_way_stands_where_it_is_though_its_work_has_no_place_any_more() -> None:
    running = a_fact(
        step="carve",
        kind=FactKind.RUNNING,
        at=GONE_AT,
        people=("ana",),
        place="bay",
        remaining_hours=Decimal(3),
    )
    told = solved(in_a_full_hall(facts=(running,)), now=NOW)

    assert placed(told, "sign").start == NOW
    assert "carve" in {one.step for one in told.plan.unplaced}


def test_what_is_under_way_by_the_last_sheet_is_not_forgotten_with_the_next() -> None:
    begun = a_placement("carve", "2026-03-02 07:30", "2026-03-03 08:30", "fox", place="bay")
    last = a_told(a_plan(placements=(begun,), trips=()))
    book = in_a_full_hall(told=last)
    plan = solved(book, now=NOW).plan
    told = tell_plan(book, plan, NOW, "Mira").book

    (fact,) = told.facts
    assert (fact.step, fact.kind, fact.people) == ("carve", FactKind.RUNNING, ("ana",))
    assert fact.remaining_hours is not None
    assert 0 < fact.remaining_hours < 8
    assert read_book(write_book(told)).book == told
    assert check(told, plan).breaches == ()
