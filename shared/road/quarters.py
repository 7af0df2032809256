"""Instants as whole quarters of an hour since 1970, in UTC."""

from datetime import UTC, datetime, timedelta

QUARTER = timedelta(minutes=15)
WEEK = 7 * 24 * 4
"""Quarters in a week."""

_FIRST = datetime(1970, 1, 1, tzinfo=UTC)
# 1 January 1970 was a Thursday; the fixed week of the law begins on a Monday.
_FIRST_MONDAY = 4 * 24 * 4


def floor_quarter(instant: datetime) -> int:
    """Give the last quarter at or before an instant."""
    return (instant - _FIRST) // QUARTER


def ceil_quarter(instant: datetime) -> int:
    """Give the first quarter at or after an instant."""
    return -((_FIRST - instant) // QUARTER)


def instant_of(quarter: int) -> datetime:
    """Give the instant of a quarter, in UTC."""
    return _FIRST + quarter * QUARTER


def week_of(quarter: int) -> int:
    """Give the number of the fixed week, from Monday 00:00 UTC, that a quarter lies in."""
    return (quarter - _FIRST_MONDAY) // WEEK


def turns_week(quarter: int) -> bool:
    """Say whether a fixed week begins at this quarter."""
    return (quarter - _FIRST_MONDAY) % WEEK == 0


def next_week(quarter: int) -> int:
    """Give the quarter, not before this one, at which a fixed week begins."""
    return quarter + (_FIRST_MONDAY - quarter) % WEEK
