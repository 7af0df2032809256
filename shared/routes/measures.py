"""How much of a segment there is: what the hours of a route grow with.

A size that the book doesn't have is estimated from length, width and height: foam is cut from
the segment's box, its skin is a share of the box's surface (figure CP134), and where it meets
others the seam is once the box's girth. All of it is common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.book import Measure, Route, Segment
from shared.trade import figure

if TYPE_CHECKING:
    from shared.trade.own import Lookup

_FIELDS = {
    Measure.VOLUME: "volume_m3",
    Measure.SURFACE: "surface_m2",
    Measure.JOINTS: "joints_m",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A size that a route wants and a segment doesn't have.

    taken: what is taken instead, in the unit of the measure.
    """

    segment: Segment
    measure: Measure
    field: str
    taken: Decimal


def amount_of(
    segment: Segment, measure: Measure, *, is_alone: bool, look: "Lookup" = figure
) -> Decimal:
    """Give a segment's size in the unit of a measure; is_alone: it meets no other segment."""
    if measure is Measure.PIECE:
        return Decimal(1)
    known: Decimal | None = getattr(segment, _FIELDS[measure])
    if known is not None:
        return known
    return _estimate(segment, measure, is_alone=is_alone, look=look)


def _estimate(segment: Segment, measure: Measure, *, is_alone: bool, look: "Lookup") -> Decimal:
    sizes = (segment.length_m, segment.width_m, segment.height_m)
    a, b, c = (Decimal(1) if size is None else size for size in sizes)
    if measure is Measure.VOLUME:
        return a * b * c
    if measure is Measure.SURFACE:
        return 2 * (a * b + b * c + a * c) * look("CP134").amount
    if is_alone:
        return Decimal(0)
    smallest, middle, _ = sorted((a, b, c))
    return 2 * (smallest + middle)


def field_of(measure: Measure) -> str:
    """Give the field of a segment in which a size stands; KeyError for the number of pieces."""
    return _FIELDS[measure]


def missing_measures(route: Route, segments: Iterable[Segment]) -> tuple[Missing, ...]:
    """Give the sizes that a route wants of segments and the book doesn't have."""
    chosen = tuple(segments)
    wanted = {rule.per for rule in route.rules if rule.per in _FIELDS}
    is_alone = len(chosen) == 1
    found = []
    for segment in chosen:
        for measure, field in _FIELDS.items():
            is_open = measure in wanted and getattr(segment, field) is None
            if is_open and not (is_alone and measure is Measure.JOINTS):
                taken = amount_of(segment, measure, is_alone=is_alone)
                found.append(Missing(segment=segment, measure=measure, field=field, taken=taken))
    return tuple(found)
