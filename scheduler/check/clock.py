"""Seconds and quarters of an hour since 1970 in UTC; the check's own rounding."""

from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache

from shared.worktime import local_instant

QUARTER = 900
DAY = 24 * 3600
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_SECOND = timedelta(seconds=1)


def seconds(instant: datetime) -> int:
    """Return an instant in whole seconds, a part of one dropped."""
    return (instant - _EPOCH) // _SECOND


def is_on_grid(instant: datetime) -> bool:
    """Return whether an instant is a whole quarter."""
    return not (instant - _EPOCH) % timedelta(seconds=QUARTER)


def up(second: int) -> int:
    """Return the first quarter that is not before a second."""
    return -(-second // QUARTER)


def down(second: int) -> int:
    """Return the last quarter that is not after a second."""
    return second // QUARTER


def hours(amount: Decimal) -> int:
    """Return hours as whole seconds, rounded up."""
    if not amount:
        return 0
    numerator, denominator = amount.as_integer_ratio()
    return -(-numerator * 3600 // denominator)


def hours_down(amount: Decimal) -> int:
    """Return hours as whole seconds, rounded down."""
    numerator, denominator = amount.as_integer_ratio()
    return numerator * 3600 // denominator


@lru_cache(maxsize=1 << 14)
def midnight(day: date, zone: str) -> int:
    """Return the second at which a day begins in a zone."""
    return seconds(local_instant(day, time(0), zone, opening=True))


@lru_cache(maxsize=1 << 14)
def noon(day: date, zone: str) -> int:
    """Return the second at which the second half of a day begins in a zone."""
    return seconds(local_instant(day, time(12), zone, opening=True))


def day_after(day: date) -> date:
    """Return the next day, the last day of all for itself."""
    return day if day == date.max else day + timedelta(days=1)


def day_of(second: int, zone: str) -> date:
    """Return the day of a zone in which a second lies."""
    found = _days_about(second // DAY, zone)
    return next(day for begins, day in reversed(found) if begins <= second)


def half_of(second: int, zone: str) -> tuple[int, int, int]:
    """Return the half of a day in which a second lies: its begin, its end, the day's begin."""
    found = _halves_about(second // DAY, zone)
    return next(half for half in reversed(found) if half[0] <= second)


@lru_cache(maxsize=1 << 14)
def _halves_about(day_number: int, zone: str) -> tuple[tuple[int, int, int], ...]:
    found: list[tuple[int, int, int]] = []
    for begins, day in _days_about(day_number, zone):
        middle, ends = noon(day, zone), midnight(day_after(day), zone)
        found += [(begins, middle, begins), (middle, ends, begins)]
    return tuple(found)


@lru_cache(maxsize=1 << 14)
def _days_about(day_number: int, zone: str) -> tuple[tuple[int, date], ...]:
    """Return the days of a zone that a day of UTC may touch, each with its first second."""
    middle = instant(day_number * DAY).date()
    days = [middle + timedelta(days=more) for more in (-1, 0, 1)]
    return tuple((midnight(day, zone), day) for day in days)


def instant(second: int) -> datetime:
    """Return a second as an instant in UTC."""
    return _EPOCH + timedelta(seconds=second)


def iso(second: int) -> str:
    """Return a second as ISO text in UTC."""
    return instant(second).isoformat()
