"""Counting back the road: which departures make it to the gate in time, and the last of them.

Arrival does not grow with departure: who leaves earlier starts the duty clock earlier. So every
departure is asked for itself, never halved between two. Each answer is exact: the search looks at
every legal course but for those that another is as good as, or that a lower bound rules out.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.laws import law_of
from shared.road.legs import Drive, Journey
from shared.road.machine import Machine, machine_of
from shared.road.quarters import QUARTER, ceil_quarter, floor_quarter, instant_of
from shared.road.rules import NEVER, HoursRules
from shared.road.search import Search, Watch
from shared.road.story import itinerary_of
from shared.road.world import World
from shared.worktime import Span, Spans, union

LONGEST = timedelta(days=7)
"""How long a journey may take where nothing else is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """A journey, who drives it as they are, and the rules for them."""

    journey: Journey
    drivers: tuple[Driver, ...]
    rules: HoursRules


def earliest_arrival(
    trip: Trip,
    departure: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Itinerary | None:
    """Give the itinerary that arrives first when the duty begins at `departure`, rounded up.

    None says that no legal one arrives within `longest`, or before a weekly rest has to begin.
    """
    first = ceil_quarter(departure)
    last = _capped(trip, floor_quarter(departure + longest))
    world = World(trip.journey, instant_of(first), instant_of(last))
    machine = _machine(trip)
    search = Search(world, machine, last, last, _ticks(watch, 0, 1))
    found = search.first(first, _begun(trip, machine, first))
    return None if found is None else itinerary_of(world, trip.rules, machine, found)


def latest_departure(
    trip: Trip,
    site_by: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Itinerary | None:
    """Give the earliest arriving itinerary of the last departure that is at the gate by `site_by`.

    None: every departure is ruled out, back to `longest` before.
    """
    by = _capped(trip, floor_quarter(site_by))
    first = ceil_quarter(site_by - longest)
    world = World(trip.journey, instant_of(first), instant_of(max(by, first)))
    machine = _machine(trip)
    search = Search(world, machine, by, by)
    for departure in range(by - 1, first - 1, -1):
        search.told = _ticks(watch, by - departure, by - first)
        found = search.first(departure, _begun(trip, machine, departure))
        if found is not None:
            return itinerary_of(world, trip.rules, machine, found)
    return None


def departures(
    trip: Trip,
    site_by: datetime,
    *,
    longest: timedelta = LONGEST,
    watch: Watch | None = None,
) -> Spans:
    """Give all departures that are at the gate by `site_by`, as spans; there may be gaps.

    A departure on the grid stands for itself to the next one.
    """
    by = _capped(trip, floor_quarter(site_by))
    first = ceil_quarter(site_by - longest)
    world = World(trip.journey, instant_of(first), instant_of(max(by, first)))
    machine = _machine(trip)
    search = Search(world, machine, by, by)
    found = []
    for departure in range(by - 1, first - 1, -1):
        search.told = _ticks(watch, by - departure, by - first)
        if search.makes_it(departure, _begun(trip, machine, departure)):
            found.append(Span(start=instant_of(departure), end=instant_of(departure) + QUARTER))
    return union(found)


def forget() -> None:
    """Drop every result that is kept."""


def _ticks(watch: Watch | None, done: int, whole: int) -> Callable[[], None] | None:
    if watch is None:
        return None
    return lambda: watch(done, whole)


def _machine(trip: Trip) -> Machine:
    return machine_of(law_of(_counted(trip), trip.drivers))


def _begun(trip: Trip, machine: Machine, quarter: int) -> int:
    return machine.number(machine.law.begin(trip.drivers, quarter))


def _counted(trip: Trip) -> HoursRules:
    """Give the rules without the limits of weeks where this journey can't reach them."""
    driving = sum(leg.quarters for leg in trip.journey.legs if isinstance(leg, Drive))
    rules = trip.rules
    for driver in trip.drivers:
        week = driver.week + driving
        if week > rules.drive_week or week + driver.week_before > rules.drive_fortnight:
            return rules
    return replace(rules, drive_week=NEVER, drive_fortnight=NEVER)


def _capped(trip: Trip, by: int) -> int:
    """Give the quarter by which to arrive, no later than a weekly rest has to begin."""
    ended = [each.weekly_rest_ended for each in trip.drivers]
    after = trip.rules.weekly_rest_after
    return min([by, *(floor_quarter(each) + after for each in ended if each is not None)])
