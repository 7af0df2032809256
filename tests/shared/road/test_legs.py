"""Legs that stand, that are done whole, a goal before the end, watching and keeping."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import (
    Trip,
    departures,
    earliest_arrival,
    forget,
    latest_departure,
)
from shared.road.driver import Driver
from shared.road.itinerary import Doing, Itinerary
from shared.road.law import Need
from shared.road.laws import WrongCrew, law_of
from shared.road.legs import Journey, Leg, NoJourney, Stand, Work
from shared.road.quarters import floor_quarter
from shared.road.rules import one_driver
from shared.worktime import Span
from tests.shared.road.small_worlds import short_world, small_world
from tests.shared.road.trips import LONDON, at, drive, trip, work

SIX = at(LONDON, "2027-03-15T06:00")
MONDAY = Driver(as_of=SIX)
QUARTER = timedelta(minutes=15)


def stretches(found: Itinerary | None) -> list[tuple[Doing, int, int]]:
    """What is done on which leg for how many quarters."""
    assert found is not None
    return [(each.doing, each.leg, (each.end - each.start) // QUARTER) for each in found.stretches]


def whole(quarters: int, *openings: tuple[str, str]) -> Work:
    return replace(work(quarters, LONDON, *openings), whole=True)


def towards(goal: int, *legs: Leg) -> Trip:
    return Trip(journey=Journey(legs=legs, goal=goal), drivers=(MONDAY,), rules=one_driver())


def test_what_stands_is_a_rest_for_whoever_waits() -> None:
    """Forty-five minutes of it are the break, Art. 7; it begins when the leg before ends."""
    found = earliest_arrival(trip(MONDAY, drive(18), Stand(quarters=3), drive(18)), SIX)

    assert stretches(found) == [(Doing.DRIVE, 0, 18), (Doing.STAND, 1, 3), (Doing.DRIVE, 2, 18)]


def test_a_night_that_something_stands_is_a_daily_rest() -> None:
    used = Driver(as_of=SIX, reductions=3, extensions=2)
    cures = trip(used, drive(36), Stand(quarters=44), drive(18))

    found = earliest_arrival(cures, SIX)

    assert found is not None
    assert found.arrival - SIX == (36 + 3 + 44 + 18) * QUARTER
    assert replay(cures.journey, cures.drivers, cures.rules, found) == ()


def test_what_is_done_whole_waits_for_an_opening_that_holds_it() -> None:
    short, long = ("2027-03-15T08:00", "2027-03-15T09:00"), ("2027-03-15T11:00", "2027-03-15T13:00")

    pieces = earliest_arrival(trip(MONDAY, drive(4), work(6, LONDON, short, long)), SIX)
    once = earliest_arrival(trip(MONDAY, drive(4), whole(6, short, long)), SIX)

    assert pieces is not None
    assert pieces.arrival == at(LONDON, "2027-03-15T11:30")
    assert once is not None
    assert once.arrival == at(LONDON, "2027-03-15T12:30")
    assert latest_departure(trip(MONDAY, whole(5, short)), at(LONDON, "2027-03-16T00:00")) is None


def test_slots_that_touch_are_not_one_opening() -> None:
    slots = (("2027-03-15T08:00", "2027-03-15T09:00"), ("2027-03-15T09:00", "2027-03-15T12:00"))

    pieces = earliest_arrival(trip(MONDAY, drive(9), work(4, LONDON, *slots)), SIX)
    once = earliest_arrival(trip(MONDAY, drive(9), whole(4, *slots)), SIX)

    assert pieces is not None
    assert pieces.arrival == at(LONDON, "2027-03-15T09:15")
    assert once is not None
    assert once.arrival == at(LONDON, "2027-03-15T10:00")


def test_the_goal_is_what_has_to_be_there_in_time() -> None:
    by = at(LONDON, "2027-03-15T12:00")
    legs = (drive(8), work(2), work(4, LONDON, ("2027-03-15T15:00", "2027-03-15T18:00")))

    found = latest_departure(towards(2, *legs), by)

    assert found is not None
    assert found.departure == by - 10 * QUARTER
    assert found.arrival == at(LONDON, "2027-03-15T16:00")
    assert latest_departure(trip(MONDAY, *legs), by, longest=timedelta(days=1)) is None
    assert departures(towards(2, *legs), by, longest=timedelta(hours=4)) == (
        Span(start=by - timedelta(hours=4), end=by - 9 * QUARTER),
    )


def test_who_is_late_reaches_the_goal_first_and_then_the_end() -> None:
    legs = (drive(20), work(2), drive(17))

    found = earliest_arrival(towards(2, *legs), SIX)

    assert found is not None
    assert found.stretches[-1].leg == 2
    reached = max(each.end for each in found.stretches if each.leg == 1)
    assert reached - SIX == (20 + 3 + 2) * QUARTER


def test_the_goal_is_reached_first_even_where_the_end_comes_later_for_it() -> None:
    """Half an hour at the shut gate is a part of a break; a quarter more would be all, Art. 7."""
    gate = work(1, LONDON, ("2027-03-15T08:30", "2027-03-15T12:00"))
    legs = (drive(8), gate, drive(18))

    found = earliest_arrival(towards(2, *legs), SIX)

    there, end = SIX + 11 * QUARTER, SIX + (11 + 18 + 2) * QUARTER
    assert found is not None
    assert max(each.end for each in found.stretches if each.leg == 1) == there
    assert found.arrival == end
    over_first = earliest_arrival(trip(MONDAY, *legs), SIX)
    assert over_first is not None
    assert over_first.arrival == end - QUARTER


def test_a_goal_at_the_end_is_the_end() -> None:
    assert earliest_arrival(towards(1, drive(4)), SIX) == earliest_arrival(
        trip(MONDAY, drive(4)), SIX
    )


def test_a_goal_beyond_the_last_leg_is_refused() -> None:
    with pytest.raises(NoJourney):
        Journey(legs=(drive(4),), goal=2)


class _Enough(Exception):  # noqa: N818 - it says what happened
    pass


def test_a_search_is_watched_and_stops_when_the_watcher_raises() -> None:
    forget()
    long = trip(replace(MONDAY, reductions=3), drive(60), work(8), drive(60))
    told: list[tuple[int, int]] = []

    def watch(looked: int, of: int) -> None:
        told.append((looked, of))
        if len(told) == 3:
            raise _Enough

    with pytest.raises(_Enough):
        departures(long, at(LONDON, "2027-03-19T06:00"), longest=timedelta(days=4), watch=watch)
    assert all(0 < looked <= of == 4 * 96 for looked, of in told)
    # Every departure that is looked at in vain brings the end nearer.
    assert told == sorted(told)
    assert told[0] < told[-1]


def test_the_same_question_is_answered_from_what_was_found() -> None:
    forget()
    asked = trip(MONDAY, drive(40))
    by = at(LONDON, "2027-03-16T06:00")

    assert latest_departure(asked, by) is latest_departure(trip(MONDAY, drive(40)), by)


def test_rules_for_two_want_two() -> None:
    with pytest.raises(WrongCrew):
        law_of(one_driver(), (MONDAY, MONDAY))


@pytest.mark.parametrize("number", range(24))
def test_the_least_is_never_more_than_it_takes(number: int) -> None:
    """From each state of an itinerary on the rest of it takes as long as the bound, or longer."""
    drawn, leaves = small_world(number) if number % 2 else short_world(number)
    found = earliest_arrival(drawn, leaves, longest=timedelta(hours=30))
    if found is None:
        return
    law = law_of(drawn.rules, drawn.drivers)
    wheels = sum(
        (each.end - each.start) // QUARTER for each in found.stretches if each.doing is Doing.DRIVE
    )
    other = sum(
        (each.end - each.start) // QUARTER for each in found.stretches if each.doing is Doing.WORK
    )
    begun = law.begin(drawn.drivers, floor_quarter(found.departure))

    least = law.least(begun, Need(wheels, other, 0, 1))

    assert wheels + other <= least <= (found.arrival - found.departure) // QUARTER
