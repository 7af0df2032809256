"""How long before a sailing one is there where nothing tells, by the check's own reading.

A short crossing with a border control of Great Britain takes the longer of its range (TR15c).
"""

from dataclasses import replace
from datetime import time
from decimal import Decimal

import pytest

from scheduler.check.clock import seconds
from scheduler.check.legs import usual_check_in
from scheduler.check.world import World
from shared.book import Leg, LegKind, Means, RoadShare, Timetable
from tests.builders import a_leg
from tests.scheduler.check.change import step_changed
from tests.scheduler.check.haul import haul_book, haul_plan

DAILY = Timetable(
    weekdays=(1, 2, 3, 4, 5, 6, 7),
    leaves=time(10),
    arrives=time(13, 30),
    zone="Europe/London",
    arrives_zone="Europe/Paris",
)


def road(*countries: str) -> Leg:
    share = Decimal(100) / len(countries)
    return a_leg(shares=tuple(RoadShare(country=each, percent=share) for each in countries))


def check_in(before: Leg, after: Leg, *, drivers: int = 1, **changes: object) -> int:
    sea = a_leg(LegKind.SAILING, 0, timetable=(replace(DAILY, **changes),))  # type: ignore[arg-type]
    book = step_changed(haul_book(), "haul", legs=(before, sea, after))
    plan = haul_plan(book)
    world, job = World(book, plan, seconds(plan.now)), book.jobs[0]
    return usual_check_in(world, job, job.steps[2], 1, Means(id="", drivers=drivers))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("before", "after", "minutes"),
    [
        (road("GB"), road("FR"), 120),
        (a_leg(country="GB"), a_leg(country="FR"), 120),
        # The road that ends at the quay counts, and the one that begins behind it.
        (road("FR", "GB"), road("NL"), 120),
        (road("GB", "FR"), road("NL"), 60),
        (road("FR"), road("GB", "FR"), 120),
        (road("FR"), road("NL", "GB"), 60),
        (road("GB"), road("GB"), 60),
    ],
)
def test_a_short_crossing_with_border_controls_takes_longer(
    before: Leg, after: Leg, minutes: int
) -> None:
    assert check_in(before, after) == minutes


def test_two_hours_and_a_half_by_both_clocks_are_short_and_a_minute_more_is_not() -> None:
    assert check_in(road("GB"), road("FR"), arrives=time(13, 30)) == 120
    assert check_in(road("GB"), road("FR"), arrives=time(13, 31)) == 60


def test_a_trailer_that_nobody_drives_is_there_hours_before() -> None:
    assert check_in(road("GB"), road("FR"), drivers=0) == 240
