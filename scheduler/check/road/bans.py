"""When a lorry may not be driven, asked quarter by quarter with the clock on the wall.

Germany: Sundays and public holidays until 22:00. France: from 22:00 on the eve of one, for a day.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from scheduler.check.road.acts import QUARTER
from shared.holidaydates import HolidayRule, is_holiday
from shared.road.bans import Lorry, Road
from shared.trade import figure

_SUNDAY = 6
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Banned:
    """The first quarter in which wheels may not turn, and the figure behind that."""

    at: datetime
    rule: str


def first_banned(road: Road, lorry: Lorry, start: datetime, end: datetime) -> Banned | None:
    """Give the first quarter in [start, end) in which the lorry may not be on the road."""
    known = _COUNTRIES.get(road.country)
    if known is None:
        return None
    zone = ZoneInfo(known.zone)
    at = start
    while at < end:
        rule = known.rule(road, lorry, at.astimezone(zone))
        if rule:
            return Banned(at=at, rule=rule)
        at += QUARTER
    return None


def _germany(road: Road, lorry: Lorry, wall: datetime) -> str:
    heavy = lorry.trailer or lorry.tonnes > figure("DR17b").amount
    first, last = figure("DR17a").least, figure("DR17a").most
    assert first is not None, "a figure of hours"
    assert last is not None, "a figure of hours"
    shut = _is_kept(road, wall.date()) and first <= wall.hour < last
    return "DR17a" if heavy and shut else ""


def _france(road: Road, lorry: Lorry, wall: datetime) -> str:
    heavy = lorry.tonnes > figure("DR18c").amount
    day = wall.date() + (_ONE_DAY if wall.hour >= figure("DR18a").amount else timedelta())
    return "DR18a" if heavy and _is_kept(road, day) else ""


@cache
def _is_kept(road: Road, day: date) -> bool:
    if day.weekday() == _SUNDAY:
        return True
    return is_holiday(HolidayRule(country=road.country, subdivision=road.subdivision), day)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Country:
    """Its clock, and the rule asked at a time by it."""

    zone: str
    rule: Callable[[Road, Lorry, datetime], str]


_COUNTRIES = {
    "DE": _Country(zone="Europe/Berlin", rule=_germany),
    "FR": _Country(zone="Europe/Paris", rule=_france),
}
