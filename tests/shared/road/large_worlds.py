"""Longer journeys drawn by number, by the law's own rules: what the replay is to find sound."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from random import Random

from shared.road.countback import Trip
from shared.road.driver import Driver
from shared.road.legs import Ferry, Journey, Leg, Sailing, Stand, Work
from shared.road.rules import NEVER, RULE_SETS, HoursRules, rule_set, with_reserve
from shared.worktime import Span
from tests.shared.road.drawn_worlds import Asked
from tests.shared.road.trips import HEAVY, drive

QUARTER = timedelta(minutes=15)
FIRST = datetime(2027, 3, 1, tzinfo=UTC)
DAYS = 62
"""From the first day on so many, over the change of clocks, Easter and two holidays in May."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    by: datetime
    hours: int


def large_world(number: int) -> Asked:
    """A journey of up to two days and a half, and when it is to be over."""
    draw = Random(number)
    rules = rule_set(draw.choice(RULE_SETS))
    if draw.random() < 0.3:
        rules = with_reserve(rules, 3)
    by = FIRST + timedelta(days=draw.randrange(DAYS)) + QUARTER * draw.randrange(96)
    legs = _legs(draw, _Way(by=by, hours=draw.choice((12, 30, 44))))
    lorry = HEAVY if draw.random() < 0.6 else None
    drivers = tuple(_driver(draw, rules, by) for _ in range(rules.drivers))
    trip = Trip(journey=Journey(legs=tuple(legs), lorry=lorry), drivers=drivers, rules=rules)
    return Asked(trip=trip, by=by, longest=timedelta(hours=60))


def _legs(draw: Random, way: _Way) -> list[Leg]:
    roads = draw.choice((("GB", "FR", "DE"), ("DE", "AT", "IT"), ("GB", "NL", "DE")))
    legs: list[Leg] = [Work(quarters=draw.randrange(1, 4))] if draw.random() < 0.4 else []
    legs.append(drive(draw.randrange(2, 30), roads[0]))
    if draw.random() < 0.45:
        legs.append(Work(quarters=draw.randrange(1, 4)))
        legs.append(_crossing(draw, way))
        if draw.random() < 0.4:
            legs.append(_office(draw, way))
    for road in roads[1 : draw.randrange(1, 4)]:
        legs.append(drive(draw.randrange(1, 40 if way.hours > 12 else 16), road))
    if draw.random() < 0.15:
        legs.append(Stand(quarters=draw.randrange(4, 60)))
    if draw.random() < 0.5:
        legs.append(_office(draw, way))
    return legs


def _crossing(draw: Random, way: _Way) -> Ferry:
    length = draw.choice((6, 8, 10, 34, 40, 47, 70))
    every = draw.choice((6, 12, 24))
    last = way.by - QUARTER * (length + draw.randrange(4, 80))
    sailings = [last - timedelta(hours=every * n) for n in range(60 // every)]
    return Ferry(
        sailings=tuple(
            Sailing(departs=each, arrives=each + QUARTER * length) for each in reversed(sailings)
        ),
        cut_off=timedelta(minutes=draw.choice((30, 45, 60, 90))),
        bunk=draw.random() < 0.6,
    )


def _office(draw: Random, way: _Way) -> Work:
    midnight = way.by.replace(hour=0, minute=0)
    opens, closes = draw.choice(((8, 16), (7, 19), (22, 29), (9, 11)))
    days = (midnight - timedelta(days=n) for n in range(3, -1, -1))
    return Work(
        quarters=draw.randrange(1, 7 if closes - opens < 3 else 16),
        openings=tuple(
            Span(start=day + timedelta(hours=opens), end=day + timedelta(hours=closes))
            for day in days
        ),
        whole=draw.random() < 0.3,
    )


def _driver(draw: Random, rules: HoursRules, by: datetime) -> Driver:
    leaves = by - timedelta(hours=60)
    week = rules.drive_week if rules.drive_week < NEVER else 0
    return Driver(
        as_of=leaves,
        reductions=draw.randrange(0, rules.reductions + 1),
        extensions=draw.randrange(0, rules.extensions + 1),
        week=draw.choice((0, 0, 0, week // 2, week - min(week, 30))),
        week_before=draw.choice((0, week // 2)),
        weekly_rest_ended=leaves - timedelta(hours=draw.randrange(0, 80)),
    )
