"""The search against the plain one, which shares no code with it, on worlds drawn by number."""

from collections import Counter

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import latest_departure
from shared.road.legs import Ferry, Stand
from tests.shared.road.drawn_worlds import drawn_world
from tests.shared.road.plain.walk import plain_latest

QUICK, ALL, BLOCK = 40, 500, 20


def assert_same(number: int) -> None:
    asked = drawn_world(number)
    trip = asked.trip

    plain = plain_latest(trip.journey, trip.drivers, trip.rules, asked.by, asked.longest)
    found = latest_departure(trip, asked.by, longest=asked.longest)

    assert (None if found is None else (found.departure, found.arrival)) == plain, number
    if found is not None:
        assert replay(trip.journey, trip.drivers, trip.rules, found) == (), number


@pytest.mark.parametrize("number", range(QUICK))
def test_the_latest_departure_is_that_of_the_plain_search(number: int) -> None:
    assert_same(number)


@pytest.mark.slow
@pytest.mark.parametrize("first", range(QUICK, ALL, BLOCK))
def test_the_latest_departure_is_that_of_the_plain_search_for_all(first: int) -> None:
    for number in range(first, min(ALL, first + BLOCK)):
        assert_same(number)


def test_the_worlds_have_everything_in_them() -> None:
    """One driver and two, vans, people on site; ferries, stands, whole work, bans, goals."""
    seen: Counter[str] = Counter()
    for number in range(ALL):
        trip = drawn_world(number).trip
        seen[trip.rules.id] += 1
        seen["lorry"] += trip.journey.lorry is not None
        for leg in trip.journey.legs:
            if isinstance(leg, Ferry):
                seen["bunk" if leg.bunk else "no bunk"] += 1
            seen["stand"] += isinstance(leg, Stand)
            seen["whole"] += getattr(leg, "whole", False)
        seen["goal"] += trip.journey.goal is not None
        seen["weekly rest"] += trip.rules.weekly_rest_after < 100
        seen["on duty"] += trip.drivers[0].clock > 0
        seen["rested"] += trip.drivers[0].clock < 0

    wanted = "drawn_alone drawn_together drawn_van drawn_site eu_one_driver eu_two_drivers lorry"
    for name in (
        *wanted.split(),
        "bunk",
        "no bunk",
        "stand",
        "goal",
        "whole",
        "weekly rest",
        "on duty",
    ):
        assert seen[name] >= 10, name


def test_some_of_the_first_worlds_are_made_and_some_are_not() -> None:
    made = 0
    for number in range(QUICK):
        asked = drawn_world(number)
        made += latest_departure(asked.trip, asked.by, longest=asked.longest) is not None

    assert QUICK // 4 <= made <= QUICK * 9 // 10
