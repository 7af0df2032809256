"""Itineraries of one driver broken in one way each, and what the replay says of them."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.road.replay import Wrong
from scheduler.rules import Limit
from shared.plan import Doing
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.legs import Stand, Work
from shared.road.rules import rule_set
from tests.scheduler.check.road.itineraries import (
    FRESH,
    ONE,
    QUARTER,
    SIX,
    Part,
    breaches,
    itinerary,
    limits,
    wrongs,
)
from tests.shared.road.trips import AMSTERDAM, HEAVY, LONDON, at, drive, ferry, work


def turns(*quarters: int) -> Itinerary:
    """Driving and resting in turns, so many quarters each."""
    parts: list[Part] = [
        (Doing.REST if number % 2 else Doing.DRIVE, 0, each) for number, each in enumerate(quarters)
    ]
    return itinerary(*parts)


def driving(*quarters: int, driver: Driver = FRESH) -> list[Limit | None]:
    return limits(turns(*quarters), driver)


@pytest.mark.parametrize(
    ("quarters", "sound"),
    [
        ((18, 3, 18), True),
        ((19,), False),
        ((18, 2, 1), False),
        ((9, 1, 9, 2, 18), True),
        ((9, 2, 9, 1, 1), False),
        ((18, 3, 18, 3, 4), True),
        ((18, 3, 18, 3, 5), False),
        ((18, 3, 18, 36, 18), True),
        ((18, 3, 18, 3, 4, 35, 1), False),
    ],
)
def test_breaks_and_daily_driving(quarters: tuple[int, ...], sound: bool) -> None:
    """Articles 6 and 7, in quarters: driving, rest, driving and so on."""
    assert (driving(*quarters) == []) == sound


def test_reductions_extensions_and_weeks_run_out() -> None:
    reduced = (18, 3, 18, 36, 18)

    assert driving(*reduced, driver=replace(FRESH, reductions=3)) == [Limit.DAILY_REST]
    assert driving(18, 3, 18, 3, 4, driver=replace(FRESH, extensions=2)) == [Limit.LONG_DAYS]
    assert driving(4, driver=replace(FRESH, week=221)) == [Limit.WEEKLY_DRIVING]
    assert driving(4, driver=replace(FRESH, week=220)) == []
    spent = replace(FRESH, week=160, week_before=200)
    assert driving(4, driver=spent) == [Limit.FORTNIGHTLY_DRIVING]


def test_the_first_quarter_too_many_is_told_and_the_figure_behind_it() -> None:
    found = breaches(turns(18, 3, 19), drive(37))

    assert [(each.at, each.rule, each.driver) for each in found] == [
        (SIX + 39 * QUARTER, "DR01a", 1)
    ]


def test_a_rest_is_whole_within_a_day() -> None:
    """Art. 8(2): duty from 06:00 with 3 h of rest in it, so 15 h, then nine hours until 06:00."""
    split = (18, 12, 18)

    assert driving(*split, 12, 1, 35, 1) == [Limit.DAILY_REST]
    assert driving(*split, 11, 1, 36, 1) == []
    late = breaches(turns(*split, 12, 1, 36, 1), drive(38))
    assert [(each.limit, each.at) for each in late] == [(Limit.DAILY_REST, SIX + 60 * QUARTER)]


def test_a_weekly_rest_that_was_due_is_missed() -> None:
    due = replace(FRESH, weekly_rest_ended=SIX - timedelta(hours=143))

    assert driving(4, driver=due) == []
    assert driving(5, driver=due) == [Limit.WEEKLY_REST]


def test_work_goes_on_for_six_hours_at_most() -> None:
    assert not wrongs(itinerary((Doing.WORK, 0, 24)), work(24))
    assert wrongs(itinerary((Doing.WORK, 0, 25)), work(25)) == {Wrong.HOURS}


@pytest.mark.parametrize(
    ("work_quarters", "pause", "limit"),
    [(20, 2, None), (20, 1, Limit.BREAKS), (36, 3, None), (36, 2, Limit.BREAKS)],
)
def test_breaks_grow_with_the_work_of_a_day(
    work_quarters: int, pause: int, limit: Limit | None
) -> None:
    """Directive 2002/15/EC Art. 5: half an hour above six hours, 45 minutes above nine."""
    first = work_quarters // 2 + 3
    parts = ((Doing.WORK, 0, first), (Doing.REST, 0, pause), (Doing.WORK, 0, first))

    found = breaches(itinerary(*parts), work(2 * first))

    assert [each.limit for each in found] == ([] if limit is None else [limit])


def test_a_van_of_the_workshop_has_eleven_hours_of_duty() -> None:
    """GB domestic hours: breaks are no duty."""
    rules = rule_set("gb_domestic")
    day = ((Doing.WORK, 0, 22), (Doing.REST, 0, 2), (Doing.WORK, 0, 22))

    assert not wrongs(itinerary(*day), work(44), rules=rules)
    longer = itinerary(*day, (Doing.WORK, 0, 1))
    found = breaches(longer, work(45), rules=rules)
    assert [(each.limit, each.rule) for each in found] == [(Limit.DAILY_WORK, "DR13b")]


def test_a_leg_done_short_or_otherwise_is_found() -> None:
    assert wrongs(itinerary((Doing.DRIVE, 0, 3)), drive(4)) == {Wrong.LEGS}
    assert wrongs(itinerary((Doing.WORK, 0, 4)), drive(4)) == {Wrong.LEGS}
    swapped = itinerary((Doing.WORK, 1, 2), (Doing.DRIVE, 0, 4))
    assert wrongs(swapped, drive(4), work(2)) == {Wrong.LEGS}


def test_what_cures_stands_for_its_time_and_rests_whoever_waits() -> None:
    parts: list[Part] = [(Doing.WORK, 0, 20), (Doing.STAND, 1, 44), (Doing.WORK, 2, 20)]
    legs = (work(20), Stand(quarters=44), work(20))

    assert not wrongs(itinerary(*parts), *legs)
    assert wrongs(itinerary(*parts), work(20), Stand(quarters=45), work(20)) == {Wrong.LEGS}


def test_a_gap_is_found() -> None:
    sound = itinerary((Doing.DRIVE, 0, 2), (Doing.DRIVE, 0, 2))
    first, second = sound.stretches
    late = replace(second, start=second.start + QUARTER, end=second.end + QUARTER)

    assert wrongs(Itinerary(stretches=(first, late)), drive(4)) == {Wrong.GAP}


def test_work_outside_its_opening_is_found() -> None:
    shut = work(4, LONDON, ("2027-03-15T06:30", "2027-03-15T12:00"))

    assert wrongs(itinerary((Doing.WORK, 0, 4)), shut) == {Wrong.CLOSED}


def test_whole_work_lies_in_one_opening_and_all_other_goes_on_in_the_next() -> None:
    hours = (("2027-03-15T06:00", "2027-03-15T06:30"), ("2027-03-15T07:00", "2027-03-15T08:00"))
    parts: list[Part] = [(Doing.WORK, 0, 2), (Doing.REST, 0, 2), (Doing.WORK, 0, 2)]
    halves = work(4, LONDON, *hours)
    whole = Work(quarters=4, openings=halves.openings, whole=True)

    assert not wrongs(itinerary(*parts), halves)
    assert wrongs(itinerary(*parts), whole) == {Wrong.WHOLE}
    assert not wrongs(itinerary((Doing.WORK, 0, 4), start=SIX + 4 * QUARTER), whole)


CROSSING: list[Part] = [
    (Doing.DRIVE, 0, 12),
    (Doing.BOARD, 1, 1),
    (Doing.SEA_REST, 1, 36),
    (Doing.LAND, 1, 1),
    (Doing.DRIVE, 2, 4),
]
SHIP = (at(LONDON, "2027-03-15T09:15"), at(AMSTERDAM, "2027-03-15T19:15"))


def test_a_ship_sails_when_it_does_and_waits_for_nobody() -> None:
    hour = timedelta(hours=1)
    legs = (drive(12), ferry(SHIP, cut_off=15), drive(4, "NL"))
    later = (drive(12), ferry((SHIP[0] + hour, SHIP[1] + hour)), drive(4, "NL"))
    closed = (drive(12), ferry(SHIP, cut_off=16), drive(4, "NL"))
    seated = (drive(12), ferry(SHIP, cut_off=15, bunk=False), drive(4, "NL"))

    assert not wrongs(itinerary(*CROSSING), *legs)
    for broken in (later, closed, seated):
        assert wrongs(itinerary(*CROSSING), *broken) == {Wrong.SAILING}


def test_between_boarding_and_landing_one_is_at_sea() -> None:
    ashore: list[Part] = [
        (Doing.DRIVE, 0, 12),
        (Doing.BOARD, 1, 1),
        (Doing.SEA_REST, 1, 20),
        (Doing.WORK, 1, 16),
        (Doing.LAND, 1, 1),
        (Doing.DRIVE, 2, 4),
    ]
    unboarded = [(Doing.SEA_REST, 1, 1) if each[0] is Doing.BOARD else each for each in CROSSING]
    legs = (drive(12), ferry(SHIP, cut_off=15), drive(4, "NL"))

    assert Wrong.LEGS in wrongs(itinerary(*ashore), *legs)
    assert Wrong.LEGS in wrongs(itinerary(*unboarded), *legs)


def test_who_waits_in_the_lane_and_never_boards_has_caught_no_ship() -> None:
    waits = itinerary((Doing.DRIVE, 0, 12), (Doing.REST, 1, 38), (Doing.DRIVE, 2, 4))
    legs = (drive(12), ferry(SHIP, cut_off=15), drive(4, "NL"))

    assert wrongs(waits, *legs) == {Wrong.LEGS, Wrong.SAILING}


def on_board(lane: int) -> Itinerary:
    """Four hours, a check-in, the lane, a night at sea with a bunk, the quay, three hours."""
    return itinerary(
        (Doing.DRIVE, 0, 16),
        (Doing.WORK, 1, 1),
        (Doing.REST, 2, lane),
        (Doing.BOARD_IN_REST, 2, 1),
        (Doing.SEA_REST, 2, 38),
        (Doing.LAND_IN_REST, 2, 1),
        (Doing.REST, 3, 1),
        (Doing.DRIVE, 3, 12),
        start=at(LONDON, "2027-03-18T22:00") - (18 + lane) * QUARTER,
    )


def test_a_rest_broken_by_boarding_and_landing_is_eleven_hours_without_them() -> None:
    """Art. 9(1): 1:15 in the lane, 9:30 at sea and a quarter on the quay are eleven hours."""
    ship = (at(LONDON, "2027-03-18T22:00"), at(AMSTERDAM, "2027-03-19T08:30"))
    legs = (drive(16), work(1), ferry(ship, cut_off=15), drive(12, "NL"))
    spent = replace(FRESH, reductions=3)

    assert not breaches(on_board(5), *legs, drivers=(spent,))
    found = breaches(on_board(4), *legs, drivers=(spent,))
    assert [(each.limit, each.rule) for each in found] == [(Limit.FERRY_REST, "DR08a")]


@pytest.mark.parametrize(("before", "found"), [(33, []), (34, [Limit.FERRY_REST])])
def test_a_broken_rest_is_whole_within_a_day_of_the_duty(before: int, found: list[Limit]) -> None:
    """Art. 8(2): so long on duty, 4:15 of the journey, and 11:30 to the end of the rest."""
    ship = (at(LONDON, "2027-03-18T22:00"), at(AMSTERDAM, "2027-03-19T08:30"))
    legs = (drive(16), work(1), ferry(ship, cut_off=15), drive(12, "NL"))
    spent = replace(FRESH, reductions=3, clock=before)

    told = breaches(on_board(5), *legs, drivers=(spent,))

    assert [each.limit for each in told] == found


@pytest.mark.parametrize(("stands", "found"), [(69, []), (70, [Limit.DAILY_REST])])
def test_a_stand_that_makes_up_for_a_missing_break_ends_within_the_day(
    stands: int, found: list[Limit]
) -> None:
    """Where it is the break of the duty it is no daily rest, and 24 hours have room for both.

    Art. 8(2), Directive 2002/15/EC Art. 5(1); common reading, no source.
    """
    parts = ((Doing.WORK, 0, 13), (Doing.REST, 0, 1), (Doing.WORK, 0, 13), (Doing.STAND, 1, stands))

    told = breaches(itinerary(*parts), work(26), Stand(quarters=stands))

    assert [each.limit for each in told] == found


def test_no_rest_is_broken_oftener_than_twice() -> None:
    ship, shuttle = ferry(SHIP, cut_off=15), (SHIP[1] + 3 * QUARTER, SHIP[1] + 6 * QUARTER)
    legs = (drive(12), ship, ferry(shuttle, cut_off=15))
    parts: list[Part] = [
        (Doing.DRIVE, 0, 8),
        (Doing.REST, 1, 4),
        (Doing.BOARD_IN_REST, 1, 1),
        (Doing.SEA_REST, 1, 36),
        (Doing.LAND_IN_REST, 1, 1),
        (Doing.REST, 2, 1),
        (Doing.BOARD_IN_REST, 2, 1),
        (Doing.SEA_REST, 2, 3),
        (Doing.LAND, 2, 1),
    ]

    found = breaches(itinerary(*parts), drive(8), *legs[1:])

    assert [each.limit for each in found] == [Limit.FERRY_REST]


def test_the_hours_of_one_driver_are_not_those_of_two() -> None:
    assert wrongs(turns(4), drive(4), drivers=(FRESH, FRESH)) == {Wrong.DRIVERS}
    assert wrongs(turns(4), drive(4), drivers=(FRESH,), rules=replace(ONE, drivers=2)) == {
        Wrong.DRIVERS
    }


def test_driving_in_a_ban_is_found() -> None:
    """Easter Monday, 29 March 2027, on German roads."""
    found = itinerary((Doing.DRIVE, 0, 4), start=at(LONDON, "2027-03-29T07:00"))

    assert wrongs(found, drive(4, "DE"), lorry=HEAVY) == {Wrong.BAN}
    assert not wrongs(found, drive(4, "DE"))


@pytest.mark.parametrize(
    ("clock", "quarters", "found"),
    [(40, 12, []), (40, 13, [Limit.DAILY_REST]), (0, 36, [])],
)
def test_a_duty_that_has_begun_before_the_journey_is_so_much_longer(
    clock: int, quarters: int, found: list[Limit]
) -> None:
    """People on site: eleven hours of rest in any twenty-four."""
    rules = rule_set("workers_uk")
    half = (Doing.WORK, 0, quarters // 2), (Doing.REST, 0, 2), (Doing.WORK, 0, -(-quarters // 2))
    begun = replace(FRESH, clock=clock - 2 if clock else 0)

    told = breaches(itinerary(*half), work(quarters), drivers=(begun,), rules=rules)

    assert [each.limit for each in told] == found


def test_who_begins_rested_begins_the_duty_with_the_first_work() -> None:
    rules = rule_set("workers_uk")
    waits: list[Part] = [(Doing.REST, 0, 20), (Doing.WORK, 0, 24), (Doing.REST, 0, 2)]
    day = itinerary(*waits, (Doing.WORK, 0, 24))

    assert wrongs(day, work(48), rules=rules) == {Wrong.HOURS}
    assert not wrongs(day, work(48), rules=rules, drivers=(replace(FRESH, clock=-1),))
