"""When a step may start: on the grid, not before now, not before the book lets it, as pinned."""

from collections.abc import Iterator
from datetime import datetime

from scheduler.check.clock import (
    QUARTER,
    day_after,
    down,
    is_on_grid,
    iso,
    midnight,
    seconds,
    up,
)
from scheduler.check.tell import of_step, of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import FactKind
from shared.plan import Trip


def times(world: World) -> Iterator[Breach]:
    """Give what starts at a wrong time; what was told to have happened is facts' to judge."""
    for task in world.tasks.values():
        if task.end < task.start:
            yield of_task(Rule.BACKWARDS, task, start=iso(task.start), end=iso(task.end))
        if _starts_free(world, task):
            yield from _grid(task)
            yield from _start(world, task)
            yield from _pinned(world, task)
    yield from _trips(world)


def _starts_free(world: World, task: Task) -> bool:
    """Return whether a task's start is the plan's to choose."""
    if task.done or task.running is not None:
        return False
    if task.work:
        return True
    return task.placement.round > world.facts.rounds_begun(task.step.id)


def _grid(task: Task) -> Iterator[Breach]:
    for instant, second in ((task.placement.start, task.start), (task.placement.end, task.end)):
        if second % QUARTER or instant.microsecond:
            yield of_task(Rule.OFF_GRID, task, instant=iso(seconds(instant)))


def _start(world: World, task: Task) -> Iterator[Breach]:
    if task.start < world.now:
        yield of_task(Rule.BEFORE_NOW, task, start=iso(task.start), now=iso(world.now))
    days = (("job", task.job.not_before), ("step", task.not_before))
    said = [(by, midnight(day, world.zone)) for by, day in days if day is not None]
    pin = task.pin
    if pin is not None and pin.not_before is not None:
        said.append(("pin", seconds(pin.not_before)))
    for by, earliest in said:
        if task.start < earliest:
            facts = {"start": iso(task.start), "not_before": iso(earliest), "said_by": by}
            yield of_task(Rule.NOT_BEFORE, task, **facts)


def _pinned(world: World, task: Task) -> Iterator[Breach]:
    pin = task.pin
    if pin is None:
        return
    if pin.start is not None and not _same_quarter(task.start, pin.start):
        yield of_task(Rule.PIN, task, start=iso(task.start), pinned=iso(seconds(pin.start)))
    if pin.day is not None:
        first, last = midnight(pin.day, world.zone), midnight(day_after(pin.day), world.zone)
        if not first <= task.start < last:
            yield of_task(Rule.PIN, task, start=iso(task.start), pinned=pin.day.isoformat())


def _same_quarter(start: int, pinned: datetime) -> bool:
    told = seconds(pinned)
    return down(told) * QUARTER <= start <= up(told) * QUARTER


def _trips(world: World) -> Iterator[Breach]:
    for step_id, (job, journey, trip) in world.trips.items():
        gone = world.facts.last(step_id, FactKind.GONE) or world.facts.done(step_id)
        if gone is not None:
            continue
        start = seconds(trip.start)
        if not is_on_grid(trip.start):
            yield of_step(Rule.OFF_GRID, job, journey, instant=iso(start))
        first = _first(world, trip)
        if first < world.now:
            facts = {"start": iso(first), "now": iso(world.now)}
            yield of_step(Rule.BEFORE_NOW, job, journey, **facts)


def _first(world: World, trip: Trip) -> int:
    """Return when the first of a trip leave, a crew that was told to by then left out."""
    told = () if world.book.told is None else world.book.told.plan.trips
    crews = [each.crew_from for each in told if each.step == trip.step]
    own = trip.crew_from
    if own is None or any(each is not None and each <= own for each in crews):
        return seconds(trip.start)
    return min(seconds(trip.start), seconds(own))
