"""Departures that recur; instants by hand from the clock changes of 2027.

Europe: 28 March 2027 and 31 October 2027, both at 01:00 UTC (Directive 2000/84/EC).
"""

from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

import pytest

from shared.book import Departure, LegKind, Timetable
from shared.delivery.choices import check_in_of, means_of
from shared.delivery.timetables import departures_of
from tests.builders import a_leg
from tests.shared.delivery.journeys import (
    AMSTERDAM,
    LONDON,
    PARIS,
    at,
    delivery,
    drive,
    hired,
    journey,
    window,
)

NIGHTLY = Timetable(
    weekdays=(1, 2, 3, 4, 5, 6, 7),
    leaves=time(22),
    arrives=time(8),
    zone=LONDON,
    arrives_zone=AMSTERDAM,
    days_later=1,
    check_in_minutes=90,
)


def table(**changes: Any) -> Timetable:
    told = {
        name: getattr(NIGHTLY, name)
        for name in ("weekdays", "leaves", "arrives", "zone", "arrives_zone", "days_later")
    }
    return Timetable(**{**told, "check_in_minutes": 90, **changes})


def on(since: str, until: str, /, **changes: Any) -> tuple[Departure, ...]:
    leg = a_leg(LegKind.SAILING, 0, timetable=(table(**changes),))
    return departures_of(leg, at(LONDON, since), at(LONDON, until))


@pytest.mark.parametrize(
    ("day", "leaves", "arrives", "hours"),
    [
        ("2027-03-20", "2027-03-20T22:00", "2027-03-21T07:00", 9),
        # Both clocks go forward in the night: an hour less at sea.
        ("2027-03-27", "2027-03-27T22:00", "2027-03-28T06:00", 8),
        # Both go back: an hour more.
        ("2027-10-30", "2027-10-30T21:00", "2027-10-31T07:00", 10),
    ],
)
def test_a_sailing_over_a_clock_change_has_another_length(
    day: str, leaves: str, arrives: str, hours: int
) -> None:
    (found,) = on(f"{day}T00:00", f"{day}T23:59")

    assert found.leaves == datetime.fromisoformat(leaves).replace(tzinfo=UTC)
    assert found.arrives == datetime.fromisoformat(arrives).replace(tzinfo=UTC)
    assert (found.arrives - found.leaves).total_seconds() == hours * 3600
    assert found.check_in_minutes == 90


def test_a_time_that_the_clock_leaves_out_is_the_jump() -> None:
    """01:30 on 28 March does not exist in London: the clock jumps at 01:00 UTC."""
    (found,) = on("2027-03-28T00:00", "2027-03-28T12:00", leaves=time(1, 30), days_later=0)

    assert found.leaves == datetime(2027, 3, 28, 1, 0, tzinfo=UTC)


def test_in_the_hour_that_comes_twice_it_leaves_the_first_time_and_lands_the_second() -> None:
    """London has 01:30 at 00:30 and 01:30 UTC; Amsterdam 02:30 at 00:30 and 01:30 UTC."""
    early = {"leaves": time(1, 30), "arrives": time(2, 30), "days_later": 0}
    (found,) = on("2027-10-31T00:00", "2027-10-31T12:00", **early)

    assert found.leaves == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)
    assert found.arrives == datetime(2027, 10, 31, 1, 30, tzinfo=UTC)


def test_it_sails_on_its_weekdays_in_its_season_by_the_day_it_leaves() -> None:
    """March 2027 begins on a Monday: Tuesdays are 2, 9, 16, 23, 30; the season is 9 to 23."""
    found = on(
        "2027-03-01T00:00",
        "2027-04-01T00:00",
        weekdays=(2,),
        first=date(2027, 3, 9),
        last=date(2027, 3, 23),
    )

    assert [each.leaves.date().day for each in found] == [9, 16, 23]


def test_written_ones_and_recurring_ones_come_in_order() -> None:
    extra = Departure(leaves=at(LONDON, "2027-03-20T12:00"), arrives=at(PARIS, "2027-03-20T16:00"))
    leg = a_leg(LegKind.SAILING, 0, departures=(extra,), timetable=(NIGHTLY,))

    found = departures_of(leg, at(LONDON, "2027-03-19T12:00"), at(LONDON, "2027-03-21T00:00"))

    assert [each.leaves for each in found] == [
        at(LONDON, "2027-03-19T22:00"),
        extra.leaves,
        at(LONDON, "2027-03-20T22:00"),
    ]


def test_one_that_lands_before_it_leaves_is_none() -> None:
    assert on("2027-03-20T00:00", "2027-03-21T00:00", days_later=0) == ()


@pytest.mark.parametrize(
    ("leaves", "arrives", "there", "drivers", "minutes"),
    [
        # An hour as usual (TR15); a night is no short crossing.
        (time(22), time(8), "NL", 1, 60),
        # 90 minutes over the Channel: border controls, the longer of TR15c.
        (time(10), time(12, 30), "FR", 1, 120),
        # Two hours and a half by the clocks of both shores are short, a minute more is not.
        (time(10), time(13, 30), "FR", 1, 120),
        (time(10), time(13, 31), "FR", 1, 60),
        # As short, with no border between.
        (time(10), time(12, 30), "GB", 1, 60),
        # A trailer that nobody drives: four hours (TR15b).
        (time(22), time(8), "NL", 0, 240),
    ],
)
def test_a_check_in_that_is_not_told_goes_by_the_kind_of_load(
    leaves: time, arrives: time, there: str, drivers: int, minutes: int
) -> None:
    later = 1 if arrives < leaves else 0
    sea = a_leg(
        LegKind.SAILING,
        0,
        timetable=(
            table(
                leaves=leaves,
                arrives=arrives,
                days_later=later,
                check_in_minutes=None,
                arrives_zone=PARIS,
            ),
        ),
    )
    legs = (drive(60), sea, drive(60, there))
    week = window(LONDON, "2027-03-15T08:00", "2027-03-19T18:00")
    found = delivery(journey(*legs, means=(hired(drivers=drivers),)), week)

    assert check_in_of(found.asked, 1, means_of(found.asked)[0]) == minutes
    assert [each.check_in_minutes for each in found.choices[0].offers] == [minutes]
    assert found.choices[0].price == Decimal(0)


def test_departures_are_those_from_one_instant_until_right_before_another() -> None:
    found = on("2027-05-03T22:00", "2027-05-05T22:00")

    assert [each.leaves for each in found] == [
        at(LONDON, "2027-05-03T22:00"),
        at(LONDON, "2027-05-04T22:00"),
    ]


def test_what_lands_as_it_leaves_is_no_departure() -> None:
    assert on("2027-05-03T00:00", "2027-05-04T00:00", arrives=time(23), days_later=0) == ()
