"""What is expected of places, as stretches of hours that are alike, each day looked up once."""

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache

from scheduler.check.clock import day_of, instant, midnight
from shared.climate import Climate, Day, Hour, measured
from shared.ids import PlaceId
from shared.worktime.zones import zone_named

_HOUR = 3600
_MOST_DAYS = 1 << 14
"""So many days of places are kept, many years of a workshop."""

Stretch = tuple[int, int, Hour]
"""From one second to another, and what is expected of every hour between."""


class Weather:
    """How warm and damp every place of a book is, second by second."""

    def __init__(self, climate: Climate, zone: str) -> None:
        """Take what the book says, and the zone by whose clock it says so."""
        self._climate, self._zone = climate, zone
        self._days: dict[tuple[PlaceId | None, date], tuple[Stretch, ...]] = {}
        self._same: dict[Hour, Hour] = {}
        self._hours: dict[int, tuple[Day, Day]] = {}

    def between(self, place: PlaceId | None, start: int, stop: int) -> Iterator[Stretch]:
        """Give what lies from one second to another; None: wherever it is."""
        if start >= stop:
            return
        day = day_of(start, self._zone)
        while start < stop:
            for _, end, hour in self._day(place, day):
                if end > start:
                    yield start, min(end, stop), hour
                    start = end
                    if start >= stop:
                        return
            day += timedelta(days=1)

    def _day(self, place: PlaceId | None, day: date) -> tuple[Stretch, ...]:
        key = (place, day)
        if key not in self._days:
            if len(self._days) >= _MOST_DAYS:
                self._days.clear()
            self._days[key] = tuple(_joined(self._by_hours(place, day)))
        return self._days[key]

    def _by_hours(self, place: PlaceId | None, day: date) -> Iterator[Stretch]:
        hours = self._alike(self._climate.day(place, day))
        readings = self._climate.readings(place)
        for start, stop, at in clock_hours(day, self._zone):
            reading = readings.get(self._climate.hour_of(instant(start))) if readings else None
            yield start, stop, hours[at] if reading is None else measured(hours[at], reading)

    def _alike(self, day: Day) -> Day:
        """Return the hours of a day, those that say the same as one object."""
        if id(day) not in self._hours:
            alike = tuple(self._same.setdefault(hour, hour) for hour in day)
            self._hours[id(day)] = (day, alike)
        return self._hours[id(day)][1]


@lru_cache(maxsize=4096)
def clock_hours(day: date, zone: str) -> tuple[tuple[int, int, int], ...]:
    """Return the hours of a day's clock: start, end, and which of 0 to 23 it shows."""
    found = []
    at, end = midnight(day, zone), midnight(day + timedelta(days=1), zone)
    while at < end:
        clock = instant(at).astimezone(zone_named(zone))
        until = min(end, at + _HOUR - 60 * clock.minute - clock.second)
        found.append((at, until, clock.hour))
        at = until
    return tuple(found)


def _joined(stretches: Iterator[Stretch]) -> Iterator[Stretch]:
    """Give stretches, neighbours of which the same is expected as one."""
    since, until, expected = next(stretches)
    for start, stop, hour in stretches:
        if hour is not expected:
            yield since, until, expected
            since, expected = start, hour
        until = stop
    yield since, until, expected
