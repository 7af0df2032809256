"""Levers of people: hours and days that they offer, and hands that could be hired."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from decimal import Decimal

from scheduler.levers.attendance import attendance, days_of
from scheduler.levers.law import Week
from shared.book import Book, Engaged, EngagementState, ExtraHours, Offer, Person
from shared.levers import Lever, LeverKind
from shared.worktime import Span, is_working_day, nth_working_day_after, subtract, total_seconds
from shared.worktime.zones import local_date

_A_DAY = timedelta(days=1)
_HOUR_SECONDS = 3600
_WEEKDAYS_MAX = 7


def of_people(book: Book, now: datetime, until: datetime) -> Iterator[Lever]:
    """Yield what people of the book offer between now and a moment, by person and time."""
    for person in book.people:
        yield from _overtime(book, person, now, until)
        if person.freelance:
            for engaged in person.engaged:
                if engaged.state is not EngagementState.CONFIRMED:
                    yield from _engaged(book, person, engaged, (now, until))


def _overtime(book: Book, person: Person, now: datetime, until: datetime) -> Iterator[Lever]:
    offered = [each for each in person.overtime_offered if now <= each.start < until]
    if not offered:
        return
    week = Week(book, person)
    for each in sorted(offered, key=lambda hours: hours.start):
        span = Span(start=each.start, end=each.end)
        more = subtract((span,), attendance(book, person, each.start, each.end))
        if more and week.forbids(span) is None:
            yield _of_hours(person, each, Decimal(total_seconds((span,))) / _HOUR_SECONDS)


def _of_hours(person: Person, hours: ExtraHours, count: Decimal) -> Lever:
    rate = (person.rate_per_hour or Decimal(0)) + hours.premium_per_hour
    return Lever(
        kind=LeverKind.OVERTIME,
        id=f"overtime:{person.id}:{hours.start.isoformat()}",
        about=(str(person.id),),
        price=count * rate,
        is_priced=person.rate_per_hour is not None,
        start=hours.start,
        end=hours.end,
        agrees=person.name,
    )


def _engaged(
    book: Book, person: Person, engaged: Engaged, span: tuple[datetime, datetime]
) -> Iterator[Lever]:
    today, last = (local_date(each, book.workshop.zone) for each in span)
    least = person.least_days or 0
    for first, end, days in weeks_of(
        book, max(engaged.first, today), min(engaged.last, last), least, person
    ):
        rate = person.day_rate or Decimal(0)
        yield Lever(
            kind=LeverKind.FREELANCER,
            id=f"freelancer:{person.id}:{first.isoformat()}",
            about=(str(person.id),),
            price=max(days, least) * rate,
            is_priced=person.day_rate is not None,
            first=first,
            last=end,
            facts=(("days", days),),
            agrees=person.name,
        )


def hired_hands(book: Book, offer: Offer, now: datetime, until: datetime) -> Iterator[Lever]:
    """Yield the weeks for which somebody could be hired."""
    zone = book.workshop.zone
    today, last = local_date(now, zone), local_date(until, zone)
    first = max(offer.first or today, ready_on(book, offer, now))
    last = min(offer.last or last, last)
    for start, end, days in weeks_of(book, first, last, 0):
        yield Lever(
            kind=LeverKind.HIRED_HAND,
            id=f"{offer.id}:{start.isoformat()}",
            offer=offer.id,
            price=days * (offer.day_rate or Decimal(0)),
            once=offer.price,
            first=start,
            last=end,
            facts=(("days", days), ("name", offer.name)),
            agrees=offer.agrees,
        )


def ready_on(book: Book, offer: Offer, now: datetime) -> date:
    """Return the first day on which an offer can begin, its notice counted from today."""
    today = local_date(now, book.workshop.zone)
    return nth_working_day_after(days_of(book), today, offer.notice_days)


def weeks_of(
    book: Book, first: date, last: date, least: int, person: Person | None = None
) -> Iterator[tuple[date, date, int]]:
    """Yield stretches of whole weeks in [first, last] with their working days, none empty.

    A stretch of no more than a week's days, or that would be cut below the least days that are
    paid, is one.
    """
    days = [day for day in _days(first, last) if is_working_day(days_of(book, person), day)]
    if not days:
        return
    if len(days) <= max(least, _WEEKDAYS_MAX):
        yield first, last, len(days)
        return
    begins = first
    for index, day in enumerate(days):
        is_last = index + 1 == len(days)
        if not is_last and days[index + 1].isocalendar()[:2] == day.isocalendar()[:2]:
            continue
        count = sum(begins <= each <= day for each in days)
        if count >= least or is_last:
            yield begins, last if is_last else day, count
            begins = day + _A_DAY


def _days(first: date, last: date) -> Iterable[date]:
    return (first + at * _A_DAY for at in range((last - first).days + 1))
