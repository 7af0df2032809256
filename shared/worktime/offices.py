"""By when an office has to have a notice, counted in its own days and by its own clock."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from shared.worktime.days import (
    DayCalendar,
    clear_working_days_before,
    is_working_day,
    next_working_day,
    nth_working_day_after,
    previous_working_day,
)
from shared.worktime.zones import local_date, local_instant

CLOSES = time(17)
"""When an office closes that says nothing else. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Office:
    """Who receives a notice: its working days, its zone, and when it closes on each of them."""

    days: DayCalendar
    zone: str
    closes: time = CLOSES


def received_on(office: Office, at: datetime) -> date:
    """Give the working day that something counts for which comes in at an instant.

    What comes in at closing time or later, or on a day that is not worked, counts for the next.

    Raises
    ------
    UnknownCalendar, UnknownZone, NoWorkingTime
        As the calendar and the zone do; so do all functions here.
    """
    day = local_date(at, office.zone)
    if is_working_day(office.days, day) and at < closing_of(office, day):
        return day
    return next_working_day(office.days, day)


def closing_of(office: Office, day: date) -> datetime:
    """Give the instant at which the office closes on a day; in UTC."""
    return local_instant(day, office.closes, office.zone, opening=False)


def notice_before(office: Office, event: datetime, n: int) -> date:
    """Give the last day of a notice of n clear working days before what happens at an instant.

    The day of the event is the office's. The notice has to be in before the office closes.

    Raises
    ------
    ValueError
        If n is negative.
    """
    return clear_working_days_before(office.days, local_date(event, office.zone), n)


def working_days_before(office: Office, event: datetime, n: int) -> date:
    """Give the n-th working day before the day of an event: lead times that are not clear days.

    For n = 0 the day of the event, taken back to a working day.

    Raises
    ------
    ValueError
        If n is negative.
    """
    day = local_date(event, office.zone)
    if n:
        return clear_working_days_before(office.days, day, n - 1)
    return previous_working_day(office.days, day + timedelta(days=1))


def is_in_time(office: Office, given: datetime, event: datetime, n: int) -> bool:
    """Say whether a notice given at an instant leaves n clear working days before an event."""
    return received_on(office, given) <= notice_before(office, event, n)


def answered_by(office: Office, given: datetime, n: int) -> datetime:
    """Give when n working days to answer are over: at the end of the n-th after the day it came.

    The end of the day is midnight by the office's clock.

    Raises
    ------
    ValueError
        If n is negative.
    """
    day = nth_working_day_after(office.days, local_date(given, office.zone), n)
    return local_instant(day + timedelta(days=1), time(0), office.zone, opening=False)
