"""A second opinion on an itinerary, from the definitions; it shares no code with the search."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from scheduler.check.road.acts import BREAKS_REST, QUARTER, acts_of
from scheduler.check.road.bans import first_banned
from scheduler.check.road.figures import figure_behind
from scheduler.check.road.hours import passed
from scheduler.rules import Limit
from shared.plan import Doing, Stretch
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.legs import Drive, Ferry, Journey, Stand, Work
from shared.road.rules import HoursRules

_BOARDS = {Doing.BOARD, Doing.BOARD_IN_REST}
_LANDS = {Doing.LAND, Doing.LAND_IN_REST}
_AT_SEA = {Doing.SEA, Doing.SEA_REST}


class Wrong(StrEnum):
    """What an itinerary breaks.

    drivers: more or fewer than the rules are for. wheel: of two drivers, nobody or somebody else is
    at it. whole: work is spread over several openings that has to lie in one.
    """

    GAP = "gap"
    LEGS = "legs"
    BAN = "ban"
    CLOSED = "closed"
    WHOLE = "whole"
    SAILING = "sailing"
    DRIVERS = "drivers"
    WHEEL = "wheel"
    HOURS = "hours"


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """What is wrong, from when on, and the figure behind the rule, empty where there is none.

    leg: from 0, None where none is to blame. driver: 1 or 2, whose hours `limit` is of; else 0.
    """

    wrong: Wrong
    at: datetime
    rule: str = ""
    leg: int | None = None
    driver: int = 0
    limit: Limit | None = None


def replay(
    journey: Journey, drivers: tuple[Driver, ...], rules: HoursRules, itinerary: Itinerary
) -> tuple[Breach, ...]:
    """Give everything that is wrong with an itinerary; nothing if it is sound."""
    stretches = _in_utc(itinerary)
    return (
        *gaps(stretches, itinerary.departure),
        *_legs_not_done(journey, stretches),
        *_shut(journey, stretches),
        *_at_sea(journey, stretches),
        *hours(drivers, rules, stretches),
    )


def _in_utc(itinerary: Itinerary) -> tuple[Stretch, ...]:
    """Give the stretches in UTC: a local clock that is changed adds up to something else."""
    return tuple(
        replace(each, start=each.start.astimezone(UTC), end=each.end.astimezone(UTC))
        for each in itinerary.stretches
    )


def gaps(stretches: Sequence[Stretch], departure: datetime) -> Iterator[Breach]:
    """Give the stretches that don't begin where the one before ended, or not on a quarter."""
    now = departure
    for each in stretches:
        if each.start != now or each.end <= each.start or not _on_grid(each):
            yield Breach(wrong=Wrong.GAP, at=each.start, leg=each.leg)
        now = each.end


def _on_grid(each: Stretch) -> bool:
    return not any(at.minute % 15 or at.second or at.microsecond for at in (each.start, each.end))


def hours(
    drivers: Sequence[Driver], rules: HoursRules, stretches: Sequence[Stretch]
) -> Iterator[Breach]:
    """Give what stretches without a gap break of the hours of one or two drivers."""
    if len(drivers) != rules.drivers or not stretches:
        at = stretches[0].start if stretches else drivers[0].as_of
        yield Breach(wrong=Wrong.DRIVERS, at=at)
        return
    wheels = range(1, len(drivers) + 1) if len(drivers) > 1 else (0, 1)
    for each in stretches:
        if each.doing is Doing.DRIVE and each.wheel not in wheels:
            yield Breach(wrong=Wrong.WHEEL, at=each.start, leg=each.leg)
    for number, driver in enumerate(drivers, 1):
        found = passed(driver, rules, acts_of(stretches, number, len(drivers)))
        if found is not None:
            yield Breach(
                wrong=Wrong.HOURS,
                at=found.at,
                rule=figure_behind(rules, found.limit),
                driver=number,
                limit=found.limit,
            )


def _legs_not_done(journey: Journey, stretches: Sequence[Stretch]) -> Iterator[Breach]:
    """Give the legs that are out of order, or not done at their full length and in their way."""
    order = [each.leg for each in stretches]
    if order != sorted(order) or order[-1] >= len(journey.legs):
        yield Breach(wrong=Wrong.LEGS, at=stretches[0].start)
    for number, leg in enumerate(journey.legs):
        mine = [each for each in stretches if each.leg == number]
        match leg:
            case Ferry():
                sound = _is_sailed(mine)
            case Stand():
                sound = _is_stood(mine, leg.quarters)
            case _:
                wanted = Doing.DRIVE if isinstance(leg, Drive) else Doing.WORK
                sound = _is_done(mine, wanted, leg.quarters)
        if not sound:
            yield Breach(wrong=Wrong.LEGS, at=stretches[-1].end, leg=number)


