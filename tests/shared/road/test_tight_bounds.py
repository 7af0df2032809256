"""The bound where it is the arrival itself, and the least of a driver, worked out by hand.

One thing is waited for at most: there nothing hides in a wait, and the bound has to be exact.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest

from shared.road.bounds import Bound
from shared.road.countback import Trip, earliest_arrival
from shared.road.driver import Driver
from shared.road.law import Need
from shared.road.laws import law_of
from shared.road.legs import Ferry, Leg, Stand, Work
from shared.road.machine import Machine
from shared.road.quarters import floor_quarter, instant_of
from shared.road.rules import NEVER, rule_set
from shared.road.state import RESTED, OneDriver, State
from shared.road.world import FAR, World
from tests.shared.road.trips import BERLIN, HEAVY, LONDON, at, drive, ferry, trip, work

SIX = at(LONDON, "2027-04-12T06:00")
LAW = law_of(rule_set("eu_one_driver"), (Driver(as_of=SIX),))


def _sails(*pairs: str, bunk: bool = True) -> Ferry:
    """Sailings of the twelfth, each as "from to", to be boarded in the quarter before."""
    hours = [pair.split() for pair in pairs]
    day = "2027-04-12T"
    sailings = [(at(LONDON, day + leaves), at(LONDON, day + lands)) for leaves, lands in hours]
    return ferry(*sailings, cut_off=0, bunk=bunk)


def _checks_in(*pairs: str) -> Leg:
    """The same with an hour's check-in."""
    return replace(_sails(*pairs), cut_off=timedelta(hours=1))


def _opens(quarters: int, *pairs: str, whole: bool = False) -> Work:
    hours = [pair.split() for pair in pairs]
    asked = work(quarters, LONDON, *((f"2027-04-12T{a}", f"2027-04-12T{b}") for a, b in hours))
    return replace(asked, whole=whole)


TIGHT: dict[str, tuple[int, tuple[Leg, ...]]] = {
    # Regulation (EC) 561/2006 Arts 6 to 8: 45 minutes after each 4 h 30, nine hours of rest.
    "four hours": (16, (drive(16),)),
    "ten hours, two breaks": (46, (drive(40),)),
    "fifteen hours, a night between": (102, (drive(60),)),
    "work and two drives, one break": (45, (work(4), drive(18), work(2), drive(18))),
    # On the quay a quarter after it lands.
    "the next ferry": (9, (_sails("06:15 08:00", "06:30 10:00"),)),
    "a ferry that leaves just now": (9, (_sails("06:00 07:00", "06:15 08:00"),)),
    "the next ferry, no bunk": (9, (_sails("06:15 08:00", "06:30 10:00", bunk=False),)),
    "no ferry before it is boarded": (17, (drive(4), _sails("07:00 08:00", "09:00 10:00"))),
    "a ferry right behind a drive": (9, (drive(4), _sails("07:15 08:00", "09:00 10:00"))),
    "no bunk behind a drive": (9, (drive(4), _sails("07:15 08:00", "09:00 10:00", bunk=False))),
    # An hour for a cure before it.
    "a check-in behind a wait": (17, (Stand(quarters=4), _checks_in("07:30 08:00", "09:00 10:00"))),
    "hours too short for all of it": (14, (_opens(8, "06:00 07:30", "09:00 11:00"),)),
    "hours that end meanwhile": (14, (drive(4), _opens(4, "06:00 07:30", "09:00 10:00"))),
    "all at once, and it just fits": (8, (drive(4), _opens(4, "06:00 08:00", whole=True))),
    "all at once, and too late for it": (
        16,
        (drive(4), _opens(4, "06:00 07:59", "09:00 10:00", whole=True)),
    ),
    "all at once, and hours too short for it": (
        20,
        (_opens(4, "09:00 09:30", "10:00 12:00", whole=True),),
    ),
    "all at once, and hours an hour later too short for it": (
        24,
        (_opens(4, "10:00 10:30", "11:00 13:00", whole=True),),
    ),
    "all at once, and more behind it": (
        20,
        (drive(4), _opens(4, "06:00 07:30", "09:00 11:00", whole=True), drive(4)),
    ),
    "hours that just hold it": (8, (drive(4), _opens(4, "06:00 08:00", "09:00 10:00"))),
}


