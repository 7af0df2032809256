"""A quick look at a job for which nothing can be due, so that most books pay for no more."""

from decimal import Decimal

from shared.book import (
    Body,
    Book,
    Equipment,
    EquipmentKind,
    Job,
    Journey,
    Leg,
    LegKind,
    Purpose,
    Segment,
    Workshop,
)

_SMALL_M = Decimal("2.4")
"""No limit of a road or ferry is as low; the lowest is TR17b."""
_WRAP_M, _SKATES_M = Decimal("0.1"), Decimal("0.2")
"""More than is usual (figures CP400 and CP401)."""
_LIGHT_KG = 20_000
_LIGHT_T = 40
_PLAIN = frozenset(
    {
        LegKind.LOAD,
        LegKind.DRIVE,
        LegKind.WAIT,
        LegKind.UNLOAD,
        LegKind.ASSEMBLE,
        LegKind.SEAL,
        LegKind.SIGN_OFF,
        LegKind.RETURN,
    }
)


def is_told_closely(journey: Journey) -> bool:
    """Return whether a journey is more than plain legs with their minutes.

    Papers that are common practice are listed for those only; a book that says no more of its
    journeys than it always has is told of what a law asks for alone.
    """
    if journey.means or journey.travel:
        return True
    return any(leg.kind not in _PLAIN or _says_more(leg) for leg in journey.legs)


def _says_more(leg: Leg) -> bool:
    if leg.shares or leg.timetable or leg.slots or leg.equipment:
        return True
    told = (leg.driving_minutes, leg.distance_km, leg.rules, leg.hands, leg.person_hours, leg.by)
    return any(each is not None for each in told)


def is_quiet(book: Book, job: Job) -> bool:
    """Return whether nothing can be due for a job. False: it may be."""
    if job.notices or Purpose.FIRE_TESTED in job.purposes:
        return False
    journeys = [step for step in job.steps if isinstance(step, Journey)]
    countries = {leg.country for journey in journeys for leg in journey.legs if leg.country}
    if (countries | {job.site.country}) - {book.workshop.country}:
        return not journeys
    if any(is_told_closely(journey) for journey in journeys):
        return False
    named = {vehicle for journey in journeys for vehicle in journey.vehicles}
    if sum(_heaviest(segment) for segment in job.segments) > _LIGHT_KG:
        return False
    if any(_is_heavy(thing) for thing in book.equipment if thing.id in named):
        return False
    if not any(_may_be_open(book, journey) for journey in journeys):
        return True
    room = _SMALL_M - _added(book.workshop)
    return all(_largest(segment) <= room for segment in job.segments)


def _may_be_open(book: Book, journey: Journey) -> bool:
    """Return whether pieces may travel on an open bed: by one, or nobody knows by what."""
    vehicles = _vehicles_of(book, journey)
    return not vehicles or any(thing.body is Body.OPEN for thing in vehicles)


def _vehicles_of(book: Book, journey: Journey) -> tuple[Equipment, ...]:
    """Return the vehicles of a journey that the book has; cranes carry nothing."""
    named = set(journey.vehicles)
    return tuple(
        thing
        for thing in book.equipment
        if thing.id in named and thing.kind is EquipmentKind.VEHICLE
    )


def _added(workshop: Workshop) -> Decimal:
    wrap = _WRAP_M if workshop.wrap_m is None else workshop.wrap_m
    skates = _SKATES_M if workshop.skates_m is None else workshop.skates_m
    return 2 * wrap + skates


def _largest(segment: Segment) -> Decimal:
    """Return the largest size of a segment; 0 where one is not known, as nothing is judged then."""
    sizes = (segment.length_m, segment.width_m, segment.height_m)
    known = [size for size in sizes if size is not None]
    return max(known) if len(known) == len(sizes) else Decimal(0)


def _heaviest(segment: Segment) -> Decimal:
    return max(segment.mass_low_kg or Decimal(0), segment.mass_high_kg or Decimal(0))


def _is_heavy(thing: Equipment) -> bool:
    return (thing.gross_t or 0) + (thing.trailer_t or 0) > _LIGHT_T
