"""By when a delivery is ordered: working days of both ends, lead, age and shelf life."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from shared.book import Closure, Supplier, Workshop
from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    NoWorkingTime,
    is_working_day,
)

_DAY = timedelta(days=1)
_SEARCH_DAYS = 5 * 366
_MOST_MONTHS = 12 * 50
_MOST_DAYS = 50 * 366
_MONTHS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """The way from a supplier to the workshop: the working days of both ends, lead and transit.

    Days are counted as `shared.book.Supplier` says.
    """

    here: DayCalendar
    there: DayCalendar
    lead_days: int = 0
    transit_days: int = 0
    same_day: bool = False


def road_of(workshop: Workshop, supplier: Supplier) -> Road:
    """Give the way from a supplier to the workshop."""
    return Road(
        here=workshop_days(workshop),
        there=DayCalendar(holidays=_holidays(supplier), closed=_closed(supplier.closures)),
        lead_days=supplier.lead_days,
        transit_days=supplier.transit_days,
        same_day=supplier.same_day,
    )


def workshop_days(workshop: Workshop) -> DayCalendar:
    """Give the days on which somebody is in the workshop to take a delivery in."""
    weekdays = tuple(sorted({day for shift in workshop.shifts for day in shift.days}))
    return DayCalendar(
        holidays=_holidays(workshop), closed=_closed(workshop.closures), weekdays=weekdays
    )


def _holidays(of: Workshop | Supplier) -> HolidayRule:
    return HolidayRule(
        country=of.country, subdivision=of.subdivision, categories=of.holiday_categories
    )


def _closed(closures: tuple[Closure, ...]) -> tuple[DateSpan, ...]:
    return tuple(
        DateSpan(first=shut.first, last=shut.last) for shut in closures if shut.first <= shut.last
    )


def receive_by(here: DayCalendar, need: date, *, same_day: bool = False) -> date:
    """Give the last working day before something is needed, or with `same_day` that day itself.

    Raises
    ------
    NoWorkingTime
        If five years hold none; so do all functions here that count working days.
    """
    first = need if same_day else need - _DAY
    return _found(lambda day: is_working_day(here, day), first, -_DAY)


def dispatch_by(road: Road, receive: date) -> date:
    """Give the last day of dispatch for an arrival by a day."""
    both = _both(road)
    return _stepped(both, _found(both, receive, -_DAY), road.transit_days, -_DAY)


def order_by(road: Road, receive: date) -> date:
    """Give the last day of the order for an arrival by a day."""
    there = _there(road)
    dispatch = _found(there, dispatch_by(road, receive), -_DAY)
    return _stepped(there, dispatch, road.lead_days, -_DAY)


def arrives(road: Road, ordered: date) -> date:
    """Give the day of arrival of what is ordered on a day, or on the next that is worked there."""
    there, both = _there(road), _both(road)
    dispatched = _stepped(there, _found(there, ordered, _DAY), road.lead_days, _DAY)
    return _stepped(both, _found(both, dispatched, _DAY), road.transit_days, _DAY)


def moulded(road: Road, ordered: date, moulded_days: int) -> date:
    """Give the day on which foam is moulded that is ordered on a day."""
    there = _there(road)
    return _stepped(there, _found(there, ordered, _DAY), moulded_days, _DAY)


def order_by_age(road: Road, coat: date, age_days: int, moulded_days: int) -> date:
    """Give the last day of the order for foam that is `age_days` old when it is hard coated."""
    there = _there(road)
    oldest = coat - timedelta(days=min(age_days, _MOST_DAYS))
    return _stepped(there, _found(there, oldest, -_DAY), moulded_days, -_DAY)


def made_not_before(last_use: date, months: int, margin_days: int = 0) -> date:
    """Give the first day on which something may have been made that is used until a day.

    months: its shelf life in calendar months, the day clamped to the shorter month. margin_days:
    so much of it is not counted on.
    """
    return _moved(last_use, -months) + timedelta(days=min(margin_days, _MOST_DAYS))


def usable_until(made: date, months: int, margin_days: int = 0) -> date:
    """Give the last day on which something may be used that was made on a day."""
    return _moved(made, months) - timedelta(days=min(margin_days, _MOST_DAYS))


def first_open(here: DayCalendar, day: date) -> date:
    """Give the first working day from a day on."""
    return _found(lambda each: is_working_day(here, each), day, _DAY)


def _moved(day: date, months: int) -> date:
    """Return the same day so many months later, or the last of a shorter month."""
    months = max(-_MOST_MONTHS, min(months, _MOST_MONTHS))
    year, month = divmod(day.year * _MONTHS + day.month - 1 + months, _MONTHS)
    last = (date(year + month // 11, (month + 1) % _MONTHS + 1, 1) - _DAY).day
    return date(year, month + 1, min(day.day, last))


def _there(road: Road) -> Callable[[date], bool]:
    return lambda day: is_working_day(road.there, day)


def _both(road: Road) -> Callable[[date], bool]:
    return lambda day: is_working_day(road.here, day) and is_working_day(road.there, day)


def _found(is_open: Callable[[date], bool], day: date, stride: timedelta) -> date:
    """Return the day itself if it is open, else the next that is."""
    for _ in range(_SEARCH_DAYS):
        if is_open(day):
            return day
        day += stride
    raise NoWorkingTime(f"no working day within five years before or after {day}")


def _stepped(is_open: Callable[[date], bool], day: date, count: int, stride: timedelta) -> date:
    """Return the `count`-th open day from a day, itself not counted."""
    if count > _SEARCH_DAYS:
        raise NoWorkingTime(f"more working days than five years hold: {count}")
    for _ in range(count):
        day = _found(is_open, day + stride, stride)
    return day
