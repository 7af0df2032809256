"""When a lorry may not be driven, asked quarter by quarter with the clock on the wall.

The table of bans says of each where, for whom, on which days and between which hours it holds.
"""

import json
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from importlib.resources import files
from typing import Any
from zoneinfo import ZoneInfo

from scheduler.check.road.acts import QUARTER
from shared.holidaydates import HolidayRule, is_holiday
from shared.road.bans import Lorry, Road
from shared.trade import figure

_SATURDAY, _SUNDAY = 6, 7
_VALID = ("valid_from", "valid_until")
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Banned:
    """The first quarter in which wheels may not turn, and the figure behind that."""

    at: datetime
    rule: str


def first_banned(road: Road, lorry: Lorry, start: datetime, end: datetime) -> Banned | None:
    """Give the first quarter in [start, end) in which the lorry may not be on the road."""
    rows = [row for row in _table() if _concerns(row, road, lorry)]
    at = start
    while rows and at < end:
        for row in rows:
            if _holds(row, road, lorry, at.astimezone(ZoneInfo(row["zone"]))):
                return Banned(at=at, rule=row["rule"])
        at += QUARTER
    return None


def _concerns(row: dict[str, Any], road: Road, lorry: Lorry) -> bool:
    """Say whether a ban is one of this road and of vehicles like this."""
    if row["country"] != road.country:
        return False
    if row.get("listed") and not road.listed:
        return False
    if row.get("area") and row["area"] != road.area:
        return False
    if row.get("abnormal"):
        return lorry.abnormal
    heavy = "above" in row and lorry.tonnes > figure(row["above"]).amount
    return heavy or bool(row.get("trailer") and lorry.trailer)


def _holds(row: dict[str, Any], road: Road, lorry: Lorry, wall: datetime) -> bool:
    """Say whether it holds at a time by the clock on the wall."""
    day = wall.date()
    if "eve" in row:
        # A day from an hour of the evening on: what is later belongs to the next day.
        banned = day + (_ONE_DAY if wall.hour >= figure(row["eve"]).amount else timedelta())
    else:
        hours = figure(row.get("hours", row["rule"]))
        if hours.least is None or hours.most is None or not hours.least <= wall.hour < hours.most:
            return False
        banned = day
    return _is_one_of(row, road, banned) and not _gives_way(row, lorry, day)


def _is_one_of(row: dict[str, Any], road: Road, day: date) -> bool:
    """Say whether a day is one of those on which a ban holds."""
    since, until = (row[each] and date.fromisoformat(row[each]) for each in _VALID)
    if (since and day < since) or (until and day > until):
        return False
    match row["days"]:
        case "kept":
            return _is_kept(road.country, road.subdivision, day)
        case "dates":
            return day.isoformat() in row["dates"].get(str(day.year), ())
        case "saturdays":
            return day.isoweekday() == _SATURDAY and day.month in _months(row)
    return day.isoweekday() < _SATURDAY and day.month in _months(row)


def _months(row: dict[str, Any]) -> range:
    if "months" not in row:
        return range(1, 13)
    months = figure(row["months"])
    return range(int(months.least or 1), int(months.most or 12) + 1)


def _gives_way(row: dict[str, Any], lorry: Lorry, day: date) -> bool:
    """Say whether a ban is lifted for an event that is so near."""
    if "relief" not in row or lorry.event_on is None:
        return False
    return abs((day - lorry.event_on).days) <= figure(row["relief"]).amount


@cache
def _is_kept(country: str, subdivision: str | None, day: date) -> bool:
    if day.isoweekday() == _SUNDAY:
        return True
    return is_holiday(HolidayRule(country=country, subdivision=subdivision), day)


@cache
def _table() -> tuple[dict[str, Any], ...]:
    text = files("shared.road").joinpath("data", "bans.json").read_text(encoding="utf-8")
    return tuple(json.loads(text))
