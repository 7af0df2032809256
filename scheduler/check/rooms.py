"""Places: one that the way offers, with room at every moment, and not shut.

A place is held from start to end of a stage, pauses included, through the cure if the stage
stays, then for the clear-out. Room is square metres, or slots of which a stage takes one; work
that takes a place whole takes all of it. Besides, every segment takes its waiting footprint of
its standing place, or a slot there, from the start of its first stage to the end of loading.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from scheduler.check.clock import QUARTER, day_after, midnight, up
from scheduler.check.tell import of_task
from scheduler.check.uses import Taken, Use, fullness, shut_days, shut_spans, told_of_use
from scheduler.check.world import Task, World, is_loading
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Job, Place, Segment, Stage
from shared.ids import PlaceId


def rooms(world: World) -> Iterator[Breach]:
    """Give what stands in no place of its own, finds no room there, or finds it shut."""
    for task in world.work():
        yield from _offered(world, task)
    uses: dict[PlaceId, list[Use]] = defaultdict(list)
    for name, use in (*_at_work(world), *_waiting(world)):
        uses[name].append(use)
    for name, found in uses.items():
        yield from _full(world.places[name], found)
        yield from _shut(world, world.places[name], found)


def _offered(world: World, task: Task) -> Iterator[Breach]:
    place = task.placement.place
    if task.running is not None and task.running.place == place is not None:
        return
    offered = task.way.places if task.way is not None else ()
    if place not in (offered or (None,)):
        known = world.places.get(place) if place is not None else None
        yield of_task(Rule.PLACE, task, place=known.name if known else place)


def _at_work(world: World) -> Iterator[tuple[PlaceId, Use]]:
    for task in world.tasks.values():
        place = world.places.get(task.placement.place) if task.placement.place else None
        if place is None or not task.work:
            continue
        after = task.cure_seconds if task.stays else 0
        if task.start == task.end and not after:
            continue
        until = up(task.end + after + place.clear_out_minutes * 60) * QUARTER
        start = max(task.start, world.now)
        if start < until:
            need = room_at_work(world, task, place)
            yield place.id, Use(start=start, end=until, need=need or Fraction(), by=task)


def room_at_work(world: World, task: Task, place: Place) -> Fraction | None:
    """Return the room that a task takes of its place, None where a size is missing."""
    if place.whole or (task.way is not None and task.way.whole_place):
        return capacity(place)
    if place.area_m2 is None:
        return Fraction(1)
    if task.way is not None and task.way.area_m2 is not None:
        return Fraction(task.way.area_m2)
    return footprint(task.segments, world.book.workshop.working_room_m)


def capacity(place: Place) -> Fraction:
    """Return the room of a place: its square metres, else its slots, else one slot."""
    if place.area_m2 is not None:
        return Fraction(place.area_m2)
    return Fraction(1 if place.slots is None else place.slots)


def footprint(segments: Iterable[Segment], room_m: Decimal) -> Fraction | None:
    """Return the floor of segments with room on every side, None where a size is missing."""
    total = Fraction()
    for segment in segments:
        if segment.length_m is None or segment.width_m is None:
            return None
        around = 2 * Fraction(room_m)
        total += (Fraction(segment.length_m) + around) * (Fraction(segment.width_m) + around)
    return total


def standing_place(world: World, segment: Segment) -> Place | None:
    """Return where a segment waits, None where it takes no floor here."""
    if segment.stored_elsewhere:
        return None
    if segment.stands is not None:
        return world.places.get(segment.stands)
    return next((place for place in world.book.places if place.standing), None)


def room_waiting(world: World, segment: Segment, place: Place) -> Fraction | None:
    """Return the room that a waiting segment takes, None where a size is missing."""
    if place.area_m2 is None:
        return Fraction(1)
    return footprint((segment,), world.book.workshop.standing_room_m)


def _waiting(world: World) -> Iterator[tuple[PlaceId, Use]]:
    for job in world.jobs:
        for segment in job.segments:
            place = standing_place(world, segment)
            span = _life(world, job, segment)
            if place is None or span is None:
                continue
            start, end, last = max(span[0], world.now), span[1], span[2]
            if start < end:
                need = room_waiting(world, segment, place) or Fraction()
                yield place.id, Use(start=start, end=end, need=need, by=last, waiting=segment)


def _life(world: World, job: Job, segment: Segment) -> tuple[int, int, Task] | None:
    """Return when a segment's first stage starts, its loading ends, and that first stage."""
    mine = [
        task for task in world.tasks_of(job) if any(one.id == segment.id for one in task.segments)
    ]
    stages = [task for task in mine if isinstance(task.step, Stage)]
    if not stages:
        return None
    first = min(stages, key=lambda task: task.start)
    loadings = [task.end for task in mine if is_loading(task.step)]
    return first.start, max(loadings or [task.end for task in mine]), first


def _full(place: Place, uses: list[Use]) -> Iterator[Breach]:
    room = capacity(place)
    for use, at, taken in fullness(uses, room):
        rule = Rule.PLACE_FULL if use.waiting is None else Rule.STANDING_FULL
        yield told_of_use(
            rule,
            use,
            place=place.name,
            at=at,
            taken=_text(taken),
            room=_text(room),
            unit="slots" if place.area_m2 is None else "m2",
        )


def _text(amount: Fraction) -> str:
    """Return an amount as a decimal with at most two places."""
    return f"{Decimal(amount.numerator) / Decimal(amount.denominator):.2f}".removesuffix(".00")


def _shut(world: World, place: Place, uses: list[Use]) -> Iterator[Breach]:
    shut = [
        *shut_days(world.zone, place.usable_from, place.usable_until),
        *shut_spans(place.bookings, "booking"),
        *shut_spans((one for one in world.book.other_work if place.id in one.places), "other_work"),
    ]
    for closed in place.closures:
        start, end = (
            midnight(closed.first, world.zone),
            midnight(day_after(closed.last), world.zone),
        )
        shut.append(Taken(start=start, end=end, why="closure"))
    for use in uses:
        for taken in shut:
            if taken.meets(use):
                yield told_of_use(Rule.PLACE_SHUT, use, place=place.name, **taken.facts)
