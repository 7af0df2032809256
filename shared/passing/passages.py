"""What a piece must pass on its way from the workshop to where it will stand.

In order: the openings of the workshop, its vehicle (the room inside and the door), the road and
the ferry where it travels on an open bed, the openings of the site. What the book does not measure
of a vehicle is as usual for its body (figures TR11 to TR14), and then nobody measured it; a
container is as its standard has it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from shared.book import (
    Body,
    Book,
    Equipment,
    EquipmentKind,
    Job,
    Journey,
    LegKind,
    Opening,
    Segment,
)
from shared.ids import EquipmentId
from shared.passing.boxes import mm
from shared.passing.roads import Road, ferry, roads_of
from shared.trade import figure


class Part(StrEnum):
    """Where on the way an opening is."""

    WORKSHOP = "workshop"
    VEHICLE = "vehicle"
    DOOR = "door"
    SITE = "site"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """An opening: its sizes in millimetres, None where they don't count or nobody knows them.

    measured: somebody measured what is given. complete: nothing is missing that counts.
    figures: whence the sizes are, where the book doesn't give them. index: which of the openings
    of the workshop or the site it is.
    """

    part: Part
    name: str
    width: Fraction | None
    height: Fraction | None
    length: Fraction | None = None
    measured: bool = True
    complete: bool = True
    figures: tuple[str, ...] = ()
    index: int = 0


Passage = Gap | Road


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier:
    """A vehicle, or a usual one of some body, with all that a piece must pass by it.

    id: None for a vehicle that the book doesn't have. payload_kg: None where nobody knows it.
    """

    id: EquipmentId | None
    name: str
    body: Body | None
    passages: tuple[Passage, ...]
    room: tuple[Fraction, Fraction, Fraction | None] | None = None
    payload_kg: Decimal | None = None
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """The way of a piece: it travels by any one of the carriers, where there are some."""

    workshop: tuple[Gap, ...]
    carriers: tuple[Carrier, ...]
    site: tuple[Gap, ...]


_USUAL: Mapping[Body, tuple[str, str, str]] = {
    Body.VAN: ("TR14a", "TR14b", "TR14c"),
    Body.TRAILER: ("TR13a", "TR13b", "TR13c"),
    Body.CONTAINER_20: ("TR11a", "TR11d", "TR11e"),
    Body.CONTAINER_40: ("TR12a", "TR12d", "TR12b"),
}
"""The figures of length, width and height inside."""

_DOORS: Mapping[Body, tuple[str, str]] = {
    Body.CONTAINER_20: ("TR11c", "TR11b"),
    Body.CONTAINER_40: ("TR11c", "TR12c"),
}
"""The figures of width and height of the door."""

_OWN_UNMEASURED = (Body.VAN, Body.TRAILER)
_HIRED = (Body.TRAILER, Body.OPEN)


def course_of(book: Book, job: Job, segment: Segment) -> Course:
    """Return the way of a segment of a job."""
    return Course(
        workshop=_gaps(Part.WORKSHOP, book.workshop.openings),
        carriers=tuple(_carriers(book, job, segment)),
        site=_gaps(Part.SITE, job.site.openings),
    )


def journey_of(job: Job, segment: Segment) -> Journey | None:
    """Return the first journey that takes a segment, None where none does."""
    journeys = (step for step in job.steps if isinstance(step, Journey))
    mine = (one for one in journeys if not one.segments or segment.id in one.segments)
    return next(mine, None)


def vehicles_of(book: Book, journey: Journey) -> tuple[Equipment, ...]:
    """Return the vehicles of a journey that the book has, each once; cranes carry nothing."""
    named = set(journey.vehicles)
    return tuple(
        thing
        for thing in book.equipment
        if thing.id in named and thing.kind is EquipmentKind.VEHICLE
    )


def _gaps(part: Part, openings: tuple[Opening, ...]) -> tuple[Gap, ...]:
    return tuple(
        Gap(
            part=part,
            name=each.name,
            width=mm(each.width_m),
            height=mm(each.height_m),
            length=None if each.length_m is None else mm(each.length_m),
            measured=each.measured,
            index=index,
        )
        for index, each in enumerate(openings)
    )


def _carriers(book: Book, job: Job, segment: Segment) -> Iterator[Carrier]:
    journey = journey_of(job, segment)
    if journey is None:
        return
    vehicles = vehicles_of(book, journey)
    roads = _roads(book, job, journey)
    for vehicle in vehicles:
        yield from carriers_of(vehicle, roads)
    if not vehicles:
        for body in _HIRED:
            yield _usual(body, roads)


def _roads(book: Book, job: Job, journey: Journey) -> tuple[Road, ...]:
    """Return what limits an open load on its way: the roads, then the sailings."""
    drives = [leg for leg in journey.legs if leg.kind is LegKind.DRIVE]
    countries = (book.workshop.country, *(leg.country for leg in drives), job.site.country)
    sailings = [leg for leg in journey.legs if leg.kind is LegKind.SAILING]
    found = roads_of(countries) if drives else ()
    return (*found, *(ferry(leg.name) for leg in sailings))


def carriers_of(vehicle: Equipment, roads: tuple[Road, ...] = ()) -> Iterator[Carrier]:
    """Give a vehicle as a carrier; unmeasured and of no body, as each of the usual ones."""
    bodies: tuple[Body | None, ...] = (vehicle.body,)
    if vehicle.body is None and _inside(vehicle) == (None, None, None):
        bodies = _OWN_UNMEASURED
    for body in bodies:
        yield _carrier(vehicle, body, roads)


def _usual(body: Body, roads: tuple[Road, ...]) -> Carrier:
    gaps = () if body is Body.OPEN else (_room_gap("", body, (None, None, None)),)
    return Carrier(id=None, name="", body=body, passages=gaps or roads, room=_room_of(gaps))


def _carrier(vehicle: Equipment, body: Body | None, roads: tuple[Road, ...]) -> Carrier:
    inside = _inside(vehicle)
    length, width = inside[0], inside[1]
    gaps: tuple[Gap, ...] = ()
    if body is not Body.OPEN:
        gaps = (_room_gap(vehicle.name, body, inside), *_doors(vehicle, body))
    bed = None if length is None or width is None else (length, width, None)
    return Carrier(
        id=vehicle.id,
        name=vehicle.name,
        body=body,
        passages=gaps if body is not Body.OPEN else roads,
        room=_room_of(gaps) or bed,
        payload_kg=vehicle.payload_kg,
        count=vehicle.count,
    )


def _room_of(gaps: tuple[Gap, ...]) -> tuple[Fraction, Fraction, Fraction | None] | None:
    if not gaps or gaps[0].length is None or gaps[0].width is None:
        return None
    return gaps[0].length, gaps[0].width, gaps[0].height


_Inside = tuple[Fraction | None, Fraction | None, Fraction | None]


def _inside(vehicle: Equipment) -> _Inside:
    sizes = (vehicle.inside_length_m, vehicle.inside_width_m, vehicle.inside_height_m)
    length, width, height = (None if size is None else mm(size) for size in sizes)
    return length, width, height


def _room_gap(name: str, body: Body | None, inside: _Inside) -> Gap:
    """Return the room inside: as measured, as its standard has it, or as is usual."""
    names: tuple[str, ...] = () if body is None else _USUAL[body]
    is_standard = body in _DOORS
    taken: tuple[str, ...]
    sizes: tuple[Fraction | None, ...]
    if names and (is_standard or inside == (None, None, None)):
        pairs = list(zip(inside, names, strict=True))
        taken = tuple(one for size, one in pairs if size is None)
        sizes = tuple(_usual_mm(one) if size is None else size for size, one in pairs)
    else:
        taken, sizes = (), inside
    length, width, height = sizes
    return Gap(
        part=Part.VEHICLE,
        name=name,
        width=width,
        height=height,
        length=length,
        measured=is_standard or not taken,
        complete=None not in (length, width, height),
        figures=taken,
    )


def _doors(vehicle: Equipment, body: Body | None) -> Iterator[Gap]:
    own = (vehicle.door_width_m, vehicle.door_height_m)
    names: tuple[str | None, str | None] = (None, None)
    if body is not None and body in _DOORS:
        names = _DOORS[body]
    if own == names == (None, None):
        return
    sizes = [
        mm(size) if size is not None else None if name is None else _usual_mm(name)
        for size, name in zip(own, names, strict=True)
    ]
    yield Gap(
        part=Part.DOOR,
        name=vehicle.name,
        width=sizes[0],
        height=sizes[1],
        complete=None not in sizes,
        figures=tuple(name for size, name in zip(own, names, strict=True) if size is None and name),
    )


def _usual_mm(name: str) -> Fraction:
    """Return a size of a usual vehicle, the least of its range."""
    found = figure(name)
    return mm(found.amount if found.low is None else found.low)
