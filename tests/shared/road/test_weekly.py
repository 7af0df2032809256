"""Weekly rests a quarter at a time: Regulation (EC) 561/2006 Arts 4(h), 8(6).

At least 45 hours without a break, begun no later than six 24-hour periods after the last ended.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from shared.road.countback import earliest_arrival
from shared.road.driver import Driver
from shared.road.law import Law
from shared.road.laws import law_of
from shared.road.quarters import floor_quarter
from shared.road.rules import NEVER, one_driver
from shared.road.weekly import Weekly
from tests.shared.road.small_worlds import SHORT_DAYS
from tests.shared.road.trips import LONDON, at, drive, trip, work

SIX = at(LONDON, "2027-04-12T06:00")
FORTY_FIVE_HOURS = 45 * 4
SIX_DAYS = 6 * 24 * 4


def law() -> Law[Weekly]:
    return law_of(one_driver(), (Driver(as_of=SIX),), weekly_rests=True)


def begun(**changes: int) -> Weekly:
    state: Weekly = law().begin((Driver(as_of=SIX),), floor_quarter(SIX))
    return state._replace(**changes)


@pytest.mark.parametrize("before", [0, 1, 7])
def test_after_any_work_the_forty_five_hours_count_from_nothing(before: int) -> None:
    (state,) = law().worked(begun(run=before))
    quarters = 0
    while state.since:
        state = law().rested(state, sea_ahead=False)[-1]
        quarters += 1

    assert quarters == FORTY_FIVE_HOURS


def test_a_quarter_of_work_or_at_the_wheel_brings_the_next_one_a_quarter_nearer() -> None:
    assert [each.since for each in law().worked(begun(since=8))] == [9]
    assert {each.since for _, each in law().driven(begun(since=8))} == {9}


@pytest.mark.parametrize(("since", "goes"), [(SIX_DAYS - 1, True), (SIX_DAYS, False)])
def test_nobody_works_or_drives_past_six_days(since: int, *, goes: bool) -> None:
    assert bool(law().worked(begun(since=since))) == goes
    assert bool(law().driven(begun(since=since))) == goes


def test_a_rest_that_did_not_begin_within_six_days_is_too_late() -> None:
    (in_time,) = law().rested(begun(since=SIX_DAYS, run=0), sea_ahead=False)
    assert in_time.run == 1
    assert law().rested(begun(since=SIX_DAYS + 1, run=0), sea_ahead=False) == ()


def test_a_weekly_rest_that_makes_nobody_sooner_changes_no_course() -> None:
    """Three hours of it fit before the gate opens, and give back a short rest that is not needed.

    Of courses that are as soon the one without is told; no source.
    """
    opens = ("2027-04-13T10:00", "2027-04-15T06:00")
    driver = Driver(as_of=SIX, reductions=1, extensions=2)
    rules = replace(SHORT_DAYS, drive_week=100, drive_fortnight=200, weekly_rest_after=300)
    legs = (drive(4), work(7), work(1, LONDON, opens), drive(9))

    found = [
        earliest_arrival(
            trip(driver, *legs, rules=replace(rules, weekly_rest=length)),
            SIX,
            longest=timedelta(hours=40),
        )
        for length in (12, NEVER)
    ]

    assert found[0] is not None
    assert found[0] == found[1]
