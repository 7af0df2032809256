"""What a load above the limits of a road or a ferry calls for, piece by piece.

Sizes as the passing room judges them: the way round that calls for least, on an open bed. Besides
what it judges: overhang against the bed, the whole lorry's length and mass (TR06c to TR06e, TR07).
Where it is not known by which rule a load goes, the stricter limit counts.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from shared.book import Book, Equipment, Job, Journey, Leg, LegKind, Means
from shared.findings import Fact
from shared.order import segments_of
from shared.passing.boxes import Sides, margins_of, mm, moved, piece_of
from shared.passing.judge import judge_way
from shared.passing.masses import known_of, mass_of
from shared.passing.passages import Carrier, course_of
from shared.passing.roads import Demand, Dimension, Realm, Road
from shared.trade import figure

_KG_PER_T = 1000
_MILDER = {"TR03a": "TR03b", "TR06a": "TR06b"}
"""Limits of loads in ordinary use, and those of the order for special types."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """Something that is above a limit: what it calls for, and both as whole mm or kg.

    what: width, height, length, overhang, side, overall or mass; said: the means says so. piece:
    "" for the whole load.
    """

    realm: Realm
    demand: Demand
    what: str
    size: int
    limit: int
    figure: str
    piece: str = ""

    @property
    def facts(self) -> tuple[tuple[str, Fact], ...]:
        """Return it as facts for a sentence."""
        told: dict[str, Fact] = {"what": self.what, "size": self.size, "limit": self.limit}
        told["piece"] = self.piece
        if self.is_by_stricter:
            told["rules"] = "stricter"
        return tuple(told.items())

    @property
    def is_by_stricter(self) -> bool:
        """Return whether only the stricter of two rules asks, and nobody knows which one holds."""
        other = _MILDER.get(self.figure)
        return other is not None and self.size <= mm(figure(other).amount)


def oversize(book: Book, job: Job, journey: Journey, means: Means | None) -> tuple[Over, ...]:
    """Return what of a journey is above a limit, by the vehicles of a means."""
    as_driven = _as_driven(journey, means)
    if not any(leg.kind in (LegKind.DRIVE, LegKind.SAILING) for leg in as_driven.legs):
        return ()
    alone = replace(job, steps=(as_driven,))
    margins = margins_of(book.workshop)
    found: list[Over] = []
    for segment in segments_of(job, journey):
        piece = piece_of(segment)
        if piece is None:
            continue
        passing = judge_way(piece, course_of(book, alone, segment), margins)
        for each in passing.judged:
            if isinstance(each.passage, Road):
                sides = moved(piece.box, each.turn, margins)
                found += _above(each.passage, segment.name or segment.id, sides)
                found += _hanging(each.passage, segment.name, sides, passing.carrier)
    found += _heavy(book, job, as_driven)
    if means is not None and means.abnormal and _is_untold(found):
        found += _said(book, job, as_driven)
    return tuple(found)


def _is_untold(found: list[Over]) -> bool:
    """Return whether nothing so far has the police in Great Britain told."""
    asks = (Demand.NOTICE, Demand.FORM, Demand.ORDER)
    return not any(each.realm is Realm.BRITAIN and each.demand in asks for each in found)


def _said(book: Book, job: Job, journey: Journey) -> Iterator[Over]:
    """Give what the means itself says of its load, on a British road."""
    if _drives_in_britain(book, job, journey):
        yield Over(
            realm=Realm.BRITAIN, demand=Demand.NOTICE, what="said", size=0, limit=0, figure="TR03c"
        )


def _drives_in_britain(book: Book, job: Job, journey: Journey) -> bool:
    countries = {book.workshop.country, job.site.country, *(leg.country for leg in journey.legs)}
    return "GB" in countries and any(leg.kind is LegKind.DRIVE for leg in journey.legs)


def _as_driven(journey: Journey, means: Means | None) -> Journey:
    """Return the journey with one drive for each country, by the vehicles that it takes."""
    legs: list[Leg] = []
    for leg in journey.legs:
        if leg.kind is LegKind.RETURN:
            continue
        shares = leg.shares if leg.kind is LegKind.DRIVE else ()
        legs += [replace(leg, country=each.country, shares=()) for each in shares] or [leg]
    vehicles = means.vehicles if means and means.vehicles else journey.vehicles
    return replace(journey, legs=tuple(legs), vehicles=vehicles, after=())


def _above(road: Road, name: str, sides: Sides) -> Iterator[Over]:
    sizes = {
        Dimension.WIDTH: sides.width,
        Dimension.HEIGHT: sides.height,
        Dimension.LENGTH: sides.length,
    }
    for limit in road.limits:
        size = sizes[limit.dimension]
        if size > limit.most:
            yield _over(
                road.realm, limit.demand, limit.dimension, size, limit.most, limit.figure, name
            )


def _over(
    realm: Realm,
    demand: Demand,
    what: str,
    size: Fraction,
    limit: Fraction,
    behind: str,
    piece: str = "",
) -> Over:
    return Over(
        realm=realm,
        demand=demand,
        what=str(what),
        size=-int(-size // 1),
        limit=int(limit),
        figure=behind,
        piece=piece,
    )


def _hanging(road: Road, name: str, sides: Sides, carrier: Carrier | None) -> Iterator[Over]:
    """Give what hangs over a bed whose sizes are known, and a lorry that is too long by it."""
    if road.realm is not Realm.BRITAIN or carrier is None or carrier.room is None:
        return
    length, width, _ = carrier.room
    hangs = (
        ("overhang", sides.length - length, "TR06d"),
        ("side", (sides.width - width) / 2, "TR06e"),
        ("overall", max(sides.length, length) + _cab(), "TR06c"),
    )
    for what, size, behind in hangs:
        most = mm(figure(behind).amount)
        if size > most:
            yield _over(road.realm, Demand.NOTICE, what, size, most, behind, name)


def _cab() -> Fraction:
    """Return what stands before the trailer of the longest usual lorry."""
    return mm(figure("TR02a").amount - figure("TR13a").amount)


_BRITISH_MASSES = (
    ("TR07c", Demand.ORDER),
    ("TR07", Demand.NOTICE),
    ("TR07b", Demand.NOTICE),
)


def _heavy(book: Book, job: Job, journey: Journey) -> Iterator[Over]:
    """Give what the mass of the lorry calls for, as far as it is known."""
    mass = lorry_kg(book, job, journey)
    if mass is None:
        return
    if _drives_in_britain(book, job, journey):
        for behind, demand in _BRITISH_MASSES:
            most = Fraction(figure(behind).amount) * _KG_PER_T
            if mass > most:
                yield _over(Realm.BRITAIN, demand, "mass", mass, most, behind)
                break
    most = Fraction(figure("TR17d").amount) * _KG_PER_T
    if mass > most and any(leg.kind is LegKind.SAILING for leg in journey.legs):
        yield _over(Realm.FERRY, Demand.REQUEST, "mass", mass, most, "TR17d")


def lorry_kg(book: Book, job: Job, journey: Journey) -> Fraction | None:
    """Return what a loaded lorry weighs, None where nothing of it is known.

    Its own mass is what it may weigh less what it carries; where that isn't known, what it may
    weigh counts: the stricter. Of a lorry without masses only the load is known.
    """
    load = known_of(mass_of(segment) for segment in segments_of(job, journey)).high
    named = set(journey.vehicles)
    known = [thing for thing in book.equipment if thing.id in named and thing.gross_t is not None]
    heaviest = max((_laden(thing, load) for thing in known), default=load)
    return heaviest or None


def _laden(thing: Equipment, load: Fraction) -> Fraction:
    gross = (Fraction(thing.gross_t or 0) + Fraction(thing.trailer_t or 0)) * _KG_PER_T
    if thing.payload_kg is None:
        return max(gross, load)
    return gross - Fraction(thing.payload_kg) + load
