"""What happened on the floor as edits: done, so much left, held up, ticked as told."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

import pytest

from shared.as_told import as_told
from shared.book import Book, FactKind, Gate, GateKind, Held, Leave
from shared.edits import (
    Edited,
    NotNow,
    tell_done,
    tell_held,
    tell_left,
    tell_material,
    tick_as_told,
)
from shared.estimate.recorded import recorded_hours
from shared.examine import examine
from shared.ids import StepId
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_placement,
    a_stage,
    a_told,
    at,
)
from tests.scheduler.told_work import first, plan_of, second, told_book

FIRST, SECOND = StepId("first"), StepId("second")
TUESDAY = at("2026-01-06 16:00")
DAY = date(2026, 1, 6)


def kinds(book: Book, step: StepId) -> list[FactKind]:
    return [fact.kind for fact in book.facts if fact.step == step]


def code_of(refused: pytest.ExceptionInfo[NotNow]) -> str:
    return refused.value.code


def test_done_takes_people_and_beginning_from_the_sheet() -> None:
    before = told_book()
    edited = tell_done(before, FIRST, TUESDAY, "Mara")
    begun, done = edited.book.facts
    assert (begun.kind, begun.at) == (FactKind.RUNNING, at("2026-01-06 07:30"))
    assert (done.kind, done.at) == (FactKind.DONE, at("2026-01-06 14:30"))
    assert {(f.told_by, f.told_at, f.people) for f in (begun, done)} == {
        ("Mara", TUESDAY, ("ana",))
    }
    assert edited.book.revision == before.revision + 1
    assert edited.label.facts == (("name", "First"),)
    assert edited.changed.jobs == {"fox"}
    assert not [finding for finding in examine(edited.book) if finding.stops]


def test_done_early_is_done_then_and_its_hours_are_on_record() -> None:
    early = tell_done(told_book(), FIRST, TUESDAY, "Mara", at("2026-01-06 11:30"))
    assert early.book.facts[-1].at == at("2026-01-06 11:30")
    # 07:30 to 11:30 without a break are four hours, 6.5 of 8 of them useful.
    assert recorded_hours(early.book) == {FIRST: Decimal("3.25")}


def test_done_before_its_end_on_the_sheet_is_done_now() -> None:
    noon = at("2026-01-06 12:00")
    assert tell_done(told_book(), FIRST, noon, "").book.facts[-1].at == noon


@pytest.mark.parametrize(
    ("code", "when"),
    [("not_yet", at("2026-01-06 16:15")), ("done_before_begun", at("2026-01-06 09:00"))],
)
def test_done_in_the_future_or_before_it_began_is_refused(code: str, when: datetime) -> None:
    running = tell_left(told_book(), FIRST, Decimal(3), at("2026-01-06 10:00"), "").book
    late = replace(running.facts[0], at=at("2026-01-06 09:30"))
    with pytest.raises(NotNow) as refused:
        tell_done(replace(running, facts=(late,)), FIRST, TUESDAY, "", when)
    assert code_of(refused) == code


def test_what_is_done_is_not_told_again() -> None:
    done = tell_done(told_book(), FIRST, TUESDAY, "Mara").book
    tells: tuple[Callable[[], Edited], ...] = (
        lambda: tell_done(done, FIRST, TUESDAY, "Ben"),
        lambda: tell_left(done, FIRST, Decimal(2), TUESDAY, "Ben"),
        lambda: tell_held(done, FIRST, Held.MATERIAL, TUESDAY, "Ben"),
        lambda: tell_material(done, FIRST, TUESDAY, "Ben"),
    )
    for tell in tells:
        with pytest.raises(NotNow) as refused:
            tell()
        assert code_of(refused) == "done_already"
        assert refused.value.facts["who"] == "Mara"


def test_an_answer_is_never_done_and_a_loading_has_no_hours() -> None:
    gates = (a_gate("yes", GateKind.ANSWER), a_gate("load", GateKind.LOADING), a_journey("go"))
    book = a_book(a_job("fox", steps=(a_stage("first"), *gates)))
    with pytest.raises(NotNow) as refused:
        tell_done(book, StepId("yes"), TUESDAY, "")
    assert code_of(refused) == "answer_not_done"
    with pytest.raises(NotNow) as refused:
        tell_left(book, StepId("load"), Decimal(1), TUESDAY, "")
    assert code_of(refused) == "no_hours"
    assert kinds(tell_done(book, StepId("load"), TUESDAY, "").book, StepId("load")) == [
        FactKind.DONE
    ]


def test_hours_left_keep_when_it_began() -> None:
    once = tell_left(told_book(), FIRST, Decimal(5), TUESDAY, "", Held.TOOL).book
    twice = tell_left(once, FIRST, Decimal("1.5"), at("2026-01-07 16:00"), "").book
    assert [(f.at, f.remaining_hours, f.held_by) for f in twice.facts] == [
        (at("2026-01-06 07:30"), Decimal(5), Held.TOOL),
        (at("2026-01-06 07:30"), Decimal("1.5"), None),
    ]


def test_what_was_held_up_is_not_taken_for_done_until_a_new_sheet_has_it() -> None:
    now = at("2026-01-08 08:00")
    assert {fact.step for fact in as_told(told_book(), now)} == {FIRST, SECOND}
    held = tell_held(told_book(), FIRST, Held.MATERIAL, TUESDAY, "Mara").book
    assert {fact.step for fact in as_told(held, now)} == {SECOND}
    anew = replace(held, told=a_told(plan_of(first("ana", day="07"))))
    assert {fact.step for fact in as_told(anew, now)} == {FIRST}


def test_what_has_begun_was_not_held_up() -> None:
    running = tell_left(told_book(), FIRST, Decimal(5), TUESDAY, "").book
    with pytest.raises(NotNow) as refused:
        tell_held(running, FIRST, Held.PLACE, TUESDAY, "")
    assert code_of(refused) == "begun_already"


def test_a_day_is_ticked_as_the_sheet_has_it_and_marked_work_stays() -> None:
    early = tell_done(told_book(), FIRST, TUESDAY, "Ana", at("2026-01-06 11:00")).book
    ticked = tick_as_told(early, DAY, TUESDAY, "Mara")
    assert (ticked.done, ticked.left) == ((SECOND,), ())
    assert ticked.edited is not None
    book = ticked.edited.book
    assert book.facts[: len(early.facts)] == early.facts
    assert [(f.step, f.kind, f.told_by, f.people) for f in book.facts[len(early.facts) :]] == [
        (SECOND, FactKind.RUNNING, "Mara", ("ben",)),
        (SECOND, FactKind.DONE, "Mara", ("ben",)),
    ]
    assert book.revision == early.revision + 1
    assert ticked.edited.label.facts == (("day", "2026-01-06"), ("count", 1))
    again = tick_as_told(book, DAY, TUESDAY, "Mara")
    assert (again.edited, again.done, again.left) == (None, (), ())
    assert as_told(book, TUESDAY) == ()


def test_only_what_is_over_that_day_is_ticked() -> None:
    book = told_book()
    assert tick_as_told(book, DAY, at("2026-01-06 12:00"), "").edited is None
    assert tick_as_told(book, date(2026, 1, 5), TUESDAY, "").edited is None


def test_who_was_away_did_nothing_and_that_is_named() -> None:
    ben = replace(a_person("ben"), leave=(Leave(start=at("2026-01-06 07:00"), end=TUESDAY),))
    book = replace(told_book(), people=(a_person("ana"), ben, a_person("cid")))
    ticked = tick_as_told(book, DAY, TUESDAY, "")
    assert (ticked.done, ticked.left) == ((FIRST,), (SECOND,))


def test_gates_and_loadings_are_never_ticked() -> None:
    gates: tuple[Gate, ...] = (a_gate("yes", GateKind.ANSWER), a_gate("load", GateKind.LOADING))
    plan = plan_of(
        first("ana"),
        a_placement("yes", "2026-01-06 07:30", "2026-01-06 15:00", "fox"),
        a_placement("load", "2026-01-06 15:00", "2026-01-06 15:30", "fox", ("ana",)),
    )
    job = a_job("fox", steps=(a_stage("first", after=()), *gates, a_journey("go")))
    book = replace(a_book(job), people=(a_person("ana"),), told=a_told(plan))
    ticked = tick_as_told(book, DAY, TUESDAY, "")
    assert (ticked.done, ticked.left) == ((FIRST,), ())


def test_nothing_is_ticked_ahead_or_without_a_sheet() -> None:
    for book, day, code in (
        (replace(told_book(), told=None), DAY, "nothing_told"),
        (told_book(), date(2026, 1, 7), "day_to_come"),
    ):
        with pytest.raises(NotNow) as refused:
            tick_as_told(book, day, TUESDAY, "")
        assert code_of(refused) == code


def test_material_that_came_and_what_was_held_up_are_no_beginning() -> None:
    book = tell_material(told_book(), FIRST, TUESDAY, "").book
    book = tell_held(book, FIRST, Held.TOOL, TUESDAY, "").book
    assert kinds(book, FIRST) == [FactKind.MATERIAL, FactKind.HELD]
    assert kinds(tell_done(book, FIRST, TUESDAY, "").book, FIRST)[-1] is FactKind.DONE
    assert second("ben") in (book.told.plan.placements if book.told else ())
