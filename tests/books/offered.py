"""What people hold out in a made-up workshop: Saturdays, evenings, hands to be hired."""

from dataclasses import replace
from datetime import date, time, timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, Engaged, ExtraHours, Offer, Person, Skill
from shared.ids import OfferId, PersonId
from shared.worktime import local_instant
from tests.books.making import FINISH, LAMINATE, SPRAY

WEEKS = 16
PREMIUM = Decimal(9)
SATURDAY, TUESDAY, THURSDAY = 5, 1, 3


def with_offers(book: Book, seed: int) -> Book:
    """Give a book in which most people offer hours and a few hands could be hired."""
    draw = Random(f"offers {seed}")
    assert book.as_of is not None
    monday = book.as_of.date() - timedelta(days=book.as_of.weekday())
    people = tuple(_offering(book, person, monday, draw) for person in book.people)
    return replace(book, people=(*people, _helper(monday)), offers=_offers())


def _offering(book: Book, person: Person, monday: date, draw: Random) -> Person:
    """Let two in three offer Saturday mornings, one in three evenings twice a week."""
    found: list[ExtraHours] = []
    saturdays, evenings = draw.random() < 2 / 3, draw.random() < 1 / 3
    for week in range(WEEKS):
        first = monday + timedelta(days=7 * week)
        if saturdays:
            found.append(_hours(book, first + timedelta(days=SATURDAY), time(8), time(13)))
        if evenings:
            found += [
                _hours(book, first + timedelta(days=day), time(16), time(18, 30))
                for day in (TUESDAY, THURSDAY)
            ]
    rate = Decimal(draw.randrange(20, 32))
    return replace(person, rate_per_hour=rate, overtime_offered=tuple(found))


def _hours(book: Book, day: date, start: time, end: time) -> ExtraHours:
    zone = book.workshop.zone
    return ExtraHours(
        start=local_instant(day, start, zone, opening=True),
        end=local_instant(day, end, zone, opening=False),
        premium_per_hour=PREMIUM,
    )


def _helper(monday: date) -> Person:
    """Write down a freelancer whose days are offered."""
    days = Engaged(first=monday + timedelta(days=7), last=monday + timedelta(days=7 * 7 + 4))
    return Person(
        id=PersonId("wenna"),
        name="Wenna",
        skills=(Skill(skill=LAMINATE), Skill(skill=FINISH)),
        freelance=True,
        engaged=(days,),
        day_rate=Decimal(240),
        least_days=3,
    )


def _offers() -> tuple[Offer, ...]:
    return (
        Offer(
            id=OfferId("finisher"),
            name="A finisher from the agency",
            kind="hired hand",
            skills=(Skill(skill=FINISH),),
            day_rate=Decimal(220),
            price=Decimal(80),
            notice_days=3,
            agrees="the agency",
        ),
        Offer(
            id=OfferId("sprayer"),
            name="A sprayer from the agency",
            kind="hired hand",
            skills=(Skill(skill=SPRAY), Skill(skill=FINISH)),
            certificates=("isocyanate training",),
            day_rate=Decimal(290),
            price=Decimal(120),
            notice_days=5,
            agrees="the agency",
        ),
    )
