"""What is done in a task, as far as its air and its place go by it."""

from collections.abc import Set

from scheduler.check.world import Task, World
from shared.book import Act, Place, PlaceKind
from shared.trade import defaults


def acts_of(world: World, task: Task) -> Set[Act]:
    """Return what is done: as the stage says, else the usual; isocyanates are always sprayed."""
    return world.table(task.job).acts(task.step, task.placement.part)


def wet_seconds(world: World, task: Task) -> int:
    """Return how long after its end dust spoils what a task leaves wet."""
    return world.table(task.job).wet_seconds(task.step, task.placement.part)


def clear_out_seconds(place: Place, acts: Set[Act]) -> int:
    """Return how long after a task its place stays shut: a booth clears after spraying."""
    minutes = place.clear_out_minutes
    if not minutes and place.kind is PlaceKind.BOOTH and Act.SPRAY in acts:
        minutes = defaults.CLEARANCE_MINUTES
    return minutes * 60
