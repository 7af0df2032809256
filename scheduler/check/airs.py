"""Who works in which air, and what is kept apart there."""

from collections.abc import Iterator, Sequence

from scheduler.check.acts import acts_of, wet_seconds
from scheduler.check.world import Task, World
from shared.book import Act, Apart, Place, Stage
from shared.trade import defaults

Air = tuple[str | None, str | None]
"""The name that places share, else the id of a place."""


def pairs_of(world: World) -> Sequence[Apart]:
    """Return the acts that are kept apart: as the book says, else the usual."""
    apart = world.book.workshop.apart
    return defaults.APART if apart is None else apart


def place_of(world: World, task: Task) -> Place | None:
    """Return where a task is worked; of what is done, the only place there was if none was told."""
    named = task.placement.place
    if named is not None:
        return world.places.get(named)
    if not task.done or not isinstance(task.step, Stage) or task.placement.part:
        return None
    found: set[Place | None] = set()
    for way in task.step.ways:
        if task.placement.way in ("", way.id):
            of_kind = (place for place in world.book.places if place.kind in way.place_kinds)
            found.update((*map(world.places.get, way.places), *of_kind) or (None,))
    return found.pop() if len(found) == 1 else None


def by_air(world: World) -> dict[Air, list[Task]]:
    """Return the tasks by the air in which they are worked."""
    for task in () if world.airs else world.tasks.values():
        place = place_of(world, task) if task.work else None
        if place is not None:
            world.airs.setdefault(_air(place), []).append(task)
    return world.airs


def _air(place: Place) -> Air:
    return (place.air, None) if place.air else (None, place.id)


def lasts_until(world: World, task: Task, act: Act) -> int:
    """Return the second at which an act of a task is over, of what is wet when it is dry."""
    return task.end + (wet_seconds(world, task) if act is Act.WET else 0)


def is_kept_off(world: World, task: Task, at: int) -> bool:
    """Return whether what is done or under way keeps a task out of its air at a second."""
    return any(until > at for until in _kept_off(world, task))


def _kept_off(world: World, task: Task) -> Iterator[int]:
    place, mine = place_of(world, task), acts_of(world, task)
    if place is None or not mine or not pairs_of(world):
        return
    for other in by_air(world).get(_air(place), ()):
        if other is task or not (other.done or other.running):
            continue
        theirs = acts_of(world, other)
        for pair in pairs_of(world):
            if pair.first in theirs and pair.second in mine:
                yield lasts_until(world, other, pair.first) + pair.minutes * 60
            if pair.second in theirs and pair.first in mine:
                yield lasts_until(world, other, pair.second)
