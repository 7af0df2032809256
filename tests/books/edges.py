"""Workshops at the edges: empty, over, told as done, elsewhere on the clock, short of everything.

Each is a function from a draw to a book; the other shapes are taken and bent, never written twice.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Answer,
    Book,
    Booking,
    Delivery,
    Engaged,
    EngagementState,
    ExtraHours,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Leg,
    Person,
    Stage,
    Standing,
    Step,
    Window,
)
from shared.ids import FactId
from shared.worktime import Shift, local_instant
from tests.books.commissions import at
from tests.books.crew import people, workshop
from tests.books.offered import with_offers
from tests.books.route_samples import ROUTE_SAMPLES
from tests.books.shapes import SHAPES
from tests.books.sized import Size, sized_book
from tests.builders import a_book, a_gate, a_job, a_journey, a_stage

EVERY_DAY = tuple(range(7))
A_DAY = timedelta(days=1)
USUAL = (*("tiny",) * 6, *("small",) * 2, "ruled", "workshop")
"""Shapes that are bent, the quickly planned ones most often."""
CLOCKS: tuple[tuple[str, str, str | None, date], ...] = (
    ("Europe/London", "GB", "ENG", date(2027, 3, 28)),
    ("America/New_York", "US", "NY", date(2027, 3, 14)),
    ("America/St_Johns", "CA", "NL", date(2027, 11, 7)),
    ("Australia/Lord_Howe", "AU", "NSW", date(2027, 4, 4)),
    ("Pacific/Chatham", "NZ", None, date(2027, 9, 26)),
    ("Asia/Kathmandu", "IN", None, date(2027, 3, 1)),
    ("Europe/Berlin", "DE", "BY", date(2027, 10, 31)),
)
"""Zones, countries, their parts, and a day on which clocks are changed there (tzdata: Lord Howe by
half an hour, Chatham at 2:45; in Kathmandu never)."""


def _shape(draw: Random, *names: str) -> Book:
    return SHAPES[draw.choice(names)](draw.randrange(10_000)).book


def _now(book: Book) -> datetime:
    assert book.as_of is not None
    return book.as_of


def bare(draw: Random) -> Book:
    """Give a book in which nearly nothing stands: no job, nobody, nowhere, no work, one person."""
    tiny = _shape(draw, "tiny")
    gates = (a_gate("heron-loading"), a_journey("heron-journey"))
    return draw.choice(
        (
            lambda: Book(name="Nothing yet", workshop=workshop("Nothing yet"), as_of=at(NEXT, 8)),
            lambda: replace(tiny, jobs=()),
            lambda: replace(tiny, people=(), jobs=tuple(map(_nobody_named, tiny.jobs))),
            lambda: a_book(places=()),
            lambda: replace(_shape(draw, "small"), people=people(1)),
            lambda: a_book(a_job(steps=())),
            lambda: a_book(a_job(segments=(), steps=gates)),
            lambda: a_book(a_job(steps=gates)),
            lambda: a_book(a_job(steps=(a_stage("heron-pack"),))),
            lambda: a_book(a_job(windows=())),
        )
    )()


NEXT = date(2027, 3, 1)


def _nobody_named(job: Job) -> Job:
    steps = (replace(s, crew=()) if isinstance(s, Journey) else s for s in job.steps)
    return replace(job, steps=tuple(steps))


def past(draw: Random) -> Book:
    """Give a book whose windows are over, or nearly: some of its jobs could still be loaded."""
    book = _shape(draw, *USUAL)
    days = draw.choice((30, 80, 120, 400))
    return replace(book, as_of=_now(book) + timedelta(days=days, minutes=draw.choice((0, 7))))


def done(draw: Random) -> Book:
    """Give a book of which much was told: done, answered with yes, no or changes, under way, gone.

    The more was told of a job, the longer ago the book was planned first.
    """
    book = _shape(draw, *USUAL)
    now = _now(book) + timedelta(days=draw.choice((0, 10, 40)))
    facts: list[Fact] = []
    for job in book.jobs:
        upto = draw.choice((0, 0, len(job.steps) // 3, len(job.steps) - 1, len(job.steps)))
        told = job.steps[:upto]
        for index, step in enumerate(told):
            over = now - timedelta(hours=3 * (upto - index))
            facts += _told_of(step, over, draw, is_last=index == upto - 1)
    named = (replace(fact, id=FactId(f"f{at}")) for at, fact in enumerate(facts))
    return replace(book, as_of=now, facts=tuple(named))


def _told_of(step: Step, over: datetime, draw: Random, *, is_last: bool) -> list[Fact]:
    fact = Fact(
        id=FactId("f"), kind=FactKind.DONE, step=step.id, at=over.astimezone(UTC), told_by="Mira"
    )
    if isinstance(step, Journey):
        return [replace(fact, kind=FactKind.GONE)]
    if isinstance(step, Gate) and step.gate is GateKind.ANSWER:
        shown = replace(fact, kind=FactKind.PICTURES, at=fact.at - A_DAY)
        if is_last and draw.random() < 0.5:
            return [shown]
        said = draw.choice((Answer.NO, Answer.CHANGES)) if is_last else Answer.YES
        return [shown, replace(fact, kind=FactKind.ANSWER, answer=said)]
    if is_last and isinstance(step, Stage) and draw.random() < 0.6:
        return [replace(fact, kind=FactKind.RUNNING, remaining_hours=Decimal("2.5"))]
    return [fact]


def elsewhere(draw: Random) -> Book:
    """Give a workshop and sites by other clocks, now shortly before one of them is changed."""
    book = _shape(draw, *USUAL)
    zone, country, part, change = draw.choice(CLOCKS)
    days = (change - _now(book).date()).days - draw.choice((0, 1, 5, 30))
    book = later(book, timedelta(days=days))
    shop = replace(book.workshop, zone=zone, country=country, subdivision=part)
    jobs = []
    for job in book.jobs:
        there, land, region, _ = draw.choice(CLOCKS)
        site = replace(job.site, zone=there, country=land, subdivision=region)
        client = replace(job.client, zone=there, country=land, subdivision=region)
        jobs.append(replace(job, site=site, client=client))
    return replace(book, workshop=shop, jobs=tuple(jobs))


def later(book: Book, by: timedelta) -> Book:
    """Give a book as of so much later, its windows and what was measured or booked with it."""

    def moved(window: Window) -> Window:
        return replace(window, start=window.start + by, end=window.end + by)

    jobs = tuple(replace(job, windows=tuple(map(moved, job.windows))) for job in book.jobs)
    readings = tuple(replace(each, at=each.at + by) for each in book.workshop.readings)
    shop = replace(book.workshop, readings=readings)
    return replace(book, as_of=_now(book) + by, jobs=jobs, workshop=shop)


def access(draw: Random) -> Book:
    """Give sites that can be entered for a few hours only, by night too, and legs that wait."""
    book = _shape(draw, *USUAL)
    return replace(book, jobs=tuple(_entered(job, draw) for job in book.jobs))


def _entered(job: Job, draw: Random) -> Job:
    opens, shuts = draw.choice(((6, 10), (8, 18), (22, 5), (0, 12), (13, 13)))
    hours = Shift(days=draw.choice((EVERY_DAY, (0, 1, 2, 3, 4), (6,))), start=time(opens),
                  end=time(shuts))  # fmt: skip
    held = job.windows[0]
    noon = held.start + (held.end - held.start) / 2
    blocked = Booking(start=noon, end=noon + timedelta(hours=draw.choice((1, 9))), name="pavers")
    window = replace(
        held,
        access=() if opens == shuts else (hours,),
        blocked=(blocked,) if draw.random() < 0.5 else (),
        end=held.end + A_DAY * draw.choice((0, 3, 10)),
    )
    steps = tuple(_waiting(s, window, draw) if isinstance(s, Journey) else s for s in job.steps)
    return replace(job, windows=(window,), steps=steps)


def _waiting(journey: Journey, window: Window, draw: Random) -> Journey:
    """Let a leg have opening hours or a booked stretch of its own."""

    def bound(leg: Leg) -> Leg:
        if not leg.inside or draw.random() < 0.5:
            return leg
        if draw.random() < 0.5:
            start = window.start + timedelta(hours=draw.randrange(0, 30))
            return replace(leg, slots=(Booking(start=start, end=start + timedelta(hours=6)),))
        opens = (Shift(days=EVERY_DAY, start=time(9), end=time(16)),)
        return replace(leg, opens=opens, zone="Europe/London", country="GB")

    stands = draw.choice((None, 0, 24 * 60))
    return replace(journey, legs=tuple(map(bound, journey.legs)), stands_most_minutes=stands)


def hands(draw: Random) -> Book:
    """Give a crew of apprentices, freelances by the day, people who come and go, and an enquiry."""
    book = _shape(draw, *USUAL)
    made = tuple(_bound(person, _now(book), draw) for person in book.people)
    book = with_offers(replace(book, people=made), draw.randrange(99))
    jobs = tuple(
        replace(job, price=Decimal(draw.randrange(3, 40) * 500), late_cost_per_day=Decimal(300))
        for job in book.jobs
    )
    asked = replace(jobs[-1], standing=Standing.ENQUIRY, asked_at=_now(book) - A_DAY)
    return replace(book, jobs=(*jobs[:-1], asked) if len(jobs) > 1 else jobs)


def _bound(person: Person, now: datetime, draw: Random) -> Person:
    day = now.date() + timedelta(days=draw.randrange(0, 60))
    week = timedelta(days=6)
    saturday = day + timedelta(days=5 - day.weekday())
    extra = ExtraHours(
        start=local_instant(saturday, time(8), "Europe/London", opening=True),
        end=local_instant(saturday, time(12), "Europe/London", opening=False),
        premium_per_hour=Decimal(8),
    )
    state = draw.choice((EngagementState.CONFIRMED, EngagementState.OFFERED))
    days = Engaged(first=day, last=day + 4 * week, state=state)
    changes: tuple[dict[str, object], ...] = (
        {},
        {"under_18": True, "pace": Decimal("0.6")},
        {"freelance": True, "engaged": (days,), "day_rate": Decimal(210), "least_days": 2},
        {"works_from": day},
        {"works_until": day},
        {"overtime_taken": (extra,), "rate_per_hour": Decimal(22)},
        {"sanding_hours_per_day": Decimal(1)},
    )
    return replace(person, **draw.choice(changes))  # type: ignore[arg-type]


def bought(draw: Random) -> Book:
    """Give a workshop whose stores are empty, whose deliveries are late, whose deposits unpaid."""
    book = ROUTE_SAMPLES[draw.choice(sorted(ROUTE_SAMPLES))]()
    materials = tuple(
        replace(each, counted=draw.choice((None, Decimal(0), Decimal(3))), counted_at=book.as_of)
        for each in book.materials
    )
    coming = tuple(
        Delivery(
            material=draw.choice(materials).id,
            quantity=Decimal(draw.randrange(1, 40)),
            at=_now(book) + timedelta(days=draw.randrange(-3, 60)),
        )
        for _ in range(4)
    )
    due = _now(book).date() + timedelta(days=draw.randrange(-9, 30))
    paid = draw.choice((None, due))
    jobs = tuple(replace(job, deposit_due=due, deposit_paid=paid) for job in book.jobs)
    return replace(book, materials=materials, deliveries=coming, jobs=jobs)


def large(draw: Random) -> Book:
    """Give up to some 600 stages."""
    stages = draw.choice((40, 40, 60, 60, 90, 90, 150, 240, 600))
    people_count = draw.choice((5, 8, 12, 16))
    size = Size(stages=stages, people=people_count, seed=draw.randrange(10_000),
                tight_percent=draw.choice((0, 0, 14, 30)))  # fmt: skip
    return sized_book(size)


def many(draw: Random) -> Book:
    """Give more people than there is work for."""
    size = Size(stages=draw.choice((40, 60, 120)), people=draw.randrange(24, 61),
                seed=draw.randrange(10_000))  # fmt: skip
    return sized_book(size)


EDGES: dict[str, Callable[[Random], Book]] = {
    "bare": bare,
    "past": past,
    "done": done,
    "elsewhere": elsewhere,
    "access": access,
    "hands": hands,
    "bought": bought,
    "large": large,
    "many": many,
}
