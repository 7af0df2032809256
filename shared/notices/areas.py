"""Customs and passport areas, and where a journey goes from one into another.

Customs: the Union's is one area (Regulation (EU) No 952/2013, art. 4, with Monaco), Great Britain
one with the Crown Dependencies, Switzerland with Liechtenstein; Norway, though its hours rules are
the Union's, stands outside. Passports: the Schengen area is one; the British Isles another.
"""

from dataclasses import dataclass

from shared.book import Book, Job, Journey, Leg, LegKind
from shared.delivery.judged import ON_SITE

UNION = frozenset(
    (
        *("AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU"),
        *("IE", "IT", "LT", "LU", "LV", "MC", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK"),
    )
)
SCHENGEN = (UNION - {"CY", "IE", "MC"}) | {"CH", "IS", "LI", "NO"}
POSTING = (UNION - {"MC"}) | {"CH", "IS", "LI", "NO"}
"""Where workers that come from another country may have to be told of beforehand."""

_BRITAIN = {"GB": "GB", "GG": "GB", "IM": "GB", "JE": "GB"}
_CUSTOMS = {**dict.fromkeys(UNION, "EU"), **_BRITAIN, "CH": "CH", "LI": "CH"}
_PASSPORTS = {**dict.fromkeys(SCHENGEN, "schengen"), **dict.fromkeys((*_BRITAIN, "IE"), "isles")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A journey goes from one country into another area: between two of its legs.

    behind: the last leg of the old area, None where it is the workshop's; leg: the first of the
    new one.
    """

    out_of: str
    into: str
    behind: int | None
    leg: int


def customs_area(country: str) -> str:
    """Return the customs area of a country."""
    return _CUSTOMS.get(country, country)


def passport_area(country: str) -> str:
    """Return the area inside which nobody asks for passports."""
    return _PASSPORTS.get(country, country)


def countries_of(leg: Leg, job: Job) -> tuple[str, ...]:
    """Return the countries of a leg in their order; none where it is said of none."""
    if leg.kind is LegKind.DRIVE:
        if leg.shares:
            return tuple(share.country for share in leg.shares)
        return (leg.country,) if leg.country else ()
    return (job.site.country,) if leg.kind in ON_SITE else ()


def crossings(book: Book, job: Job, journey: Journey) -> tuple[Crossing, ...]:
    """Return where a journey leaves a customs area, in its order; the way home not counted."""
    found: list[Crossing] = []
    country, behind = book.workshop.country, None
    for index, leg in enumerate(journey.legs):
        if leg.kind is LegKind.RETURN:
            continue
        for there in countries_of(leg, job):
            if customs_area(there) != customs_area(country):
                found.append(Crossing(out_of=country, into=there, behind=behind, leg=index))
            country, behind = there, index
    there = job.site.country
    if journey.legs and customs_area(there) != customs_area(country):
        last = len(journey.legs) - 1
        found.append(Crossing(out_of=country, into=there, behind=behind, leg=last))
    return tuple(found)
