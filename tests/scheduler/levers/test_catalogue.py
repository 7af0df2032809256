"""What the list of levers holds of a book: what is offered, lawful and to the point."""

from dataclasses import replace
from decimal import Decimal

from scheduler.levers.catalogue import levers_of
from shared.book import (
    Booking,
    Engaged,
    EngagementState,
    ExtraHours,
    FactKind,
    GateKind,
    Offer,
    Pin,
    Skill,
)
from shared.edits import pull_all
from shared.ids import JobId, OfferId, PersonId, SkillId
from shared.levers import Lever, LeverKind
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_stage,
    a_window,
    an_other_work,
    at,
    on,
)


def hours(start: str, end: str, premium: int = 9) -> ExtraHours:
    return ExtraHours(start=at(start), end=at(end), premium_per_hour=Decimal(premium))


SATURDAY = hours("2026-01-10 08:00", "2026-01-10 13:00")


def kinds(levers: tuple[Lever, ...]) -> list[str]:
    return [lever.kind.value for lever in levers]


def test_a_plain_book_has_none() -> None:
    assert levers_of(a_book(), NOW) == ()


def test_overtime_that_is_offered_and_lawful_before_the_window_ends() -> None:
    past = hours("2026-01-03 08:00", "2026-01-03 13:00")
    late = hours("2026-03-14 08:00", "2026-03-14 13:00")
    night = hours("2026-01-13 23:00", "2026-01-14 03:00")
    inside = hours("2026-01-13 09:00", "2026-01-13 11:00")
    offered = (late, SATURDAY, past, night, inside)
    ana = a_person(rate_per_hour=Decimal(20), overtime_offered=offered)
    (only,) = levers_of(a_book(people=(ana,)), NOW)

    assert only.kind is LeverKind.OVERTIME
    assert (only.start, only.end) == (SATURDAY.start, SATURDAY.end)
    assert (only.price, only.is_priced, only.agrees) == (Decimal(5 * 29), True, "Ana")


def test_overtime_of_somebody_without_a_rate_is_not_priced_whole() -> None:
    (only,) = levers_of(a_book(people=(a_person(overtime_offered=(SATURDAY,)),)), NOW)

    assert (only.price, only.is_priced) == (Decimal(45), False)


def test_days_of_a_freelancer_come_by_weeks_and_cost_what_is_paid_at_least() -> None:
    short = Engaged(first=on("2026-01-15"), last=on("2026-01-16"))
    long = Engaged(first=on("2026-01-19"), last=on("2026-02-06"), state=EngagementState.PENCILLED)
    agreed = Engaged(first=on("2026-02-09"), last=on("2026-02-13"), state=EngagementState.CONFIRMED)
    cid = a_person(
        "cid", freelance=True, engaged=(short, long, agreed), day_rate=Decimal(200), least_days=3
    )
    found = levers_of(a_book(people=(a_person(), cid)), NOW)

    assert kinds(found) == ["freelancer"] * 4
    assert [(lever.price, lever.fact("days")) for lever in found] == [
        (Decimal(600), 2), *[(Decimal(1000), 5)] * 3
    ]  # fmt: skip
    pulled = pull_all(a_book(people=(a_person(), cid)), found).book.people[1]
    assert all(each.state is EngagementState.CONFIRMED for each in pulled.engaged)


def test_a_hand_can_begin_after_the_notice_in_working_days() -> None:
    offer = Offer(
        id=OfferId("carver"),
        name="A carver",
        kind="hired hand",
        skills=(Skill(skill=SkillId("carve")),),
        day_rate=Decimal(220),
        price=Decimal(80),
        notice_days=3,
        last=on("2026-01-16"),
    )
    (only,) = levers_of(a_book(offers=(offer,)), NOW)

    # Monday 5 January and three working days are Thursday 8; to Friday 16 there are seven.
    assert (only.first, only.last, only.fact("days")) == (on("2026-01-08"), on("2026-01-16"), 7)
    assert (only.price, only.once, only.offer) == (Decimal(7 * 220), Decimal(80), "carver")


def test_offers_that_are_taken_over_or_of_no_use_are_left_out() -> None:
    offers = (
        Offer(id=OfferId("done"), name="Done", kind="screen", about=("bay",), taken=True),
        Offer(
            id=OfferId("past"), name="Past", kind="screen", about=("bay",), last=on("2026-01-02")
        ),
        Offer(id=OfferId("idle"), name="Idle", kind="screen", about=("hall",)),
        Offer(id=OfferId("odd"), name="Odd", kind="a brass band"),
        Offer(id=OfferId("good"), name="Good", kind="Screen", about=("bay",), price=Decimal(7)),
    )
    book = a_book(offers=offers)
    book = replace(book, places=(a_place(air="hall"), *book.places[1:]))
    (only,) = levers_of(book, NOW)

    assert (only.kind, only.id, only.about, only.price) == (
        LeverKind.SCREEN, "good", ("bay",), Decimal(7)
    )  # fmt: skip