@pytest.mark.parametrize("name", TIGHT)
def test_where_one_thing_is_waited_for_at_most_the_bound_is_the_arrival(name: str) -> None:
    quarters, legs = TIGHT[name]
    assert_tight(Driver(as_of=SIX), quarters, *legs)


def test_long_days_that_are_used_up_make_the_bound_later() -> None:
    """Art. 6(1): nine hours with a break, nine of rest, and the tenth hour."""
    assert_tight(Driver(as_of=SIX, extensions=2), 39 + 36 + 4, drive(40))


def test_who_stands_so_late_in_the_day_that_no_hour_fits_rests_before_it() -> None:
    """Art. 8(2): eleven hours and a half are gone, three more of standing; nine of rest hide it."""
    assert_tight(Driver(as_of=SIX, clock=46), 36 + 4, Stand(quarters=12), drive(4))


def test_a_week_that_turns_gives_two_long_days_and_no_more() -> None:
    """Art. 6(1), a quarter before 0:00 UTC: of thirty hours two tens leave more than a nine.

    Three nights of nine hours, and three breaks, because four days drive 4 h 30 without one.
    """
    leaves = at(LONDON, "2027-04-12T00:45")
    quarters = 120 + 3 * 36 + 3 * 3

    used = trip(Driver(as_of=leaves, extensions=2), drive(120))

    assert bound_of(used, quarters, leaves) == quarters


def test_hours_of_the_week_that_are_used_up_make_the_bound_wait_for_the_next() -> None:
    """Art. 6(2): 56 hours; the week turns at 0:00 UTC, Monday 1:00 in London in summer."""
    turn = (6 * 24 + 19) * 4
    spent = Driver(as_of=SIX, week=224)

    assert_tight(spent, turn + 4, drive(4))
    waits = trip(spent, _opens(1, "06:00 20:00", whole=True), drive(36))
    assert turn + 36 <= bound_of(waits, turn + 39) <= turn + 39


@pytest.mark.parametrize(
    ("rules", "within", "rest"),
    # Arts 8(2) and 8(5): of one within 24 hours, nine at least; of two within thirty, nine.
    [("eu_one_driver", 24 * 4, 9 * 4), ("eu_two_drivers", 30 * 4, 9 * 4)],
)
def test_a_quarter_of_work_that_leaves_no_room_for_the_rest_comes_after_it(
    rules: str, within: int, rest: int
) -> None:
    set_of = rule_set(rules)
    drivers = (Driver(as_of=SIX),) * set_of.drivers
    law = law_of(set_of, drivers)
    state = law.begin(drivers, floor_quarter(SIX))

    assert not law.must_rest(state, within - rest - 1)
    assert law.must_rest(state, within - rest)
    # An hour and a half of the day is gone.
    later = state._replace(clock=6)
    assert not law.must_rest(later, within - rest - 7)
    assert law.must_rest(later, within - rest - 6)


@pytest.mark.parametrize("too_early", ["06:00", "10:30"])
def test_a_ship_before_what_the_next_week_lets_one_drive_is_not_caught(too_early: str) -> None:
    """Nine hours with a break from 0:00 UTC on end at 10:45 in London; ashore at 13:00."""
    day = "2027-04-19T"
    hours = ((too_early, "11:00"), ("12:00", "13:00"))
    ships = [(at(LONDON, day + off), at(LONDON, day + there)) for off, there in hours]

    assert_tight(
        Driver(as_of=SIX, week=224),
        (7 * 24 + 7) * 4 + 1,
        drive(36),
        ferry(*ships, cut_off=0),
    )


