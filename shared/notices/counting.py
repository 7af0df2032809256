"""The latest date of a notice: counted back from an event on the calendar of whoever receives it.

clear working days: so many whole working days lie between the day it is given and the event's.
working days: the n-th one before the event's day. days, weeks: of the calendar, then taken back
to a working day. hours: elapsed.
"""

from datetime import date, datetime, timedelta
from functools import lru_cache

from shared.book import Counted
from shared.holidaydates import HolidayRule
from shared.notices.values import Receiver
from shared.worktime import (
    DayCalendar,
    Office,
    UnknownCalendar,
    closing_of,
    is_working_day,
    notice_before,
    previous_working_day,
    working_days_before,
)
from shared.worktime.zones import local_date

_DAY = timedelta(days=1)
_WEEK = 7


@lru_cache(maxsize=256)
def office_of(receiver: Receiver) -> Office:
    """Return whoever receives something as an office; of unknown holidays only weekends close."""
    rule = HolidayRule(
        country=receiver.country or "",
        subdivision=receiver.subdivision,
        categories=receiver.categories,
    )
    days = DayCalendar(holidays=rule)
    if not _is_known(days):
        days = DayCalendar(holidays=None)
    return Office(days=days, zone=receiver.zone, closes=receiver.closes)


def knows_holidays(receiver: Receiver) -> bool:
    """Return whether the public holidays of whoever receives something are known."""
    return office_of(receiver).days.holidays is not None


def _is_known(days: DayCalendar) -> bool:
    try:
        is_working_day(days, date(2026, 1, 5))
    except UnknownCalendar:
        return False
    return True


def latest(receiver: Receiver, event: datetime, lead: int, counted: Counted) -> date | datetime:
    """Return the last day, or for hours the last instant, so long before an event."""
    office = office_of(receiver)
    if counted is Counted.HOURS:
        return event - timedelta(hours=lead)
    if counted is Counted.CLEAR_WORKING_DAYS:
        return notice_before(office, event, lead)
    if counted is Counted.WORKING_DAYS:
        return working_days_before(office, event, lead)
    days = lead * (_WEEK if counted is Counted.WEEKS else 1)
    return worked_by(office, local_date(event, receiver.zone) - days * _DAY)


def worked_by(office: Office, day: date) -> date:
    """Return the day itself where it is worked, else the last one worked before it."""
    return previous_working_day(office.days, day + _DAY)


def earliest(
    receivers: tuple[Receiver, ...], event: datetime, lead: int, counted: Counted
) -> tuple[Receiver, date | datetime]:
    """Return of several who receive it the one that must be served first, and by when.

    Each of them must be told, so the earliest rules; of two alike the first.
    """
    dated = [(each, latest(each, event, lead, counted)) for each in receivers]
    return min(dated, key=lambda pair: last_moment(pair[1], pair[0]))


def last_moment(by: date | datetime, receiver: Receiver) -> datetime:
    """Return the instant from which on something that is due comes too late."""
    return by if isinstance(by, datetime) else closing_of(office_of(receiver), by)
