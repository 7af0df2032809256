"""Places and equipment as rooms: how much there is, and when it is taken or not to be had."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

from scheduler.grid import Grid, joined
from scheduler.normalise.names import RoomName
from scheduler.problem import Room
from shared.book import Book, Booking, Equipment, Place, Segment, Way, Workshop
from shared.ids import EquipmentId, PlaceId
from shared.units import area_down, area_up

Taken = tuple[datetime, datetime]
"""From and to when something is taken or not to be had."""


class Rooms:
    """The rooms of a problem: every place, then every equipment, then what is added."""

    def __init__(self, book: Book, grid: Grid) -> None:
        """Make a room of each place and equipment of the book."""
        self.places = {place.id: place for place in book.places}
        self.equipment = {thing.id: thing for thing in book.equipment}
        self.names = [
            *(RoomName(place=place.id) for place in book.places),
            *(RoomName(equipment=thing.id) for thing in book.equipment),
        ]
        self.made = [
            *(_place_room(book, place, grid) for place in book.places),
            *(_equipment_room(book, thing, grid) for thing in book.equipment),
        ]
        self._grid = grid
        self.log: list[tuple[int, int, datetime]] = []
        self._place_positions = {place: at for at, place in enumerate(self.places)}
        self._equipment_positions = {
            thing: at for at, thing in enumerate(self.equipment, len(self.places))
        }

    def add(self, name: RoomName, capacity: int) -> int:
        """Add a room that is no place; return its position."""
        self.names.append(name)
        self.made.append(Room(capacity=capacity))
        return len(self.made) - 1

    def of_place(self, place: PlaceId) -> int:
        """Return the position of a place in the problem."""
        return self._place_positions[place]

    def of_equipment(self, equipment: EquipmentId) -> int:
        """Return the position of an equipment in the problem."""
        return self._equipment_positions[equipment]

    def take(self, room: int, units: int, until: datetime) -> None:
        """Let something that is a fact take units of a room until an instant."""
        self.log.append((room, units, until))
        taken = self._grid.outer(self._grid.origin, until)
        if taken is not None:
            busy = (*self.made[room].busy, (*taken, units))
            self.made[room] = replace(self.made[room], busy=tuple(sorted(busy)))

    def places_of(self, way: Way) -> tuple[PlaceId, ...]:
        """Return the places that a way may be done in: those it names, then those of its kinds."""
        if not way.place_kinds:
            return way.places
        of_kinds = (place.id for place in self.places.values() if place.kind in way.place_kinds)
        return tuple(dict.fromkeys((*way.places, *of_kinds)))

    def units_at_work(
        self, workshop: Workshop, segments: Iterable[Segment], way: Way, place: Place
    ) -> int:
        """Return the units of a place that a stage takes; more than it has where too small."""
        capacity = place_capacity(place)
        if place.whole or way.whole_place:
            return capacity
        if place.area_m2 is None:
            return 1
        if way.area_m2 is not None:
            return area_up(way.area_m2)
        return area_up(footprint(segments, workshop.working_room_m))

    def standing_place(self, segment: Segment) -> Place | None:
        """Return where a segment waits, None where it takes no floor here."""
        if segment.stored_elsewhere:
            return None
        if segment.stands is not None:
            return self.places.get(segment.stands)
        return next((place for place in self.places.values() if place.standing), None)

    def units_waiting(self, workshop: Workshop, segment: Segment, place: Place) -> int:
        """Return the units of its standing place that a waiting segment takes."""
        if place.area_m2 is None:
            return 1
        return area_up(footprint((segment,), workshop.standing_room_m))


def place_capacity(place: Place) -> int:
    """Return the units of a place: square decimetres, or slots."""
    if place.area_m2 is not None:
        return area_down(place.area_m2)
    return 1 if place.slots is None else place.slots


def footprint(segments: Iterable[Segment], room_m: Decimal) -> Decimal:
    """Return the floor of segments in square metres, with room on every side of each."""
    return sum((_footprint(segment, room_m) for segment in segments), Decimal(0))


def _footprint(segment: Segment, room_m: Decimal) -> Decimal:
    if segment.length_m is None or segment.width_m is None:
        return Decimal(0)
    return (segment.length_m + 2 * room_m) * (segment.width_m + 2 * room_m)


def _place_room(book: Book, place: Place, grid: Grid) -> Room:
    shut = ((grid.morning(days.first), grid.night(days.last)) for days in place.closures)
    booked = ((one.start, one.end) for one in place.bookings if not _takes_part(place, one))
    other = ((work.start, work.end) for work in book.other_work if place.id in work.places)
    unusable = _unusable(place.usable_from, place.usable_until, grid)
    room = _room(place_capacity(place), (*unusable, *shut, *booked, *other), grid)
    in_part = _taken_in_part(place, grid)
    return replace(room, busy=tuple(sorted((*room.busy, *in_part)))) if in_part else room


def _takes_part(place: Place, booking: Booking) -> bool:
    return place.area_m2 is not None and booking.area_m2 is not None


def _taken_in_part(place: Place, grid: Grid) -> list[tuple[int, int, int]]:
    """Return the stretches in which a booking takes so many units of a place."""
    found: list[tuple[int, int, int]] = []
    for booking in place.bookings:
        span = grid.outer(booking.start, booking.end)
        if span is not None and booking.area_m2 is not None and place.area_m2 is not None:
            found.append((*span, area_up(booking.area_m2)))
    return found


def _equipment_room(book: Book, thing: Equipment, grid: Grid) -> Room:
    booked = ((booking.start, booking.end) for booking in thing.bookings)
    other = ((work.start, work.end) for work in book.other_work if thing.id in work.equipment)
    lasts = [day for day in (thing.usable_until, thing.test_due) if day is not None]
    unusable = _unusable(thing.usable_from, min(lasts, default=None), grid)
    return _room(thing.count, (*unusable, *booked, *other), grid)


def _unusable(first: date | None, last: date | None, grid: Grid) -> list[Taken]:
    """Return what lies before the first and after the last day of use."""
    taken: list[Taken] = []
    if first is not None:
        taken.append((grid.origin, grid.morning(first)))
    if last is not None:
        taken.append((grid.night(last), grid.end))
    return taken


def _room(capacity: int, taken: Iterable[Taken], grid: Grid) -> Room:
    """Return a room that is taken whole in some stretches."""
    found = (grid.outer(start, end) for start, end in taken)
    spans = joined(span for span in found if span is not None)
    return Room(capacity=capacity, busy=tuple((start, end, capacity) for start, end in spans))
