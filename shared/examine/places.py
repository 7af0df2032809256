"""Places: what is booked of them, which kinds there are, where pieces go, and who lifts them."""

from decimal import Decimal

from shared.book import Act, Job, Place, Segment, Stage, Way
from shared.examine.look import Look, Path
from shared.order import segments_of
from shared.trade import figure
from shared.trade.defaults import acts_of


def check_place(place: Place, path: Path, look: Look) -> None:
    """Hold that only of a place with an area a part is booked."""
    for index, booking in enumerate(place.bookings):
        if booking.area_m2 is not None and place.area_m2 is None:
            where = (*path, "bookings", index, "area_m2")
            look.add("booking_without_area", where, area_m2=booking.area_m2)


def check_kinds(way: Way, path: Path, look: Look) -> None:
    """Hold that the workshop has places of the kinds that are named."""
    there = {place.kind for place in look.book.places}
    for index, kind in enumerate(way.place_kinds):
        if kind not in there:
            look.add("no_place_of_kind", (*path, "place_kinds", index), kind=kind.value)


def check_move(stage: Stage, path: Path, look: Look) -> None:
    """Hold that pieces are moved to where pieces may stand."""
    standing = {place.id: place.standing for place in look.book.places}
    if stage.moves_to is not None and standing.get(stage.moves_to) is False:
        look.add("stands_where_nothing_stands", (*path, "moves_to"), place=stage.moves_to)


def check_lift(stage: Stage, path: Path, look: Look) -> None:
    """Hold that nobody lifts alone, by hand, what is too heavy for one pair of hands."""
    job = look.home(path)
    if Act.LIFT not in acts_of(stage) or not isinstance(job, Job):
        return
    heaviest = max((_mass_kg(piece) for piece in segments_of(job, stage)), default=Decimal(0))
    alone = [
        index
        for index, way in enumerate(stage.ways)
        if way.hands_count <= 1 and not any(need.count for need in way.equipment)
    ]
    limit = figure("HS21a").amount if alone and heaviest else heaviest
    for index in alone if heaviest > limit else ():
        where = (*path, "ways", index)
        look.add("lifted_alone", where, mass_kg=heaviest, limit_kg=limit)


def _mass_kg(segment: Segment) -> Decimal:
    masses = (segment.mass_high_kg, segment.mass_low_kg)
    return next((mass for mass in masses if mass is not None), Decimal(0))
