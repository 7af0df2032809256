"""What was told stands as it was told, and the plan goes on from there."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from scheduler.check import check
from shared.book import Answer, Book, Booking, FactKind, Kind, OtherWork
from shared.ids import PersonId
from shared.plan import Plan
from tests.builders import a_fact, a_job, a_segment, a_stage, an_other_work, at
from tests.scheduler.check.breaks import without
from tests.scheduler.check.chain import chain_book, chain_plan
from tests.scheduler.check.change import (
    QUARTER,
    is_slot,
    moved,
    named,
    place_changed,
    placed,
    retimed,
    step_changed,
)
from tests.scheduler.check.delivery import delivery_book, delivery_plan


def _told(book: Book, *facts: dict[str, Any]) -> Book:
    made = tuple(a_fact(f"fact-{number}", **fact) for number, fact in enumerate(facts))
    return replace(book, facts=made)


def _as_of(plan: Plan, now: datetime) -> Plan:
    return replace(plan, now=now)


CARVED = {"step": "carve", "at": at("2027-03-02 17:00")}


def _carving(hours_left: int = 5) -> dict[str, Any]:
    """Ivo has carved since Monday."""
    return {
        "step": "carve",
        "kind": FactKind.RUNNING,
        "at": at("2027-03-01 08:00"),
        "people": (PersonId("ivo"),),
        "remaining_hours": Decimal(hours_left),
    }


def _course() -> OtherWork:
    """Ivo's on Tuesday from 10:00 to noon."""
    return an_other_work(
        start=at("2027-03-02 10:00"), end=at("2027-03-02 12:00"), people=(PersonId("ivo"),)
    )


def _until_wednesday(plan: Plan) -> Plan:
    """The carving ends on Wednesday at 9:00, and what follows is put off."""
    late = retimed(plan, "carve", "2027-03-01 08:00", "2027-03-03 09:00")
    late = retimed(late, "barrier", "2027-03-03 13:00", "2027-03-03 17:00")
    return retimed(late, "lay-up", "2027-03-05 08:00", "2027-03-05 12:00")


def test_a_done_step_may_lie_before_now_and_need_not_be_as_long_as_its_hours() -> None:
    book = _told(chain_book(), {"step": "carve", "at": at("2027-03-02 11:10")})
    plan = _as_of(chain_plan(book), at("2027-03-03 08:00"))

    assert named(book, plan) == {("fact_time", "carve")}
    assert not named(book, moved(plan, "carve", end=at("2027-03-02 11:10")))
    assert not named(book, moved(plan, "carve", end=at("2027-03-02 11:15")))


def test_the_cure_of_a_done_stage_counts_from_the_fact() -> None:
    barrier = {"step": "barrier", "at": at("2027-03-03 13:10")}
    book = _told(chain_book(), CARVED, barrier)
    plan = _as_of(chain_plan(book), at("2027-03-04 08:00"))

    assert ("cure", "lay-up") in named(book, moved(plan, "barrier", end=at("2027-03-03 13:10")))


def test_a_running_stage_is_its_remaining_hours_from_now() -> None:
    """On Tuesday 10:00 five hours are left: two until noon, three from 13:00 to 16:00."""
    book = _told(chain_book(), _carving())
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))

    assert named(book, plan) == {("duration", "carve")}
    assert named(book, moved(plan, "carve", end=at("2027-03-02 15:00"))) == {("duration", "carve")}
    assert check(book, moved(plan, "carve", end=at("2027-03-02 16:00"))).sound


def test_a_running_stage_waits_only_while_its_people_are_held() -> None:
    """Five hours are left; a course from Tuesday 10:00 to noon puts the end off to Wednesday."""
    book = _told(chain_book(), _carving())
    busy = replace(book, other_work=(*book.other_work, _course()))
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))
    late = _until_wednesday(plan)

    assert named(book, late) == {("duration", "carve")}
    assert check(busy, late).sound
    assert named(busy, moved(plan, "carve", end=at("2027-03-02 16:00"))) == {
        ("person_twice", "carve")
    }


def test_a_running_stage_waits_while_what_is_done_is_still_wet() -> None:
    """Coated until Tuesday 9:00 and wet for three hours: foam is cut beside it from 13:00 on."""
    coat = a_stage("coat", Kind.COAT, hours=1, places=("bay",), wet_hours=Decimal(3))
    book = chain_book()
    beside = a_job("owl", segments=(a_segment("owl-body"),), steps=(coat,))
    book = replace(book, jobs=(*book.jobs, beside))
    book = replace(book, workshop=replace(book.workshop, apart=None))
    book = _told(book, _carving(), {"step": "coat", "at": at("2027-03-02 09:00")})
    coated = placed("owl", "coat", "2027-03-02 08:00", "2027-03-02 09:00", "pia", place="bay")
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))
    plan = replace(plan, placements=(*plan.placements, coated))
    late = _until_wednesday(plan)

    assert check(book, late).sound
    dry = step_changed(book, "coat", wet_hours=Decimal(1))
    assert named(dry, late) == {("duration", "carve")}


