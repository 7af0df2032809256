"""Two drivers as Regulation (EC) 561/2006 Arts 7 and 8(5) have them, and their bound and order."""

from dataclasses import replace
from datetime import timedelta
from random import Random

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip, earliest_arrival
from shared.road.driver import Driver
from shared.road.itinerary import Doing, Itinerary
from shared.road.law import Need
from shared.road.laws import WrongCrew, law_of
from shared.road.legs import Journey, Leg
from shared.road.quarters import floor_quarter
from shared.road.rules import HoursRules, one_driver, rule_set
from shared.road.two import RESTED, Pair, TwoDrivers, UnequalRests
from tests.shared.road.drawn_worlds import KINDS
from tests.shared.road.plain.crew import quarter_of
from tests.shared.road.plain.walk import Walk
from tests.shared.road.trips import LONDON, at, drive, ferry, work

SIX = at(LONDON, "2027-04-12T06:00")
FRESH = Driver(as_of=SIX)
RULES = rule_set("eu_two_drivers")
LAW = TwoDrivers(RULES)


def pair(*legs: Leg, drivers: tuple[Driver, Driver] = (FRESH, FRESH)) -> Trip:
    return Trip(journey=Journey(legs=legs), drivers=drivers, rules=RULES)


def first(asked: Trip) -> Itinerary:
    found = earliest_arrival(asked, SIX, longest=timedelta(days=4))
    assert found is not None
    assert replay(asked.journey, asked.drivers, asked.rules, found) == ()
    return found


def begun(**of_first: int) -> Pair:
    state = LAW.begin((FRESH, FRESH), floor_quarter(SIX))
    return state._replace(first=state.first._replace(**of_first))


def test_eighteen_hours_go_without_a_stop_and_each_drives_nine() -> None:
    found = first(pair(drive(72)))

    assert found.arrival - SIX == timedelta(hours=18)
    assert {each.doing for each in found.stretches} == {Doing.DRIVE}
    for wheel in (1, 2):
        mine = [each.end - each.start for each in found.stretches if each.wheel == wheel]
        assert sum(mine, timedelta()) == timedelta(hours=9)
        assert max(mine) <= timedelta(hours=4, minutes=30)


def test_twenty_hours_are_two_long_days_and_more_asks_for_nine_hours_of_rest() -> None:
    """Art. 6(1): ten hours each; Art. 8(5): nine hours of rest of both within thirty."""
    assert first(pair(drive(80))).arrival - SIX == timedelta(hours=20)
    assert first(pair(drive(81))).arrival - SIX == timedelta(hours=29, minutes=15)


def test_each_driver_has_their_own_long_days_and_week() -> None:
    used = replace(FRESH, extensions=2)
    spent = replace(FRESH, week=224)

    assert first(pair(drive(76), drivers=(FRESH, used))).arrival - SIX == timedelta(hours=19)
    assert first(pair(drive(77), drivers=(FRESH, used))).arrival - SIX > timedelta(hours=28)
    alone = first(pair(drive(36), drivers=(spent, FRESH)))
    assert {each.wheel for each in alone.stretches if each.doing is Doing.DRIVE} == {2}


def test_every_quarter_at_the_wheel_is_of_the_fifty_six_hours_of_who_drives() -> None:
    """Art. 6(2): one more is left of the first driver's week, none after it."""
    law = TwoDrivers(RULES)
    state = begun(week=56 * 4 - 1)
    state = next(new for wheel, new in law.driven(state) if wheel == 1)

    assert {wheel for wheel, _ in law.driven(state)} == {2}


@pytest.mark.parametrize(("rides", "free"), [(2, False), (3, True)])
def test_three_quarters_beside_the_other_are_a_break_and_less_is_none(
    rides: int, *, free: bool
) -> None:
    """Art. 7 as amended in 2020: forty-five minutes in a moving vehicle, with nothing to do."""
    state = begun(unbroken=18, driven=18, worked=18, labour=18)
    for _ in range(rides):
        state = next(new for wheel, new in LAW.driven(state) if wheel == 2)

    assert (1 in {wheel for wheel, _ in LAW.driven(state)}) == free


def test_a_stop_ends_the_run_beside_the_other() -> None:
    """Half an hour riding, a quarter at a stand and a quarter riding are no break of 45 minutes."""
    state = begun(unbroken=18, driven=18, worked=18, labour=18)
    for _ in range(2):
        state = next(new for wheel, new in LAW.driven(state) if wheel == 2)
    (state,) = LAW.rested(state, sea_ahead=False)
    state = next(new for wheel, new in LAW.driven(state) if wheel == 2)

    assert 1 not in {wheel for wheel, _ in LAW.driven(state)}


def test_of_two_that_are_alike_the_first_named_drives_first() -> None:
    """Common practice, no source."""
    assert {wheel for wheel, _ in LAW.driven(begun())} == {1}
    assert first(pair(drive(18))).stretches[0].wheel == 1


def test_other_work_is_done_by_both() -> None:
    (state,) = LAW.worked(begun())

    assert (state.first.worked, state.second.worked) == (1, 1)
    found = first(pair(work(25)))
    assert found.arrival - SIX == timedelta(hours=6, minutes=45), "both need half an hour"


def test_a_rest_is_complete_within_thirty_hours() -> None:
    """Twenty-one hours of other things, then nine of rest."""
    state = begun()._replace(clock=84 - 1)
    (state,) = LAW.worked(state)

    assert LAW.worked(state) == ()
    for _ in range(35):
        (state,) = LAW.rested(state, sea_ahead=False)
    assert [each.clock for each in LAW.rested(state, sea_ahead=False)] == [RESTED]


