"""Answers to somebody or something being away, on books small enough to think them through."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from scheduler.away.hits import steps_with
from scheduler.away.search import answers
from scheduler.away.values import Answers, MoveKind
from scheduler.check import check
from scheduler.request import SolveRequest
from shared.absence import Absence, AwayKind
from shared.book import Book, ExtraHours, FactKind, Kind, Leave, Offer, Pin
from shared.edits import mark_away, take_answer
from shared.ids import MaterialId, OfferId, PersonId
from shared.levers import LeverKind
from tests.builders import (
    NOW,
    a_book,
    a_delivery,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_material,
    a_person,
    a_place,
    a_segment,
    a_skill,
    a_stage,
    a_supplier,
    a_told,
    a_window,
    an_equipment,
    at,
    on,
    so_much,
)
from tests.scheduler.normals import placed, solved
from tests.scheduler.told_work import first, plan_of, second

TAKEN, SWAPPED, WAITS = MoveKind.TAKEN_OVER, MoveKind.SWAPPED, MoveKind.WAITS


def away(who: str, start: str, end: str, kind: AwayKind = AwayKind.PERSON, **more: Any) -> Absence:
    return Absence(kind=kind, id=who, start=at(start), end=at(end), **more)


def asked(book: Book, absence: Absence, now: datetime = NOW) -> Answers:
    return answers(SolveRequest(book=book, now=now, seconds=30), absence)


ILL = away("ana", "2026-01-06 00:00", "2026-01-09 00:00")


def two_pieces(window_end: str = "2026-03-06 18:00", **changes: Any) -> Book:
    """Give two pieces to be carved in a day each, told for tomorrow to Ana and Ben."""
    job = a_job(
        "fox",
        segments=(a_segment("one"), a_segment("two")),
        steps=(
            a_stage("first", segments=("one",), hours="6.5", **changes),
            a_stage("second", segments=("two",), hours="6.5"),
            a_gate(),
            a_journey(),
        ),
        windows=(a_window("fox-window", "2026-01-07 08:00", window_end),),
    )
    day = [replace(each, end=at("2026-01-06 16:00")) for each in (first("ana"), second("ben"))]
    people = tuple(a_person(name) for name in ("ana", "ben", "cid"))
    return replace(a_book(job), people=people, told=a_told(plan_of(*day), sheet_number=3))


def kinds(found: Answers) -> list[list[tuple[MoveKind, str]]]:
    return [[(move.kind, move.step) for move in answer.moves] for answer in found.answers]


def test_a_carver_away_is_waited_for_then_stood_in_for_then_swapped() -> None:
    found = asked(two_pieces(), ILL)

    assert [hit.step for hit in found.hits] == ["first"]
    assert kinds(found) == [
        [(WAITS, "first")],
        [(TAKEN, "first")],
        [(TAKEN, "first"), (SWAPPED, "second")],
    ]
    assert [answer.changes.people for answer in found.answers] == [(), ("cid",), ("ben", "cid")]
    assert [answer.changes.points for answer in found.answers] == [0, 0, 12]
    assert all(answer.check.sound and answer.proved_cheapest for answer in found.answers)
    assert {verdict for each in found.answers for verdict in each.verdicts.values()} == {"fits"}


def test_a_window_comes_before_whoever_hears_something_new() -> None:
    found = asked(two_pieces("2026-01-07 18:00"), ILL)

    assert kinds(found)[0] == [(TAKEN, "first")]
    assert (found.answers[0].missed, found.answers[0].changes.people) == (frozenset(), ("cid",))
    assert all(answer.lost for answer in found.answers if (WAITS, "first") in kinds(found)[0])


def test_nothing_that_is_planned_means_nothing_to_do() -> None:
    found = asked(two_pieces(), away("cid", "2026-01-06 00:00", "2026-01-09 00:00"))

    assert found.hits == ()
    assert [answer.changes.each for answer in found.answers] == [()]


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ({"people": ("ana",)}, WAITS),
        ({"pin": Pin(people=(PersonId("ana"),))}, WAITS),
        ({"pin": Pin(day=on("2026-01-06"))}, TAKEN),
        ({"pin": Pin(start=at("2026-01-06 07:30"))}, TAKEN),
        ({"pin": Pin(start=at("2026-01-06 07:30"), people=(PersonId("ana"),))}, MoveKind.OFF),
    ],
)
def test_what_is_said_of_a_piece_of_work_stands_whoever_is_away(said: Any, kind: MoveKind) -> None:
    book = two_pieces(**said)
    found = asked(book, ILL)

    assert {each[0] for each in kinds(found)} == {(kind, "first")}
    assert all(answer.check.sound for answer in found.answers)


@pytest.mark.parametrize(("who", "kind"), [("ana", WAITS), ("cid", TAKEN)])
def test_whoever_did_what_asks_for_the_same_people_again_is_waited_for_or_called(
    who: str, kind: MoveKind
) -> None:
    """Laid out by one person, who is to carve it; the sheet has Ana for the carving."""
    (job,) = two_pieces(same_people_as="laid-out").jobs
    laid_out = a_stage("laid-out", segments=("one",), hours=1)
    done = a_fact(step="laid-out", people=(who,), at=at("2026-01-02 10:00"))
    book = two_pieces(same_people_as="laid-out")
    book = replace(book, jobs=(replace(job, steps=(laid_out, *job.steps)),), facts=(done,))

    assert {each[0] for each in kinds(asked(book, ILL))} == {(kind, "first")}


def alone(window_end: str, kind: Kind = Kind.PACK, **changes: Any) -> Book:
    """Give a piece that only Ana can work on: two days of it, told for tomorrow on."""
    job = a_job(
        "fox",
        steps=(a_stage("first", kind, hours=13), a_gate(), a_journey()),
        windows=(a_window("fox-window", "2026-01-08 08:00", window_end),),
    )
    told = replace(first("ana"), end=at("2026-01-07 16:00"))
    ana = a_person("ana", rate_per_hour=Decimal(20), **changes)
    people = (ana, a_person("ben", ("paint",)))
    return replace(a_book(job), people=people, told=a_told(plan_of(told)))


SATURDAY = ExtraHours(
    start=at("2026-01-10 07:30"), end=at("2026-01-10 15:30"), premium_per_hour=Decimal(10)
)


def test_overtime_that_is_offered_is_tried_where_nothing_free_is_enough() -> None:
    book = alone("2026-01-11 18:00", overtime_offered=(SATURDAY,))
    found = asked(book, away("ana", "2026-01-06 00:00", "2026-01-09 00:00"))
    best = found.answers[0]

    assert [lever.kind for lever in best.levers] == [LeverKind.OVERTIME]
    # Eight hours at 20 and a premium of 10.
    assert (best.price, best.missed) == (Decimal(240), frozenset())
    assert [answer.lost for answer in found.answers[1:]] == [{"fox"}] * (len(found.answers) - 1)


def test_a_hired_hand_that_is_offered_is_tried() -> None:
    hand = Offer(
        id=OfferId("hand"),
        name="A packer",
        kind="hired hand",
        skills=(a_skill("pack"),),
        day_rate=Decimal(200),
        price=Decimal(50),
        first=on("2026-01-06"),
        last=on("2026-01-07"),
    )
    book = replace(alone("2026-01-09 18:00"), offers=(hand,))
    best = asked(book, away("ana", "2026-01-06 00:00", "2026-01-09 00:00")).answers[0]

    assert [lever.kind for lever in best.levers] == [LeverKind.HIRED_HAND]
    assert best.price == Decimal(450)
    assert best.missed == frozenset()
    assert not best.proved_cheapest


def test_a_client_may_be_asked_for_another_window() -> None:
    book = alone("2026-01-09 18:00")
    (job,) = book.jobs
    later = a_window("later", "2026-01-12 08:00", "2026-01-16 18:00", price=Decimal(300))
    asking = replace(job, windows=(*job.windows, later), window=job.windows[0].id)
    absence = away("ana", "2026-01-06 00:00", "2026-01-09 00:00")
    best = asked(replace(book, jobs=(asking,)), absence).answers[0]

    assert [lever.kind for lever in best.levers] == [LeverKind.OTHER_WINDOW]
    assert (best.price, best.missed) == (Decimal(300), frozenset())


def test_nobody_lays_up_alone_on_a_saturday() -> None:
    book = alone("2026-01-11 18:00", Kind.LAMINATE, overtime_offered=(SATURDAY,))
    found = asked(book, away("ana", "2026-01-06 00:00", "2026-01-09 00:00"))

    assert all(not answer.levers for answer in found.answers)


def test_whoever_is_away_offers_nothing_that_lies_in_their_absence() -> None:
    evening = ExtraHours(start=at("2026-01-07 16:00"), end=at("2026-01-07 20:00"))
    book = alone("2026-01-09 18:00", overtime_offered=(evening,))
    found = asked(book, away("ana", "2026-01-06 00:00", "2026-01-08 00:00"))

    assert all(not answer.levers for answer in found.answers)


def in_a_place(**changes: Any) -> Book:
    stage = a_stage("first", hours="6.5", places=("bay", "yard"), **changes)
    job = a_job("fox", steps=(stage, a_gate(), a_journey()))
    told = replace(first("ana"), end=at("2026-01-06 16:00"), place=a_place().id)
    places = (a_place(), a_place("yard"))
    return replace(a_book(job), places=places, told=a_told(plan_of(told)))


def test_a_place_that_is_not_to_be_had_is_left_for_another() -> None:
    absence = away("bay", "2026-01-06 00:00", "2026-01-09 00:00", AwayKind.PLACE)
    found = asked(in_a_place(), absence)

    assert [hit.step for hit in found.hits] == ["first"]
    assert sorted(each[0][0] for each in kinds(found)) == [MoveKind.ELSEWHERE, WAITS]
    where = {each.plan.placements[0].place for each in found.answers}
    assert where == {"bay", "yard"}


def test_a_tool_that_is_not_to_be_had_is_waited_for() -> None:
    way = a_stage("first", hours="6.5").ways[0]
    needs = (replace(_need(), equipment=an_equipment("hoist").id),)
    stage = a_stage("first", ways=(replace(way, equipment=needs),))
    job = a_job("fox", steps=(stage, a_gate(), a_journey()))
    told = replace(first("ana"), end=at("2026-01-06 16:00"), equipment=(an_equipment("hoist").id,))
    book = replace(a_book(job), equipment=(an_equipment("hoist"),), told=a_told(plan_of(told)))
    absence = away("hoist", "2026-01-06 00:00", "2026-01-09 00:00", AwayKind.EQUIPMENT)
    found = asked(book, absence)

    assert kinds(found)[0] == [(WAITS, "first")]
    assert found.answers[0].plan.placements[0].start >= at("2026-01-09 07:30")


def _need() -> Any:
    from shared.book import EquipmentNeed

    return EquipmentNeed(equipment=an_equipment("hoist").id)


def test_a_van_that_is_not_to_be_had_touches_its_journey() -> None:
    steps = (a_stage("first", hours="6.5"), a_gate(), a_journey(vehicles=("van",)))
    window = a_window("fox-window", "2026-01-12 08:00", "2026-01-16 18:00")
    book = a_book(a_job("fox", steps=steps, windows=(window,)), equipment=(an_equipment("van"),))
    plan = solved(book).plan
    told = replace(book, told=a_told(plan))
    (trip,) = plan.trips
    day = trip.start.date()
    absence = away("van", f"{day} 00:00", f"{day} 23:00", AwayKind.EQUIPMENT)
    found = asked(told, absence)

    assert "journey" in [hit.step for hit in found.hits]
    assert all(each.plan.trips[0].start.date() != day for each in found.answers)
    assert not found.answers[0].missed


def test_work_waits_for_a_delivery_until_the_morning_after_it() -> None:
    stage = a_stage("first", hours="6.5", materials=(so_much(5),))
    job = a_job("fox", steps=(stage, a_gate(), a_journey()))
    told = replace(first("ana"), end=at("2026-01-06 16:00"))
    book = replace(
        a_book(job),
        suppliers=(a_supplier(),),
        materials=(a_material(),),
        deliveries=(a_delivery(5, "2026-01-05 12:00"),),
        told=a_told(plan_of(told)),
    )
    steps = steps_with(book, MaterialId("primer"))
    absence = away("primer", "2026-01-05 10:00", "2026-01-07 11:00", AwayKind.DELIVERY, steps=steps)
    found = asked(book, absence)

    assert steps == ("first",)
    assert found.answers[0].plan.placements[0].start == at("2026-01-08 07:30")
    late = mark_away(book, absence).book
    assert late.deliveries[0].at == at("2026-01-07 11:00")
    assert late.jobs[0].steps[0].not_before == on("2026-01-08")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("kind", "waits"),
    [(FactKind.HELD, True), (FactKind.MATERIAL, False), (FactKind.RUNNING, False)],
)
def test_what_is_held_up_still_waits_for_its_material(kind: FactKind, waits: bool) -> None:
    job = a_job("fox", steps=(a_stage("first", materials=(so_much(5),)), a_gate(), a_journey()))
    told = replace(a_book(job), facts=(a_fact(step="first", kind=kind),))
    assert steps_with(told, MaterialId("primer")) == (("first",) if waits else ())


def test_an_answer_taken_is_what_people_are_told_and_one_edit() -> None:
    book = two_pieces()
    found = asked(book, ILL)
    swap = found.answers[2]

    assert swap.book.revision == book.revision + 1
    assert swap.book.told is not None
    assert (swap.book.told.plan, swap.book.told.sheet_number) == (swap.plan, 4)
    assert swap.book.people[0].leave == (Leave(start=ILL.start, end=ILL.end),)
    again = solved(swap.book)
    assert [placed(again, step).people for step in ("first", "second")] == [("ben",), ("cid",)]
    assert again.plan.let_go == ()
    assert check(swap.book, swap.plan).sound


def test_without_a_sheet_the_answer_is_kept_and_nobody_is_told() -> None:
    book = replace(two_pieces(), told=None)
    plan = solved(book).plan
    edited = take_answer(book, ILL, (), plan, NOW)

    assert (edited.book.told, edited.book.plan) == (None, plan)
    found = asked(book, ILL)
    assert not found.told
    assert all(answer.book.told is None for answer in found.answers)


@pytest.mark.parametrize("kept", [True, False])
def test_a_reason_for_leave_stands_in_no_answer(*, kept: bool) -> None:
    book = two_pieces()
    reason = Leave(start=at("2026-02-02 00:00"), end=at("2026-02-03 00:00"), reason="the dentist")
    ana = replace(book.people[0], leave=(reason,) if kept else ())
    found = asked(replace(book, people=(ana, *book.people[1:])), ILL)

    for answer in found.answers:
        told = (answer.moves, answer.levers, answer.changes, answer.plan, answer.jobs)
        assert "dentist" not in repr(told)
        assert [each.reason for each in answer.book.people[0].leave][-1] == ""