def test_a_running_stage_with_nothing_left_to_do_holds_nobody() -> None:
    """It is to end on Tuesday 11:00, in the middle of a course from 10:00 to noon."""
    book = _told(chain_book(), _carving(0))
    book = replace(book, other_work=(*book.other_work, _course()))
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))

    assert check(book, moved(plan, "carve", end=at("2027-03-02 11:00"))).sound


def test_a_running_stage_of_nobody_known_may_go_on_later() -> None:
    running = {
        "step": "carve",
        "kind": FactKind.RUNNING,
        "at": at("2027-03-01 08:00"),
        "remaining_hours": Decimal(5),
    }
    book = _told(chain_book(), running)
    plan = _as_of(chain_plan(book), at("2027-03-02 08:00"))

    assert check(book, plan).sound
    # By noon it is an hour short; a quarter past 17:00 nobody works.
    for end in ("2027-03-02 12:00", "2027-03-02 13:00", "2027-03-02 17:15"):
        assert named(book, moved(plan, "carve", end=at(end))) == {("duration", "carve")}


def test_a_running_stage_of_unknown_rest_is_not_judged() -> None:
    running = {"step": "carve", "kind": FactKind.RUNNING, "at": at("2027-03-01 08:00")}
    book = _told(chain_book(), running)
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))

    assert check(book, plan).not_judged == ("remaining",)
    assert not check(book, plan).sound


def test_a_running_stage_of_unknown_rest_holds_its_place_from_now_on() -> None:
    """Whoever had the bay on Monday is gone on Tuesday at 10:00; nobody was told who carves."""
    running = {"step": "carve", "kind": FactKind.RUNNING, "at": at("2027-03-01 08:00")}
    book = _told(chain_book(), running)
    plan = _as_of(chain_plan(book), at("2027-03-02 10:00"))

    def shut(start: str, end: str) -> set[tuple[str, str]]:
        booked = Booking(start=at(f"2027-03-{start}"), end=at(f"2027-03-{end}"))
        return named(place_changed(book, "bay", bookings=(booked,)), plan)

    assert not shut("01 10:00", "02 10:00")
    assert shut("01 10:00", "02 10:15") == {("place_shut", "carve")}


def test_work_in_one_go_that_was_interrupted_is_not_judged() -> None:
    running = {
        "step": "barrier",
        "kind": FactKind.RUNNING,
        "at": at("2027-03-03 10:00"),
        "remaining_hours": Decimal(2),
    }
    book = _told(chain_book(), CARVED, running)
    book = step_changed(book, "barrier", cure_hours=Decimal(0))
    plan = retimed(chain_plan(book), "barrier", "2027-03-03 10:00", "2027-03-04 10:00")

    assert check(book, _as_of(plan, at("2027-03-04 08:00"))).not_judged == ("interrupted",)


PICTURES = {
    "step": "approve",
    "kind": FactKind.PICTURES,
    "at": at("2027-03-02 10:00"),
}
CARVED_HEAD = {"step": "carve-head", "at": at("2027-03-01 12:00")}
CARVED_BASE = {"step": "carve-base", "at": at("2027-03-02 10:00")}


def _answered(answer: Answer, when: str) -> dict[str, Any]:
    return {"step": "approve", "kind": FactKind.ANSWER, "at": at(when), "answer": answer}


def _one_round(plan: Plan, end: str) -> Plan:
    """Leave the first round alone, ended by an answer."""
    kept = tuple(
        each
        for each in plan.placements
        if each.step != "approve" or is_slot(each, "approve", 1, "")
    )
    return retimed(replace(plan, placements=kept), "approve", "2027-03-02 10:00", end, 1)


def test_after_an_early_yes_work_goes_on_at_once() -> None:
    facts = (CARVED_HEAD, CARVED_BASE, PICTURES, _answered(Answer.YES, "2027-03-03 11:00"))
    book = _told(delivery_book(), *facts)
    plan = _as_of(_one_round(delivery_plan(book), "2027-03-03 11:00"), at("2027-03-03 12:00"))

    assert check(book, plan).sound
    earlier = retimed(plan, "skin-head", "2027-03-05 13:00", "2027-03-05 16:00")
    assert ("before_answer", "skin-head") not in named(book, earlier)


