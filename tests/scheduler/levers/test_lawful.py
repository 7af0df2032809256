"""What a plan may not use levers for: hours after the road, company, work before its training."""

from dataclasses import replace
from decimal import Decimal

from scheduler.levers.lawful import careful, on_the_way
from scheduler.levers.search import ways_out
from scheduler.outcome import Verdict
from scheduler.request import SolveRequest
from shared.book import Act, Book, ExtraHours, Journey, Kind, Means, Offer, Stage
from shared.ids import JobId, OfferId, PersonId
from shared.levers import Lever, LeverKind
from shared.plan import Doing, LegTime, Stretch
from shared.worktime import Span
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_plan,
    a_stage,
    a_trip,
    a_window,
    a_workshop,
    at,
    on,
)

EXACT = {"shift_hours": Decimal(8), "useful_hours": Decimal(8), "wished_buffer_days": Decimal(0)}


def span(start: str, end: str) -> Span:
    return Span(start=at(start), end=at(end))


def test_the_legs_of_a_journey_are_work_of_all_who_ride_along() -> None:
    book = a_book()
    job = book.jobs[0]
    journey = job.steps[-1]
    assert isinstance(journey, Journey)
    ridden = replace(journey, crew=(PersonId("ana"),))
    book = replace(book, jobs=(replace(job, steps=(*job.steps[:-1], ridden)),))
    trip = a_trip(
        start=at("2026-03-02 06:00"),
        end=at("2026-03-02 12:00"),
        legs=(
            LegTime(start=at("2026-03-02 06:00"), end=at("2026-03-02 08:00")),
            LegTime(start=at("2026-03-02 10:00"), end=at("2026-03-02 12:00")),
        ),
    )
    plan = a_plan(book, trips=(trip,))

    assert on_the_way(book, plan, PersonId("ana")) == (
        span("2026-03-02 06:00", "2026-03-02 08:00"),
        span("2026-03-02 10:00", "2026-03-02 12:00"),
    )
    assert on_the_way(book, plan, PersonId("ben")) == ()


def test_of_a_judged_journey_only_the_wheel_and_the_work_count() -> None:
    book = a_book()
    job = book.jobs[0]
    means = Means(id="ours", driven_by=(PersonId("ana"),))
    journey = a_journey("heron-journey", legs=(a_leg(),), means=(means,))
    book = replace(book, jobs=(replace(job, steps=(*job.steps[:-1], journey)),))
    stretches = tuple(
        Stretch(doing=doing, leg=0, start=at(f"2026-03-02 {first}"), end=at(f"2026-03-02 {last}"))
        for doing, first, last in (
            (Doing.DRIVE, "06:00", "09:00"),
            (Doing.REST, "09:00", "10:00"),
            (Doing.WORK, "10:00", "11:00"),
            (Doing.SEA_REST, "11:00", "15:00"),
        )
    )
    plan = a_plan(book, trips=(replace(a_trip(), means="ours", stretches=stretches),))

    assert on_the_way(book, plan, PersonId("ana")) == (
        span("2026-03-02 06:00", "2026-03-02 09:00"),
        span("2026-03-02 10:00", "2026-03-02 11:00"),
    )


def a_coating(first: str, window_end: str) -> Book:
    """Give a book with a coat that asks for a training which nobody has, on offer from a day."""
    window = a_window("held", "2026-01-05 00:00", window_end)
    steps = (a_stage("coat", Kind.COAT, hours=8, certificates=("resin",)), a_gate())
    offer = Offer(
        id=OfferId("course"),
        name="A course",
        kind="training",
        about=("ana",),
        certificates=("resin",),
        price=Decimal(250),
        first=on(first),
    )
    job = a_job(steps=steps, windows=(window,))
    return a_book(job, offers=(offer,), workshop=a_workshop(**EXACT))


def prices(book: Book) -> list[Decimal]:
    request = SolveRequest(book=book, now=NOW, seconds=15, workers=1)
    found = ways_out(request, JobId("heron"))
    assert found.told.verdict is Verdict.CANNOT
    return [way.price for way in found.ways]


def test_nothing_is_done_before_the_training_that_it_asks_for() -> None:
    assert prices(a_coating("2026-01-05", "2026-01-07 18:00")) == [250]
    assert prices(a_coating("2026-01-08", "2026-01-07 18:00")) == []
    # The first plan would begin at once; one that waits for Thursday is found.
    assert prices(a_coating("2026-01-08", "2026-01-09 18:00")) == [250]


def test_a_careful_book_asks_for_company_and_for_the_training_first() -> None:
    book = a_coating("2026-01-08", "2026-01-09 18:00")
    lever = Lever(
        kind=LeverKind.TRAINING,
        id="course",
        about=("ana",),
        offer=OfferId("course"),
        first=on("2026-01-08"),
    )
    hours = Lever(kind=LeverKind.OVERTIME, id="hours", about=("ana",))
    made = careful(book, (lever, hours))
    stage = made.jobs[0].steps[0]

    assert isinstance(stage, Stage)
    assert stage.not_before == on("2026-01-08")
    assert Act.SPRAY in (made.workshop.never_alone or ())
    usual = replace(book, workshop=replace(book.workshop, never_alone=None))
    assert careful(usual, (hours,)) is usual
    assert careful(book, (lever,)).workshop is book.workshop


def test_a_saturday_after_a_late_way_home_is_not_to_be_had() -> None:
    # Home on Saturday at 03:00: eleven hours later it is 14:00.
    saturday = ExtraHours(start=at("2026-01-10 08:00"), end=at("2026-01-10 13:00"))
    late = a_journey(
        "ship", legs=(a_leg(minutes=300), a_leg(minutes=60, inside=True)), crew=("ana",)
    )
    window = a_window("out-window", "2026-01-09 18:00", "2026-01-09 22:00")
    out = a_job("out", steps=(a_gate("load"), replace(late, back_minutes=300)), windows=(window,))
    held = a_window("held", "2026-01-05 00:00", "2026-01-10 18:00")
    steps = (a_stage("fair", Kind.FILL, hours=42), a_gate())
    heron = a_job(steps=steps, windows=(held,))
    ana = a_person(rate_per_hour=Decimal(20), overtime_offered=(saturday,))
    book = a_book(heron, out, people=(ana,), workshop=a_workshop(**EXACT))
    request = SolveRequest(book=book, now=NOW, seconds=10, workers=1)

    with_trip = ways_out(request, JobId("heron"))
    alone = ways_out(replace(request, book=replace(book, jobs=(heron,))), JobId("heron"))
    assert not with_trip.is_kept
    assert with_trip.ways == ()
    assert [way.price for way in alone.ways] == [100]
