"""Which days and hours are on show, and when people are to be had. No Qt."""

from collections.abc import Collection, Mapping
from datetime import date, datetime, time, timedelta
from functools import reduce
from math import ceil, floor
from zoneinfo import ZoneInfo

from app.window.people.items import Column
from app.window.wall.hours import Hours, person_calendar, shop_calendar
from app.window.wall.items import Piece, minute_of
from app.words import Words
from app.words import people_view as say
from shared.book import Book, EngagementState, Person
from shared.ids import PersonId
from shared.worktime import (
    DayCalendar,
    Span,
    Spans,
    clip,
    intersect,
    is_working_day,
    local_instant,
    next_working_day,
    open_spans,
    union,
)

_A_DAY = timedelta(days=1)
_USUAL = (8 * 60, 16 * 60)
_EARLIEST, _LATEST = 6 * 60, 20 * 60
"""Minutes of the day to which the hours on show may widen; what lies beyond is marked."""
_HALF_HOUR = 30
HALF_HOUR = timedelta(minutes=30)


def midnight(day: date, zone: str) -> datetime:
    """Return when a day begins."""
    return local_instant(day, time(0), zone, opening=True)


def instant(day: date, minutes: int, zone: str) -> datetime:
    """Return an instant by minutes of the day."""
    if minutes >= 24 * 60:
        return midnight(day + _A_DAY, zone)
    return local_instant(day, time(minutes // 60, minutes % 60), zone, opening=True)


def first_day(book: Book, now: datetime) -> date:
    """Return the first day on show: today, or the next working day if today is none."""
    zone = ZoneInfo(book.workshop.zone)
    day = now.astimezone(zone).date()
    calendar = _day_calendar(book)
    for ahead in range(14):
        if is_working_day(calendar, day + ahead * _A_DAY):
            return day + ahead * _A_DAY
    return day


def sheet_day(book: Book, now: datetime) -> date:
    """Return the day that is to be handed out: today, or the next one once its hours are over."""
    day = first_day(book, now)
    last = midnight(day + _A_DAY, book.workshop.zone)
    is_over = now < last and not open_spans(shop_calendar(book), now, last)
    return next_day(book, now) if is_over else day


def next_day(book: Book, now: datetime) -> date:
    """Return the working day after today."""
    zone = ZoneInfo(book.workshop.zone)
    return next_working_day(_day_calendar(book), now.astimezone(zone).date())


def _day_calendar(book: Book) -> DayCalendar:
    shop = shop_calendar(book)
    weekdays = tuple(sorted({day for shift in shop.shifts for day in shift.days}))
    return DayCalendar(holidays=shop.holidays, closed=shop.closed, weekdays=weekdays)


def hours_on_show(book: Book, spans: list[tuple[datetime, datetime]]) -> Piece:
    """Return the first and last minute of a day on show: the shop's shifts, wider where worked.

    spans: work on the days on show; what lies before six or after twenty o'clock widens nothing.
    """
    shifts = [s for s in book.workshop.shifts if not s.is_over_midnight]
    first = min((_of(s.start) for s in shifts), default=_USUAL[0])
    last = max((_of(s.end) for s in shifts), default=_USUAL[1])
    zone = ZoneInfo(book.workshop.zone)
    for start, end in spans:
        opens, closes = start.astimezone(zone), end.astimezone(zone)
        if opens.date() == closes.date():
            first = min(first, max(_EARLIEST, _of(opens.time())))
            last = max(last, min(_LATEST, _of(closes.time())))
    return floor(first / _HALF_HOUR) * _HALF_HOUR, ceil(last / _HALF_HOUR) * _HALF_HOUR


def _of(at: time) -> int:
    return at.hour * 60 + at.minute


def columns(
    book: Book, words: Words, first: date, count: int, shown: Piece, now: datetime
) -> tuple[Column, ...]:
    """Return the days on show, each from its first to its last hour."""
    zone = book.workshop.zone
    today = now.astimezone(ZoneInfo(zone)).date()
    calendar = _day_calendar(book)
    made = []
    for ahead in range(count):
        day = first + ahead * _A_DAY
        is_off = not is_working_day(calendar, day)
        whole = range(-(-shown[0] // 60), shown[1] // 60 + 1)
        made.append(
            Column(
                date=day,
                start=minute_of(instant(day, shown[0], zone)),
                end=minute_of(instant(day, shown[1], zone)),
                label=say.day_label(words, day, today),
                is_off=is_off,
                is_shut=is_off and day.weekday() in calendar.weekdays,
                hours=tuple((minute_of(instant(day, h * 60, zone)), f"{h:02}") for h in whole),
            )
        )
    return tuple(made)


def there(book: Book, person: Person, first: datetime, last: datetime) -> Spans:
    """Return when somebody is to be had: shifts less leave, and of a freelancer what is agreed."""
    found = clip(open_spans(person_calendar(book, person), first, last), first, last)
    zone = book.workshop.zone
    if person.freelance:
        agreed = [
            Span(start=midnight(each.first, zone), end=midnight(each.last + _A_DAY, zone))
            for each in person.engaged
            if each.state is EngagementState.CONFIRMED
        ]
        found = intersect(found, union(agreed))
    if person.works_from is not None:
        found = clip(found, max(first, midnight(person.works_from, zone)), last)
    if person.works_until is not None:
        found = clip(found, first, min(last, midnight(person.works_until + _A_DAY, zone)))
    return found


def at_work(
    people: tuple[PersonId, ...], start: datetime, end: datetime, there: Mapping[PersonId, Spans]
) -> Spans:
    """Return when all of some people are there between two instants; nothing is known of others."""
    known = [clip(there[one], start, end) for one in people if one in there]
    return reduce(intersect, known) if known else ()


def pieces_of(spans: Spans) -> tuple[Piece, ...]:
    """Return spans in minutes."""
    return tuple((minute_of(span.start), minute_of(span.end)) for span in spans)


def hours_for(book: Book, first: datetime, last: datetime) -> Hours:
    """Return the working hours that bars are cut by."""
    return Hours(book, first - 7 * _A_DAY, last + 7 * _A_DAY)


def half_hour(when: datetime, zone: str) -> datetime:
    """Return the half hour of the clock nearest to an instant, of two the later."""
    local = when.astimezone(ZoneInfo(zone))
    past = timedelta(minutes=local.minute % 30, seconds=local.second)
    return when - past + (HALF_HOUR if past * 2 >= HALF_HOUR else timedelta(0))


def half_hours_within(span: Span, zone: str, known: Collection[datetime]) -> Span:
    """Return a stretch in whole half hours; ends that are known (of shifts, breaks) stay."""
    start, end = half_hour(span.start, zone), half_hour(span.end, zone)
    start += HALF_HOUR if start < span.start else timedelta(0)
    end -= HALF_HOUR if end > span.end else timedelta(0)
    return Span(
        start=span.start if span.start in known else start,
        end=span.end if span.end in known else end,
    )
