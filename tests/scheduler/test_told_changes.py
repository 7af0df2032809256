"""What changes against the sheet: weights and people as they come out by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from scheduler.asks import Ask, asks
from scheduler.told_changes import Line, Otherwise, told_changes
from shared.book import Fact, FactKind, GateKind, Kind
from shared.ids import FactId, PlaceId
from shared.plan import Placement
from tests.builders import NOW, a_fact, a_gate, a_stage, at
from tests.scheduler.normals import of_steps, solved
from tests.scheduler.test_told import TUESDAY, coats
from tests.scheduler.told_work import ANA, BEN, CID, first, plan_of, second, told_book

PEOPLE, DAY, TIME = Otherwise.PEOPLE, Otherwise.DAY, Otherwise.TIME


@pytest.mark.parametrize(
    ("placements", "people", "points"),
    [
        # Ana's piece waits for her: nobody else hears anything.
        ((first("ana", day="09"), second("ben")), (), 0),
        # Cid takes it: one sheet, and what Ana was told costs nothing.
        ((first("cid"), second("ben")), (CID,), 0),
        # Ben takes it and Cid takes Ben's: two sheets, other people (4) for tomorrow (times 3).
        ((first("ben"), second("cid")), (BEN, CID), 12),
    ],
)
def test_the_three_answers_to_a_carver_away(
    placements: tuple[Placement, ...], people: tuple[str, ...], points: int
) -> None:
    found = told_changes(told_book(), plan_of(*placements), NOW, missing=(ANA,))

    assert found.people == people
    assert found.points == points


@pytest.mark.parametrize(
    ("moved", "kinds", "points"),
    [
        (first("ana"), (), 0),
        (first("ana", start="08:00"), (TIME,), 0),
        (first("ana", start="08:30"), (TIME,), 3),
        (first("ana", day="07"), (DAY,), 6),
        (first("ben", day="07"), (PEOPLE, DAY), 12),
        (replace(first("ana"), place=PlaceId("bay")), (Otherwise.PLACE,), 3),
        (replace(first("ana"), end=at("2026-01-06 15:00")), (Otherwise.LENGTH,), 0),
        (None, (Otherwise.OFF,), 12),
    ],
)
def test_what_is_otherwise_counts_by_what_it_is(
    moved: Placement | None, kinds: tuple[Otherwise, ...], points: int
) -> None:
    made = (second("ben"),) if moved is None else (moved, second("ben"))
    found = told_changes(told_book(), plan_of(*made), NOW)

    assert [change.kinds for change in found.each] == ([kinds] if kinds else [])
    assert found.points == points


@pytest.mark.parametrize(
    ("day", "weight"), [("05", "6"), ("06", "6"), ("09", "2"), ("12", "0.6"), ("19", "0.2")]
)
def test_the_further_ahead_it_was_told_the_less_it_counts(day: str, weight: str) -> None:
    book = told_book()
    assert book.told is not None
    told = replace(book.told, plan=plan_of(first("ana", day=day, start="10:00")))
    found = told_changes(replace(book, told=told), plan_of(first("ana", day="28")), NOW)

    assert found.points == Decimal(weight)


def test_both_sides_of_a_swap_hear_of_it() -> None:
    found = told_changes(told_book(), plan_of(first("ben"), second("ana")), NOW).lines()

    assert [(line.person, line.line, line.change.step, line.others) for line in found] == [
        (ANA, Line.OFF, "first", (BEN,)),
        (ANA, Line.ON, "second", (BEN,)),
        (BEN, Line.ON, "first", (ANA,)),
        (BEN, Line.OFF, "second", (ANA,)),
    ]


def test_what_has_begun_or_was_never_told_is_no_change() -> None:
    begun = a_fact("f", step="first", kind=FactKind.RUNNING, at=NOW)
    book = replace(told_book(), facts=(begun,))

    assert told_changes(book, plan_of(first("ben"), second("ben")), NOW).each == ()
    assert told_changes(replace(book, told=None), plan_of(first("ben")), NOW).each == ()


# What is to be said.


def test_a_plan_asks_whether_the_past_is_as_told() -> None:
    outcome = solved(coats(), TUESDAY)
    (found,) = asks(coats(), outcome.plan, TUESDAY, outcome.check)

    assert (found.ask, found.step, found.at) == (Ask.DONE, "first", at("2026-01-05 13:30"))
    assert found.cures


@pytest.mark.parametrize(
    ("now", "by_name"),
    [("2026-01-07 16:00", False), ("2026-01-08 07:30", True), ("2026-01-12 07:30", True)],
)
def test_after_two_working_days_whoever_was_told_is_asked_by_name(
    now: str, *, by_name: bool
) -> None:
    # Ends on Monday: Tuesday and Wednesday are the two working days.
    outcome = solved(coats(), TUESDAY)
    (found,) = asks(coats(), outcome.plan, at(now), outcome.check)
    assert (found.step, found.by_name, found.people) == ("first", by_name, (ANA,))


def test_a_plan_says_that_an_overdue_answer_is_assumed() -> None:
    book = of_steps(a_gate("approve", GateKind.ANSWER), a_stage("skin", Kind.LAMINATE))
    shown = Fact(
        id=FactId("shown"),
        kind=FactKind.PICTURES,
        step=a_gate("approve").id,
        at=at("2025-12-01 10:00"),
        told_by="Ana",
    )
    overdue = replace(book, facts=(shown,))
    outcome = solved(overdue)
    (found,) = asks(overdue, outcome.plan, NOW, outcome.check)

    # The client's next working day is Tuesday; their answers come until 17:00.
    assert (found.ask, found.at) == (Ask.ANSWER, at("2026-01-06 17:00"))
    later = replace(book, facts=(replace(shown, at=at("2026-01-02 10:00")),))
    awaited = solved(later)
    assert asks(later, awaited.plan, NOW, awaited.check) == ()


def test_what_is_done_in_one_go_and_broke_off_asks_for_a_decision() -> None:
    book = of_steps(a_stage("skin", Kind.LAMINATE, hours=8, in_one_go=True))
    running = Fact(
        id=FactId("running"),
        kind=FactKind.RUNNING,
        step=a_stage("skin").id,
        at=at("2026-01-02 13:00"),
        told_by="Ana",
        people=(ANA,),
        way="bench",
    )
    began = replace(book, facts=(running,))
    outcome = solved(began, at("2026-01-05 13:00"))
    (found,) = asks(began, outcome.plan, at("2026-01-05 13:00"), outcome.check)

    assert (found.ask, found.step) == (Ask.INTERRUPTED, "skin")
    assert not outcome.check.sound
