"""Journeys drawn by number: bans, sailings, opening hours, spent drivers, vans."""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

from shared.road.countback import Trip
from shared.road.legs import Leg
from shared.road.rules import gb_domestic, one_driver
from shared.road.state import Driver
from tests.shared.road.trips import HEAVY, LONDON, at, drive, ferry, trip, work

SATURDAY = "2027-03-20T"


def small_world(number: int) -> tuple[Trip, datetime]:
    """A journey of at most some ten hours on the road, and when it leaves."""
    draw = Random(number)
    leaves = at(LONDON, f"{SATURDAY}00:00") + timedelta(minutes=15 * draw.randrange(0, 200))
    legs: list[Leg] = [drive(draw.randrange(1, 24), draw.choice(("GB", "FR", "DE")))]
    if draw.random() < 0.5:
        legs.append(work(draw.randrange(1, 9)))
    if draw.random() < 0.4:
        legs.append(_crossing(draw, leaves))
    legs.append(drive(draw.randrange(1, 22), draw.choice(("GB", "FR", "DE"))))
    if draw.random() < 0.3:
        hours = [(f"2027-03-{day}T08:00", f"2027-03-{day}T17:00") for day in range(20, 26)]
        legs.append(work(draw.randrange(1, 12), LONDON, *hours))
    lorry = HEAVY if draw.random() < 0.5 else None
    rules = gb_domestic() if draw.random() < 0.2 else one_driver()
    return trip(_driver(draw), *legs, lorry=lorry, rules=rules), leaves


def _crossing(draw: Random, leaves: datetime) -> Leg:
    length = timedelta(minutes=15 * draw.choice((6, 8, 40, 46)))
    first = leaves + timedelta(minutes=15 * draw.randrange(8, 40))
    later = [first + n * timedelta(hours=draw.choice((6, 9))) for n in range(3)]
    return ferry(
        *((off, off + length) for off in sorted(set(later))),
        cut_off=draw.choice((15, 30, 60)),
        bunk=draw.random() < 0.6,
    )


def _driver(draw: Random) -> Driver:
    return Driver(
        as_of=at(LONDON, f"{SATURDAY}00:00"),
        reductions=draw.choice((0, 2, 3)),
        extensions=draw.choice((0, 1, 2)),
        week=draw.choice((0, 0, 0, 196, 210)),
        week_before=draw.choice((0, 0, 140)),
    )


SHORT_DAYS = replace(
    one_driver(),
    id="short_days",
    source="a fifth of the law's hours, so that the plain search can walk through several days",
    drive_unbroken=4,
    drive_daily=7,
    drive_extended=9,
    drive_week=20,
    drive_fortnight=30,
    work_unbroken=5,
    medium_work=5,
    long_work=8,
    rest=9,
    broken_rest=9,
    reduced_rest=7,
    rest_part=4,
    rest_within=22,
)
"""The rules for one driver with every limit so small that all of them bite in ten hours."""


def short_world(number: int) -> tuple[Trip, datetime]:
    """A journey of a few quarters under the short rules, on Saturday and Sunday evening."""
    draw = Random(number)
    evening = at(LONDON, f"2027-03-{draw.choice((20, 21))}T16:00")
    leaves = evening + timedelta(minutes=15 * draw.randrange(0, 24))
    legs: list[Leg] = [drive(draw.randrange(1, 7), draw.choice(("GB", "FR", "DE")))]
    if draw.random() < 0.5:
        legs.append(work(draw.randrange(1, 4)))
    if draw.random() < 0.5:
        first = leaves + timedelta(minutes=15 * draw.randrange(5, 16))
        off = [first, first + timedelta(minutes=75)]
        length = timedelta(minutes=15 * draw.choice((2, 6, 8, 10)))
        crossings = [(each, each + length) for each in off]
        legs.append(ferry(*crossings, cut_off=15, bunk=draw.random() < 0.7))
    legs.append(drive(draw.randrange(1, 9), draw.choice(("GB", "FR", "DE"))))
    if draw.random() < 0.3:
        legs.append(work(2, LONDON, ("2027-03-21T00:30", "2027-03-21T02:00")))
    driver = Driver(
        as_of=leaves,
        reductions=draw.choice((0, 2, 3)),
        extensions=draw.choice((0, 1, 2)),
        week=draw.choice((0, 8, 12)),
        week_before=draw.choice((0, 10)),
    )
    lorry = HEAVY if draw.random() < 0.5 else None
    return trip(driver, *legs, lorry=lorry, rules=SHORT_DAYS), leaves
