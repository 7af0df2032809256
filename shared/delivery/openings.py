"""When a leg may be worked on."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from itertools import pairwise

from shared.book import Booking, Equipment, Leg, Site, Window
from shared.worktime import (
    HolidayRule,
    Span,
    Spans,
    WorkCalendar,
    access_spans,
    clip,
    intersect,
    local_instant,
    open_spans,
    subtract,
    union,
)

_DAY = timedelta(days=1)


def openings_of(
    leg: Leg,
    site: Site,
    window: Window,
    start: datetime,
    end: datetime,
    held: Iterable[Equipment] = (),
    workshop_zone: str = "UTC",
) -> Spans | None:
    """Return when a leg may be worked on in [start, end); None means at any time.

    Its own hours (not on public holidays of its country), its slots, if `inside` the access hours
    from the window's start on less what is blocked, and only while the equipment that it holds
    may be used and is free. They go on after the window's end: who is late works on.
    """
    parts: list[Spans] = [
        *_hours(leg, site, start, end),
        *_slots(leg, start, end),
        *(_inside(site, window, start, end) if leg.inside else ()),
        *(_free(each, workshop_zone, start, end) for each in held),
    ]
    if not parts:
        return None
    found: Spans = parts[0]
    for each in parts[1:]:
        found = intersect(found, each)
    return found


def _hours(leg: Leg, site: Site, start: datetime, end: datetime) -> Iterator[Spans]:
    if leg.opens:
        holidays = None if leg.country is None else HolidayRule(country=leg.country)
        calendar = WorkCalendar(zone=leg.zone or site.zone, shifts=leg.opens, holidays=holidays)
        yield open_spans(calendar, start, end)


def _slots(leg: Leg, start: datetime, end: datetime) -> Iterator[Spans]:
    if leg.slots:
        yield clip(_spans(leg.slots), start, end)


def _inside(site: Site, window: Window, start: datetime, end: datetime) -> Iterator[Spans]:
    first = max(start, window.start)
    if first >= end:
        yield ()
        return
    if window.access:
        found = access_spans(site.zone, window.access, first, end)
    else:
        found = (Span(start=first, end=end),)
    yield subtract(found, _spans(window.blocked))


def _free(one: Equipment, zone: str, start: datetime, end: datetime) -> Spans:
    """Give when one of this equipment may be used and is not booked."""
    until = min((day for day in (one.usable_until, one.test_due) if day is not None), default=None)
    first = start if one.usable_from is None else max(start, _midnight(one.usable_from, zone))
    last = end if until is None else min(end, _midnight(until + _DAY, zone))
    if first >= last:
        return ()
    return subtract((Span(start=first, end=last),), _all_booked(one))


def _all_booked(one: Equipment) -> Spans:
    """Give when every one of its count is booked."""
    spans = [Span(start=each.start, end=each.end) for each in one.bookings if _is_some(each)]
    if one.count == 1:
        return union(spans)
    edges = sorted({edge for span in spans for edge in (span.start, span.end)})
    return union(
        Span(start=low, end=high)
        for low, high in pairwise(edges)
        if sum(span.start <= low and high <= span.end for span in spans) >= one.count
    )


def _spans(bookings: Iterable[Booking]) -> Spans:
    return union(Span(start=each.start, end=each.end) for each in bookings if _is_some(each))


def _is_some(booking: Booking) -> bool:
    return booking.start < booking.end


def _midnight(day: date, zone: str) -> datetime:
    return local_instant(day, time(0), zone, opening=True)