def _is_done(mine: Sequence[Stretch], wanted: Doing, quarters: int) -> bool:
    moved = [each for each in mine if each.doing is not Doing.REST]
    return _length(moved) == quarters * QUARTER and all(each.doing is wanted for each in moved)


def _is_stood(mine: Sequence[Stretch], quarters: int) -> bool:
    """Say whether something stands so long, at least, while everybody rests."""
    return _length(mine) >= quarters * QUARTER and all(
        each.doing in {Doing.STAND, Doing.REST} for each in mine
    )


def _length(mine: Sequence[Stretch]) -> timedelta:
    return sum((each.end - each.start for each in mine), timedelta())


def _is_sailed(mine: Sequence[Stretch]) -> bool:
    """Say whether a ferry's stretches are: rest in the lane, board, at sea, land."""
    while mine and mine[0].doing is Doing.REST:
        mine = mine[1:]
    return (
        len(mine) >= 3
        and mine[0].doing in _BOARDS
        and mine[-1].doing in _LANDS
        and all(each.doing in _AT_SEA for each in mine[1:-1])
        and len({each.sailing for each in mine}) == 1
    )


def _shut(journey: Journey, stretches: Sequence[Stretch]) -> Iterator[Breach]:
    """Give the wheels that turn in a ban, and the work outside its openings."""
    for each in stretches:
        leg = journey.legs[each.leg] if each.leg < len(journey.legs) else None
        if isinstance(leg, Drive) and each.doing is Doing.DRIVE and journey.lorry is not None:
            ban = first_banned(leg.road, journey.lorry, each.start, each.end)
            if ban is not None:
                yield Breach(wrong=Wrong.BAN, at=ban.at, rule=ban.rule, leg=each.leg)
        if isinstance(leg, Work) and each.doing is Doing.WORK and not _is_open(leg, each):
            yield Breach(wrong=Wrong.CLOSED, at=each.start, leg=each.leg)
    for number, leg in enumerate(journey.legs):
        worked = [e for e in stretches if e.leg == number and e.doing is Doing.WORK]
        if isinstance(leg, Work) and leg.whole and worked and not _is_whole(leg, worked):
            yield Breach(wrong=Wrong.WHOLE, at=worked[0].start, leg=number)


def _is_open(leg: Work, each: Stretch) -> bool:
    return leg.openings is None or any(
        span.start <= each.start and each.end <= span.end for span in leg.openings
    )


def _is_whole(leg: Work, worked: Sequence[Stretch]) -> bool:
    return leg.openings is None or any(
        span.start <= worked[0].start and worked[-1].end <= span.end for span in leg.openings
    )


def _at_sea(journey: Journey, stretches: Sequence[Stretch]) -> Iterator[Breach]:
    """Give what misses the check-in, or does not board, sail and land when the ship does."""
    for number, leg in enumerate(journey.legs):
        mine = [each for each in stretches if each.leg == number]
        if isinstance(leg, Ferry) and mine and not _is_caught(leg, mine):
            yield Breach(wrong=Wrong.SAILING, at=mine[0].start, leg=number)


def _is_caught(leg: Ferry, mine: Sequence[Stretch]) -> bool:
    number = mine[-1].sailing or 0
    if number >= len(leg.sailings):
        return False
    ship = leg.sailings[number]
    departs, arrives = ship.departs.astimezone(UTC), ship.arrives.astimezone(UTC)
    boards = [(each.start, each.end) for each in mine if each.doing in _BOARDS]
    lands = [(each.start, each.end) for each in mine if each.doing in _LANDS]
    at_sea = Doing.SEA_REST if leg.bunk else Doing.SEA
    return (
        mine[0].start <= departs - max(leg.cut_off, QUARTER)
        and boards == [(departs - QUARTER, departs)]
        and lands == [(arrives, arrives + QUARTER)]
        and (leg.bunk or all(each.doing not in BREAKS_REST for each in mine))
        and all(each.doing is at_sea for each in mine if each.doing in _AT_SEA)
    )
