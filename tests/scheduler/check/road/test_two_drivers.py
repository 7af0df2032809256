"""Two drivers of one lorry: turns at the wheel, breaks as a passenger, one rest for both.

Regulation (EC) 561/2006 Art. 8(5), and Art. 7 as amended by Regulation (EU) 2020/1054.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.road.replay import Wrong
from scheduler.rules import Limit
from shared.plan import Doing
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from tests.scheduler.check.road.itineraries import (
    FRESH,
    QUARTER,
    SIX,
    TWO,
    Part,
    breaches,
    itinerary,
    limits,
    wheels,
    wrongs,
)
from tests.shared.road.trips import BERLIN, at, drive, work

BOTH = (FRESH, FRESH)


def shared_wheel(*quarters: int, then: tuple[Part, ...] = ()) -> Itinerary:
    """The first and the second at the wheel in turn, so many quarters each."""
    turns: list[Part] = [
        (Doing.DRIVE, 0, each, 1 + number % 2) for number, each in enumerate(quarters)
    ]
    return itinerary(*turns, *then)


def passed(*quarters: int, then: tuple[Part, ...] = ()) -> list[Limit | None]:
    return limits(shared_wheel(*quarters, then=then), *BOTH, rules=TWO)


def test_two_drive_eighteen_hours_on_end() -> None:
    """Tuesday 18:00 to Wednesday 12:00 in Berlin: not one quarter of it may be spared."""
    leaves = at(BERLIN, "2027-04-13T18:00")
    night = itinerary(*((Doing.DRIVE, 0, 18, 1 + n % 2) for n in range(4)), start=leaves)
    drivers = (Driver(as_of=leaves, extensions=2), Driver(as_of=leaves, extensions=2))

    assert night.arrival == at(BERLIN, "2027-04-14T12:00")
    assert not breaches(night, drive(72, "DE"), drivers=drivers, rules=TWO)


@pytest.mark.parametrize(
    ("quarters", "limit"),
    [
        ((19, 18, 18, 17), Limit.UNBROKEN_DRIVING),
        ((18, 19, 18, 17), Limit.UNBROKEN_DRIVING),
        ((17, 18, 18, 19), Limit.UNBROKEN_DRIVING),
        ((18, 18, 18, 18, 5), Limit.DAILY_DRIVING),
    ],
)
def test_a_quarter_too_many_of_either_is_found(quarters: tuple[int, ...], limit: Limit) -> None:
    assert passed(*quarters) == [limit]


def test_who_has_no_long_day_left_drives_for_nine_hours() -> None:
    night = shared_wheel(18, 18, 18, 18, 1)
    spent = replace(FRESH, extensions=2)

    assert limits(night, FRESH, spent, rules=TWO) == []
    found = breaches(night, wheels(night), drivers=(spent, FRESH), rules=TWO)
    assert [(each.limit, each.driver) for each in found] == [(Limit.LONG_DAYS, 1)]


@pytest.mark.parametrize(("ride", "limits_passed"), [(3, []), (2, [Limit.UNBROKEN_DRIVING])])
def test_three_quarters_beside_the_driver_are_a_break(
    ride: int, limits_passed: list[Limit | None]
) -> None:
    assert passed(18, ride, 1) == limits_passed


def test_both_rest_for_nine_hours_within_thirty() -> None:
    """Driving 18 h and standing 3 h: from then on 9 h, at once."""
    stands: tuple[Part, ...] = ((Doing.REST, 0, 12), (Doing.WORK, 1, 1))
    with_rest = (
        (Doing.REST, 0, 12),
        (Doing.REST, 0, 24),
        (Doing.DRIVE, 0, 1, 1),
    )

    night = shared_wheel(18, 18, 18, 18, then=stands)
    found = breaches(night, drive(72), work(1), drivers=BOTH, rules=TWO)
    assert [(each.limit, each.driver, each.at) for each in found] == [
        (Limit.DAILY_REST, 1, SIX + timedelta(hours=21)),
        (Limit.DAILY_REST, 2, SIX + timedelta(hours=21)),
    ]
    assert passed(18, 18, 18, 18, then=with_rest) == []


def test_the_other_one_at_the_wheel_drives_nothing_of_mine() -> None:
    assert passed(18) == []
    found = itinerary((Doing.DRIVE, 0, 18, 1), (Doing.DRIVE, 0, 18, 1))
    assert [each.driver for each in breaches(found, drive(36), drivers=BOTH, rules=TWO)] == [1]


def test_somebody_is_at_the_wheel() -> None:
    nobody = itinerary((Doing.DRIVE, 0, 4))
    third = itinerary((Doing.DRIVE, 0, 4, 3))

    assert Wrong.WHEEL in wrongs(nobody, drive(4), drivers=BOTH, rules=TWO)
    assert Wrong.WHEEL in wrongs(third, drive(4), drivers=BOTH, rules=TWO)


def test_other_work_is_that_of_both() -> None:
    """Directive 2002/15/EC Art. 5: six hours of work, at the wheel or not, and a break."""

    parts: list[Part] = [(Doing.DRIVE, 0, 12, 1), (Doing.WORK, 1, 13)]

    found = breaches(itinerary(*parts), drive(12), work(13), drivers=BOTH, rules=TWO)

    assert [(each.limit, each.driver, each.at) for each in found] == [
        (Limit.UNBROKEN_WORK, 1, SIX + 24 * QUARTER)
    ]
