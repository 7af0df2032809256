"""Only a plan that stands up to its book is given out, and it says where it is old."""

from dataclasses import replace
from datetime import timedelta

import pytest

from app.exchange.given import NotSound, given
from app.words import Words
from scheduler.rules import Rule
from shared.book import Book
from shared.plan import Plan
from tests.app.exchange.scenes import a_book, changed_since, give, replanned, told


def plan_of(book: Book) -> Plan:
    assert book.plan is not None
    return book.plan


def test_a_plan_that_breaks_a_rule_is_not_given() -> None:
    book = a_book()
    plan = plan_of(book)
    at, placed = next((i, p) for i, p in enumerate(plan.placements) if p.people)
    sooner = replace(placed, start=placed.start - timedelta(days=30))
    broken = replace(plan, placements=(*plan.placements[:at], sooner, *plan.placements[at + 1 :]))

    with pytest.raises(NotSound) as refused:
        give(book, broken)

    assert refused.value.breaches
    assert Rule.TOLD.value not in {each.rule for each in refused.value.breaches}


def test_a_plan_that_tells_something_else_than_the_sheet_is_given() -> None:
    book = a_book()
    plan = plan_of(book)
    fewer = replace(plan, jobs=plan.jobs[1:])
    fewer = replace(
        fewer,
        placements=tuple(p for p in plan.placements if p.job in fewer.jobs),
        trips=tuple(t for t in plan.trips if t.job in fewer.jobs),
    )
    sheet = told(book)
    given = give(sheet, replanned(sheet, fewer))

    assert not given.is_told
    assert given.marks == (
        "NOT TOLD. It differs from sheet 1, which people have; nobody has been told this one.",
    )


def test_the_marks_of_a_plan() -> None:
    book = a_book()
    sheet = told(book)
    other = replace(book, name="another")
    tomorrow = plan_of(book).now + timedelta(days=1)

    assert give(sheet).marks == ()
    assert give(sheet).is_told
    assert give(book).marks == ("NOT TOLD. Nobody has been told this plan yet.",)
    assert not give(book).is_old
    assert give(changed_since(sheet)).marks == (
        "OLD PLAN. The book has changed since it was made: revision 1, now 3.",
    )
    assert give(changed_since(sheet)).is_old
    assert give(other).marks[0] == "OLD PLAN. The book reads otherwise than when it was made."
    assert give(other).is_old
    late = given(sheet, plan_of(sheet), tomorrow, Words("en", book=sheet))
    assert late.marks == ("OLD PLAN. It was made on Mon 15 Mar, before what has happened since.",)
    assert late.is_old
