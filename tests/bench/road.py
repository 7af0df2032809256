"""How long the latest departure of a random trip takes: ``road --trips N --seed S``.

``--kind K`` draws one kind only, ``--set`` times all departures as well, ``--worst N`` tells the
slowest. Single process, one core.
"""

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from random import Random
from statistics import median
from time import process_time

from shared.road.bans import Lorry, Road
from shared.road.countback import Trip, departures, forget, latest_departure
from shared.road.driver import Driver
from shared.road.legs import Drive, Ferry, Journey, Leg, Sailing, Work
from shared.road.rules import rule_set
from shared.road.search import Watch
from shared.worktime import Span

KINDS = ("plain", "ban", "bunk", "day ship", "opening", "used", "mixed", "van", "two")
_QUARTER = timedelta(minutes=15)
_FIRST = datetime(2027, 1, 4, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A trip to time, by when it has to be there, and how long before that it may leave.

    No earlier than the moment that the driver's figures speak of.
    """

    kind: str
    trip: Trip
    by: datetime
    longest: timedelta


def draw(number: int, kind: str | None = None) -> Drawn:
    """Draw a trip of up to three days by number."""
    dice = Random(f"road {number}")
    kind = kind or KINDS[number % len(KINDS)]
    by = _FIRST + dice.randrange(0, 360 * 96) * _QUARTER
    legs, lorry = _LEGS[kind](dice, by)
    rules = rule_set({"van": "gb_domestic", "two": "eu_two_drivers"}.get(kind, "eu_one_driver"))
    crew = tuple(
        _driver(dice, by, used=kind in {"used", "mixed"} or dice.random() < 0.3)
        for _ in range(rules.drivers)
    )
    journey = Journey(legs=tuple(legs), lorry=lorry)
    trip = Trip(journey=journey, drivers=crew, rules=rules)
    return Drawn(kind=kind, trip=trip, by=by, longest=by - max(each.as_of for each in crew))


def _driver(dice: Random, by: datetime, *, used: bool) -> Driver:
    as_of = by - timedelta(days=dice.randrange(4, 8))
    if not used:
        return Driver(as_of=as_of)
    return Driver(
        as_of=as_of,
        reductions=dice.randrange(0, 4),
        extensions=dice.randrange(0, 3),
        week=dice.choice((0, 40, 120, 160, 190)),
        week_before=dice.choice((0, 140, 200)),
    )


_Drawn = tuple[list[Leg], Lorry | None]


def _drive(dice: Random, least: int, most: int, *countries: str) -> Drive:
    country = dice.choice(countries or ("GB", "NL", "BE", "DE", "FR"))
    return Drive(quarters=dice.randrange(least, most + 1), road=Road(country=country))


def _plain(dice: Random, by: datetime) -> _Drawn:
    legs: list[Leg] = [_drive(dice, 8, 60, "GB", "NL")]
    if dice.random() < 0.5:
        legs.append(Work(quarters=dice.randrange(1, 17)))
    legs.append(_drive(dice, 8, 60, "NL", "BE"))
    return legs, None


def _ban(dice: Random, by: datetime) -> _Drawn:
    legs: list[Leg] = [_drive(dice, 4, 40, "DE", "FR"), _drive(dice, 4, 40, "DE", "FR", "BE")]
    legs.append(_drive(dice, 4, 40, "DE", "FR"))
    return legs, Lorry(tonnes=Decimal(18))


def _bunk(dice: Random, by: datetime) -> _Drawn:
    return _over_sea(dice, by, bunk=True, lengths=(32, 38, 44, 60, 104)), None


def _day_ship(dice: Random, by: datetime) -> _Drawn:
    return _over_sea(dice, by, bunk=False, lengths=(6, 8, 12, 20)), None


def _over_sea(dice: Random, by: datetime, *, bunk: bool, lengths: tuple[int, ...]) -> list[Leg]:
    beyond = _drive(dice, 4, 44, "NL", "BE", "NO")
    legs: list[Leg] = [_drive(dice, 4, 50, "GB"), Work(quarters=dice.randrange(1, 5))]
    legs.append(_ship(dice, by, beyond.quarters, bunk=bunk, lengths=lengths))
    if dice.random() < 0.5:
        legs.append(_office(dice, by))
    return [*legs, beyond]


def _ship(
    dice: Random, by: datetime, beyond: int, *, bunk: bool, lengths: tuple[int, ...]
) -> Ferry:
    length = dice.choice(lengths) * _QUARTER
    every = dice.choice((2, 6, 12, 24)) * 4 * _QUARTER
    last = by - beyond * _QUARTER - length
    sails = [last - n * every for n in range(int(timedelta(days=5) / every), -1, -1)]
    return Ferry(
        sailings=tuple(Sailing(departs=each, arrives=each + length) for each in sails),
        cut_off=dice.choice((30, 60, 90)) * timedelta(minutes=1),
        bunk=bunk,
    )


def _office(dice: Random, by: datetime) -> Work:
    days = [by.replace(hour=0, minute=0) - timedelta(days=n) for n in range(8)]
    opens, closes = dice.choice(((8, 16), (6, 22), (9, 17)))
    spans = [
        Span(start=day.replace(hour=opens), end=day.replace(hour=closes))
        for day in reversed(days)
        if day.weekday() < 5
    ]
    return Work(quarters=dice.randrange(1, 9), openings=tuple(spans), whole=dice.random() < 0.3)


def _opening(dice: Random, by: datetime) -> _Drawn:
    legs: list[Leg] = [_drive(dice, 8, 60, "GB", "NL"), _office(dice, by)]
    legs.append(_drive(dice, 4, 50, "NL", "BE"))
    if dice.random() < 0.5:
        legs.append(replace(_office(dice, by), quarters=dice.randrange(8, 30), whole=False))
    return legs, None


def _used(dice: Random, by: datetime) -> _Drawn:
    return _plain(dice, by)


def _mixed(dice: Random, by: datetime) -> _Drawn:
    bunk = dice.random() < 0.5
    legs = _over_sea(dice, by, bunk=bunk, lengths=(36, 44) if bunk else (6, 8))
    legs.append(_drive(dice, 4, 40, "DE", "FR"))
    return legs, Lorry(tonnes=Decimal(18))


def _van(dice: Random, by: datetime) -> _Drawn:
    legs: list[Leg] = [_drive(dice, 4, 60, "GB")]
    legs.append(replace(_office(dice, by), quarters=dice.randrange(4, 40), whole=False))
    return legs, None


def _two(dice: Random, by: datetime) -> _Drawn:
    return dice.choice((_plain, _ban, _bunk, _mixed))(dice, by)


_LEGS: dict[str, Callable[[Random, datetime], _Drawn]] = {
    "plain": _plain,
    "ban": _ban,
    "bunk": _bunk,
    "day ship": _day_ship,
    "opening": _opening,
    "used": _used,
    "mixed": _mixed,
    "van": _van,
    "two": _two,
}


def main(argv: list[str]) -> int:
    """Draw, time, tell."""
    wanted = _parsed(argv)
    times: dict[str, list[tuple[float, int]]] = {}
    sets: list[tuple[float, int]] = []
    found = 0
    for number in range(wanted.seed * 1000, wanted.seed * 1000 + wanted.trips):
        drawn = draw(number, wanted.kind)
        forget()
        began = process_time()
        watch = _limit(began + wanted.limit)
        try:
            found += (
                latest_departure(drawn.trip, drawn.by, longest=drawn.longest, watch=watch)
                is not None
            )
        except _TooLong:
            print(f"number {number} stopped")
        took = process_time() - began
        times.setdefault(drawn.kind, []).append((took, number))
        if wanted.set:
            sets.append((_time_of_set(drawn, wanted.limit), number))
    everything = [each for some in times.values() for each in some]
    print(f"{len(everything)} trips, {found} with a departure; seconds")
    print(f"{'kind':10} {'trips':>5} {'median':>8} {'95 %':>8} {'worst':>8}  number of the worst")
    for kind, some in [*sorted(times.items()), ("all", everything)]:
        print(_line(kind, some))
    if sets:
        print(_line("set", sets))
    for took, number in sorted(everything, reverse=True)[: wanted.worst]:
        print(f"{took:8.3f} s  number {number}")
    return 0


class _TooLong(Exception):  # noqa: N818 - it says what is wrong
    """A trip took longer than it may."""


def _limit(until: float) -> Watch:
    def watch(looked: int, of: int) -> None:
        del looked, of
        if process_time() > until:
            raise _TooLong

    return watch


def _time_of_set(drawn: Drawn, limit: float) -> float:
    began = process_time()
    try:
        departures(drawn.trip, drawn.by, longest=drawn.longest, watch=_limit(began + limit))
    except _TooLong:
        print("a set stopped")
    return process_time() - began


def _parsed(argv: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="road")
    parser.add_argument("--trips", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", choices=KINDS)
    parser.add_argument("--set", action="store_true")
    parser.add_argument("--limit", type=float, default=120, help="seconds for one trip")
    parser.add_argument("--worst", type=int, default=0)
    return parser.parse_args(argv)


def _line(kind: str, some: list[tuple[float, int]]) -> str:
    ordered = sorted(each for each, _ in some)
    most = ordered[min(len(ordered) - 1, len(ordered) * 95 // 100)]
    slowest, number = max(some)
    return f"{kind:10} {len(some):5} {median(ordered):8.3f} {most:8.3f} {slowest:8.3f}  {number}"
