"""Counting whole working days, the way notices, answers and lead times are counted."""

from dataclasses import dataclass
from datetime import date, timedelta

from shared.holidaydates import HolidayRule, holiday_dates, is_holiday
from shared.worktime.calendars import DateSpan, check_weekdays
from shared.worktime.errors import NoWorkingTime

_SEARCH_DAYS = 5 * 366


@dataclass(frozen=True, slots=True, kw_only=True)
class DayCalendar:
    """The working days of an office, a client or a supplier.

    `weekdays` counts from 0 = Monday. What an office closes of its own accord (the days after
    Christmas, say) stands in `closed`: no country's law knows it.
    """

    holidays: HolidayRule | None
    closed: tuple[DateSpan, ...] = ()
    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)

    def __post_init__(self) -> None:
        """Refuse days that no week has."""
        check_weekdays("weekdays", self.weekdays)


def is_working_day(cal: DayCalendar, day: date) -> bool:
    """Say whether the day is worked: a weekday of the calendar, no holiday, not closed.

    Raises
    ------
    UnknownCalendar
        If nothing is known of the country or subdivision; so do all functions here.
    """
    if day.weekday() not in cal.weekdays or is_closed(cal.closed, day):
        return False
    return cal.holidays is None or not is_holiday(cal.holidays, day)


def is_closed(closed: tuple[DateSpan, ...], day: date) -> bool:
    """Say whether the day lies in one of the closures."""
    return any(day in days for days in closed)


def next_working_day(cal: DayCalendar, day: date) -> date:
    """Give the first working day after `day`, which is itself not looked at.

    Raises
    ------
    NoWorkingTime
        If five years hold none.
    """
    return _step(cal, day, timedelta(days=1))


def previous_working_day(cal: DayCalendar, day: date) -> date:
    """Give the last working day before `day`, which is itself not looked at.

    Raises
    ------
    NoWorkingTime
        If five years hold none.
    """
    return _step(cal, day, timedelta(days=-1))


def _step(cal: DayCalendar, day: date, stride: timedelta) -> date:
    found = day
    for _ in range(_SEARCH_DAYS):
        found += stride
        if is_working_day(cal, found):
            return found
    raise NoWorkingTime(f"no working day within five years of {day}")


def nth_working_day_after(cal: DayCalendar, day: date, n: int) -> date:
    """Give the n-th working day after `day`, itself not counted; `day` itself for n = 0.

    Raises
    ------
    NoWorkingTime
        If five years pass without a working day.
    ValueError
        If n is negative.
    """
    _check_count(n)
    for _ in range(n):
        day = next_working_day(cal, day)
    return day


def clear_working_days_before(cal: DayCalendar, event: date, n: int) -> date:
    """Give the latest working day with n whole working days strictly between it and `event`.

    Raises
    ------
    NoWorkingTime
        If five years pass without a working day.
    ValueError
        If n is negative.
    """
    _check_count(n)
    notice = event
    for _ in range(n + 1):
        notice = previous_working_day(cal, notice)
    return notice


def working_days_between(cal: DayCalendar, first: date, until: date) -> int:
    """Count the working days from `first`, counted, to `until`, not counted."""
    days = range(first.toordinal(), until.toordinal())
    return sum(is_working_day(cal, date.fromordinal(day)) for day in days)


def working_days_from(cal: DayCalendar, first: date, count: int) -> list[date]:
    """Give the working days among so many days on end, the first of them `first`."""
    weekdays, ordinal = frozenset(cal.weekdays), first.toordinal()
    days = map(date.fromordinal, range(ordinal, ordinal + count))
    found = [day for day in days if day.weekday() in weekdays and not is_closed(cal.closed, day)]
    if cal.holidays is None:
        return found
    years = range(first.year, date.fromordinal(ordinal + max(0, count - 1)).year + 1)
    shut = frozenset[date]().union(*(holiday_dates(cal.holidays, year) for year in years))
    return [day for day in found if day not in shut]


def _check_count(n: int) -> None:
    if n < 0:
        raise ValueError(f"number of working days must not be negative: {n}")
