"""Places: one that the way offers, with room at every moment, and not shut.

A place is held from start to end of a stage, pauses included, through the cure if the stage
stays, then for the clear-out. Room is square metres, or slots of which a stage takes one; work
that takes a place whole takes all of it, a booking that names its area only so much. Besides,
every segment takes its waiting footprint of its standing places, or a slot there: see `stands`.
"""

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from scheduler.check.acts import acts_of, clear_out_seconds
from scheduler.check.climate_waits import cure_after
from scheduler.check.clock import QUARTER, day_after, midnight, seconds, up
from scheduler.check.floor import exact, footprint, waiting
from scheduler.check.running import held_from
from scheduler.check.tell import of_task
from scheduler.check.uses import Taken, Use, fullness, shut_days, shut_spans, told_of_use
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Booking, Place
from shared.ids import PlaceId


def rooms(world: World) -> Iterator[Breach]:
    """Give what stands in no place of its own, finds no room there, or finds it shut."""
    for task in world.work():
        yield from _offered(world, task)
    for name, found in _uses(world).items():
        yield from _full(world.places[name], found)
        yield from _shut(world, world.places[name], found)


def _uses(world: World) -> dict[PlaceId, list[Use]]:
    uses: dict[PlaceId, list[Use]] = defaultdict(list)
    for name, use in (*_at_work(world), *waiting(world)):
        uses[name].append(use)
    for name, use in _booked(world):
        if name in uses:
            uses[name].append(use)
    return uses


def crowded(world: World) -> Iterator[bool]:
    """Tell of places in which what is there by facts and bookings finds no room, or is shut in."""
    for name, found in _uses(world).items() if world.book.facts else ():
        there = [use for use in found if use.given]
        if any(use.by is not None for use in there):
            place = world.places[name]
            blamed = [use._replace(given=False) for use in there]
            yield any(True for _ in fullness(blamed, capacity(place)))
            yield any(True for _ in _shut(world, place, blamed))


def _offered(world: World, task: Task) -> Iterator[Breach]:
    place = task.placement.place
    if task.running is not None and task.running.place == place is not None:
        return
    if not _is_offered(world, task, place):
        known = world.places.get(place) if place is not None else None
        yield of_task(Rule.PLACE, task, place=known.name if known else place)


def _is_offered(world: World, task: Task, place: PlaceId | None) -> bool:
    """Return whether the way names the place, or one of its kind; without any, it has none."""
    way, known = task.way, None if place is None else world.places.get(place)
    if way is None or not (way.places or way.place_kinds):
        return place is None
    return place in way.places or (known is not None and known.kind in way.place_kinds)


def _at_work(world: World) -> Iterator[tuple[PlaceId, Use]]:
    for task in world.tasks.values():
        place = world.places.get(task.placement.place) if task.placement.place else None
        if place is None or not task.work:
            continue
        after = cure_after(world, task)
        if task.start == task.end and not after and not task.done:
            continue
        cleared = clear_out_seconds(place, acts_of(world, task))
        until = up(task.end + after + cleared) * QUARTER
        start = held_from(world, task)
        if start < until:
            need = room_at_work(world, task, place)
            use = Use(start=start, end=until, need=need or Fraction(), by=task, given=task.done)
            yield place.id, use


def room_at_work(world: World, task: Task, place: Place) -> Fraction | None:
    """Return the room that a task takes of its place, None where a size is missing."""
    if place.whole or (task.way is not None and task.way.whole_place):
        return capacity(place)
    if place.area_m2 is None:
        return Fraction(1)
    if task.way is not None and task.way.area_m2 is not None:
        return exact(task.way.area_m2)
    return footprint(task.segments, world.book.workshop.working_room_m)


def capacity(place: Place) -> Fraction:
    """Return the room of a place: its square metres, else its slots, else one slot."""
    if place.area_m2 is not None:
        return exact(place.area_m2)
    return Fraction(1 if place.slots is None else place.slots)


def _booked(world: World) -> Iterator[tuple[PlaceId, Use]]:
    """Give what bookings take of a place of which they take only a part."""
    for place in world.book.places:
        for booking in place.bookings if place.area_m2 is not None else ():
            start = max(seconds(booking.start), world.now)
            if booking.area_m2 is not None and start < seconds(booking.end):
                need = Fraction(booking.area_m2)
                end = seconds(booking.end)
                yield place.id, Use(start=start, end=end, need=need, by=None, given=True)


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
        *shut_spans((one for one in place.bookings if _takes_all(place, one)), "booking"),
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
            if use.by is not None and not use.given and taken.meets(use):
                yield told_of_use(Rule.PLACE_SHUT, use, place=place.name, **taken.facts)


def _takes_all(place: Place, booking: Booking) -> bool:
    return place.area_m2 is None or booking.area_m2 is None