def test_a_rest_that_a_ferry_breaks_is_eleven_hours() -> None:
    """Art. 9(1): of a regular daily rest only, with two breaks of an hour in all."""
    state = begun()._replace(clock=40, resting=35, broken=1, lost=1)

    assert all(each.clock != RESTED for each in LAW.rested(state, sea_ahead=False))
    longer = state._replace(resting=43)
    assert [each.clock for each in LAW.rested(longer, sea_ahead=False)] == [RESTED]


def test_a_night_at_sea_rests_two_and_they_drive_on_from_the_quay() -> None:
    ship = ferry((at(LONDON, "2027-04-12T22:00"), at(LONDON, "2027-04-13T07:30")))

    found = first(pair(drive(48), ship, drive(72)))

    assert found.arrival == at(LONDON, "2027-04-14T01:45")


def test_where_breaks_are_missing_a_long_wait_goes_on_as_a_break() -> None:
    """Directive 2002/15/EC Art. 5(1): more than six hours of work ask for half an hour.

    A quarter of it is all that fits before the gate shuts, so nobody's duty may end yet; it lasts
    till the next gate opens, within the thirty hours. Common reading, no source.
    """
    first_gate = work(25, LONDON, ("2027-04-12T06:00", "2027-04-12T12:30"))
    next_gate = work(4, LONDON, ("2027-04-12T22:30", "2027-04-12T23:30"))

    assert first(pair(first_gate, next_gate)).arrival == at(LONDON, "2027-04-12T23:30")


def test_rules_for_one_or_with_a_reduced_rest_are_refused() -> None:
    with pytest.raises(WrongCrew):
        law_of(RULES, (FRESH,))
    with pytest.raises(WrongCrew):
        law_of(one_driver(), (FRESH, FRESH))
    with pytest.raises(UnequalRests):
        TwoDrivers(replace(one_driver(), drivers=2))


def walked(draw: Random, law: TwoDrivers, quarters: int) -> list[Pair]:
    """The states of one random course; empty where it comes to an end."""
    crew = tuple(
        replace(FRESH, extensions=draw.randrange(0, 3), week=draw.randrange(0, 4)) for _ in "ab"
    )
    states = [law.begin(crew, floor_quarter(SIX))]
    for _ in range(quarters):
        news = [each for _, each in law.driven(states[-1])]
        news += law.worked(states[-1]) if draw.random() < 0.3 else ()
        news += law.rested(states[-1], sea_ahead=False) if draw.random() < 0.5 else ()
        if not news:
            break
        states.append(draw.choice(news))
    return states


def drawn_rules(draw: Random) -> HoursRules:
    rules, _ = KINDS[3](draw)
    return replace(rules, weekly_rest_after=10**9)


def shortest(law: TwoDrivers, state: Pair, driving: int, most: int) -> int | None:
    """In how many quarters so much can be driven from a state, with rests where they are best."""
    layer = {(state, driving)}
    for quarters in range(most):
        if any(left == 0 for _, left in layer):
            return quarters
        layer = {
            (new, left) for each, left in layer for new in law.rested(each, sea_ahead=False)
        } | {(new, left - 1) for each, left in layer for _, new in law.driven(each)}
    return None


@pytest.mark.parametrize("number", range(40))
def test_no_course_is_shorter_than_the_bound(number: int) -> None:
    draw = Random(number)
    law = TwoDrivers(drawn_rules(draw))
    state = draw.choice(walked(draw, law, 8))
    driving = draw.randrange(1, 9)

    found = shortest(law, state, driving, 14)

    if found is not None:
        assert law.least(state, Need(driving, 0, 0, 0)) <= found


@pytest.mark.parametrize("number", range(8))
def test_who_ranks_no_worse_is_never_later(number: int) -> None:
    """Of states of random courses in the same quarter, and each pair of which one ranks better."""
    draw = Random(number)
    law = TwoDrivers(drawn_rules(draw))
    length = draw.randrange(3, 10)
    courses = [walked(draw, law, length) for _ in range(40)]
    states = list({each[length] for each in courses if len(each) > length})
    compared = 0
    for a in states:
        for b in states:
            ranks = (law.rank(a, sea_ahead=False), law.rank(b, sea_ahead=False))
            if a == b or compared == 10 or any(x > y for x, y in zip(*ranks, strict=True)):
                continue
            compared += 1
            for driving in (2, 5, 9):
                later = shortest(law, b, driving, 12)
                sooner = shortest(law, a, driving, 12)
                assert later is None or (sooner is not None and sooner <= later), (a, b)


@pytest.mark.parametrize("number", range(12))
def test_two_arrive_when_the_plain_search_does(number: int) -> None:
    draw = Random(f"two {number}")
    rules = drawn_rules(draw)
    crew = (replace(FRESH, extensions=draw.randrange(0, 2)), replace(FRESH, week=2))
    legs = (drive(draw.randrange(3, 9)), work(draw.randrange(1, 3)), drive(draw.randrange(1, 4)))
    asked = Trip(journey=Journey(legs=legs), drivers=crew, rules=rules)
    leaves = quarter_of(SIX)

    found = earliest_arrival(asked, SIX, longest=timedelta(minutes=15 * 16))

    plain = Walk(asked.journey, crew, rules, (leaves, leaves + 16)).arrival(leaves)
    assert (None if found is None else quarter_of(found.arrival)) == plain
