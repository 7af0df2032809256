"""When a person is at work by the book: shifts, engaged days, overtime that is taken."""

from datetime import date, datetime, time, timedelta

from scheduler.normalise.people import spans_of, workshop_calendar, workshop_holidays
from shared.book import Book, EngagementState, Person
from shared.worktime import DateSpan, DayCalendar, Spans, WorkCalendar, local_instant, open_spans

_A_DAY = timedelta(days=1)
_LONG_AGO, _FAR_OFF = date(1900, 1, 2), date(2199, 12, 30)


def attendance(book: Book, person: Person, start: datetime, end: datetime) -> Spans:
    """Return when a person is at work in [start, end), breaks taken out."""
    usual = workshop_calendar(book.workshop)
    calendar = WorkCalendar(
        zone=usual.zone,
        shifts=person.hours or usual.shifts,
        holidays=usual.holidays,
        closed=usual.closed,
        away=spans_of((each.start, each.end) for each in person.leave),
        extra=spans_of((each.start, each.end) for each in person.overtime_taken),
        available=_engaged(usual.zone, person),
    )
    return open_spans(calendar, start, end)


def days_of(book: Book, person: Person | None = None) -> DayCalendar:
    """Return the working days of the workshop, or of a person of it."""
    shop = book.workshop
    shifts = shop.shifts if person is None else person.hours or shop.shifts
    return DayCalendar(
        holidays=workshop_holidays(shop),
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
    return spans_of(
        (morning(zone, first), morning(zone, last + _A_DAY))
        for first, last in stretches
        if first <= last
    )
