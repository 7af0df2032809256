"""A second opinion on an itinerary, from the definitions; it shares no code with the search."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from shared.road.bans import ban_spans
from shared.road.itinerary import Doing, Itinerary, Stretch
from shared.road.legs import Drive, Ferry, Journey, Work
from scheduler.check.road.hours import keeps_hours
from shared.road.rules import HoursRules
from shared.road.state import Driver

_QUARTER = timedelta(minutes=15)
_BOARDS = {Doing.BOARD, Doing.BOARD_IN_REST}
_LANDS = {Doing.LAND, Doing.LAND_IN_REST}
_AT_SEA = {Doing.SEA, Doing.SEA_REST}
_BREAKS_REST = {Doing.BOARD_IN_REST, Doing.LAND_IN_REST}


class Wrong(StrEnum):
    """What an itinerary breaks."""

    GAP = "gap"
    LEGS = "legs"
    BAN = "ban"
    CLOSED = "closed"
    SAILING = "sailing"
    HOURS = "hours"


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """What is wrong, from when on."""

    wrong: Wrong
    at: datetime


def replay(
    journey: Journey, drivers: tuple[Driver, ...], rules: HoursRules, itinerary: Itinerary
) -> tuple[Breach, ...]:
    """Give everything that is wrong with an itinerary of one driver; nothing if it is sound."""
    found = [
        *_gaps(itinerary),
        *_legs_not_done(journey, itinerary),
        *_shut(journey, itinerary),
        *_at_sea(journey, itinerary),
    ]
    if not keeps_hours(drivers[0], rules, itinerary):
        found.append(Breach(wrong=Wrong.HOURS, at=itinerary.departure))
    return tuple(found)


def _gaps(itinerary: Itinerary) -> Iterator[Breach]:
    now = itinerary.departure
    for each in itinerary.stretches:
        if each.start != now or each.end <= each.start or each.start.minute % 15:
            yield Breach(wrong=Wrong.GAP, at=each.start)
        now = each.end


def _legs_not_done(journey: Journey, itinerary: Itinerary) -> Iterator[Breach]:
    """Give the legs that are out of order, or not done at their full length and in their way."""
    order = [each.leg for each in itinerary.stretches]
    if order != sorted(order):
        yield Breach(wrong=Wrong.LEGS, at=itinerary.departure)
    for number, leg in enumerate(journey.legs):
        mine = [each for each in itinerary.stretches if each.leg == number]
        if isinstance(leg, Ferry):
            sound = _sailed(mine)
        else:
            wanted = Doing.DRIVE if isinstance(leg, Drive) else Doing.WORK
            moved = [each for each in mine if each.doing is not Doing.REST]
            done = sum((each.end - each.start for each in moved), timedelta())
            sound = done == leg.quarters * _QUARTER and all(each.doing is wanted for each in moved)
        if not sound:
            yield Breach(wrong=Wrong.LEGS, at=itinerary.arrival)


def _sailed(mine: list[Stretch]) -> bool:
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


def _shut(journey: Journey, itinerary: Itinerary) -> Iterator[Breach]:
    """Give the wheels that turn in a ban, and the work outside its openings."""
    for each in itinerary.stretches:
        leg = journey.legs[each.leg]
        if isinstance(leg, Drive) and each.doing is Doing.DRIVE and _banned(journey, leg, each):
            yield Breach(wrong=Wrong.BAN, at=each.start)
        if isinstance(leg, Work) and each.doing is Doing.WORK and not _open(leg, each):
            yield Breach(wrong=Wrong.CLOSED, at=each.start)


def _banned(journey: Journey, leg: Drive, each: Stretch) -> bool:
    lorry = journey.lorry
    return lorry is not None and bool(ban_spans(leg.road, lorry, each.start, each.end))


def _open(leg: Work, each: Stretch) -> bool:
    return leg.openings is None or any(
        span.start <= each.start and each.end <= span.end for span in leg.openings
    )


def _at_sea(journey: Journey, itinerary: Itinerary) -> Iterator[Breach]:
    """Give what misses the check-in, or does not board, sail and land when the ship does."""
    for number, leg in enumerate(journey.legs):
        mine = [each for each in itinerary.stretches if each.leg == number]
        if not isinstance(leg, Ferry) or not mine:
            continue
        sailing = mine[-1].sailing
        ship = leg.sailings[sailing] if sailing is not None else leg.sailings[0]
        boards = [each for each in mine if each.doing in _BOARDS]
        lands = [each for each in mine if each.doing in _LANDS]
        sound = (
            mine[0].start <= ship.departs - max(leg.cut_off, _QUARTER)
            and [(each.start, each.end) for each in boards]
            == [(ship.departs - _QUARTER, ship.departs)]
            and [(each.start, each.end) for each in lands]
            == [(ship.arrives, ship.arrives + _QUARTER)]
            and (leg.bunk or all(each.doing not in _BREAKS_REST for each in mine))
            and all(
                each.doing is (Doing.SEA_REST if leg.bunk else Doing.SEA)
                for each in mine
                if each.doing in _AT_SEA
            )
        )
        if not sound:
            yield Breach(wrong=Wrong.SAILING, at=mine[0].start)
