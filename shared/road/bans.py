"""When a lorry may not move, by the country, part and area of the road.

`data/bans.json` has each ban with its source and figures: Germany (Sundays and public holidays, and
summer Saturdays on listed roads), France (from Saturday evening and from the eve of a public
holiday, and Saturdays of holiday months as an order names them each year), London (abnormal
loads). Open the current text before a live job. What can't be known from a road is no ban here but
a note, see `ban_notes`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

from shared.holidaydates import HolidayRule, is_holiday
from shared.trade import figure
from shared.worktime import Span, Spans, local_instant, union

_FILE = Path(__file__).with_name("data") / "bans.json"
_SATURDAY, _SUNDAY = 5, 6
_ONE_DAY = timedelta(days=1)
_MIDNIGHT = time(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lorry:
    """What a ban asks of a vehicle: greatest mass in tonnes, and whether it draws a trailer.

    abnormal: its load is so wide, long or heavy that the police is told. event_on: the day of the
    event that it builds or strikes; some bans give way to that.
    """

    tonnes: Decimal
    trailer: bool = False
    abnormal: bool = False
    event_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """The country of a road, and the subdivision whose holidays count there as well.

    listed: it is one of the roads on which summer Saturdays are banned in Germany; None is not
    known. area: a part with bans of its own, one of `AREAS`; None is not known, "" none of them.
    """

    country: str
    subdivision: str | None = None
    listed: bool | None = None
    area: str | None = None


class BanDoubt(StrEnum):
    """What is to be looked up about a road, since no ban is held for it here.

    LISTED_ROADS: banned that day if the road is one of those listed. AREA: banned that day if the
    road goes through the area. DATES: bans of that day's year are not in the tables. RELIEF: a ban
    was lifted for an event; the order has been replaced since. COUNTRY: no bans of this country are
    known, and it may well have some.
    """

    LISTED_ROADS = "listed_roads"
    AREA = "area"
    DATES = "dates"
    RELIEF = "relief"
    COUNTRY = "country"


@dataclass(frozen=True, slots=True, kw_only=True)
class BanNote:
    """One doubt: the country, the first day it speaks of, the figure, and the area if one."""

    doubt: BanDoubt
    country: str
    day: date | None = None
    rule: str = ""
    area: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ban:
    """One ban as the table has it; days: kept (Sundays, holidays), saturdays, weekdays, dates.

    hours: a figure with the first and last on the day; eve: one with the hour of the evening
    before, from which on it lasts a day.
    """

    country: str
    zone: str
    days: str
    rule: str
    hours: str | None
    eve: str | None
    months: str | None
    above: str | None
    trailer: bool
    abnormal: bool
    listed: bool
    area: str
    relief: str | None
    dates: dict[int, frozenset[date]]
    valid_from: date | None
    valid_until: date | None


def ban_spans(road: Road, lorry: Lorry, start: datetime, end: datetime) -> Spans:
    """Give the spans, joined and in order, in which the lorry may not be driven on the road.

    Those that reach into [start, end) are whole, not clipped.

    Raises
    ------
    UnknownCalendar
        If no holidays are known for the subdivision.
    """
    bans = _holding(road, lorry)
    if not bans:
        return ()
    days = _days_around(start, end)
    found = union(span for ban in bans for day in days for span in _spans_of(ban, road, lorry, day))
    return tuple(span for span in found if span.start < end and span.end > start)


def ban_rule(road: Road, lorry: Lorry | None = None, at: datetime | None = None) -> str:
    """Give the id of the figure behind the road's bans, empty where there are none.

    With a lorry and an instant, behind the ban that holds then.
    """
    if lorry is None or at is None:
        ours = (ban.rule for ban in _bans().get(road.country, ()) if not ban.area)
        return next(ours, "")
    for ban in _holding(road, lorry):
        for day in _days_around(at, at):
            for span in _spans_of(ban, road, lorry, day):
                if span.start <= at < span.end:
                    return ban.rule
    return ""


def ban_notes(road: Road, lorry: Lorry, start: datetime, end: datetime) -> tuple[BanNote, ...]:
    """Give what is to be looked up about a road on which the lorry is in [start, end).

    Raises
    ------
    UnknownCalendar
        If no holidays are known for the subdivision.
    """
    if road.country not in _bans():
        return (BanNote(doubt=BanDoubt.COUNTRY, country=road.country),)
    found: dict[tuple[BanDoubt, str], BanNote] = {}
    for ban in _bans()[road.country]:
        if _is_heavy(ban, lorry):
            for note in _doubts(ban, road, lorry, start, end):
                found.setdefault((note.doubt, note.area), note)
    return tuple(found.values())


def areas() -> tuple[str, ...]:
    """Give the names of the areas with bans of their own, sorted."""
    return tuple(sorted({ban.area for bans in _bans().values() for ban in bans if ban.area}))


def banned_dates(rule: str, year: int) -> frozenset[date] | None:
    """Give the days of a year on which a ban by yearly order holds, None where not known."""
    for bans in _bans().values():
        for ban in bans:
            if ban.rule == rule and ban.days == "dates":
                return ban.dates.get(year)
    return None


def _days_around(start: datetime, end: datetime) -> list[date]:
    first, last = start.date() - 2 * _ONE_DAY, end.date() + 2 * _ONE_DAY
    return [first + n * _ONE_DAY for n in range((last - first).days + 1)]


def _holding(road: Road, lorry: Lorry) -> list[_Ban]:
    """Give the bans that hold for the lorry on the road, on whatever days."""
    return [
        ban
        for ban in _bans().get(road.country, ())
        if _is_heavy(ban, lorry)
        and (not ban.listed or road.listed)
        and (not ban.area or road.area == ban.area)
    ]


def _is_heavy(ban: _Ban, lorry: Lorry) -> bool:
    if ban.abnormal:
        return lorry.abnormal
    if ban.trailer and lorry.trailer:
        return True
    return ban.above is not None and lorry.tonnes > figure(ban.above).amount


def _spans_of(ban: _Ban, road: Road, lorry: Lorry, day: date) -> Iterator[Span]:
    """Give the ban that is due to a day, without what an event lifts of it."""
    if _is_banned_day(ban, road, day):
        for piece_day, span in _pieces(ban, day):
            if not _is_relieved(ban, lorry, piece_day):
                yield span


def _is_banned_day(ban: _Ban, road: Road, day: date) -> bool:
    if not (ban.valid_from or day) <= day <= (ban.valid_until or day):
        return False
    if ban.days == "dates":
        return day in ban.dates.get(day.year, frozenset())
    if ban.days == "kept":
        rule = HolidayRule(country=road.country, subdivision=road.subdivision)
        return day.weekday() == _SUNDAY or is_holiday(rule, day)
    if not _is_month(ban, day):
        return False
    return day.weekday() == _SATURDAY if ban.days == "saturdays" else day.weekday() < _SATURDAY


def _is_month(ban: _Ban, day: date) -> bool:
    if ban.months is None:
        return True
    months = figure(ban.months)
    return months.least <= day.month <= months.most


def _is_relieved(ban: _Ban, lorry: Lorry, day: date) -> bool:
    if ban.relief is None or lorry.event_on is None:
        return False
    return abs((day - lorry.event_on).days) <= figure(ban.relief).amount


def _pieces(ban: _Ban, day: date) -> Iterator[tuple[date, Span]]:
    """Give the ban of a day, cut at midnight."""
    if ban.eve is None:
        hours = figure(ban.hours or ban.rule)
        first, last = time(int(hours.least)), time(int(hours.most))
        yield day, _between(day, first, day, last, ban.zone)
    else:
        # From an hour of the evening before, as long by the clock on the wall as the law says.
        at = time(int(figure(ban.eve).amount))
        yield day - _ONE_DAY, _between(day - _ONE_DAY, at, day, _MIDNIGHT, ban.zone)
        yield day, _between(day, _MIDNIGHT, day, at, ban.zone)


def _between(first: date, opens: time, last: date, closes: time, zone: str) -> Span:
    return Span(
        start=local_instant(first, opens, zone, opening=True),
        end=local_instant(last, closes, zone, opening=False),
    )


def _doubts(
    ban: _Ban, road: Road, lorry: Lorry, start: datetime, end: datetime
) -> Iterator[BanNote]:
    if ban.area and road.area not in (None, ban.area):
        return
    days = [day for day in _days_around(start, end) if _reaches(ban, day, start, end)]
    for day in days:
        doubt = _doubt_of(ban, road, lorry, day)
        if doubt is not None:
            yield BanNote(doubt=doubt, country=road.country, day=day, rule=ban.rule, area=ban.area)


def _doubt_of(ban: _Ban, road: Road, lorry: Lorry, day: date) -> BanDoubt | None:
    if ban.days == "dates" and day.year not in ban.dates:
        is_summer = _is_month(ban, day) and day.weekday() == _SATURDAY
        return BanDoubt.DATES if is_summer else None
    if not _is_banned_day(ban, road, day):
        return None
    if ban.listed and road.listed is None:
        return BanDoubt.LISTED_ROADS
    if ban.area and road.area is None:
        return BanDoubt.AREA
    holds = ban in _holding(road, lorry)
    is_lifted = holds and any(_is_relieved(ban, lorry, each) for each, _ in _pieces(ban, day))
    return BanDoubt.RELIEF if is_lifted else None


def _reaches(ban: _Ban, day: date, start: datetime, end: datetime) -> bool:
    return any(span.start < end and span.end > start for _, span in _pieces(ban, day))


@cache
def _bans() -> dict[str, tuple[_Ban, ...]]:
    # Only who asks for a ban pays for the reader.
    import json

    rows: list[dict[str, Any]] = json.loads(_FILE.read_text(encoding="utf-8"))
    found: dict[str, tuple[_Ban, ...]] = {}
    for row in rows:
        found[row["country"]] = (*found.get(row["country"], ()), _ban(row))
    return found


def _ban(row: dict[str, Any]) -> _Ban:
    return _Ban(
        country=row["country"],
        zone=row["zone"],
        days=row["days"],
        rule=row["rule"],
        hours=row.get("hours"),
        eve=row.get("eve"),
        months=row.get("months"),
        above=row.get("above"),
        trailer=row.get("trailer", False),
        abnormal=row.get("abnormal", False),
        listed=row.get("listed", False),
        area=row.get("area", ""),
        relief=row.get("relief"),
        dates={
            int(year): frozenset(date.fromisoformat(day) for day in days)
            for year, days in row.get("dates", {}).items()
        },
        valid_from=_day(row["valid_from"]),
        valid_until=_day(row["valid_until"]),
    )


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
