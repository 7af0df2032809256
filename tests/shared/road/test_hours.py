"""A day, a rest and a ferry as Regulation (EC) 561/2006 has them, and what an itinerary tells."""

from datetime import timedelta
from operator import le

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import (
    Trouble,
    departures,
    earliest_arrival,
    latest_departure,
    trouble_of,
)
from shared.road.itinerary import Because, Doing
from shared.road.legs import Ferry, Journey, NoJourney, Sailing, Stand
from shared.road.quarters import floor_quarter
from shared.road.rules import gb_domestic, one_driver
from shared.road.state import RESTED, Driver, OneDriver, State
from tests.shared.road.trips import AMSTERDAM, LONDON, at, drive, ferry, trip, work

MONDAY = Driver(as_of=at(LONDON, "2027-03-15T06:00"))
SIX = at(LONDON, "2027-03-15T06:00")
SPENT = Driver(as_of=SIX, reductions=3, extensions=2)


@pytest.mark.parametrize(("quarters", "elapsed"), [(36, "9:45"), (40, "11:30")])
def test_a_day_at_the_wheel_lasts_as_long_as_its_breaks(quarters: int, elapsed: str) -> None:
    """Art. 7: nine hours hold one break of 45 minutes, ten hold two."""
    found = earliest_arrival(trip(MONDAY, drive(quarters)), SIX)

    hours, minutes = elapsed.split(":")
    assert found is not None
    assert found.arrival - SIX == timedelta(hours=int(hours), minutes=int(minutes))


def test_a_regular_rest_begins_within_thirteen_hours_and_ends_within_a_day() -> None:
    """Art. 8(2): duty from 06:00, so rest from 19:00 at the latest, till 06:00 on the next day."""
    law = OneDriver(one_driver())
    state = law.begin((SPENT,), floor_quarter(SIX))._replace(clock=13 * 4 - 1)

    (state,) = law.worked(state)
    assert state.clock == 13 * 4
    assert law.worked(state) == ()
    for _ in range(11 * 4 - 1):
        state = law.rested(state, sea_ahead=False)[0]
    assert state.clock == 24 * 4 - 1
    assert law.rested(state, sea_ahead=False)[0].clock == RESTED


def test_a_broken_ferry_rest_takes_an_hour_more() -> None:
    """Art. 9(1): eleven hours net with two interruptions of an hour in all end after twelve."""
    law = OneDriver(one_driver())
    state = law.begin((SPENT,), floor_quarter(SIX))._replace(clock=10, resting=43, broken=2, lost=4)
    other = state._replace(resting=42)

    assert law.rested(state, sea_ahead=False)[0].clock == RESTED
    assert law.rested(other, sea_ahead=False)[0].resting == 43
    assert law.driven(state) == (), "a broken rest has to be ended first"


def test_a_rest_is_broken_twice_and_for_an_hour_at_most() -> None:
    law = OneDriver(one_driver())
    state = law.begin((SPENT,), floor_quarter(SIX))._replace(clock=10, resting=8)

    assert law.interrupted(state) != ()
    assert law.interrupted(state._replace(broken=2, lost=2)) == ()
    assert law.interrupted(state._replace(broken=1, lost=4)) == ()
    assert law.interrupted(state._replace(resting=0)) == ()


@pytest.mark.parametrize(("first", "second", "may_drive"), [(1, 2, True), (2, 1, False)])
def test_a_split_break_is_fifteen_then_thirty(first: int, second: int, may_drive: bool) -> None:
    """Art. 7: the shorter part comes first."""
    law = OneDriver(one_driver())
    state = law.begin((MONDAY,), floor_quarter(SIX))._replace(unbroken=17, clock=17)

    ((_, state),) = law.driven(_rested(state, first))
    assert law.driven(state) == ()
    assert (law.driven(_rested(state, second)) != ()) == may_drive


def _rested(state: State, quarters: int) -> State:
    for _ in range(quarters):
        state = OneDriver(one_driver()).rested(state, sea_ahead=False)[0]
    return state


