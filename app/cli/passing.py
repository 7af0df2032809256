"""Pieces on their way for programs: the same as is said, as objects."""

from fractions import Fraction

from app.cli.books import Json
from app.words.passing import plain
from shared.passing.boxes import Piece
from shared.passing.judge import Judged, Passing
from shared.passing.loading import Stow, Trip
from shared.passing.passages import Carrier, Gap
from shared.passing.taking import Taking
from shared.units import whole_down, whole_up


def passing_object(passing: Passing) -> Json:
    """Give a piece with all that it passes, and what decides."""
    deciding = passing.deciding
    return {
        "answer": None if deciding is None else deciding.answer.value,
        "deciding": None if deciding is None else judged_object(deciding),
        "passages": [judged_object(each) for each in passing.judged],
        "carrier": None if passing.carrier is None else _carrier(passing.carrier),
    }


def sizes_object(piece: Piece) -> list[float]:
    """Give length, width and height in metres."""
    return [metres(each) for each in (piece.box.length, piece.box.width, piece.box.height)]


def metres(mm: Fraction) -> float:
    """Give millimetres as metres, to a thousandth of a millimetre, for JSON only."""
    return float(plain(mm / 1000, 6))


def judged_object(judged: Judged) -> Json:
    """Give one passage: the answer, the way round, what is left (below 0: too big)."""
    gap = judged.passage
    told: Json = {
        "part": gap.part.value if isinstance(gap, Gap) else gap.realm.value,
        "name": gap.name,
        "answer": judged.answer.value,
        "turn": {
            "up": judged.turn.up.value,
            "along": judged.turn.along.value,
            "across": judged.turn.across.value,
        },
        "spare_mm": whole_down(judged.spare_mm),
        "dimension": judged.dimension.value,
    }
    if isinstance(gap, Gap):
        told |= {"measured": gap.measured, "figures": list(gap.figures)}
    elif judged.limit is not None:
        told |= {"demand": judged.limit.demand.value, "figures": [judged.limit.figure]}
    return told


def stow_object(carrier: Carrier, stow: Stow) -> Json:
    """Give the trips of a vehicle."""
    return {
        **_carrier(carrier),
        "trips": [_trip(trip) for trip in stow.trips],
        "left": [piece.id for piece in stow.left],
        "least_count": stow.least_count,
    }


def _carrier(carrier: Carrier) -> Json:
    body = None if carrier.body is None else carrier.body.value
    return {"vehicle": carrier.id, "name": carrier.name, "body": body}


def _trip(trip: Trip) -> Json:
    mass = trip.mass
    return {
        "order": [each.piece.id for each in trip.in_order],
        "upright": [each.turn.up.value for each in trip.in_order],
        "length_m": metres(trip.length),
        "area_m2": float(plain(trip.area_m2, 2, is_up=True)),
        "mass_low_kg": None if mass is None else whole_down(mass.low),
        "mass_high_kg": None if mass is None else whole_up(mass.high),
        "weight": trip.weight.value,
    }


def taking_object(taking: Taking) -> Json:
    """Give what goes along for the joints."""
    return {
        "joints_m": float(plain(taking.joints_m, 2, is_up=True)),
        "bolts": taking.bolts,
        "sealant_ml": taking.sealant_ml,
        "cartridges": taking.cartridges,
        "is_estimated": taking.is_estimated,
    }
