"""When a lorry may not move, by the country of the road.

Known: Germany (Sundays and public holidays) and France (from Saturday evening, and from the eve
of a public holiday). Not covered: summer Saturdays on listed roads and reliefs for single trades,
so open the current text before a live job. A country that is not listed has no ban here.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from shared.holidaydates import HolidayRule, is_holiday
from shared.trade import figure
from shared.worktime import Span, Spans, local_instant, union

_SUNDAY = 6
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lorry:
    """What a ban asks of a vehicle: greatest mass in tonnes, and whether it draws a trailer."""

    tonnes: Decimal
    trailer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """The country of a road, and the subdivision whose holidays count there as well."""

    country: str
    subdivision: str | None = None


def ban_spans(road: Road, lorry: Lorry, start: datetime, end: datetime) -> Spans:
    """Give the spans, joined and in order, in which the lorry may not be driven on the road.

    Those that reach into [start, end) are whole, not clipped.

    Raises
    ------
    UnknownCalendar
        If no holidays are known for the subdivision.
    """
    first, last = start.date() - 2 * _ONE_DAY, end.date() + 2 * _ONE_DAY
    days = [first + n * _ONE_DAY for n in range((last - first).days)]
    found = union(span for day in days for span in _bans_of(road, lorry, day))
    return tuple(span for span in found if span.start < end and span.end > start)


def ban_rule(road: Road) -> str:
    """Give the id of the figure behind the road's bans, empty where there are none."""
    return {"DE": "DR17a", "FR": "DR18a"}.get(road.country, "")


def _bans_of(road: Road, lorry: Lorry, day: date) -> Iterator[Span]:
    """Give the ban that is due to a Sunday or a holiday, if any."""
    if not ban_rule(road) or not _is_kept(road, day):
        return
    if road.country == "DE":
        if lorry.trailer or lorry.tonnes > figure("DR17b").amount:
            hours = figure("DR17a")
            yield _between(day, int(hours.least), day, int(hours.most), "Europe/Berlin")
    elif lorry.tonnes > figure("DR18c").amount:
        # From an hour of the evening before, as long by the clock on the wall as the law says.
        hour = int(figure("DR18a").amount)
        yield _between(day - _ONE_DAY, hour, day, hour, "Europe/Paris")


def _is_kept(road: Road, day: date) -> bool:
    rule = HolidayRule(country=road.country, subdivision=road.subdivision)
    return day.weekday() == _SUNDAY or is_holiday(rule, day)


def _between(first: date, opens: int, last: date, closes: int, zone: str) -> Span:
    return Span(
        start=local_instant(first, time(opens), zone, opening=True),
        end=local_instant(last, time(closes), zone, opening=False),
    )
