"""The client's answer: when it is due, its rounds, and what the facts leave of them."""

from dataclasses import replace
from datetime import datetime

import pytest

from scheduler.normalise import Normal
from scheduler.normalise.answers import due_at
from scheduler.problem import Table
from scheduler.reasons import Reason
from shared.book import Abrade, Answer, Book, Client, Closure, Fact, FactKind, Gate, GateKind
from shared.units import steps_up
from tests.builders import (
    NOW,
    a_client,
    a_fact,
    a_gate,
    a_stage,
    a_way,
    a_window,
    at,
    clock,
    on,
)
from tests.scheduler.normals import (
    codes,
    edges_of,
    normal_of,
    of_steps,
    placed,
    position,
    solved,
    stage_of,
)

BAVARIA = Client(name="B", zone="Europe/Berlin", country="DE", subdivision="BY")
FRANCE = Client(name="F", zone="Europe/Paris", country="FR")
NORWAY = Client(name="N", zone="Europe/Oslo", country="NO")
REWORK = Abrade(ways=(a_way(hours=4),))
LATE_WINDOW = (a_window(start="2026-12-01 08:00", end="2026-12-04 18:00"),)


def an_answer(**changes: object) -> Gate:
    return a_gate("approve", GateKind.ANSWER, **changes)  # type: ignore[arg-type]


def a_book_with(gate: Gate, *facts: Fact, client: Client | None = None) -> Book:
    book = of_steps(
        a_stage("carve"),
        gate,
        a_stage("skin"),
        client=client or a_client(),
        windows=LATE_WINDOW,
    )
    return replace(book, facts=facts)


def told(kind: FactKind, when: str, answer: Answer | None = None, step: str = "approve") -> Fact:
    return a_fact(f"{kind}{when}", kind=kind, step=step, at=at(when), answer=answer)


def table_of(normal: Normal, round_: int = 1) -> Table:
    table = stage_of(normal, "approve", round_).cure.table
    assert table is not None
    return table


def value_at(table: Table, step: int) -> int:
    return next(value for upto, value in table.knots if step <= upto)


@pytest.mark.parametrize(
    ("client", "pictures", "due"),
    [
        (a_client(), "2026-12-18 11:00", "2027-01-06 17:00"),
        (BAVARIA, "2026-12-18 11:00", "2027-01-05 16:00"),
        (FRANCE, "2027-03-19 11:00", "2027-04-05 15:00"),
        (NORWAY, "2026-03-26 11:00", "2026-04-14 15:00"),
    ],
    ids=["England", "Bavaria", "France", "Norway"],
)
def test_an_answer_is_due_on_the_tenth_of_the_clients_working_days(
    client: Client, pictures: str, due: str
) -> None:
    """Counted by hand from the public holidays in law.

    England: Banking and Financial Dealings Act 1971, schedule 1 (25, 28 December, 1 January).
    Bavaria: FTG art. 1 (25, 26 December, 1 January; 6 January is not reached). France: Code du
    travail L3133-1 (Easter Monday, not Good Friday). Norway: lov 24 February 1995 nr. 12, § 2
    (Maundy Thursday, Good Friday, Easter Monday).
    """
    assert due_at(client, an_answer(), at(pictures)) == at(due)


def test_the_table_of_answers_agrees_with_the_days_counted_for_every_step() -> None:
    gate = an_answer(answer_days=3, answer_by=clock("16:50"))
    client = a_client(closures=(Closure(first=on("2026-01-20"), last=on("2026-01-22")),))
    normal = normal_of(a_book_with(gate, client=client))
    table = table_of(normal)

    for step in range(0, 60 * 96, 7):
        pictures = NOW + (datetime(2026, 1, 1, 0, 15) - datetime(2026, 1, 1)) * step
        due = due_at(client, gate, pictures)
        assert max(step, value_at(table, step)) == steps_up(NOW, due)


def test_an_answer_of_no_days_is_due_the_same_day_and_never_before_the_pictures() -> None:
    gate = an_answer(answer_days=0)

    assert due_at(a_client(), gate, at("2026-01-05 10:00")) == at("2026-01-05 17:00")
    assert due_at(a_client(), gate, at("2026-01-05 19:00")) == at("2026-01-05 19:00")


