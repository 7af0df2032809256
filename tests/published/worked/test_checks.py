"""Small worked checks of drivers' hours: how long a day is, when a rest is due, a ban at a port."""

from datetime import timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip, earliest_arrival
from shared.road.driver import Driver
from shared.road.itinerary import Doing, Itinerary, Stretch
from shared.road.legs import Ferry, Sailing
from shared.road.quarters import floor_quarter
from shared.road.rules import one_driver
from shared.road.state import RESTED, OneDriver
from tests.shared.road.trips import AMSTERDAM, HEAVY, LONDON, PARIS, at, drive, ferry, trip, work

SIX = at(LONDON, "2027-03-15T06:00")
FRESH = Driver(as_of=SIX)
SPENT = Driver(as_of=SIX, reductions=3, extensions=2)
QUARTER = timedelta(minutes=15)


def first(asked: Trip, leaves: str = "2027-03-15T06:00") -> Itinerary:
    found = earliest_arrival(asked, at(LONDON, leaves))
    assert found is not None
    assert replay(asked.journey, asked.drivers, asked.rules, found) == ()
    return found


@pytest.mark.parametrize(
    ("hours", "ends", "breaks"), [(9, "15:45", 1), (10, "17:30", 2)], ids=["nine", "ten"]
)
def test_nine_and_ten_hours_at_the_wheel_from_six(hours: int, ends: str, breaks: int) -> None:
    """Regulation (EC) 561/2006 Arts 6(1) and 7: 45 minutes after each four and a half hours."""
    found = first(trip(FRESH, drive(4 * hours)))

    assert found.arrival == at(LONDON, f"2027-03-15T{ends}")
    rests = [each.end - each.start for each in found.stretches if each.doing is Doing.REST]
    assert sum(rests, timedelta()) == breaks * timedelta(minutes=45)


def test_after_a_rest_that_ended_at_six_the_next_begins_by_nineteen_and_ends_by_six() -> None:
    """Art. 8(2), the regular rest: thirteen hours of duty and eleven of rest make a day."""
    day = first(trip(SPENT, work(13), drive(36)))
    night = first(trip(SPENT, work(13), drive(40)))

    assert day.arrival == at(LONDON, "2027-03-15T19:00"), "the last quarter that there is"
    assert night.arrival == at(LONDON, "2027-03-16T07:00")
    rest = max(night.stretches, key=lambda each: each.end - each.start)
    assert rest.end - rest.start >= timedelta(hours=11)
    assert rest.start <= at(LONDON, "2027-03-15T19:00")
    assert rest.end <= at(LONDON, "2027-03-16T06:00")


def test_a_ferry_rest_with_two_breaks_of_half_an_hour_takes_twelve_hours() -> None:
    """Art. 9(1): eleven hours net, an hour of breaks in all, from the first stop to the end."""
    law = OneDriver(one_driver())
    state = law.begin((SPENT,), floor_quarter(SIX))._replace(clock=40, broken=2, lost=4)
    gone = 4
    while state.clock != RESTED:
        gone += 1
        state = law.rested(state, sea_ahead=False)[0]

    assert gone * QUARTER == timedelta(hours=12)


def test_a_ferry_rest_of_two_quarters_is_eleven_hours_and_a_half_from_the_lane() -> None:
    """The same on the road: boarding and landing take a quarter each."""
    ship = (at(LONDON, "2027-03-15T20:00"), at(AMSTERDAM, "2027-03-16T06:00"))
    found = first(
        trip(SPENT, drive(34), ferry(ship, cut_off=30), drive(8, "NL")), "2027-03-15T10:00"
    )

    lane = next(each for each in found.stretches if each.leg == 1)
    leaves = next(each for each in found.stretches if each.leg == 2 and each.doing is Doing.DRIVE)
    broken = {Doing.BOARD_IN_REST, Doing.LAND_IN_REST}
    assert broken <= {each.doing for each in found.stretches}
    assert leaves.start - lane.start == timedelta(hours=11, minutes=30)


def test_landed_at_calais_on_saturday_at_nine_there_is_an_hour_of_road() -> None:
    """French order of 16 April 2021: from Saturday 22:00 to Sunday 22:00, more than 7.5 t."""
    quay = at(PARIS, "2027-03-20T21:00")
    asked = trip(Driver(as_of=quay), drive(20, "FR"), lorry=HEAVY)

    found = first(
        asked, quay.astimezone(at(LONDON, "2027-03-20").tzinfo).strftime("%Y-%m-%dT%H:%M")
    )

    drives = [each for each in found.stretches if each.doing is Doing.DRIVE]
    assert drives[0].end - drives[0].start == timedelta(hours=1)
    assert drives[0].end == at(PARIS, "2027-03-20T22:00")
    assert drives[1].start == at(PARIS, "2027-03-21T22:00")


def test_the_replay_counts_a_ferry_rest_in_the_same_way() -> None:
    """A quarter in the lane, ten hours at sea, and forty-five minutes on the quay."""
    sails, lands = at(LONDON, "2027-03-15T20:00"), at(LONDON, "2027-03-16T06:00")
    ship = Ferry(
        sailings=(Sailing(departs=sails, arrives=lands),), cut_off=timedelta(minutes=30), bunk=True
    )
    asked = trip(SPENT, ship, drive(4))
    for quay, sound in ((3, True), (2, False)):
        stretches, now, parts = [], sails - 2 * QUARTER, _crossing(quay)
        for doing, leg, quarters in parts:
            end = now + quarters * QUARTER
            on_ship = leg == 0 and doing is not Doing.REST
            stretches.append(
                Stretch(doing=doing, leg=leg, start=now, end=end, sailing=0 if on_ship else None)
            )
            now = end
        found = replay(
            asked.journey, asked.drivers, asked.rules, Itinerary(stretches=tuple(stretches))
        )
        assert (found == ()) == sound, found


def _crossing(quay: int) -> list[tuple[Doing, int, int]]:
    return [
        (Doing.REST, 0, 1),
        (Doing.BOARD_IN_REST, 0, 1),
        (Doing.SEA_REST, 0, 40),
        (Doing.LAND_IN_REST, 0, 1),
        (Doing.REST, 1, quay),
        (Doing.DRIVE, 1, 4),
    ]
