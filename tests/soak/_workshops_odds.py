"""What is told of a day, and nailed down, that no plan would have: it stands all the same."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random

from shared.book import (
    Book,
    Booking,
    Fact,
    FactKind,
    Job,
    Journey,
    Leave,
    OtherWork,
    Pin,
    Stage,
    Step,
)
from shared.examine import examine
from shared.ids import FactId, JobId
from shared.plan import Placement

MOST = 3
AN_HOUR, DAYS = timedelta(hours=1), timedelta(days=3)


def at_odds(book: Book, now: datetime, draw: Random) -> Book:
    """Tell some things of the morning; where findings would stop the book, not the last of them."""
    for _ in range(draw.randrange(1, MOST + 1)):
        made = draw.choice(_TOLD)(book, now, draw)
        if any(found.stops for found in examine(made)):
            return book
        book = made
    return book


def nailed(book: Book, hit: Placement, draw: Random) -> Book:
    """Nail work down as it is planned: who does it, or when it begins, or both; or leave it."""
    people, start = draw.choice(((), hit.people)), draw.choice((None, hit.start))
    if not people and start is None:
        return book
    pin = Pin(people=people, start=start)

    def pinned(job: Job) -> Job:
        steps = tuple(
            replace(step, pin=pin) if step.id == hit.step and isinstance(step, Stage) else step
            for step in job.steps
        )
        return replace(job, steps=steps) if job.id == JobId(hit.job) else job

    made = replace(book, jobs=tuple(map(pinned, book.jobs)))
    return book if any(found.stops for found in examine(made)) else made


def _fact(book: Book, now: datetime, step: Step, kind: FactKind) -> Fact:
    name = FactId(f"odd-{len(book.facts)}")
    return Fact(id=name, step=step.id, kind=kind, at=now - AN_HOUR, told_by="Mira")


def _steps(book: Book, sort: type[Step]) -> list[Step]:
    begun = {fact.step for fact in book.facts}
    every = (step for job in book.jobs for step in job.steps)
    return [step for step in every if isinstance(step, sort) and step.id not in begun]


def _gone(book: Book, now: datetime, draw: Random) -> Book:
    journeys = _steps(book, Journey)
    if not journeys:
        return book
    fact = _fact(book, now, draw.choice(journeys), FactKind.GONE)
    return replace(book, facts=(*book.facts, fact))


def _worked(book: Book, now: datetime, draw: Random) -> Book:
    """Let a stage be done or under way, whatever comes before it and whoever is there."""
    stages = _steps(book, Stage)
    if not stages or not book.people:
        return book
    kind = draw.choice((FactKind.DONE, FactKind.RUNNING))
    fact = _fact(book, now, draw.choice(stages), kind)
    people = draw.sample(book.people, min(len(book.people), draw.randrange(3)))
    left = Decimal(draw.randrange(9)) if kind is FactKind.RUNNING else None
    told = replace(fact, people=tuple(each.id for each in people), remaining_hours=left)
    return replace(book, facts=(*book.facts, told))


def _away(book: Book, now: datetime, draw: Random) -> Book:
    if not book.people:
        return book
    ill = draw.choice(book.people)
    leave = Leave(start=now - AN_HOUR, end=now + DAYS)
    gone = replace(ill, leave=(*ill.leave, leave))
    return replace(book, people=tuple(gone if each is ill else each for each in book.people))


def _taken(book: Book, now: datetime, draw: Random) -> Book:
    booked = Booking(start=now - AN_HOUR, end=now + DAYS)
    if book.equipment and draw.random() < 0.5:
        thing = draw.choice(book.equipment)
        due = {"test_due": now.date() - timedelta(days=1)}
        also = due if draw.random() < 0.5 else {"bookings": (*thing.bookings, booked)}
        new = replace(thing, **also)
        return replace(
            book, equipment=tuple(new if each is thing else each for each in book.equipment)
        )
    if not book.places:
        return book
    place = draw.choice(book.places)
    full = replace(place, bookings=(*place.bookings, booked))
    return replace(book, places=tuple(full if each is place else each for each in book.places))


def _other_work(book: Book, now: datetime, draw: Random) -> Book:
    other = OtherWork(
        id=f"odd-{len(book.other_work)}",
        name="Stocktaking",
        start=now - AN_HOUR,
        end=now + DAYS,
        people=tuple(each.id for each in draw.sample(book.people, min(1, len(book.people)))),
        equipment=tuple(
            each.id for each in draw.sample(book.equipment, min(1, len(book.equipment)))
        ),
    )
    return replace(book, other_work=(*book.other_work, other))


_TOLD: tuple[Callable[[Book, datetime, Random], Book], ...] = (
    _gone,
    _gone,
    _worked,
    _worked,
    _away,
    _taken,
    _other_work,
)
