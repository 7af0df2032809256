"""By what a journey goes: known means, whose vehicles carry its pieces, and who travels when."""

from collections.abc import Iterator

from scheduler.check.clock import seconds
from scheduler.check.sizes import mass_over, worst_on
from scheduler.check.tell import of_step
from scheduler.check.world import World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Equipment, EquipmentKind, Job, Journey, Means
from shared.ids import EquipmentId, PersonId
from shared.plan import Trip


def means_of(journey: Journey, trip: Trip) -> Means | None:
    """Return the means that a trip goes by, None where the journey has none of that name.

    A journey without means to choose from goes by its vehicles, with one hired driver.
    """
    if not journey.means:
        return Means(id="", vehicles=journey.vehicles) if trip.means is None else None
    return next((means for means in journey.means if means.id == trip.means), None)


def vehicles_of(journey: Journey, trip: Trip) -> tuple[EquipmentId, ...]:
    """Return the vehicles of a trip, the crew's own left out."""
    means = means_of(journey, trip)
    return journey.vehicles if means is None else means.vehicles


def leaving(journey: Journey, trip: Trip) -> dict[PersonId, int]:
    """Return who goes on a trip, and the second at which each of them leaves."""
    means = means_of(journey, trip)
    start = seconds(trip.start)
    crew_from = start if trip.crew_from is None else seconds(trip.crew_from)
    found = dict.fromkeys(journey.crew, crew_from)
    return found | dict.fromkeys(means.driven_by if means else (), start)


def wrong_means(world: World, job: Job, journey: Journey, trip: Trip) -> Iterator[Breach]:
    """Give a means that there is not, and what its vehicles can't carry."""
    means = means_of(journey, trip)
    if means is None:
        yield of_step(Rule.MEANS, job, journey, means=trip.means)
    elif journey.means:
        named = [world.equipment[one] for one in means.vehicles if one in world.equipment]
        vehicles = [one for one in named if one.kind is EquipmentKind.VEHICLE]
        yield from _not_carried(world, job, journey, vehicles)


def _not_carried(
    world: World, job: Job, journey: Journey, vehicles: list[Equipment]
) -> Iterator[Breach]:
    for segment in world.segments_of(job, journey):
        over = worst_on(world, segment, vehicles)
        if over is not None:
            yield of_step(Rule.SIZE, job, journey, segment=segment.name, **over.facts)
        heavy = mass_over(segment, vehicles)
        if heavy is not None:
            yield of_step(Rule.MASS, job, journey, segment=segment.name, **heavy)
