"""Leave and closures from a calendar of another program (RFC 5545). No Qt.

What an entry is called is taken for a closure only: why somebody is away is nobody's business.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, TypeVar
from zoneinfo import ZoneInfo

from app.exchange.bring.cells import NoTable
from app.exchange.bring.columns import Found
from app.exchange.bring.names import Misnamed, Taken
from app.exchange.bring.repeats import Repeats
from app.exchange.bring.values import FIRST_YEAR, LAST_YEAR, shown, text
from shared.book import Book, Closure, Leave, Person

if TYPE_CHECKING:
    from icalendar import Event

_A_DAY = timedelta(days=1)
_T = TypeVar("_T", date, timedelta)
_UNREADABLE = (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    start: datetime
    end: datetime
    is_whole_days: bool
    name: str


def take_leave(book: Book, data: bytes, person: Person, taken: Taken) -> tuple[Book, int, int]:
    """Add the entries of a calendar to somebody's leave; with how many, and how many there were."""
    made, count, left_count = list(person.leave), 0, 0
    repeats = Repeats()
    known = {(each.start.astimezone(UTC), each.end.astimezone(UTC)) for each in person.leave}
    for number, event in enumerate(_events(data), start=1):
        count += 1
        with taken.row(Found(row=number, values={})):
            for each in _entries(event, book.workshop.zone, repeats):
                span = (each.start.astimezone(UTC), each.end.astimezone(UTC))
                if span in known:
                    left_count += 1
                    continue
                known.add(span)
                made.append(Leave(start=each.start, end=each.end))
    away = replace(person, leave=tuple(sorted(made, key=lambda each: each.start)))
    people = tuple(away if one.id == person.id else one for one in book.people)
    return replace(book, people=people), count, min(left_count, count)


def take_closures(book: Book, data: bytes, taken: Taken) -> tuple[Book, int, int]:
    """Add the whole days of a calendar to the workshop's closures."""
    made, count, left_count = list(book.workshop.closures), 0, 0
    repeats = Repeats()
    known = {(each.first, each.last) for each in made}
    for number, event in enumerate(_events(data), start=1):
        count += 1
        with taken.row(Found(row=number, values={})):
            for each in _entries(event, book.workshop.zone, repeats):
                if not each.is_whole_days:
                    raise Misnamed("", "not_whole_days", value=shown(each.name))
                span = (each.start.date(), (each.end - _A_DAY).date())
                if span in known:
                    left_count += 1
                    continue
                known.add(span)
                made.append(Closure(first=span[0], last=span[1], name=text(each.name)))
    closures = tuple(sorted(made, key=lambda each: (each.first, each.last)))
    shop = replace(book.workshop, closures=closures)
    return replace(book, workshop=shop), count, min(left_count, count)


def _events(data: bytes) -> "Iterator[Event]":
    """Give the entries of a calendar. Raises NoTable where it is none."""
    from icalendar import Calendar, Event

    try:
        calendars = Calendar.from_ical(data, multiple=True)
    except _UNREADABLE as trouble:
        raise NoTable("no_calendar", reason=shown(str(trouble))) from trouble
    found = [each for one in calendars for each in one.walk("VEVENT") if isinstance(each, Event)]
    if not found:
        raise NoTable("no_entries")
    yield from found


def _entries(event: "Event", zone: str, repeats: Repeats) -> Iterator[_Entry]:
    """Give an entry as often as it comes again."""
    if event.errors:
        name, reason = event.errors[0]
        raise Misnamed("", "broken_entry", value=f"{name}: {shown(reason)}")
    start = _told(event, "dtstart", date)
    if start is None:
        raise Misnamed("", "entry_without_start", value=shown(_name(event)))
    first, is_day = _instant(start, zone)
    length = _length(event, first, zone, is_day=is_day)
    if length <= timedelta(0):
        raise Misnamed("", "entry_ends_first", value=shown(_name(event)))
    if str(event.get("status", "")).upper() == "CANCELLED":
        return
    name = _name(event)
    for at in repeats.times(event, start):
        begins, _ = _instant(at, zone)
        try:
            ends = _plus(begins, length, zone) if is_day else begins + length
        except OverflowError:
            raise _out_of_years(event) from None
        if begins.year < FIRST_YEAR or ends.year > LAST_YEAR:
            raise _out_of_years(event)
        yield _Entry(start=begins, end=ends, is_whole_days=is_day, name=name)


def _out_of_years(event: "Event") -> Misnamed:
    years = {"first": FIRST_YEAR, "last": LAST_YEAR}
    return Misnamed("", "entry_out_of_years", value=shown(_name(event)), **years)


def _told(event: "Event", name: str, sort: type[_T]) -> _T | None:
    """Return what an entry says once, None where it doesn't."""
    found = event.get(name)
    if found is None:
        return None
    told = getattr(found, "dt", None)
    if not isinstance(told, sort):
        raise Misnamed("", "broken_entry", value=name.upper())
    return told


def _name(event: "Event") -> str:
    return " ".join(str(event.get("summary", "")).split())


def _instant(found: date, zone: str) -> tuple[datetime, bool]:
    """Return an instant, by the workshop's clock where it has no zone; and whether it is a day."""
    if not isinstance(found, datetime):
        return datetime.combine(found, time(0), ZoneInfo(zone)), True
    return (found if found.tzinfo else found.replace(tzinfo=ZoneInfo(zone))), False


def _length(event: "Event", first: datetime, zone: str, *, is_day: bool) -> timedelta:
    end, duration = _told(event, "dtend", date), _told(event, "duration", timedelta)
    if end is not None:
        last, ends_on_day = _instant(end, zone)
        if ends_on_day != is_day:
            raise Misnamed("", "broken_entry", value=shown(_name(event)))
        naive = [each.replace(tzinfo=None) for each in (last, first)]
        return naive[0] - naive[1] if is_day else last - first
    if duration is not None:
        return duration
    return _A_DAY if is_day else timedelta(0)


def _plus(start: datetime, length: timedelta, zone: str) -> datetime:
    return (start.replace(tzinfo=None) + length).replace(tzinfo=ZoneInfo(zone))
