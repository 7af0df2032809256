"""The searches against each other on small journeys, and each itinerary against the replay."""

from datetime import datetime, timedelta

import pytest

from scheduler.check.road import replay
from shared.road.countback import Trip, earliest_arrival, latest_departure
from shared.road.exact import exact_reach, plain_reach
from shared.road.fast import fast_reach
from shared.road.laws import law_of
from shared.road.quarters import floor_quarter, instant_of
from shared.road.search import Label
from shared.road.story import itinerary_of
from shared.road.world import World
from tests.shared.road.small_worlds import short_world, small_world

HORIZON = 4 * 30
PLAIN = 26


def length(label: Label | None) -> int | None:
    quarters = 0
    while label is not None and label.before is not None:
        quarters, label = quarters + 1, label.before
    return None if label is None else quarters


def opened(drawn: tuple[Trip, datetime], quarters: int) -> tuple[Trip, World, int]:
    journey, leaves = drawn
    first = floor_quarter(leaves)
    return journey, World(journey.journey, leaves, instant_of(first + quarters)), first


@pytest.mark.parametrize("number", range(25))
def test_the_exact_search_arrives_when_the_plain_one_does(number: int) -> None:
    journey, world, first = opened(short_world(number), PLAIN)
    law = law_of(journey.rules, journey.drivers)
    state = law.begin(journey.drivers, first)

    exact = exact_reach(world, law, first, state, first + PLAIN)
    plain = plain_reach(world, law, first, state, first + PLAIN)

    assert length(exact) == length(plain)


@pytest.mark.parametrize("number", range(33))
def test_every_itinerary_passes_the_replay(number: int) -> None:
    journey, world, first = opened(small_world(number), HORIZON)
    law = law_of(journey.rules, journey.drivers)
    state = law.begin(journey.drivers, first)
    fast = fast_reach(world, law, first, state, first + HORIZON)
    if fast is None:
        return

    exact = exact_reach(world, law, first, state, first + (length(fast) or 0))

    assert exact is not None, "what the fast search can do the exact one can"
    assert (length(exact) or 0) <= (length(fast) or 0)
    for found in (exact, fast):
        told = itinerary_of(world, journey.rules, found, first)
        assert replay(journey.journey, journey.drivers, journey.rules, told) == ()


def test_enough_of_the_small_worlds_are_made_and_some_are_not() -> None:
    made = 0
    for number in range(30):
        journey, world, first = opened(small_world(number), HORIZON)
        law = law_of(journey.rules, journey.drivers)
        state = law.begin(journey.drivers, first)
        made += fast_reach(world, law, first, state, first + HORIZON) is not None

    assert 12 <= made < 30


@pytest.mark.parametrize("number", range(0, 15, 3))
def test_no_later_departure_makes_it(number: int) -> None:
    """The latest departure against the arrival of each one after it."""
    journey, leaves = small_world(number)
    by = leaves + timedelta(hours=20)
    found = latest_departure(journey, by, longest=timedelta(hours=20))

    if found is not None:
        assert found.arrival <= by
        assert replay(journey.journey, journey.drivers, journey.rules, found) == ()
    departure = by - timedelta(minutes=15)
    while departure >= (leaves if found is None else found.departure + timedelta(minutes=15)):
        assert earliest_arrival(journey, departure, longest=by - departure) is None
        departure -= timedelta(minutes=15)
