"""Working time of a calendar: its stretches, their sum, and walking along them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from itertools import pairwise

from shared.holidaydates import HolidayRule, is_holiday
from shared.worktime.calendars import Break, DateSpan, Shift, WorkCalendar
from shared.worktime.days import is_closed
from shared.worktime.errors import NoWorkingTime
from shared.worktime.spans import (
    Span,
    Spans,
    clip,
    intersect,
    subtract,
    total_seconds,
    union,
    utc_second,
)
from shared.worktime.zones import local_date, local_instant

_DAY = timedelta(days=1)
_SEARCH = timedelta(days=5 * 366)
_FIRST_STRIDE = timedelta(days=14)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pattern:
    """The part of a calendar that repeats by the week, so that people who share it share work."""

    zone: str
    shifts: tuple[Shift, ...]
    holidays: HolidayRule | None
    closed: tuple[DateSpan, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stretches:
    """Working stretches and the breaks between them."""

    work: Spans
    rest: Spans


def open_spans(calendar: WorkCalendar, start: datetime, end: datetime) -> Spans:
    """Give the working stretches of [start, end), breaks taken out.

    Raises
    ------
    UnknownZone, UnknownCalendar
        If nothing is known of the calendar's zone or of its holidays; so do all functions here.
    """
    return _stretches(calendar, start, end).work


def shift_spans(
    calendar: WorkCalendar, start: datetime, end: datetime, *, bridged_break_minutes: int
) -> Spans:
    """Give the shifts of [start, end) for work that is done in one go.

    Two working stretches are one if nothing lies between them but a break of at most
    `bridged_break_minutes`. A longer break parts them; overtime that touches a shift joins it.
    """
    found = _stretches(calendar, start, end)
    limit = timedelta(minutes=bridged_break_minutes)
    gaps = tuple(
        Span(start=before.end, end=after.start)
        for before, after in pairwise(found.work)
        if after.start - before.end <= limit
    )
    breaks = frozenset(intersect(gaps, found.rest))
    return union(found.work, (gap for gap in gaps if gap in breaks)) if breaks else found.work


def access_spans(zone: str, access: tuple[Shift, ...], start: datetime, end: datetime) -> Spans:
    """Give the access hours of a site inside [start, end), whatever the holidays.

    Hours over midnight belong to the day they open.
    """
    return open_spans(WorkCalendar(zone=zone, shifts=access), start, end)


def working_seconds(calendar: WorkCalendar, start: datetime, end: datetime) -> int:
    """Add up the working time in [start, end), in seconds; 0 if that is empty."""
    return total_seconds(open_spans(calendar, start, end))


def add_working(calendar: WorkCalendar, start: datetime, seconds: int) -> datetime:
    """Give the earliest end, in UTC, by which so much working time has passed since `start`.

    Raises
    ------
    NoWorkingTime
        If five years hold less.
    ValueError
        If seconds is negative.
    """
    _check_seconds(seconds)
    start = utc_second(start)
    left = timedelta(seconds=seconds)
    if not left:
        return start
    for span in _spans_after(calendar, start):
        if span.end - span.start >= left:
            return span.start + left
        left -= span.end - span.start
    raise NoWorkingTime(f"less than {seconds} s of working time in five years after {start}")


def subtract_working(calendar: WorkCalendar, end: datetime, seconds: int) -> datetime:
    """Give the latest start, in UTC, from which so much working time passes until `end`.

    Raises
    ------
    NoWorkingTime
        If five years hold less.
    ValueError
        If seconds is negative.
    """
    _check_seconds(seconds)
    end = utc_second(end)
    left = timedelta(seconds=seconds)
    if not left:
        return end
    for span in _spans_before(calendar, end):
        if span.end - span.start >= left:
            return span.end - left
        left -= span.end - span.start
    raise NoWorkingTime(f"less than {seconds} s of working time in five years before {end}")


def _check_seconds(seconds: int) -> None:
    if seconds < 0:
        raise ValueError(f"working time must not be negative: {seconds} s")


def _spans_after(calendar: WorkCalendar, start: datetime) -> Iterator[Span]:
    stride, limit = _FIRST_STRIDE, start + _SEARCH
    while start < limit:
        end = min(start + stride, limit)
        yield from open_spans(calendar, start, end)
        start, stride = end, stride * 2


def _spans_before(calendar: WorkCalendar, end: datetime) -> Iterator[Span]:
    stride, limit = _FIRST_STRIDE, end - _SEARCH
    while end > limit:
        start = max(end - stride, limit)
        yield from reversed(open_spans(calendar, start, end))
        end, stride = start, stride * 2


def _stretches(calendar: WorkCalendar, start: datetime, end: datetime) -> _Stretches:
    start, end = utc_second(start), utc_second(end)
    if start >= end:
        return _Stretches(work=(), rest=())
    weeks = tuple(_weeks(calendar, start, end))
    work = clip(union(*(week.work for week in weeks)), start, end)
    if calendar.available is not None:
        work = intersect(work, clip(calendar.available, start, end))
    if calendar.extra:
        work = union(work, clip(calendar.extra, start, end))
    if calendar.away:
        work = subtract(work, clip(calendar.away, start, end))
    return _Stretches(work=work, rest=union(*(week.rest for week in weeks)))


def _weeks(calendar: WorkCalendar, start: datetime, end: datetime) -> Iterator[_Stretches]:
    """Give every week with a shift that can reach into [start, end)."""
    pattern = _Pattern(
        zone=calendar.zone,
        shifts=calendar.shifts,
        holidays=calendar.holidays,
        closed=calendar.closed,
    )
    first = local_date(start, calendar.zone) - _DAY
    last = local_date(end, calendar.zone)
    monday = first - first.weekday() * _DAY
    while monday <= last:
        yield _week(pattern, monday)
        monday += 7 * _DAY


@lru_cache(maxsize=8192)
def _week(pattern: _Pattern, monday: date) -> _Stretches:
    works: list[Spans] = []
    rests: list[Spans] = []
    for weekday in range(7):
        day = monday + weekday * _DAY
        shifts = tuple(shift for shift in pattern.shifts if weekday in shift.days)
        if shifts and _is_worked(pattern, day):
            for shift in shifts:
                whole = _whole(day, shift, pattern.zone)
                breaks = intersect(whole, _breaks(day, shift, pattern.zone))
                works.append(subtract(whole, breaks))
                rests.append(breaks)
    return _Stretches(work=union(*works), rest=union(*rests))


def _is_worked(pattern: _Pattern, day: date) -> bool:
    if is_closed(pattern.closed, day):
        return False
    return pattern.holidays is None or not is_holiday(pattern.holidays, day)


def _whole(day: date, shift: Shift, zone: str) -> Spans:
    """Give the shift that opens on `day`; nothing if a clock change swallows it."""
    last_day = day + _DAY if shift.is_over_midnight else day
    return _span_or_nothing(
        local_instant(day, shift.start, zone, opening=True),
        local_instant(last_day, shift.end, zone, opening=False),
    )


def _breaks(day: date, shift: Shift, zone: str) -> Spans:
    return union(*(_break(day, shift, pause, zone) for pause in shift.breaks))


def _break(day: date, shift: Shift, pause: Break, zone: str) -> Spans:
    """Give the break as work around it is read: its start closes work, its end opens it.

    A break that lies whole in the hour that comes twice is taken the first time.
    """
    if shift.is_over_midnight and pause.start < shift.start:
        day += _DAY
    last_day = day if pause.start < pause.end else day + _DAY
    start = local_instant(day, pause.start, zone, opening=False)
    end = local_instant(last_day, pause.end, zone, opening=True)
    if start > end:
        start = local_instant(day, pause.start, zone, opening=True)
    return _span_or_nothing(start, end)


def _span_or_nothing(start: datetime, end: datetime) -> Spans:
    return (Span(start=start, end=end),) if start < end else ()
