"""Counting back the road: which departures make it to the gate in time, and the last of them.

Arrival does not grow with departure: who leaves earlier starts the duty clock earlier. So every
departure is asked for itself, never halved between two.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from shared.road.bounds import bound_of
from shared.road.driver import Driver
from shared.road.exact import exact_reach
from shared.road.fast import fast_reach
from shared.road.itinerary import Itinerary
from shared.road.laws import law_of
from shared.road.legs import Journey
from shared.road.quarters import QUARTER, ceil_quarter, floor_quarter, instant_of
from shared.road.rules import HoursRules
from shared.road.search import Label
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
    trip: Trip, departure: datetime, *, longest: timedelta = LONGEST
) -> Itinerary | None:
    """Give the itinerary that arrives first when the duty begins at `departure`, rounded up.

    None says that no legal one arrives within `longest`, or before a weekly rest has to begin.
    """
    first = ceil_quarter(departure)
    last = _capped(trip, floor_quarter(departure + longest))
    world = World(trip.journey, instant_of(first), instant_of(last))
    found = _first_label(trip, world, first, last)
    return None if found is None else itinerary_of(world, trip.rules, found, first)


def latest_departure(
    trip: Trip, site_by: datetime, *, longest: timedelta = LONGEST
) -> Itinerary | None:
    """Give the earliest arriving itinerary of the last departure that is at the gate by `site_by`.

    None is said only when the exact search or the road alone rules every departure out, back to
    `longest` before.
    """
    by = _capped(trip, floor_quarter(site_by))
    first = ceil_quarter(site_by - longest)
    world = World(trip.journey, instant_of(first), instant_of(max(by, first)))
    for departure in range(by - 1, first - 1, -1):
        if _makes_it(trip, world, departure, by):
            found = _first_label(trip, world, departure, by)
            return None if found is None else itinerary_of(world, trip.rules, found, departure)
    return None


def departures(trip: Trip, site_by: datetime, *, longest: timedelta = LONGEST) -> Spans:
    """Give all departures that are at the gate by `site_by`, as spans; there may be gaps.

    A departure on the grid stands for itself to the next one.
    """
    by = _capped(trip, floor_quarter(site_by))
    first = ceil_quarter(site_by - longest)
    world = World(trip.journey, instant_of(first), instant_of(max(by, first)))
    return union(
        Span(start=instant_of(each), end=instant_of(each) + QUARTER)
        for each in range(first, by)
        if _makes_it(trip, world, each, by)
    )


def _capped(trip: Trip, by: int) -> int:
    """Give the quarter by which to arrive, no later than a weekly rest has to begin."""
    ended = [each.weekly_rest_ended for each in trip.drivers]
    after = trip.rules.weekly_rest_after
    return min([by, *(floor_quarter(each) + after for each in ended if each is not None)])


def _makes_it(trip: Trip, world: World, departure: int, by: int) -> bool:
    where = world.entry(0, departure)
    if where is None or world.earliest(where, departure) > by:
        return False
    law = law_of(trip.rules, trip.drivers)
    state = law.begin(trip.drivers, departure)
    if bound_of(world, law)(world, where, state, departure) > by:
        return False
    if fast_reach(world, law, departure, state, by) is not None:
        return True
    return exact_reach(world, law, departure, state, by) is not None


def _first_label(trip: Trip, world: World, departure: int, by: int) -> Label | None:
    law = law_of(trip.rules, trip.drivers)
    state = law.begin(trip.drivers, departure)
    quick = fast_reach(world, law, departure, state, by)
    if quick is None:
        return exact_reach(world, law, departure, state, by)
    # Its waits lie where something is waited for, so it is told unless another arrives sooner.
    sooner = departure + _length(quick) - 1
    return exact_reach(world, law, departure, state, sooner) or quick


def _length(label: Label) -> int:
    """Give how many quarters lie behind a label."""
    quarters = 0
    while label.before is not None:
        quarters, label = quarters + 1, label.before
    return quarters
