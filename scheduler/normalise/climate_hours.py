"""What is expected of one place in every step of the grid, and what follows from it by tables."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache, reduce
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from scheduler.grid import DAY_STEPS, Grid
from scheduler.normalise.climate_pace import Bands, Coat, Cure
from scheduler.problem import Span, Spans, Table, Wait
from shared.book import Reading
from shared.climate import Climate, Day, Hour, measured
from shared.ids import PlaceId
from shared.units import STEPS_PER_HOUR, hours_down
from shared.worktime.zones import local_date, zone_named

Moments = NDArray[np.int32]
"""Whole numbers, one for each step; they are kept, and no step comes near their limit."""

MARGIN_DAYS = 56
"""What is expected is followed so far beyond the horizon."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """The days of the workshop's clock on the grid: each with its first step and that after it.

    count: how many steps there are, the margin beyond the horizon among them.
    """

    grid: Grid
    count: int
    spans: tuple[tuple[date, Span], ...]


def days_of(grid: Grid) -> Days:
    """Return the days of a grid and of the margin beyond it."""
    first = local_date(grid.origin, grid.zone)
    count = grid.horizon + MARGIN_DAYS * DAY_STEPS
    last = local_date(grid.instant(count), grid.zone)
    days = [first + timedelta(days=after) for after in range((last - first).days + 1)]
    mornings = [*(grid.up(grid.morning(day)) for day in days), grid.up(grid.night(days[-1]))]
    spans = tuple(zip(days, pairwise(mornings), strict=True))
    return Days(grid=grid, count=count, spans=spans)


class PlaceHours:
    """The hours of one place: the different ones, and which of them holds in each step."""

    def __init__(self, climate: Climate, place: PlaceId | None, days: Days) -> None:
        """Lay the days out on the grid."""
        self._climate, self._place, self._days = climate, place, days
        self._grid = days.grid
        self._positions: dict[Hour, int] = {}
        self._blocks: dict[int, Moments] = {}
        self._by_week: dict[tuple[int, int], Day] = {}
        self._which: Moments = np.zeros(days.count, dtype=np.int32)
        for day, span in days.spans:
            self._lay_day(day, span)
        for at, reading in climate.readings(place).items():
            self._lay_reading(at, reading)
        counts = np.bincount(self._which, minlength=len(self._positions))
        renumbered = (np.cumsum(counts > 0) - 1).astype(np.int32)
        self._which = renumbered[self._which]
        known = zip(self._positions, counts.tolist(), strict=True)
        self.kinds = tuple(hour for hour, count in known if count)

    def ready(self, cure: Cure) -> Moments:
        """Return for each end when the cure is over; past all that is known where it never is."""
        paces = self._each([cure.pace(hour.coldest) for hour in self.kinds])
        done = np.concatenate((np.zeros(1, dtype=np.int64), np.cumsum(paces)))
        ends = np.arange(self._grid.horizon + 1)
        return np.maximum(np.searchsorted(done, done[ends] + cure.need), ends).astype(np.int32)

    def coat_by(self, bands: Bands) -> Moments:
        """Return for each end until when the next coat may start."""
        by_kind = [hours_down(bands.hours(hour.hottest)) for hour in self.kinds]
        mosts = self._each(by_kind)
        ends = np.arange(self._grid.horizon + 1)
        latest = np.full(len(ends), self._days.count + 1)
        for most in sorted(set(by_kind)):
            touching = np.append(np.flatnonzero(mosts <= most), self._days.count + 1)
            first = touching[np.searchsorted(touching, ends)]
            latest = np.minimum(latest, np.maximum(first, ends + most))
        return latest.astype(np.int32)

    def without(self, forbids: Callable[[Hour], bool]) -> Spans:
        """Return the stretches, to the end of all that is known, without a forbidden hour."""
        fine = ~self._each([forbids(hour) for hour in self.kinds]).astype(bool)
        edges = np.flatnonzero(np.diff(np.concatenate(([False], fine, [False]))))
        return tuple(zip(edges[0::2].tolist(), edges[1::2].tolist(), strict=True))

    def _each(self, values: list[int]) -> NDArray[np.int64]:
        return np.array(values, dtype=np.int64)[self._which]

    def _lay_day(self, day: date, span: Span) -> None:
        start, end = max(0, span[0]), min(span[1], self._days.count)
        hours = self._hours_of(day)
        if span[1] - span[0] == DAY_STEPS:
            if id(hours) not in self._blocks:
                kinds = np.array([self._position(hour) for hour in hours], dtype=np.int32)
                self._blocks[id(hours)] = np.repeat(kinds, STEPS_PER_HOUR)
            self._which[start:end] = self._blocks[id(hours)][start - span[0] : end - span[0]]
            return
        zone = zone_named(self._grid.zone)
        for step in range(start, end):
            hour = self._grid.instant(step).astimezone(zone).hour
            self._which[step] = self._position(hours[hour])

    def _hours_of(self, day: date) -> Day:
        if not self._climate.goes_by_weeks:
            return self._climate.day(self._place, day)
        key = (day.month, day.weekday())
        if key not in self._by_week:
            self._by_week[key] = self._climate.day(self._place, day)
        return self._by_week[key]

    def _lay_reading(self, at: datetime, reading: Reading) -> None:
        known = tuple(self._positions)
        first = self._grid.up(at.astimezone(UTC))
        for step in range(max(0, first), min(first + STEPS_PER_HOUR, self._days.count)):
            self._which[step] = self._position(measured(known[self._which[step]], reading))

    def _position(self, hour: Hour) -> int:
        return self._positions.setdefault(hour, len(self._positions))


def wait_of(readies: Sequence[Moments]) -> Wait:
    """Return the wait that is long enough in each of several places."""
    return _wait(reduce(np.maximum, readies))


def quickest_of(readies: Sequence[Moments]) -> Wait | None:
    """Return the wait that is the shortest of several places, None where they are alike."""
    return None if _are_alike(readies) else _wait(reduce(np.minimum, readies))


def _wait(ready: Moments) -> Wait:
    waits = ready - np.arange(len(ready))
    least = int(waits.min())
    return Wait(least=least) if least == waits.max() else Wait(least=least, table=_table(ready))


def coat_of(latests: Sequence[Moments]) -> Coat:
    """Return until when the next coat may start, whichever of several places the last was in."""
    latest = reduce(np.minimum, latests)
    mosts = latest - np.arange(len(latest))
    least, in_doubt = int(mosts.min()), not _are_alike(latests)
    if least == mosts.max():
        return Coat(most=least, in_doubt=in_doubt)
    return Coat(table=_table(latest), in_doubt=in_doubt)


def _are_alike(moments: Sequence[Moments]) -> bool:
    return all(np.array_equal(moments[0], other) for other in moments[1:])


def _table(values: Moments) -> Table:
    """Return a table with a knot at the last end of each different value."""
    lasts = np.flatnonzero(np.diff(values, append=values[-1] + 1))
    steps = _steps(-(-(int(values.max()) + 1) // DAY_STEPS))
    return Table(uptos=tuple(steps[lasts]), values=tuple(steps[values[lasts]]))


@lru_cache(maxsize=2)
def _steps(days: int) -> NDArray[np.object_]:
    """Return the steps of so many days, each one number that all tables share."""
    return np.arange(days * DAY_STEPS).astype(object)
