"""Worlds drawn by number, small enough to walk through every quarter of every course.

Most have rules of which every limit is a few quarters, drawn as well; some the law's own on short
roads. One driver, two, vans, and people on site; bans, sailings, opening hours, stands, weeks that
turn, weekly rests, drivers who are used up or have been on duty for a while.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from random import Random

from shared.road.countback import Trip
from shared.road.driver import Driver
from shared.road.legs import Ferry, Journey, Leg, Sailing, Stand, Work
from shared.road.rules import NEVER, HoursRules, rule_set
from shared.worktime import Span
from tests.shared.road.trips import BERLIN, HEAVY, LONDON, PARIS, at, drive

QUARTER = timedelta(minutes=15)
EDGES = (
    at(PARIS, "2027-03-20T22:00"),
    at(BERLIN, "2027-03-21T00:00"),
    at(BERLIN, "2027-03-21T22:00"),
    at(LONDON, "2027-03-22T00:00"),
    at(PARIS, "2027-03-29T22:00"),
    at(LONDON, "2027-03-28T01:30"),
)
"""Where bans begin and end, a fixed week turns, and clocks are changed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A trip, by when its goal is to be over, and how long before that it may leave."""

    trip: Trip
    by: datetime
    longest: timedelta


def drawn_world(number: int) -> Asked:
    """The world of a number."""
    draw = Random(number)
    rules, horizon = draw.choice(KINDS)(draw)
    by = draw.choice(EDGES).astimezone(UTC) + QUARTER * draw.randrange(2, 18)
    legs = _legs(draw, by, tiny=rules.id.startswith("drawn"))
    lorry = HEAVY if draw.random() < 0.5 else None
    goal = None
    if draw.random() < 0.15 and len(legs) > 1:
        goal, horizon = draw.randrange(1, len(legs)), min(9, horizon)
    journey = Journey(legs=tuple(legs), lorry=lorry, goal=goal)
    drivers = tuple(_driver(draw, rules, by, horizon) for _ in range(rules.drivers))
    trip = Trip(journey=journey, drivers=drivers, rules=rules)
    return Asked(trip=trip, by=by, longest=QUARTER * horizon)


LONG = 22


def _alone(draw: Random) -> tuple[HoursRules, int]:
    longest = draw.randrange(2, 4)
    daily, rest = draw.randrange(4, 7), draw.randrange(4, 7)
    parted = draw.random() < 0.7
    rules = replace(
        rule_set("eu_one_driver"),
        id="drawn_alone",
        drive_unbroken=draw.randrange(3, 5),
        break_length=longest,
        break_part=1 if parted else 0,
        break_second=longest - 1 if parted else 0,
        drive_daily=daily,
        drive_extended=daily + draw.randrange(1, 3),
        extensions=draw.randrange(1, 3),
        rest=rest,
        broken_rest=rest,
        reduced_rest=draw.randrange(3, rest + 1),
        reductions=draw.randrange(1, 3),
        rest_part=draw.choice((2, 3, NEVER)),
        rest_within=rest + draw.randrange(6, 10),
        interruptions=2,
        interrupted=2,
    )
    return _with_labour(draw, _with_weeks(draw, rules)), 17


def _with_weeks(draw: Random, rules: HoursRules) -> HoursRules:
    week = draw.randrange(9, 15)
    return replace(
        rules,
        drive_week=week,
        drive_fortnight=week + draw.randrange(2, 7),
        weekly_rest=rules.rest + draw.randrange(1, 4),
        weekly_rest_after=draw.choice((14, 18, 22, 576)),
    )


def _with_labour(draw: Random, rules: HoursRules) -> HoursRules:
    medium, short = draw.randrange(4, 6), draw.randrange(1, 3)
    return replace(
        rules,
        work_unbroken=draw.randrange(3, 6),
        break_counts=draw.randrange(1, 3),
        medium_work=medium,
        medium_break=short,
        long_work=medium + draw.randrange(1, 3),
        long_break=short + draw.randrange(0, 2),
        work_daily=draw.choice((NEVER, draw.randrange(6, 9))),
    )


def _together(draw: Random) -> tuple[HoursRules, int]:
    rules, _ = _alone(draw)
    rest = draw.randrange(3, 5)
    rules = replace(
        rules,
        id="drawn_together",
        drivers=2,
        drive_unbroken=draw.randrange(2, 4),
        drive_daily=draw.randrange(3, 5),
        drive_extended=5,
        passenger_break=rules.break_length,
        rest=rest,
        reduced_rest=rest,
        reductions=0,
        rest_part=NEVER,
        broken_rest=rest + 1,
        rest_within=rest + draw.randrange(6, 10),
        drive_week=draw.randrange(6, 9),
        drive_fortnight=draw.randrange(8, 12),
    )
    return rules, 15


def _van(draw: Random) -> tuple[HoursRules, int]:
    rest = draw.randrange(4, 7)
    rules = replace(
        rule_set("gb_domestic"),
        id="drawn_van",
        drive_unbroken=draw.randrange(3, 5),
        break_length=draw.randrange(1, 3),
        drive_daily=draw.randrange(5, 8),
        work_unbroken=draw.randrange(3, 6),
        break_counts=1,
        work_daily=draw.randrange(5, 9),
        rest=rest,
        reduced_rest=rest,
        rest_within=rest + draw.randrange(7, 11),
        weekly_rest=draw.choice((0, 9)),
        weekly_rest_after=draw.choice((16, 22, 576)),
    )
    return replace(rules, drive_extended=rules.drive_daily), 19


def _site(draw: Random) -> tuple[HoursRules, int]:
    rest = draw.randrange(5, 8)
    rules = replace(
        rule_set(draw.choice(("workers_uk", "workers_eu"))),
        id="drawn_site",
        work_unbroken=draw.randrange(3, 6),
        rest=rest,
        reduced_rest=rest,
        rest_within=rest + draw.randrange(7, 11),
    )
    return rules, 19


def _law(draw: Random) -> tuple[HoursRules, int]:
    names = ("eu_one_driver", "eu_two_drivers", "gb_domestic", "gb_domestic_light", "workers_eu")
    rules = rule_set(draw.choice(names))
    return rules, LONG if rules.drivers == 1 else 14


KINDS: tuple[Callable[[Random], tuple[HoursRules, int]], ...] = (
    *(_alone, _alone, _alone, _together, _together, _together),
    *(_van, _van, _site, _law),
)


def _legs(draw: Random, by: datetime, *, tiny: bool) -> list[Leg]:
    road = ("GB", "FR", "DE")
    long = 5 if tiny else 14
    legs: list[Leg] = [drive(draw.randrange(1, long), draw.choice(road))]
    if draw.random() < 0.4:
        legs.append(_work(draw, by))
    if draw.random() < 0.35:
        legs.append(_crossing(draw, by))
    if draw.random() < 0.3:
        legs.append(Stand(quarters=draw.randrange(1, 8)))
    if draw.random() < 0.7:
        legs.append(drive(draw.randrange(1, long), draw.choice(road)))
    if draw.random() < 0.4:
        legs.append(_work(draw, by))
    if draw.random() < 0.1:
        legs.insert(0, _crossing(draw, by) if draw.random() < 0.5 else _work(draw, by))
    if draw.random() < 0.1:
        legs.append(Stand(quarters=draw.randrange(1, 4)))
    return legs


def _work(draw: Random, by: datetime) -> Work:
    quarters = draw.randrange(1, 4)
    if draw.random() < 0.4:
        return Work(quarters=quarters, whole=draw.random() < 0.2)
    spans, ends = [], by + timedelta(minutes=draw.choice((0, 15, 40)))
    for _ in range(draw.randrange(1, 4)):
        starts = ends - timedelta(minutes=draw.choice((45, 70, 90, 150)))
        spans.append(Span(start=starts, end=ends))
        ends = starts - timedelta(minutes=draw.choice((15, 35, 60, 105)))
    return Work(quarters=quarters, openings=tuple(reversed(spans)), whole=draw.random() < 0.5)


def _crossing(draw: Random, by: datetime) -> Ferry:
    length = draw.choice((1, 2, 4, 6, 7, 9))
    offs = sorted(draw.sample(range(length + 2, 18), draw.randrange(1, 4)), reverse=True)
    return Ferry(
        sailings=tuple(
            Sailing(departs=by - QUARTER * each, arrives=by - QUARTER * (each - length))
            for each in offs
        ),
        cut_off=timedelta(minutes=draw.choice((0, 15, 20, 45))),
        bunk=draw.random() < 0.7,
    )


def _driver(draw: Random, rules: HoursRules, by: datetime, horizon: int) -> Driver:
    """A driver as they are; a weekly rest is never due before the first departure."""
    spare = min(8, rules.weekly_rest_after - horizon)
    rested = by - QUARTER * (horizon + draw.randrange(spare)) if spare > 0 else None
    week = rules.drive_week if rules.drive_week < NEVER else 0
    return Driver(
        as_of=by - QUARTER * 30,
        reductions=draw.randrange(0, rules.reductions + 1),
        extensions=draw.randrange(0, rules.extensions + 1),
        week=draw.choice((0, 0, 0, max(0, week - draw.randrange(2, 8)))),
        week_before=draw.choice((0, 0, week // 2)),
        weekly_rest_ended=rested if draw.random() < 0.5 else None,
        clock=draw.choice((0, 0, 0, -1, draw.randrange(1, 6))) if rules.drivers == 1 else 0,
    )
