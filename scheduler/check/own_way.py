"""The crew's own way to the site of a journey that is held to drivers' hours, leg after leg."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.check import legs
from scheduler.check.clock import DAY, iso, seconds
from scheduler.check.law import gate_of
from scheduler.check.sailed import IDLE, is_on, quarters_of
from scheduler.check.tell import Fact, of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import AT_SEA, Job, Journey, Leg, LegKind
from shared.plan import Doing, Stretch, Trip

_MINUTES = 15
_AT_THE_WHEEL = frozenset({LegKind.DRIVE, LegKind.RETURN})


def own_way(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    """Give a crew that is late for the first work on site, or whose way is not as the book says."""
    start = trip.travel[0].start if trip.travel else trip.crew_from
    end = trip.travel[-1].end if trip.travel else start
    wanted = _wanted_at(journey, trip)
    if not _follows(journey, trip) or (end is not None and end > wanted):
        facts: dict[str, Fact] = {
            "start": None if start is None else iso(seconds(start)),
            "end": None if end is None else iso(seconds(end)),
            "gate": iso(seconds(wanted)),
        }
        yield of_step(Rule.TRAVEL, job, journey, **facts)
        return
    for number, leg in enumerate(journey.travel):
        facts = {"leg": leg.name or leg.kind.value, "number": number + 1}
        mine = [e for e in trip.travel if e.leg == number and e.doing not in IDLE]
        if leg.kind in AT_SEA:
            arrived = seconds(_reached(trip.travel, number))
            if not _is_sailed(world, leg, arrived, mine):
                last = seconds(mine[-1].end) if mine else arrived
                facts |= {"start": iso(arrived), "end": iso(last)}
                yield of_step(Rule.SAILING, job, journey, **facts)
            continue
        done = sum(quarters_of(each) for each in mine)
        needed = _needed(world, job, journey, leg)
        if done != needed or any(each.doing is not _doing(leg) for each in mine):
            facts |= {"done_minutes": done * _MINUTES, "needed_minutes": needed * _MINUTES}
            yield of_step(Rule.LEG_LENGTH, job, journey, **facts)


def _wanted_at(journey: Journey, trip: Trip) -> datetime:
    """Return when the first work on site begins."""
    site = legs.site_from(journey)
    works = [e.start for e in trip.stretches if e.leg >= site and e.doing not in IDLE]
    return min(works, default=gate_of(journey, trip))


def _follows(journey: Journey, trip: Trip) -> bool:
    """Return whether the stretches of the way follow each other from where it begins."""
    count = len(journey.travel)
    if not count:
        return not trip.travel and trip.crew_from is None
    if not trip.travel or trip.crew_from != trip.travel[0].start:
        return False
    now, leg = trip.travel[0].start, 0
    for each in trip.travel:
        if each.start != now or each.end <= now or not leg <= each.leg < count:
            return False
        now, leg = each.end, each.leg
    return True


def _reached(travel: tuple[Stretch, ...], number: int) -> datetime:
    ends = [each.end for each in travel if each.leg < number and each.doing not in IDLE]
    return max(ends, default=travel[0].start)


def _is_sailed(world: World, leg: Leg, arrived: int, mine: list[Stretch]) -> bool:
    ahead = legs.plain_check_in(world)
    over = (seconds(mine[-1].end) if mine else arrived) + DAY
    found = legs.ships(leg, ahead, arrived - DAY, over)
    return any(is_on(ship, mine, arrived, bunk=bool(leg.bunk)) for ship in found)


def _needed(world: World, job: Job, journey: Journey, leg: Leg) -> int:
    if leg.kind in _AT_THE_WHEEL:
        return legs.wheel(world, leg)
    return max(1, legs.needed(world, job, journey, leg))


def _doing(leg: Leg) -> Doing:
    return Doing.DRIVE if leg.kind in _AT_THE_WHEEL else Doing.WORK
