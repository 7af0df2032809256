"""Where segments wait: from the start of their first stage to the end of loading.

A stage that moves a segment keeps it where it stood to the stage's end, and from the stage's start
at the place it is moved to as well; a move to where it stands already is none.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from scheduler.check.uses import Use
from scheduler.check.world import Task, World, is_loading
from shared.book import Job, Place, Segment, Stage
from shared.ids import PlaceId


class Stand(NamedTuple):
    """A place where a segment stands, from which second to which, and what brings it there.

    given: it stands there already, whatever the plan.
    """

    place: Place
    start: int
    end: int
    by: Task
    given: bool


def footprint(segments: Iterable[Segment], room_m: Decimal) -> Fraction | None:
    """Return the floor of segments with room on every side, None where a size is missing."""
    areas: list[Fraction] = []
    for segment in segments:
        if segment.length_m is None or segment.width_m is None:
            return None
        areas.append(_area(segment.length_m, segment.width_m, room_m))
    return areas[0] if len(areas) == 1 else sum(areas, Fraction())


@lru_cache(maxsize=4096)
def exact(amount: Decimal) -> Fraction:
    """Return an amount as a fraction."""
    return Fraction(amount)


@lru_cache(maxsize=4096)
def _area(length_m: Decimal, width_m: Decimal, room_m: Decimal) -> Fraction:
    around = 2 * Fraction(room_m)
    return (Fraction(length_m) + around) * (Fraction(width_m) + around)


def standing_places(world: World, job: Job, segment: Segment) -> list[Place]:
    """Return every place where a segment stands in the plan."""
    return [stand.place for stand in _stands(world, job, segment)]


def room_waiting(world: World, segment: Segment, place: Place) -> Fraction | None:
    """Return the room that a waiting segment takes, None where a size is missing."""
    if place.area_m2 is None:
        return Fraction(1)
    return footprint((segment,), world.book.workshop.standing_room_m)


def waiting(world: World) -> Iterator[tuple[PlaceId, Use]]:
    """Give the places that waiting segments hold."""
    for job in world.jobs:
        for segment in job.segments:
            for stand in _stands(world, job, segment):
                start = max(stand.start, world.now)
                if start < stand.end:
                    yield (
                        stand.place.id,
                        Use(
                            start=start,
                            end=stand.end,
                            need=room_waiting(world, segment, stand.place) or Fraction(),
                            by=stand.by,
                            waiting=segment,
                            given=stand.given,
                        ),
                    )


def _has_come(task: Task) -> bool:
    return task.done or task.running is not None


def _stands(world: World, job: Job, segment: Segment) -> Iterator[Stand]:
    """Give where a segment stands, one place after the other."""
    mine = world.tasks_on(job, segment)
    stages = [task for task in mine if isinstance(task.step, Stage)]
    if not stages:
        return
    loadings = [task.end for task in mine if is_loading(task.step)]
    last = max(loadings or [task.end for task in mine])
    by = min(stages, key=lambda task: task.start)
    here, begun = _first_place(world, segment), by.start
    is_here = _has_begun_outside(world, job, segment)
    if is_here:
        begun = min(begun, world.now)
    for move in sorted(stages, key=lambda task: task.start):
        there = _moved_to(world, move)
        if there is not None and there != here:
            if here is not None:
                yield Stand(here, begun, min(move.end, last), by, given=is_here or _has_come(by))
            here, begun, by, is_here = there, move.start, move, False
    if here is not None:
        yield Stand(here, begun, last, by, given=is_here or _has_come(by))


def _has_begun_outside(world: World, job: Job, segment: Segment) -> bool:
    """Return whether work on a segment has begun that the plan has no place for."""
    steps = (step for step in world.begun_nowhere if world.steps[step][0] is job)
    stages = (world.steps[step][1] for step in steps)
    return any(
        isinstance(stage, Stage) and (not stage.segments or segment.id in stage.segments)
        for stage in stages
    )


def _first_place(world: World, segment: Segment) -> Place | None:
    """Return where a segment waits from its first stage on, None where it takes no floor here."""
    if segment.stored_elsewhere:
        return None
    if segment.stands is not None:
        return world.places.get(segment.stands)
    return next((place for place in world.book.places if place.standing), None)


def _moved_to(world: World, task: Task) -> Place | None:
    if not isinstance(task.step, Stage) or task.step.moves_to is None or task.placement.part:
        return None
    return world.places.get(task.step.moves_to)
