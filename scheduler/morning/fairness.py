"""Overtime and free days given up, balanced over eight weeks: offered first to who has fewest."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from scheduler.levers.attendance import attendance
from scheduler.morning.values import Coming
from shared.book import Book, ExtraHours, Person
from shared.ids import PersonId
from shared.units import decimal_of
from shared.worktime import Spans, subtract, total_seconds
from shared.worktime.zones import local_date

PERIOD = timedelta(weeks=8)
_HOUR_SECONDS = 3600
_PLACES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra:
    """What somebody worked beyond their shifts in the eight weeks before a moment.

    hours: of working time. free_days: days without a shift of theirs. ahead: hours that are agreed
    from that moment on. offers: they offer more from then on.
    """

    person: PersonId
    hours: Decimal
    free_days: int
    ahead: Decimal
    offers: bool


def extra_hours(book: Book, now: datetime) -> tuple[Extra, ...]:
    """Return it of everybody who has some or offers some, who has fewest first.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the workshop's zone or holidays.
    """
    found = []
    for person in book.people:
        offers = any(each.start >= now for each in person.overtime_offered)
        if not (person.overtime_taken or offers):
            continue
        past = _beyond(book, person, now - PERIOD, now)
        last = max((each.end for each in person.overtime_taken), default=now)
        ahead = _beyond(book, person, now, last) if last > now else ()
        extra = Extra(
            person=person.id,
            hours=_hours(past),
            free_days=_free_days(book, person, past),
            ahead=_hours(ahead),
            offers=offers,
        )
        if extra.hours or extra.ahead or offers:
            found.append(extra)
    return tuple(sorted(found, key=lambda each: (each.hours + each.ahead, each.person)))


def fewest_first(
    book: Book, offered: Mapping[PersonId, ExtraHours]
) -> list[tuple[PersonId, Decimal]]:
    """Return who offers hours and what they would have with them, who has fewest first.

    Counted are the eight weeks that end with what each offers.
    """
    people = {person.id: person for person in book.people}
    found = []
    for name, extra in offered.items():
        person = people[name]
        taken = (*person.overtime_taken, extra)
        spans = _beyond(book, replace(person, overtime_taken=taken), extra.end - PERIOD, extra.end)
        found.append((name, _hours(spans)))
    return sorted(found, key=lambda each: (each[1], each[0]))


def as_few(
    ranked: Sequence[PersonId],
    won: Callable[[tuple[PersonId, ...]], Coming | None],
    worth: int,
) -> Coming | None:
    """Return what the first few of some people win who win what all do, but for less than `worth`.

    won: what people win together, None for nothing.
    """
    every = won(tuple(ranked))
    if every is None:
        return None
    for count in range(1, len(ranked)):
        found = won(tuple(ranked[:count]))
        if found is not None and every.gain - found.gain < worth:
            return found
    return every


def _beyond(book: Book, person: Person, start: datetime, end: datetime) -> Spans:
    """Return when somebody is at work beyond their shifts; leave is left out."""
    usual = replace(person, overtime_taken=())
    return subtract(attendance(book, person, start, end), attendance(book, usual, start, end))


def _hours(spans: Spans) -> Decimal:
    return decimal_of(Fraction(total_seconds(spans), _HOUR_SECONDS), _PLACES)


def _free_days(book: Book, person: Person, spans: Spans) -> int:
    shifts = person.hours or book.workshop.shifts
    weekdays = {day for shift in shifts for day in shift.days}
    days = {local_date(each.start, book.workshop.zone) for each in spans}
    return sum(day.weekday() not in weekdays for day in days)