@pytest.mark.parametrize(("hours", "quarters"), [(6, 24), (6.25, 26), (12, 49)])
def test_more_than_six_hours_of_other_work_have_a_quarter_of_break_at_least(
    hours: float, quarters: int
) -> None:
    """Directive 2002/15/EC Art. 5: none works more than six hours; breaks of 15 minutes count."""
    assert bound_of(trip(Driver(as_of=SIX), work(int(hours * 4))), 100) == quarters


@pytest.mark.parametrize(
    ("used", "driving", "quarters"),
    [
        # In the tenth hour two quarters are left; then nine hours of rest.
        (1, 2, 2),
        (1, 3, 2 + 36 + 1),
        # A second long day of ten hours has two breaks; what is more waits for another rest.
        (1, 42, 2 + 36 + 40 + 6),
        (1, 43, 2 + 36 + 39 + 36 + 5),
        # Without it the next day has nine hours and a break.
        (2, 38, 2 + 36 + 36 + 3),
    ],
)
def test_a_long_day_that_was_begun_is_not_the_one_that_is_left(
    used: int, driving: int, quarters: int
) -> None:
    """Art. 6(1): ten hours twice in a week; this is the one or the other of them."""
    law = law_of(rule_set("eu_one_driver"), (Driver(as_of=SIX),))
    state = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))
    state = state._replace(driven=38, worked=38, clock=44, extensions=used)

    assert law.least(state, Need(driving, 0, 0, 0)) == quarters


@pytest.mark.parametrize(("used", "rest"), [(0, 36), (2, 36), (3, 44)])
def test_the_night_of_who_begins_rested_is_nine_hours_three_times(used: int, rest: int) -> None:
    """Art. 8(4): three reduced rests between two weekly ones; 4 h 30 and 45 minutes as ever."""
    rested = Driver(as_of=SIX, clock=-1, reductions=used)

    assert_tight(rested, 60 + 2 * 3 + rest, drive(60))


@pytest.mark.parametrize(
    ("had", "ends"), [(34, False), (35, True), (36, False), (42, False), (43, True)]
)
def test_a_rest_ends_at_nine_hours_or_at_eleven_and_between_them_who_is_rested_waits(
    had: int, *, ends: bool
) -> None:
    """Art. 4(g) knows these two lengths; one course for each wait, no source."""
    news = LAW.rested(_worn(driven=36, clock=40 + had, resting=had), sea_ahead=False)

    assert (RESTED in {each.clock for each in news}) == ends


@pytest.mark.parametrize(("used", "ends"), [(2, True), (3, False), (4, False)])
def test_who_has_had_three_reduced_rests_or_more_has_no_other(used: int, *, ends: bool) -> None:
    """Art. 8(4): three between two weekly rests; a fourth was none that the law allows."""
    news = LAW.rested(_worn(driven=36, clock=75, resting=35, reductions=used), sea_ahead=False)

    assert (RESTED in {each.clock for each in news}) == ends


@pytest.mark.parametrize(("had", "used"), [(10, 3), (36, 3), (40, 0)])
def test_a_rest_that_can_be_no_reduced_one_goes_on_to_eleven_hours(had: int, used: int) -> None:
    """Art. 8(2) and (4), after nine hours at the wheel: none is left, or it ran past nine hours."""
    state = _worn(driven=36, clock=40 + had, resting=had, extensions=2, reductions=used)

    assert LAW.least(state, Need(4, 0, 0, 0)) == (44 - had) + 4


@pytest.mark.parametrize(("rest", "counted"), [(44, 44), (48, 45)])
def test_a_split_rest_saves_no_more_than_the_break_that_its_first_part_is(
    rest: int, counted: int
) -> None:
    """Art. 4(g) and 7: three hours and nine, 45 minutes of them a break.

    Eleven hours are less than that; twelve, as a house might want, are more.
    """
    law = OneDriver(replace(rule_set("eu_one_driver"), rest=rest))
    rested = _worn(driven=0, clock=RESTED, reductions=3, extensions=2)

    assert law.least(rested, Need(37, 0, 0, 0)) == 36 + 3 + counted + 1