def test_a_split_rest_of_three_and_nine_hours_uses_up_no_reduction() -> None:
    """Art. 4(g): three hours at least, then nine."""
    law = OneDriver(one_driver())
    state = law.begin((MONDAY,), floor_quarter(SIX))._replace(clock=20, parted=1, resting=35)

    ended = law.rested(state, sea_ahead=False)[0]
    assert (ended.clock, ended.reductions) == (RESTED, 0)
    ended = law.rested(state._replace(parted=0), sea_ahead=False)[0]
    assert (ended.clock, ended.reductions) == (RESTED, 1)


def test_who_has_no_driving_left_this_week_waits_for_monday() -> None:
    """Art. 6(2): fixed weeks turn on Monday 00:00; the lorry leaves on Sunday with 2 h left."""
    tired = Driver(as_of=at(LONDON, "2027-03-14T12:00"), week=54 * 4)

    found = earliest_arrival(trip(tired, drive(12)), at(LONDON, "2027-03-14T20:00"))

    assert found is not None
    assert found.arrival == at(LONDON, "2027-03-15T01:00")
    waits = [each for each in found.stretches if each.doing is Doing.REST]
    assert (waits[-1].because, waits[-1].rule) == (Because.WEEK, "DR03a")
    assert waits[-1].end == at(LONDON, "2027-03-15T00:00")


def test_ninety_hours_in_two_weeks_are_the_end() -> None:
    tired = Driver(as_of=SIX, week=34 * 4 - 4, week_before=56 * 4)

    assert earliest_arrival(trip(tired, drive(4)), SIX) is not None
    assert earliest_arrival(trip(tired, drive(5)), SIX, longest=timedelta(days=2)) is None


@pytest.mark.parametrize(("before", "arrives"), [(55 * 4, True), (55 * 4 + 1, False)])
def test_who_has_not_driven_yet_this_week_has_what_the_one_before_leaves(
    before: int, *, arrives: bool
) -> None:
    """Art. 6(3): thirty-five hours at the wheel from Monday morning on, of ninety in two weeks."""
    rested = Driver(as_of=SIX, week_before=before)
    found = earliest_arrival(trip(rested, drive(35 * 4)), SIX, longest=timedelta(days=4))

    assert (found is not None) == arrives


@pytest.mark.parametrize(
    ("told", "week", "drives"),
    [
        ("2027-03-14T23:45", 34 * 4 - 1, True),
        ("2027-03-14T23:45", 34 * 4, False),
        # Two Mondays later it is no longer the week before.
        ("2027-03-07T23:45", 34 * 4, True),
    ],
)
def test_what_was_driven_in_the_week_before_is_of_the_ninety_hours(
    told: str, week: int, *, drives: bool
) -> None:
    """Arts 4(i), 6(3): any two consecutive weeks, from Monday 00:00 to Sunday 24:00."""
    law = OneDriver(one_driver())
    driver = Driver(as_of=at(LONDON, told), week=56 * 4)

    state = law.begin((driver,), floor_quarter(SIX))._replace(week=week)

    assert bool(law.driven(state)) == drives


def test_a_weekly_rest_that_comes_due_is_had_on_the_way() -> None:
    """Art. 8(6): 45 hours, begun no later than 144 hours after the last one ended."""
    due = Driver(as_of=SIX, weekly_rest_ended=at(LONDON, "2027-03-09T09:00"))

    short = earliest_arrival(trip(due, drive(12)), SIX)
    longer = earliest_arrival(trip(due, drive(13)), SIX)

    assert short is not None
    assert short.arrival - SIX == timedelta(hours=3)
    assert longer is not None
    assert longer.arrival - SIX == timedelta(hours=45, minutes=3 * 60 + 15)
    waits = [each for each in longer.stretches if each.doing is Doing.REST]
    assert [(each.because, each.end - each.start) for each in waits] == [
        (Because.WEEKLY_REST, timedelta(hours=45))
    ]
    assert replay(trip(due, drive(13)).journey, (due,), one_driver(), longer) == ()


