"""The search against a plain one on small journeys, and each itinerary against the replay."""

from datetime import datetime, timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip, departures, earliest_arrival, latest_departure
from tests.shared.road.plain.crew import quarter_of
from tests.shared.road.plain.walk import Walk
from tests.shared.road.small_worlds import short_world, small_world

QUARTER = timedelta(minutes=15)
HORIZON = timedelta(hours=30)
PLAIN = 26


def plain_arrival(trip: Trip, leaves: datetime, quarters: int) -> int | None:
    first = quarter_of(leaves)
    walk = Walk(trip.journey, trip.drivers, trip.rules, (first, first + quarters))
    return walk.arrival(first)


@pytest.mark.parametrize("number", range(10))
def test_the_search_arrives_when_the_plain_one_does(number: int) -> None:
    trip, leaves = short_world(number)

    found = earliest_arrival(trip, leaves, longest=PLAIN * QUARTER)

    plain = plain_arrival(trip, leaves, PLAIN)
    assert (None if found is None else quarter_of(found.arrival)) == plain


@pytest.mark.parametrize("number", range(0, 12, 3))
def test_the_set_of_departures_is_that_of_the_plain_search(number: int) -> None:
    trip, leaves = short_world(number)
    by = leaves + 20 * QUARTER

    found = departures(trip, by, longest=20 * QUARTER)

    asked = [leaves + n * QUARTER for n in range(20)]
    plain = [each for each in asked if plain_arrival(trip, each, quarter_of(by) - quarter_of(each))]
    assert [each for each in asked if any(s.start <= each < s.end for s in found)] == plain


@pytest.mark.parametrize("number", range(33))
def test_every_itinerary_passes_the_replay(number: int) -> None:
    trip, leaves = small_world(number)

    found = earliest_arrival(trip, leaves, longest=HORIZON)

    if found is not None:
        assert replay(trip.journey, trip.drivers, trip.rules, found) == ()


def test_enough_of_the_small_worlds_are_made_and_some_are_not() -> None:
    worlds = [small_world(number) for number in range(30)]

    made = sum(earliest_arrival(*each, longest=HORIZON) is not None for each in worlds)

    assert 12 <= made < 30


@pytest.mark.parametrize("number", range(0, 30, 3))
def test_no_later_departure_makes_it(number: int) -> None:
    """The latest departure against the arrival of each one after it."""
    journey, leaves = small_world(number)
    by = leaves + timedelta(hours=20)
    found = latest_departure(journey, by, longest=timedelta(hours=20))

    if found is not None:
        assert found.arrival <= by
        assert replay(journey.journey, journey.drivers, journey.rules, found) == ()
    departure = by - QUARTER
    while departure >= (leaves if found is None else found.departure + QUARTER):
        assert earliest_arrival(journey, departure, longest=by - departure) is None
        departure -= QUARTER
