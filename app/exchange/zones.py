"""A time zone as RFC 5545 section 3.6.5 writes it, from the zone's own rules. No Qt.

The package that writes calendars can make one too, an hour off on the days on which clocks go
forward: it gives the onset by the clock that begins, the standard wants the one that ends.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

_A_DAY = timedelta(days=1)
_A_MINUTE = timedelta(minutes=1)
_Clock = tuple[timedelta, str]


def timezone(name: str, first: date, last: date) -> "Timezone":
    """Return a zone with every change of its clock between two days, both included."""
    from icalendar import Timezone

    zone = ZoneInfo(name)
    made = Timezone()
    made.add("tzid", name)
    start = datetime.combine(first, time(0), UTC) - _A_DAY
    end = datetime.combine(last, time(0), UTC) + _A_DAY
    offset, label = _clock(zone, start)
    is_summer = (start.astimezone(zone).dst() or timedelta(0)) > timedelta(0)
    made.add_component(_observed(start + offset, offset, offset, label, is_summer=is_summer))
    for at, (before, _), (after, name_after) in _changes(zone, start, end):
        part = _observed(at + before, before, after, name_after, is_summer=after > before)
        made.add_component(part)
    return made


def _clock(zone: ZoneInfo, at: datetime) -> _Clock:
    local = at.astimezone(zone)
    return (local.utcoffset() or timedelta(0), local.tzname() or "")


def _changes(
    zone: ZoneInfo, start: datetime, end: datetime
) -> Iterator[tuple[datetime, _Clock, _Clock]]:
    while start < end:
        low, high = start, start + _A_DAY
        before, after = _clock(zone, low), _clock(zone, high)
        if before != after:
            while high - low > _A_MINUTE:
                middle = low + (high - low) // 2
                low, high = (middle, high) if _clock(zone, middle) == before else (low, middle)
            yield high.replace(second=0, microsecond=0), before, after
        start += _A_DAY


def _observed(
    at: datetime, before: timedelta, after: timedelta, label: str, *, is_summer: bool
) -> "TimezoneDaylight | TimezoneStandard":
    from icalendar import TimezoneDaylight, TimezoneStandard

    made = TimezoneDaylight() if is_summer else TimezoneStandard()
    made.add("dtstart", at.replace(tzinfo=None))
    made.add("tzoffsetfrom", before)
    made.add("tzoffsetto", after)
    made.add("tzname", label)
    return made