def test_five_times_the_longest_drive_have_two_nights_and_two_breaks_between_them() -> None:
    """Art. 6 to 8: 4 h 30 each, twice in each of the first two days, with a reduced rest each."""
    law = OneDriver(rule_set("eu_one_driver"))
    begun = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))

    assert law.least(begun, Need(5 * 18, 0, 0, 0)) == 5 * 18 + 2 * 36 + 2 * 3


@pytest.mark.parametrize(("hours", "night"), [(11, 0), (11.25, 11)])
def test_who_is_rested_has_the_whole_of_a_day_of_work(hours: float, night: int) -> None:
    """Figure DR13: eleven hours of duty under GB domestic hours; DR15: eleven of rest."""
    law = OneDriver(rule_set("gb_domestic"))
    rested = law.begin((Driver(as_of=SIX, clock=RESTED),), floor_quarter(SIX))

    least = law.least(rested, Need(0, int(hours * 4), 0, 0))

    assert least >= (hours + night) * 4
    assert least < (hours + night + 1) * 4


@pytest.mark.parametrize("had", [8, 20, 35])
def test_a_rest_that_was_begun_goes_on_to_nine_hours_where_a_reduced_one_is_left(had: int) -> None:
    """Art. 8(2) and (4), after nine hours at the wheel of a day that may have no tenth."""
    state = _worn(driven=36, clock=40 + had, resting=had, extensions=2)

    assert LAW.least(state, Need(5, 0, 0, 0)) == (36 - had) + 5


def test_two_quarters_more_of_a_rest_are_the_first_part_of_a_split_one() -> None:
    """Art. 4(g): three hours, then nine, are a regular daily rest; here no reduced one is left."""
    state = _worn(driven=20, unbroken=2, clock=33, resting=10, extensions=2, reductions=3)

    # What is left of the nine hours at the wheel, the night, and nine more with their break.
    assert LAW.least(state, Need(16 + 36, 0, 0, 0)) == 2 + 16 + 36 + 18 + 3 + 18


def test_nine_hours_after_the_first_part_use_up_no_reduced_rest() -> None:
    """Art. 4(g): the night after it is a regular one, the next the last of the reduced ones."""
    state = _worn(driven=36, unbroken=18, clock=51, parted=1, extensions=2, reductions=2)

    assert LAW.least(state, Need(36 + 4, 0, 0, 0)) == 36 + (18 + 3 + 18) + 36 + 4


def test_a_long_day_that_is_left_can_be_this_one_and_its_breaks_are_counted_so() -> None:
    """Art. 6(1): this one goes on for 15, a break, 18; the next for 18, a break, 16.

    Nine hours here and the ten hours in the next would ask for a break more.
    """
    state = _worn(driven=6, unbroken=3, clock=9, extensions=1)

    assert LAW.least(state, Need(33 + 34, 0, 0, 0)) == (15 + 3 + 18) + 36 + (18 + 3 + 16)


def test_no_more_is_driven_before_a_ban_than_breaks_let_one_drive() -> None:
    """Five hours from 19:00 on, German lorries stand on Sundays from 0:00 to 22:00, StVO § 30(3).

    Half an hour of it is left after 4 h 30, 561/2006 Art. 7.
    """
    leaves, quarters = at(BERLIN, "2027-04-10T19:00"), 27 * 4 + 2
    asked = trip(Driver(as_of=leaves), drive(20, "DE"), lorry=HEAVY)
    found = earliest_arrival(asked, leaves, longest=timedelta(days=2))

    assert found is not None
    assert floor_quarter(found.arrival) - floor_quarter(leaves) == quarters
    assert bound_of(asked, quarters, leaves) == quarters