def test_the_day_of_the_pictures_is_read_in_the_clients_zone() -> None:
    client = a_client(zone="Asia/Tokyo", country="JP", subdivision=None)
    gate = an_answer(answer_days=1)

    # 16:00 UTC is 1:00 of the next day in Tokyo.
    assert due_at(client, gate, at("2026-01-06 14:00")) == at("2026-01-07 08:00")
    assert due_at(client, gate, at("2026-01-06 16:00")) == at("2026-01-08 08:00")


def test_rounds_stand_one_behind_the_other_with_rework_between() -> None:
    normal = normal_of(a_book_with(an_answer(allow_no=1, rework=REWORK)))

    first, between, second = (
        position(normal, "approve", 1),
        position(normal, "approve", 1, "rework"),
        position(normal, "approve", 2),
    )
    pairs = {(edge.before, edge.after) for edge in normal.problem.edges}
    assert {(first, between), (between, second)} <= pairs
    assert edges_of(normal, "approve", "skin", 2)
    assert not edges_of(normal, "approve", "skin", 1)


def test_rounds_without_rework_follow_at_once() -> None:
    normal = normal_of(a_book_with(an_answer(allow_no=1)))

    pairs = {(edge.before, edge.after) for edge in normal.problem.edges}
    assert (position(normal, "approve", 1), position(normal, "approve", 2)) in pairs


@pytest.mark.parametrize("answer", [Answer.YES, Answer.CHANGES])
def test_a_yes_ends_the_answer(answer: Answer) -> None:
    yes = told(FactKind.ANSWER, "2026-01-06 07:50", answer)
    normal = normal_of(a_book_with(an_answer(allow_no=2), yes))

    assert "approve" not in [name.step for name in normal.stages]
    assert stage_of(normal, "skin").release == 96


def test_a_no_asks_for_rework_and_a_round_even_where_none_was_allowed() -> None:
    no = told(FactKind.ANSWER, "2026-01-05 07:50", Answer.NO)
    normal = normal_of(a_book_with(an_answer(rework=REWORK), no))

    rounds = [(name.round, name.part) for name in normal.stages if name.step == "approve"]
    assert rounds == [(1, "rework"), (2, "")]


def test_pictures_that_are_out_are_awaited_when_they_are_due() -> None:
    out = told(FactKind.PICTURES, "2026-01-05 07:00")
    outcome = solved(a_book_with(an_answer(answer_days=2), out))
    awaited = placed(outcome, "approve", 1)

    assert (awaited.start, awaited.end) == (out.at, at("2026-01-07 17:00"))
    assert placed(outcome, "skin").start >= awaited.end


def test_an_overdue_answer_is_assumed_for_the_end_of_the_clients_next_working_day() -> None:
    out = told(FactKind.PICTURES, "2025-12-29 07:00")
    outcome = solved(a_book_with(an_answer(answer_days=2), out))

    assert placed(outcome, "approve", 1).end == at("2026-01-06 17:00")


def test_silence_is_never_a_yes() -> None:
    out = told(FactKind.PICTURES, "2025-12-29 07:00")
    normal = normal_of(a_book_with(an_answer(answer_days=2), out))

    assert edges_of(normal, "approve", "skin", 1)


def test_the_plan_shows_rounds_that_are_over_as_they_were_told() -> None:
    facts = (
        told(FactKind.PICTURES, "2026-01-02 10:00"),
        told(FactKind.ANSWER, "2026-01-05 07:50", Answer.NO),
    )
    outcome = solved(a_book_with(an_answer(rework=REWORK), *facts))

    first = placed(outcome, "approve", 1)
    assert (first.start, first.end) == (facts[0].at, facts[1].at)
    rework = placed(outcome, "approve", 1, "rework")
    assert placed(outcome, "approve", 2).start >= rework.end > rework.start >= NOW


def test_rework_that_nobody_can_do_keeps_the_answer_out() -> None:
    rework = Abrade(ways=(a_way(skill="juggle"),))
    book = a_book_with(an_answer(allow_no=1, rework=rework))

    assert codes(normal_of(book)) == [Reason.NOBODY_CAN]
    left = {str(each.step): each.code for each in solved(book).plan.unplaced}
    assert left["approve"] == "nobody_can"
    assert left["skin"] == "follows_unplaced"