def test_a_weekly_rest_for_which_there_is_no_time_is_said() -> None:
    due = Driver(as_of=SIX, weekly_rest_ended=at(LONDON, "2027-03-09T09:00"))
    noon = at(LONDON, "2027-03-15T12:00")
    six = timedelta(hours=6)

    assert trouble_of(trip(due, drive(12)), noon, longest=six) is None
    assert latest_departure(trip(due, drive(13)), noon, longest=six) is None
    assert trouble_of(trip(due, drive(13)), noon, longest=six) is Trouble.WEEKLY_REST_DUE
    assert trouble_of(trip(due, drive(200)), noon, longest=six) is Trouble.NO_DEPARTURE


def test_a_weekly_rest_in_a_long_wait_gives_reduced_rests_anew() -> None:
    """Art. 8(4): three reduced daily rests between two weekly ones."""
    office = work(1, LONDON, ("2027-03-17T08:00", "2027-03-17T08:15"))
    legs = (drive(4), office, drive(76))
    used = Driver(as_of=SIX, reductions=3, extensions=2)

    found = earliest_arrival(trip(used, *legs), SIX)

    assert found is not None
    opened = at(LONDON, "2027-03-17T08:15")
    # Two days of nine hours and one of one, three breaks, two nights of nine hours.
    assert found.arrival - opened == timedelta(minutes=15 * (76 + 2 * 3 + 2 * 36))
    assert replay(trip(used, *legs).journey, (used,), one_driver(), found) == ()


def test_what_cures_for_a_weekend_is_a_weekly_rest() -> None:
    """Arts 4(h), 8(4): whoever is not needed for 46 hours has three reduced rests again."""
    legs = (drive(4), Stand(quarters=46 * 4), drive(40))
    used = Driver(as_of=SIX, reductions=3, extensions=2)

    found = earliest_arrival(trip(used, *legs), SIX, longest=timedelta(days=4))

    assert found is not None
    # Nine hours with a break, a night of nine and not of eleven hours, and the tenth hour.
    assert found.arrival - SIX == timedelta(hours=1 + 46 + 10 + 9, minutes=45)
    assert replay(trip(used, *legs).journey, (used,), one_driver(), found) == ()


@pytest.mark.parametrize("stands", [180, 197])
def test_a_weekly_rest_gives_reduced_rests_anew_however_long_it_lasts(stands: int) -> None:
    """Art. 8(4): of three reduced rests one is left, and after 45 hours there are three again."""
    legs = (drive(36), Stand(quarters=stands), drive(108))
    used = Driver(as_of=SIX, reductions=2, extensions=2)

    found = earliest_arrival(trip(used, *legs), SIX, longest=timedelta(hours=140))

    assert found is not None
    # A break on each of four days, and two nights of nine hours.
    assert (found.arrival - SIX) / timedelta(minutes=15) == 36 + stands + 108 + 4 * 3 + 2 * 36


def test_of_one_driver_alone_nobody_has_to_be_told_who_drives() -> None:
    """A night in the lane, at sea and on the quay: of eleven hours not one may be spared."""
    ship = ferry((at(LONDON, "2027-03-15T22:00"), at(AMSTERDAM, "2027-03-16T08:30")), cut_off=15)
    legs = (drive(16), ship, drive(36, "NL"))

    found = earliest_arrival(trip(SPENT, *legs), at(LONDON, "2027-03-15T16:30"))

    assert found is not None
    assert {(each.doing, each.wheel) for each in found.stretches} == {
        (Doing.DRIVE, 0),
        (Doing.REST, 0),
        (Doing.BOARD_IN_REST, 0),
        (Doing.SEA_REST, 0),
        (Doing.LAND_IN_REST, 0),
    }