def test_what_the_week_before_leaves_of_ninety_hours_makes_the_bound_wait_for_the_next() -> None:
    """Art. 6(3): fifty and forty; the week turns at 0:00 UTC, Monday 1:00 in London in summer."""
    assert_tight(Driver(as_of=SIX, week=160, week_before=200), (6 * 24 + 19) * 4 + 4, drive(4))


@pytest.mark.parametrize(("at_sea", "quarters"), [(60, 60), (61, 61 + 36)])
def test_fifteen_hours_of_a_day_are_left_of_the_shortest_rest(at_sea: int, quarters: int) -> None:
    """Art. 8(2): a rest of nine hours at least is complete within twenty-four."""
    law = law_of(rule_set("eu_one_driver"), (Driver(as_of=SIX),))
    state = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))

    assert law.least(state, Need(0, 0, at_sea, 0)) == quarters


@pytest.mark.parametrize(("before", "goes"), [(259, True), (260, False)])
def test_ninety_hours_in_two_weeks_are_the_end(before: int, *, goes: bool) -> None:
    """Art. 6(3), with 25 hours in this one."""
    driver = Driver(as_of=SIX, week=100, week_before=before)
    law = law_of(rule_set("eu_one_driver"), (driver,))

    assert bool(law.driven(law.begin((driver,), floor_quarter(SIX)))) == goes


def test_a_week_before_that_no_rank_can_hold_is_over_ninety_hours_like_any_other() -> None:
    """Art. 6(3): a slip of the keyboard is no reason to drive, or to stop working it out."""
    slipped = Driver(as_of=SIX, week_before=70_000)

    assert earliest_arrival(trip(slipped, drive(4)), SIX, longest=timedelta(days=1)) is None


def test_who_tells_nothing_of_two_weeks_has_ninety_hours_left() -> None:
    """Art. 6(3), where no week of its own stops one before."""
    law = OneDriver(replace(rule_set("eu_one_driver"), drive_week=NEVER))

    assert law.week_left(law.begin((Driver(as_of=SIX),), floor_quarter(SIX))) == 90 * 4


@pytest.mark.parametrize(("unbroken", "quarters"), [(14, 4), (15, 3 + 4)])
def test_where_no_day_is_counted_a_break_is_due_all_the_same(unbroken: int, quarters: int) -> None:
    """Art. 7: 45 minutes after 4 h 30, in hours that know no daily rest."""
    law = OneDriver(replace(rule_set("eu_one_driver"), rest_within=NEVER))
    state = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))._replace(unbroken=unbroken)

    assert law.least(state, Need(4, 0, 0, 0)) == quarters


def test_who_has_had_the_first_part_of_a_break_may_still_have_it_whole() -> None:
    """Art. 7, in a house that writes more for the second part: the 45 minutes are enough."""
    law = OneDriver(replace(rule_set("eu_one_driver"), break_second=4))
    state = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))._replace(unbroken=18, halved=1)

    assert law.least(state, Need(4, 0, 0, 0)) == 3 + 4


@pytest.mark.parametrize(
    "rules", ["eu_one_driver", "gb_domestic", "workers_eu", "workers_uk", "stricter", "stricter_gb"]
)
@pytest.mark.parametrize("better", ["pauses", "halved", "parted"])
def test_whoever_has_had_more_of_a_break_ranks_no_worse(rules: str, better: str) -> None:
    law = law_of(rule_set(rules), (Driver(as_of=SIX),))
    state = law.begin((Driver(as_of=SIX),), floor_quarter(SIX))
    most = law.rules.long_break if better == "pauses" else 1
    ranks = [law.rank(state._replace(**{better: had}), sea_ahead=True) for had in range(most + 1)]

    for less, more in pairwise(ranks):
        assert all(a >= b for a, b in zip(less, more, strict=True))


