"""Which hours of a day lie in shifts that are written by the wall clock."""

from collections.abc import Iterable
from datetime import date, time, timedelta
from enum import Enum

from shared.worktime import Shift

HOUR_MINUTES = 60
DAY_MINUTES = 24 * HOUR_MINUTES
_WHOLE_HOUR = (1 << HOUR_MINUTES) - 1


class Covered(Enum):
    """How much of an hour lies in some shifts."""

    NOT = "not"
    PARTLY = "partly"
    WHOLLY = "wholly"


def covered(shifts: Iterable[Shift], day: date, *, opening: Iterable[date]) -> tuple[Covered, ...]:
    """Return for each hour of a day how much of it lies in shifts, breaks not counted.

    opening: the days on which they open; hours over midnight reach from the day before.
    """
    minutes = 0
    for on in opening:
        for shift in shifts:
            if on.weekday() in shift.days:
                minutes |= _minutes(shift, DAY_MINUTES * (on - day).days)
    return tuple(_of_hour(minutes >> HOUR_MINUTES * hour) for hour in range(24))


def days_reaching(day: date) -> tuple[date, ...]:
    """Return the days on which a shift may open that reaches into a day."""
    return (day,) if day == date.min else (day - timedelta(days=1), day)


def _minutes(shift: Shift, offset: int) -> int:
    """Return the minutes of a shift as bits, those of no day but this one left out."""
    end = _minute(shift.end) + (DAY_MINUTES if shift.is_over_midnight else 0)
    first = max(0, _minute(shift.start) + offset)
    last = min(DAY_MINUTES, end + offset)
    return ((1 << (last - first)) - 1) << first if first < last else 0


def _minute(at: time) -> int:
    return HOUR_MINUTES * at.hour + at.minute


def _of_hour(minutes: int) -> Covered:
    bits = minutes & _WHOLE_HOUR
    if bits == _WHOLE_HOUR:
        return Covered.WHOLLY
    return Covered.PARTLY if bits else Covered.NOT