def test_answers_can_be_asked_for_sooner_until_they_are_given() -> None:
    steps = (a_stage("carve"), a_gate("approve", GateKind.ANSWER, allow_no=1), a_gate("loading"))
    book = a_book(a_job(steps=steps))
    found = levers_of(book, NOW)
    yes = a_fact("yes", step="approve", kind=FactKind.ANSWER, at=NOW)

    assert [(lever.kind.value, lever.days) for lever in found] == [
        ("answer_sooner", 5), ("answer_sooner", 2), ("one_round", None)
    ]  # fmt: skip
    assert {lever.agrees for lever in found} == {"The client"}
    assert levers_of(replace(book, facts=(yes,)), NOW) == ()


def test_an_answer_that_is_offered_stands_for_those_that_could_be_asked_for() -> None:
    steps = (a_stage("carve"), a_gate("approve", GateKind.ANSWER), a_gate("loading"))
    offer = Offer(
        id=OfferId("sooner"), name="Sooner", kind="answer", about=("approve",), answer_days=3,
        price=Decimal(150),
    )  # fmt: skip
    (only,) = levers_of(a_book(a_job(steps=steps), offers=(offer,)), NOW)

    assert (only.id, only.days, only.price) == ("sooner", 3, Decimal(150))


def test_windows_on_offer_of_the_job_and_of_others_by_what_they_cost_more() -> None:
    def with_two(job: str) -> object:
        held = a_window(f"{job}-held", price=Decimal(100))
        later = a_window(f"{job}-later", "2026-03-09 08:00", "2026-03-13 18:00", price=Decimal(350))
        return a_job(job, windows=(held, later))

    book = a_book(with_two("heron"), with_two("owl"))  # type: ignore[arg-type]
    found = levers_of(book, NOW, (JobId("heron"),))

    assert [(lever.kind.value, lever.about, lever.price) for lever in found] == [
        ("other_window", ("heron", "heron-later"), Decimal(250)),
        ("re_promise", ("owl", "owl-later"), Decimal(250)),
    ]
    assert not any(lever.only_helps for lever in found)


def test_pins_names_and_days_that_were_laid_down_can_be_lifted() -> None:
    steps = (
        a_stage("carve", pin=Pin(day=on("2026-01-20")), people=(PersonId("ana"),)),
        a_stage("fill", not_before=on("2026-02-02")),
        a_gate("loading"),
    )
    book = a_book(a_job(steps=steps, not_before=on("2026-01-12")))

    assert kinds(levers_of(book, NOW)) == [
        "start_at_once", "start_at_once", "lift_pin", "lift_names"
    ]  # fmt: skip


def test_what_holds_people_and_places_from_outside_is_moved_by_weeks_behind_the_window() -> None:
    work = an_other_work("course", start=at("2026-01-06 08:00"), end=at("2026-01-06 12:00"))
    booked = Booking(start=at("2026-01-08 00:00"), end=at("2026-01-10 00:00"), name="foam")
    book = a_book(a_job(windows=(a_window(end="2026-01-23 18:00", start="2026-01-20 08:00"),)))
    book = replace(book, other_work=(work,), places=(a_place(bookings=(booked,)), *book.places[1:]))
    put_off, freed = levers_of(book, NOW)

    assert (put_off.kind, put_off.start) == (LeverKind.PUT_OFF, at("2026-01-27 08:00"))
    assert (freed.kind, freed.start, freed.end) == (
        LeverKind.FREE_PLACE, at("2026-01-29 00:00"), at("2026-01-31 00:00")
    )  # fmt: skip
    moved = pull_all(book, (put_off, freed)).book
    assert moved.other_work[0].start == at("2026-01-27 08:00")
    assert moved.places[0].bookings[0].start == at("2026-01-29 00:00")


def test_ids_tell_levers_apart_and_are_the_same_again() -> None:
    ana = a_person(overtime_offered=(SATURDAY, hours("2026-01-17 08:00", "2026-01-17 13:00")))
    book = a_book(people=(ana, replace(ana, id=PersonId("ben"), name="Ben")))
    found = levers_of(book, NOW)

    assert len({lever.id for lever in found}) == len(found) == 4
    assert levers_of(book, NOW) == found
