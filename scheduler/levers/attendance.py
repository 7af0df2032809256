"""When a person is at work by the book: shifts, engaged days, overtime that is taken."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from shared.book import Book, EngagementState, Person
from shared.holidaydates import HolidayRule
from shared.worktime import (
    DateSpan,
    DayCalendar,
    Span,
    Spans,
    WorkCalendar,
    local_instant,
    open_spans,
    union,
)

_A_DAY = timedelta(days=1)
_LONG_AGO, _FAR_OFF = date(1900, 1, 2), date(2199, 12, 30)


def attendance(book: Book, person: Person, start: datetime, end: datetime) -> Spans:
    """Return when a person is at work in [start, end), breaks taken out."""
    shop = book.workshop
    calendar = WorkCalendar(
        zone=shop.zone,
        shifts=person.hours or shop.shifts,
        holidays=holidays_of(book),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in shop.closures),
        away=_spans((each.start, each.end) for each in person.leave),
        extra=_spans((each.start, each.end) for each in person.overtime_taken),
        available=_engaged(shop.zone, person),
    )
    return open_spans(calendar, start, end)


def holidays_of(book: Book) -> HolidayRule:
    """Return whose public holidays the workshop keeps."""
    shop = book.workshop
    return HolidayRule(
        country=shop.country, subdivision=shop.subdivision, categories=shop.holiday_categories
    )


def days_of(book: Book, person: Person | None = None) -> DayCalendar:
    """Return the working days of the workshop, or of a person of it."""
    shop = book.workshop
    shifts = shop.shifts if person is None else person.hours or shop.shifts
    return DayCalendar(
        holidays=holidays_of(book),
        closed=tuple(DateSpan(first=shut.first, last=shut.last) for shut in shop.closures),
        weekdays=tuple(sorted({day for shift in shifts for day in shift.days})) or (0, 1, 2, 3, 4),
    )


def morning(zone: str, day: date) -> datetime:
    """Return when a day begins."""
    return local_instant(day, time(0), zone, opening=True)


def _engaged(zone: str, person: Person) -> Spans | None:
    if not person.freelance and person.works_from is None and person.works_until is None:
        return None
    stretches = [(person.works_from or _LONG_AGO, person.works_until or _FAR_OFF)]
    if person.freelance:
        first, last = stretches[0]
        stretches = [
            (max(first, each.first), min(last, each.last))
            for each in person.engaged
            if each.state is EngagementState.CONFIRMED
        ]
    return _spans(
        (morning(zone, first), morning(zone, last + _A_DAY))
        for first, last in stretches
        if first <= last
    )


def _spans(pairs: Iterable[tuple[datetime, datetime]]) -> Spans:
    return union(Span(start=start, end=end) for start, end in pairs if start < end)
