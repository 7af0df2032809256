"""What of a journey nobody but the planner knows, as far as it isn't written down yet."""

from dataclasses import dataclass
from enum import StrEnum

from shared.book import AT_SEA, Journey, Leg, LegKind

_DRIVEN = frozenset({LegKind.DRIVE, LegKind.RETURN})


class BlankKind(StrEnum):
    """What is to be filled in. way: how far, or how long at the wheel. countries: of the road.

    timetable: when it leaves and arrives, by whose clock. opens: hours of the office.
    vehicle: what it goes in. crew: who works on site.
    """

    WAY = "way"
    COUNTRIES = "countries"
    TIMETABLE = "timetable"
    OPENS = "opens"
    CRANE = "crane"
    VEHICLE = "vehicle"
    CREW = "crew"


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """Something to fill in. leg: its number in the journey from 1, None of the journey itself."""

    kind: BlankKind
    leg: int | None = None
    name: str = ""


def blanks_of(journey: Journey) -> tuple[Blank, ...]:
    """Give what is to be filled in, in the order of the legs, then of the journey."""
    found = [
        Blank(kind=kind, leg=number, name=leg.name)
        for number, leg in enumerate(journey.legs, 1)
        for kind in _of_leg(leg)
    ]
    found += [
        Blank(kind=BlankKind.WAY, name=leg.name) for leg in journey.travel if _has_no_way(leg)
    ]
    goes = any(leg.kind in _DRIVEN | AT_SEA for leg in journey.legs)
    if goes and not (journey.vehicles or any(means.vehicles for means in journey.means)):
        found.append(Blank(kind=BlankKind.VEHICLE))
    if goes and not journey.crew and any(leg.kind is LegKind.ASSEMBLE for leg in journey.legs):
        found.append(Blank(kind=BlankKind.CREW))
    return tuple(found)


def _of_leg(leg: Leg) -> list[BlankKind]:
    if leg.kind in _DRIVEN:
        kinds = [BlankKind.WAY] if _has_no_way(leg) else []
        is_counted = leg.driving_minutes is not None or leg.distance_km is not None
        is_nowhere = is_counted and not (leg.country or leg.shares)
        return [*kinds, BlankKind.COUNTRIES] if is_nowhere else kinds
    if leg.kind in AT_SEA:
        return [] if leg.departures or leg.timetable else [BlankKind.TIMETABLE]
    if leg.kind is LegKind.BORDER:
        return [] if leg.opens or leg.slots else [BlankKind.OPENS]
    return [BlankKind.CRANE] if leg.kind is LegKind.LIFT and not leg.equipment else []


def _has_no_way(leg: Leg) -> bool:
    return not (leg.minutes or leg.driving_minutes or leg.distance_km)
