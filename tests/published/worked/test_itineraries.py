"""The worked itineraries step by step: each is one best course, and the replay finds it sound."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip
from shared.road.itinerary import Doing, Itinerary, Stretch
from shared.road.legs import Ferry, Leg
from tests.published.worked.examples import Row, rows
from tests.published.worked.test_journeys import LATEST, channel, told

TURN = timedelta(hours=4, minutes=30)
STEPS = rows("journeys.steps")
JOURNEYS = list(dict.fromkeys(row["journey"] for row in STEPS))


def trip_of(journey: str) -> Trip:
    return channel("2027-03-20T18:30") if journey == "J04a" else LATEST[journey]


def itinerary_of(journey: str) -> Itinerary:
    """The steps as stretches, each on its leg; of two drivers each drives for four and a half."""
    asked = trip_of(journey)
    mine = [row for row in STEPS if row["journey"] == journey]
    found = tuple(_stretches(asked.journey.legs, mine))
    return Itinerary(stretches=tuple(_in_turns(found)) if len(asked.drivers) == 2 else found)


def _stretches(legs: Sequence[Leg], mine: list[Row]) -> Iterator[Stretch]:
    number, done, sailing = 0, timedelta(), None
    for row in mine:
        starts, ends = (datetime.fromisoformat(row[name]) for name in ("starts", "ends"))
        leg = legs[number]
        doing = _doing(row["doing"], aboard=sailing is not None)
        if isinstance(leg, Ferry) and doing is not Doing.REST and sailing is None:
            sailing = [each.departs for each in leg.sailings].index(ends)
        yield Stretch(doing=doing, leg=number, start=starts, end=ends, sailing=sailing)
        if doing is not Doing.REST:
            done += ends - starts
        if _is_over(leg, doing, done):
            number, done, sailing = number + 1, timedelta(), None


def _doing(name: str, *, aboard: bool) -> Doing:
    if name != "in_rest":
        return Doing(name)
    return Doing.LAND_IN_REST if aboard else Doing.BOARD_IN_REST


def _is_over(leg: Leg, doing: Doing, done: timedelta) -> bool:
    if isinstance(leg, Ferry):
        return doing in {Doing.LAND, Doing.LAND_IN_REST}
    return done == timedelta(minutes=15 * leg.quarters)


def _in_turns(stretches: Sequence[Stretch]) -> Iterator[Stretch]:
    (whole,) = stretches
    now, wheel = whole.start, 1
    while now < whole.end:
        until = min(whole.end, now + TURN)
        yield Stretch(doing=whole.doing, leg=whole.leg, start=now, end=until, wheel=wheel)
        now, wheel = until, 3 - wheel


@pytest.mark.parametrize("journey", JOURNEYS)
def test_every_step_of_a_worked_itinerary_is_legal(journey: str) -> None:
    asked, found = trip_of(journey), itinerary_of(journey)

    assert replay(asked.journey, asked.drivers, asked.rules, found) == ()
    assert found.departure == told().get((journey, "departs"), told().get((journey, "leaves")))
    if (journey, "arrives") in told():
        assert found.arrival == told()[journey, "arrives"]


@pytest.mark.parametrize("journey", JOURNEYS)
def test_no_step_can_be_left_out(journey: str) -> None:
    """What the replay calls sound is not everything: with a step out there is a gap."""
    asked, found = trip_of(journey), itinerary_of(journey)
    if len(found.stretches) < 3:
        pytest.skip("one stretch, and nothing to leave out between two others")
    short = Itinerary(stretches=(*found.stretches[:1], *found.stretches[2:]))

    assert replay(asked.journey, asked.drivers, asked.rules, short) != ()