def test_a_second_round_after_a_yes_is_too_much() -> None:
    facts = (CARVED_HEAD, CARVED_BASE, PICTURES, _answered(Answer.YES, "2027-03-05 17:00"))
    book = _told(delivery_book(), *facts)
    plan = _as_of(delivery_plan(book), at("2027-03-08 08:00"))

    assert ("unknown_step", "approve") in named(book, plan)


def test_a_no_ends_its_round_and_the_next_one_is_due() -> None:
    facts = (CARVED_HEAD, CARVED_BASE, PICTURES, _answered(Answer.NO, "2027-03-05 11:00"))
    book = _told(delivery_book(), *facts)
    plan = _as_of(delivery_plan(book), at("2027-03-08 08:00"))

    assert named(book, plan) == {("fact_time", "approve")}
    assert check(book, moved(plan, "approve", 1, end=at("2027-03-05 11:00"))).sound


def test_each_of_three_rounds_keeps_the_times_of_its_own_pictures_and_answer() -> None:
    rounds = [
        ("2027-03-02 10:00", "2027-03-05 17:00"),
        ("2027-03-08 10:00", "2027-03-11 17:00"),
        ("2027-03-12 10:00", "2027-03-15 11:00"),
    ]
    told: list[dict[str, Any]] = []
    for pictures, answer in rounds:
        told += [PICTURES | {"at": at(pictures)}, _answered(Answer.NO, answer)]
    book = _told(delivery_book(), CARVED_HEAD, CARVED_BASE, *told)
    book = step_changed(book, "approve", allow_no=3)
    third = placed("gull", "approve", *rounds[2], way="", round=3)
    plan = _as_of(delivery_plan(book), at("2027-03-16 08:00"))
    plan = replace(plan, placements=(*plan.placements, third))

    assert ("fact_time", "approve") not in named(book, plan)
    for number, (pictures, _) in enumerate(rounds, 1):
        late = moved(plan, "approve", number, start=at(pictures) + QUARTER)
        assert ("fact_time", "approve") in named(book, late)


def test_an_overdue_answer_is_awaited_for_the_end_of_the_next_working_day() -> None:
    """Due on Friday 5 March and not there on Saturday: awaited for Monday 8 March 17:00."""
    book = _told(delivery_book(), CARVED_HEAD, CARVED_BASE, PICTURES)
    book = step_changed(book, "approve", allow_no=0)
    now = at("2027-03-06 09:00")
    plan = _one_round(delivery_plan(book), "2027-03-08 17:00")

    assert check(book, _as_of(plan, now)).sound
    as_planned = moved(plan, "approve", 1, end=at("2027-03-05 17:00"))
    assert named(book, _as_of(as_planned, now)) == {("answer", "approve")}


def test_a_lorry_that_has_gone_left_when_it_was_told() -> None:
    done = [
        {"step": step, "at": at(end)}
        for step, end in (
            ("carve-head", "2027-03-01 12:00"),
            ("carve-base", "2027-03-02 10:00"),
            ("skin-head", "2027-03-12 12:00"),
            ("coat-head", "2027-03-15 11:00"),
            ("fit", "2027-03-16 11:00"),
            ("loading", "2027-03-16 14:15"),
        )
    ]
    gone = {"step": "delivery", "kind": FactKind.GONE, "at": at("2027-03-16 14:15")}
    yes = (
        PICTURES,
        _answered(Answer.NO, "2027-03-05 17:00"),
        PICTURES | {"at": at("2027-03-08 10:00")},
        _answered(Answer.CHANGES, "2027-03-11 17:00"),
    )
    book = _told(delivery_book(), *done, *yes, gone)
    plan = _as_of(delivery_plan(book), at("2027-03-17 08:00"))

    assert check(book, plan).sound


def test_changes_before_a_round_that_was_shown_need_not_have_been_noted() -> None:
    """The second pictures went out: whatever was changed before them is over."""
    first = {"step": "approve", "kind": FactKind.PICTURES, "at": at("2027-03-02 10:00")}
    no = {
        "step": "approve",
        "kind": FactKind.ANSWER,
        "at": at("2027-03-05 17:00"),
        "answer": Answer.NO,
    }
    second = {**first, "at": at("2027-03-08 10:00")}
    book = delivery_book()
    plan = without(delivery_plan(book), "approve", 1, "rework")

    for facts, is_missing in (((first, no), True), ((first, no, second), False)):
        told = _told(book, *facts)
        assert (("missing_step", "approve") in named(told, plan)) is is_missing
