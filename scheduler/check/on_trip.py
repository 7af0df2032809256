"""Vehicles, cranes and the like that a trip holds, and when."""

from collections.abc import Iterator

from scheduler.check import legs
from scheduler.check.clock import QUARTER, seconds
from scheduler.check.journeys import when_worked
from scheduler.check.means import vehicles_of
from scheduler.check.sailed import IDLE
from scheduler.check.world import World
from shared.book import Job, Journey
from shared.ids import EquipmentId
from shared.plan import Trip

Held = tuple[EquipmentId, int, int]
"""A thing, and from which second to which it is held."""


def held_on_trip(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Held]:
    """Give the vehicles from the departure until they are back, and what legs hold besides."""
    start, back = seconds(trip.start), seconds(trip.back)
    own_from = start if trip.crew_from is None else seconds(trip.crew_from)
    whole = dict.fromkeys(journey.travel_vehicles, own_from)
    whole |= dict.fromkeys(vehicles_of(journey, trip), start)
    yield from ((name, since, back) for name, since in whole.items())
    for number, leg in enumerate(journey.legs):
        if any(name not in whole for name in leg.equipment):
            for first, last in _worked(world, job, journey, trip, number):
                held = (name for name in dict.fromkeys(leg.equipment) if name not in whole)
                yield from ((name, first, last) for name in held)


def _worked(
    world: World, job: Job, journey: Journey, trip: Trip, number: int
) -> Iterator[tuple[int, int]]:
    """Give when a leg is worked on; of one held to drivers' hours, its breaks with it."""
    if trip.stretches:
        mine = [e for e in trip.stretches if e.leg == number and e.doing not in IDLE]
        if mine:
            yield seconds(mine[0].start), seconds(mine[-1].end)
        return
    if number >= len(trip.legs):
        return
    leg, before = journey.legs[number], journey.legs[number - 1 : number]
    arrived = seconds(trip.legs[number].start)
    arrived += sum(legs.cure(each) for each in before if number) * QUARTER
    needed = legs.needed(world, job, journey, leg)
    for start, end in when_worked(world, job, leg, arrived, needed):
        yield start * QUARTER, end * QUARTER
