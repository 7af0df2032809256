"""Which sailings and trains a leg has: those written one by one, and those that recur."""

from datetime import datetime

from shared.book import Departure, Leg


def departures_of(
    leg: Leg, first: datetime, last: datetime, check_in: int = 60
) -> tuple[Departure, ...]:
    """Return the departures that leave in [first, last), earliest first; none overtakes time.

    A timetable is read on every day of its season by the clock where it leaves, its arrival by
    the clock where it lands, clock changes and all. `check_in`: minutes where the timetable says
    none (see `check_in_of`). Of two that leave at one moment with one check-in and price only the
    one that lands sooner is given.
    """
    raise NotImplementedError