def test_who_is_in_the_lane_when_a_ship_leaves_waits_for_the_next() -> None:
    asked = trip(Driver(as_of=SIX), drive(4), _sails("07:00 08:00", "09:00 10:00"))
    first = floor_quarter(SIX)
    world, machine = World(asked.journey, SIX, instant_of(first + 40)), Machine(LAW)
    state = machine.number(LAW.begin(asked.drivers, first))
    lane = world.entry(1, first + 4)
    assert lane is not None

    found = Bound(world, machine, first + 40).arrival(lane, state, first + 4, 2)

    assert found - first == 17


def test_whoever_misses_the_last_of_many_ferries_is_nowhere() -> None:
    """Every hour for twelve days and a half, the first an hour from now."""
    leaves = [SIX + timedelta(hours=each) for each in range(1, 301)]
    ships = ferry(*((each, each + timedelta(minutes=30)) for each in leaves), cut_off=0)
    world = World(trip(Driver(as_of=SIX), ships).journey, SIX, leaves[-1] + timedelta(hours=1))
    last = floor_quarter(leaves[-1])

    assert world.entry(0, last - 1) is not None
    assert world.entry(0, last) is None


def test_what_was_begun_in_one_opening_is_not_over_in_the_next() -> None:
    """Six hours and a quarter of work have a break, Directive 2002/15/EC Art. 5."""
    asked = trip(Driver(as_of=SIX), _opens(25, "06:00 12:15", "13:00 20:00", whole=True))
    first = floor_quarter(SIX)
    world, machine = World(asked.journey, SIX, instant_of(first + 60)), Machine(LAW)
    begun = world.entry(0, first)
    assert begun is not None
    state, goes_on = LAW.begin(asked.drivers, first), world.onward(begun, first + 1)
    assert goes_on is not None
    (worked,) = machine.worked(machine.number(state))

    bound = Bound(world, machine, first + 60)

    assert bound.arrival(begun, machine.number(state), first, 1) == first + 7 * 4 + 26
    assert bound.arrival(goes_on, worked, first + 1, 1) == FAR


def test_what_is_past_is_over_when_it_is_asked_about() -> None:
    """A goal before the end, and somebody on a leg behind it."""
    journey = replace(trip(Driver(as_of=SIX), drive(4), drive(4), drive(4)).journey, goal=1)
    law = law_of(rule_set("eu_one_driver"), (Driver(as_of=SIX),))
    first = floor_quarter(SIX)
    world, machine = World(journey, SIX, instant_of(first + 100)), Machine(law)
    state = machine.number(law.begin((Driver(as_of=SIX),), first))
    place = world.entry(2, first + 8)
    assert place is not None

    bound = Bound(world, machine, first + 100)

    assert bound.arrival(place, state, first + 8, world.goal) == first + 8
    assert bound.arrival(place, state, first + 8, 3) == first + 12


def _worn(**of_state: int) -> State:
    """A driver on the way, all of whose work was at the wheel, with breaks enough for it."""
    state: State = LAW.begin((Driver(as_of=SIX),), floor_quarter(SIX))
    return state._replace(worked=of_state["driven"], pauses=3, **of_state)


def assert_tight(driver: Driver, quarters: int, *legs: Leg) -> None:
    asked = trip(driver, *legs)
    found = earliest_arrival(asked, SIX, longest=timedelta(days=8))

    assert found is not None
    assert floor_quarter(found.arrival) - floor_quarter(SIX) == quarters
    assert bound_of(asked, quarters) == quarters


def bound_of(asked: Trip, until: int, leaves: datetime = SIX) -> int:
    first = floor_quarter(leaves)
    world = World(asked.journey, leaves, instant_of(first + until))
    machine = Machine(law_of(asked.rules, asked.drivers))
    state = machine.number(machine.law.begin(asked.drivers, first))
    place = world.entry(0, first)
    assert place is not None
    return (
        Bound(world, machine, first + until).arrival(place, state, first, len(world.stages) - 1)
        - first
    )
