"""Whoever goes on a journey is of the workshop and not on leave until they are back."""

from collections.abc import Iterator

from scheduler.check.clock import instant, iso, seconds
from scheduler.check.hours import belongs
from scheduler.check.means import leaving
from scheduler.check.tell import of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Person


def travellers(world: World) -> Iterator[Breach]:
    """Give who would be on a journey while they are away; what has left is no plan's doing."""
    for step, (job, journey, trip) in world.trips.items():
        if world.facts.has_begun(step):
            continue
        for name, leaves in leaving(journey, trip).items():
            person, back = world.people.get(name), seconds(trip.back)
            off = None if person is None else _off(world, person, leaves, back)
            if person is not None and off is not None:
                facts = {"person": person.name, "start": iso(off[0]), "end": iso(off[1])}
                yield of_step(Rule.ON_LEAVE, job, journey, **facts)


def _off(world: World, person: Person, start: int, end: int) -> tuple[int, int] | None:
    """Return the first stretch between two seconds in which a person is not to be had."""
    for leave in person.leave:
        first, last = max(start, seconds(leave.start)), min(end, seconds(leave.end))
        if first < last:
            return first, last
    days = belongs(world.zone, person)
    if days is None:
        return None
    there = instant(start)
    for span in days:
        if span.start <= there < span.end:
            there = span.end
    return None if seconds(there) >= end else (seconds(there), end)
