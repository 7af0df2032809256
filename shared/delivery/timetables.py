"""Which sailings and trains a leg has: those written one by one, and those that recur."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from shared.book import Departure, Leg, Timetable
from shared.worktime.zones import local_date, local_instant

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A sailing or train with its place among those written one by one, None of a timetable."""

    departure: Departure
    place: int | None

    @property
    def offer(self) -> tuple[Decimal, int]:
        """Return what it costs, and how long before one has to be there."""
        return self.departure.price or Decimal(0), self.departure.check_in_minutes


def departures_of(
    leg: Leg, first: datetime, last: datetime, check_in: int = 60
) -> tuple[Departure, ...]:
    """Return the departures that leave in [first, last), earliest first.

    A timetable is read on every day of its season by the clock where it leaves, its arrival by
    the clock where it lands, clock changes and all. `check_in`: minutes where the timetable says
    none. One that lands before it leaves is none.
    """
    return tuple(each.departure for each in listed_of(leg, first, last, check_in))


def listed_of(leg: Leg, first: datetime, last: datetime, check_in: int = 60) -> tuple[Listed, ...]:
    """Return the same with their places."""
    found = [Listed(departure=each, place=at) for at, each in enumerate(leg.departures)]
    for table in leg.timetable:
        found += [
            Listed(departure=each, place=None) for each in _recurring(table, first, last, check_in)
        ]
    sound = [
        each
        for each in found
        if first <= each.departure.leaves < last and each.departure.leaves < each.departure.arrives
    ]
    return tuple(sorted(sound, key=lambda each: (each.departure.leaves, each.departure.arrives)))


def _recurring(
    table: Timetable, first: datetime, last: datetime, check_in: int
) -> Iterator[Departure]:
    day = local_date(first, table.zone)
    end = local_date(last, table.zone)
    if table.first is not None:
        day = max(day, table.first)
    if table.last is not None:
        end = min(end, table.last)
    while day <= end:
        if day.isoweekday() in table.weekdays:
            yield _on(table, day, check_in)
        day += _DAY


def _on(table: Timetable, day: date, check_in: int) -> Departure:
    """Give the departure of a day.

    In the hour that comes twice it leaves the first time, and lands the second: one is there in
    time, and counts on nothing sooner.
    """
    lands = day + table.days_later * _DAY
    usual = table.check_in_minutes is None
    return Departure(
        leaves=local_instant(day, table.leaves, table.zone, opening=True),
        arrives=local_instant(
            lands, table.arrives, table.arrives_zone or table.zone, opening=False
        ),
        check_in_minutes=check_in if usual else table.check_in_minutes or 0,
        price=table.price,
    )