def test_each_wait_names_what_it_waits_for() -> None:
    opening = ("2027-03-15T13:00", "2027-03-15T14:00")
    ship = ferry((at(LONDON, "2027-03-15T20:00"), at(AMSTERDAM, "2027-03-16T08:00")))
    found = earliest_arrival(
        trip(MONDAY, drive(20), work(4, LONDON, opening), ship, drive(30, "NL")), SIX
    )

    assert found is not None
    waits = [(each.because, each.rule) for each in found.stretches if each.doing is Doing.REST]
    assert (Because.BREAK, "DR01b") in waits
    assert (Because.CLOSED, "") in waits
    assert (Because.SAILING, "") in waits
    assert all((each.because is not None) == (each.doing is Doing.REST) for each in found.stretches)


def test_a_van_has_ten_hours_of_driving_and_eleven_of_duty() -> None:
    """Transport Act 1968 s. 96; the night's eleven hours are those of workers."""
    van = trip(MONDAY, drive(20), work(24), rules=gb_domestic())
    longer = trip(MONDAY, drive(20), work(25), rules=gb_domestic())

    short = earliest_arrival(van, SIX)
    long = earliest_arrival(longer, SIX)

    assert short is not None
    assert long is not None
    assert short.arrival - SIX == timedelta(hours=12)
    assert long.arrival - SIX > timedelta(hours=22)
    assert any(each.rule == "DR15a" for each in long.stretches)
    assert replay(van.journey, van.drivers, van.rules, short) == ()


def test_a_missed_sailing_is_no_departure() -> None:
    ship = ferry((at(LONDON, "2027-03-15T20:00"), at(AMSTERDAM, "2027-03-16T08:00")))

    assert (
        earliest_arrival(trip(MONDAY, ship, drive(4, "NL")), at(LONDON, "2027-03-15T19:15")) is None
    )
    assert departures(trip(MONDAY, drive(4)), SIX, longest=timedelta(minutes=30)) == ()


def test_legs_without_length_or_order_are_refused() -> None:
    noon, night = at(LONDON, "2027-03-15T12:00"), at(LONDON, "2027-03-15T23:00")
    odd = Sailing(departs=noon, arrives=noon + timedelta(minutes=20))
    nothing = Ferry(sailings=(), cut_off=timedelta(0), bunk=False)

    for leg in (
        drive(0),
        nothing,
        ferry((night, night + timedelta(hours=1)), (noon, night)),
        ferry((night, noon)),
        Ferry(sailings=(odd,), cut_off=timedelta(0), bunk=False),
    ):
        with pytest.raises(NoJourney):
            Journey(legs=(leg,))


def no_worse(law: OneDriver, a: State, b: State, *, sea_ahead: bool) -> bool:
    ranks = (law.rank(each, sea_ahead=sea_ahead) for each in (a, b))
    return all(map(le, *ranks))


def test_who_has_begun_a_long_duty_has_paid_for_it() -> None:
    """A long duty already counted asks for none of the next week's, should that begin in it."""
    law = OneDriver(one_driver())
    fresh = law.begin((MONDAY,), floor_quarter(SIX))
    nine = fresh._replace(driven=36, extensions=1)
    more = fresh._replace(driven=38, extensions=1)

    assert not no_worse(law, nine, more, sea_ahead=False)
    assert not no_worse(law, nine._replace(extensions=0), more, sea_ahead=False)
    assert no_worse(law, more._replace(extensions=0), more, sea_ahead=False)
    assert not no_worse(law, more, nine, sea_ahead=False)


def test_with_a_ferry_ahead_an_ended_rest_is_not_better_than_one_that_runs() -> None:
    """Art. 9(1): only a rest that still runs may be broken by boarding."""
    law = OneDriver(one_driver())
    runs = law.begin((MONDAY,), floor_quarter(SIX))
    ended = runs._replace(clock=RESTED)

    assert no_worse(law, ended, runs, sea_ahead=False)
    assert not no_worse(law, ended, runs, sea_ahead=True)
