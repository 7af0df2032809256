"""Equipment and vehicles: those the way asks for, enough of them, and usable.

Equipment is held from start to end of a stage, a vehicle from the departure until it is back, what
a leg of a journey names while it is worked on. What has left is no plan's doing.
Nothing is used before its first or after its last day, or while it is booked.
"""

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction

from scheduler.check.on_trip import held_on_trip
from scheduler.check.running import held_from
from scheduler.check.tell import listed, of_task
from scheduler.check.uses import Taken, Use, fullness, shut_days, shut_spans, told_of_use
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Equipment
from shared.ids import EquipmentId


def things(world: World) -> Iterator[Breach]:
    """Give what is done with the wrong equipment, or with more than there is."""
    for task in world.work():
        yield from _asked(world, task)
    for name, uses in _uses(world).items():
        thing = world.equipment.get(name)
        if thing is not None:
            yield from _one(world, thing, uses)


def _asked(world: World, task: Task) -> Iterator[Breach]:
    way = task.way
    wanted = {need.equipment for need in way.equipment if need.count} if way else set()
    if set(task.placement.equipment) != wanted:
        names = {thing.id: thing.name for thing in world.book.equipment}
        yield of_task(
            Rule.EQUIPMENT,
            task,
            equipment=listed(names.get(one, one) for one in task.placement.equipment),
            wanted=listed(names.get(one, one) for one in sorted(wanted)),
        )


def _uses(world: World) -> dict[EquipmentId, list[Use]]:
    found: dict[EquipmentId, list[Use]] = defaultdict(list)
    for task in world.work():
        start = held_from(world, task)
        for need in task.way.equipment if task.way else ():
            use = Use(start=start, end=task.end, need=Fraction(need.count), by=task)
            found[need.equipment].append(use)
    for job, journey, trip in world.trips.values():
        given = world.facts.has_begun(journey.id)
        for name, start, end in held_on_trip(world, job, journey, trip):
            since = max(start, world.now)
            use = Use(start=since, end=end, need=Fraction(1), by=(job, journey), given=given)
            found[name].append(use)
    return found


def _one(world: World, thing: Equipment, uses: list[Use]) -> Iterator[Breach]:
    for use, at, taken in fullness(uses, Fraction(thing.count)):
        counts = {"taken": int(taken), "room": thing.count}
        yield told_of_use(Rule.EQUIPMENT_FULL, use, equipment=thing.name, at=at, **counts)
    shut = [
        *shut_days(world.zone, thing.usable_from, thing.usable_until, "usable"),
        *shut_days(world.zone, None, thing.test_due, "test_due"),
        *shut_spans(thing.bookings, "booking"),
        *shut_spans(
            (work for work in world.book.other_work if thing.id in work.equipment), "other_work"
        ),
    ]
    for use, taken_by in _clashing(uses, shut):
        yield told_of_use(Rule.EQUIPMENT_SHUT, use, equipment=thing.name, **taken_by.facts)


def _clashing(uses: list[Use], shut: list[Taken]) -> Iterator[tuple[Use, Taken]]:
    for use in uses:
        if not use.given:
            yield from ((use, taken) for taken in shut if taken.meets(use))
