"""Levers pulled: each kind changes what it says and nothing else, several are one edit."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import time
from decimal import Decimal

import pytest

from shared.book import (
    Book,
    Booking,
    Departure,
    Engaged,
    EngagementState,
    ExtraHours,
    Gate,
    GateKind,
    Job,
    Journey,
    LegKind,
    Means,
    Offer,
    Person,
    Pin,
    Skill,
    Stage,
)
from shared.edits import LABELS, NoSuchThing, pull, pull_all
from shared.examine import examine
from shared.ids import EquipmentId, OfferId, PersonId, PlaceId, SegmentId, SkillId, StepId, WindowId
from shared.levers import Lever, LeverKind, price_of
from shared.worktime import Shift
from tests.builders import (
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_place,
    a_segment,
    a_stage,
    a_window,
    an_equipment,
    an_other_work,
    at,
    on,
)

SATURDAY = ExtraHours(
    start=at("2026-01-10 08:00"), end=at("2026-01-10 13:00"), premium_per_hour=Decimal(9)
)
TAKEN = ExtraHours(start=at("2026-01-17 08:00"), end=at("2026-01-17 13:00"))
BOOKED = Booking(start=at("2026-01-07 08:00"), end=at("2026-01-09 08:00"), name="foam")
LATER = at("2026-03-11 08:00")
SHIFT = Shift(days=(0, 1, 2, 3, 4, 5, 6), start=time(0), end=time(0))


def offer(kind: str, *about: str, **more: object) -> Offer:
    return Offer(id=OfferId("held-out"), name="Held out", kind=kind, about=about, **more)  # type: ignore[arg-type]


def sailing(day: int) -> Departure:
    leaves = at(f"2026-03-0{day} 18:00")
    return Departure(leaves=leaves, arrives=leaves.replace(hour=23))


def a_whole_book(*offers: Offer) -> Book:
    """Give a book with something for every kind of lever."""
    steps = (
        a_stage("carve", cure_hours=48, pin=Pin(day=on("2026-01-20")), people=(PersonId("ana"),)),
        a_stage("fill", same_people_as=StepId("carve"), not_before=on("2026-02-02")),
        a_gate("approve", GateKind.ANSWER, answer_days=10, allow_no=1),
        a_gate("loading"),
        a_journey(
            "ship",
            legs=(a_leg(), a_leg(LegKind.SAILING, departures=(sailing(4),)), a_leg()),
            crew=("ana", "ben"),
            vehicles=("lorry",),
        ),
    )
    job = a_job(
        "heron",
        steps=steps,
        segments=(a_segment("torso"), a_segment("wing")),
        windows=(a_window("held"), a_window("later", "2026-03-09 08:00", "2026-03-13 18:00")),
        not_before=on("2026-01-12"),
    )
    people = (
        a_person("ana", overtime_offered=(SATURDAY,), overtime_taken=(TAKEN,)),
        a_person("ben"),
        a_person(
            "cid",
            freelance=True,
            engaged=(Engaged(first=on("2026-01-12"), last=on("2026-01-23")),),
        ),
    )
    return a_book(
        job,
        people=people,
        places=(a_place(air="hall", bookings=(BOOKED,)), a_floor()),
        equipment=(an_equipment("lorry"),),
        other_work=(an_other_work("course"),),
        offers=offers,
    )


@dataclass(frozen=True)
class Row:
    """A lever, what is held out for it, and what is so afterwards and was not before."""

    lever: Lever
    is_so: Callable[[Book], bool]
    offers: tuple[Offer, ...] = ()


def job_of(book: Book) -> Job:
    return book.jobs[0]


def stage_of(book: Book, step: str) -> Stage:
    found = next(each for each in job_of(book).steps if each.id == step)
    assert isinstance(found, Stage)
    return found


def gate_of(book: Book) -> Gate:
    found = job_of(book).steps[2]
    assert isinstance(found, Gate)
    return found


def journey_of(book: Book) -> Journey:
    found = job_of(book).steps[-1]
    assert isinstance(found, Journey)
    return found


def person_of(book: Book, person: str) -> Person:
    return next((each for each in book.people if each.id == person), a_person("nobody"))


def held(kind: LeverKind, *about: str, **more: object) -> Lever:
    return Lever(kind=kind, id="held-out", about=about, offer=OfferId("held-out"), **more)  # type: ignore[arg-type]


def own(kind: LeverKind, *about: str, **more: object) -> Lever:
    return Lever(kind=kind, id="own", about=about, **more)  # type: ignore[arg-type]


CARVER = Skill(skill=SkillId("carve"))
TWO = Means(id="two", drivers=2, price=Decimal(300))
ROWS = (
    Row(
        own(LeverKind.OVERTIME, "ana", start=SATURDAY.start, end=SATURDAY.end),
        lambda book: (
            person_of(book, "ana").overtime_taken == (TAKEN, SATURDAY)
            and not person_of(book, "ana").overtime_offered
        ),
    ),
    Row(
        own(LeverKind.FREELANCER, "cid", first=on("2026-01-14"), last=on("2026-01-16")),
        lambda book: (
            [
                (each.first.day, each.last.day, each.state is EngagementState.CONFIRMED)
                for each in person_of(book, "cid").engaged
            ]
            == [(12, 13, False), (14, 16, True), (17, 23, False)]
        ),
    ),
    Row(
        held(LeverKind.HIRED_HAND, first=on("2026-01-14"), last=on("2026-01-16")),
        lambda book: (
            person_of(book, "held-out-hand").skills == (CARVER,)
            and person_of(book, "held-out-hand").engaged[0].state is EngagementState.CONFIRMED
            and person_of(book, "held-out-hand").day_rate == 220
        ),
        (offer("hired hand", skills=(CARVER,), day_rate=Decimal(220)),),
    ),
    Row(
        held(LeverKind.TRAINING, "ana", last=on("2027-01-01")),
        lambda book: (
            [(each.certificate, each.expires) for each in person_of(book, "ana").certificates]
            == [("lift", on("2027-01-01"))]
        ),
        (offer("training", "ana", certificates=("lift",), last=on("2027-01-01")),),
    ),
    Row(
        held(LeverKind.HEATING, "bay"),
        lambda book: book.offers[0].taken,
        (offer("heating", "bay", celsius=Decimal(22), heated=(SHIFT,)),),
    ),
    Row(
        held(LeverKind.FAST_CURE, "carve"),
        lambda book: stage_of(book, "carve").cure_hours == 12,
        (offer("fast cure", "heron", cure_hours=Decimal(12)),),
    ),
    Row(
        held(LeverKind.SUBCONTRACT, "fill"),
        lambda book: (
            stage_of(book, "fill").cure_hours == 72 and not stage_of(book, "fill").ways[0].needs
        ),
        (offer("subcontract", "fill", away_days=3),),
    ),
    Row(
        held(LeverKind.STORE, "torso"),
        lambda book: [each.stored_elsewhere for each in job_of(book).segments] == [True, False],
        (offer("store", "torso"),),
    ),
    Row(
        held(LeverKind.SCREEN, "bay"),
        lambda book: book.places[0].air is None,
        (offer("screen", "bay"),),
    ),
    Row(
        held(LeverKind.ROOM, "hall"),
        lambda book: book.places[1].area_m2 == 140,
        (offer("room", "hall", area_m2=Decimal(40)),),
    ),
    Row(
        held(LeverKind.EQUIPMENT, "lorry"),
        lambda book: book.equipment[0].count == 2,
        (offer("equipment", "lorry"),),
    ),
    Row(
        held(LeverKind.COURIER, "fill"),
        lambda book: stage_of(book, "fill").not_before == on("2026-01-08"),
        (offer("courier", "fill", first=on("2026-01-08")),),
    ),
    Row(
        own(LeverKind.PUT_OFF, "course", start=LATER, end=LATER.replace(hour=12)),
        lambda book: book.other_work[0].start == LATER,
    ),
    Row(
        own(
            LeverKind.FREE_PLACE,
            "bay",
            start=LATER,
            end=LATER.replace(day=12),
            facts=(("was", BOOKED.start.isoformat()),),
        ),
        lambda book: (
            book.places[0].bookings[0].start == LATER and book.places[0].bookings[0].name == "foam"
        ),
    ),
    Row(
        own(LeverKind.ANSWER_SOONER, "approve", days=5),
        lambda book: gate_of(book).answer_days == 5,
    ),
    Row(own(LeverKind.ONE_ROUND, "approve"), lambda book: gate_of(book).allow_no == 0),
    Row(
        own(LeverKind.OTHER_WINDOW, "heron", "later"),
        lambda book: job_of(book).held_window == job_of(book).windows[1],
    ),
    Row(
        own(LeverKind.RE_PROMISE, "heron", "later"),
        lambda book: job_of(book).window == WindowId("later"),
    ),
    Row(own(LeverKind.START_AT_ONCE, "heron"), lambda book: job_of(book).not_before is None),
    Row(own(LeverKind.LIFT_PIN, "carve"), lambda book: stage_of(book, "carve").pin is None),
    Row(own(LeverKind.LIFT_NAMES, "carve"), lambda book: stage_of(book, "carve").people == ()),
    Row(
        own(LeverKind.LIFT_SAME, "fill"),
        lambda book: stage_of(book, "fill").same_people_as is None,
    ),
    Row(
        own(LeverKind.CREW, "ship", "ben", "cid"),
        lambda book: journey_of(book).crew == ("ana", "cid"),
    ),
    Row(
        held(LeverKind.SAILING, "ship"),
        lambda book: journey_of(book).legs[1].departures == (sailing(3), sailing(4)),
        (offer("sailing", "ship", departures=(sailing(3),)),),
    ),
    Row(
        held(LeverKind.MEANS, "ship"),
        lambda book: (
            [each.id for each in journey_of(book).means] == ["as written", "two"]
            and journey_of(book).means[0].vehicles == (EquipmentId("lorry"),)
        ),
        (offer("means", "ship", means=(TWO,)),),
    ),
    Row(
        own(LeverKind.NO_RESERVE, "ship"),
        lambda book: journey_of(book).reserve_minutes == 0,
    ),
)


def test_every_kind_has_its_row() -> None:
    assert {row.lever.kind for row in ROWS} == set(LeverKind)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.lever.kind)
def test_a_lever_changes_what_it_says(row: Row) -> None:
    book = a_whole_book(*row.offers)
    edited = pull(book, row.lever)

    assert not row.is_so(book)
    assert row.is_so(edited.book)
    assert edited.book.revision == book.revision + 1
    assert edited.label.code in LABELS
    assert all(each.taken for each in edited.book.offers)
    assert [each for each in examine(edited.book) if each.stops] == [
        each for each in examine(book) if each.stops
    ]


def test_a_step_may_start_at_once_as_a_job_may() -> None:
    made = pull(a_whole_book(), own(LeverKind.START_AT_ONCE, "fill")).book

    assert stage_of(made, "fill").not_before is None
    assert job_of(made).not_before == on("2026-01-12")


def test_several_levers_are_one_edit_with_all_that_changed() -> None:
    book = a_whole_book()
    levers = [row.lever for row in ROWS if row.lever.offer is None]
    edited = pull_all(book, levers)

    assert edited.book.revision == book.revision + 1
    assert edited.changed.jobs == {"heron"}
    assert edited.changed.people
    assert edited.changed.workshop
    assert edited.label.code == "take_way_out"


def test_two_weeks_of_a_hand_are_one_person_and_are_paid_once_what_is_paid_once() -> None:
    book = a_whole_book(offer("hired hand", skills=(CARVER,)))
    weeks = [
        held(
            LeverKind.HIRED_HAND,
            first=on(f"2026-01-{day}"),
            last=on(f"2026-01-{day + 4}"),
            price=Decimal(1100),
            once=Decimal(80),
        )
        for day in (12, 19)
    ]
    made = pull_all(book, weeks).book

    assert len(made.people) == len(book.people) + 1
    assert len(made.people[-1].engaged) == 2
    assert price_of(weeks) == 2 * 1100 + 80


def test_a_lever_of_something_that_is_not_there_is_a_bug_of_the_caller() -> None:
    with pytest.raises(NoSuchThing):
        pull(a_book(), held(LeverKind.HEATING, "bay"))
    with pytest.raises(NoSuchThing):
        pull(a_book(), own(LeverKind.OTHER_WINDOW, "heron", "another"))


def test_a_room_by_slots_has_more_of_them() -> None:
    book = a_whole_book(offer("room", "bay", slots=2))
    made = pull(book, held(LeverKind.ROOM, "bay")).book

    assert made.places[0].id == PlaceId("bay")
    assert made.places[0].slots == 3


def test_what_is_stored_elsewhere_may_be_all_of_a_job() -> None:
    book = a_whole_book(offer("store", "heron"))
    made = pull(book, held(LeverKind.STORE, "torso", "wing")).book

    assert all(each.stored_elsewhere for each in job_of(made).segments)
    assert [each.id for each in job_of(made).segments] == [SegmentId("torso"), SegmentId("wing")]


def test_pulling_nothing_changes_nothing_but_the_revision() -> None:
    book = a_whole_book()
    made = pull_all(book, ()).book

    assert replace(made, revision=book.revision) == book
