"""A piece of some size cut into equal segments, each with its share of skin and seams.

A cut face has no skin; a seam is as long as the girth of the whole piece there, shared out among
the segments that meet in it. What would lie inside without any skin is not made.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import product

from shared.book import Segment
from shared.ids import SegmentId
from shared.passing.boxes import Axis
from shared.passing.split import Counts
from shared.trade import figure
from shared.trade.own import Lookup
from shared.units import decimal_of

_SHARE = "CP134"
_PLACES = 3
Box = tuple[Fraction, Fraction, Fraction]


def surface_of(box: Box) -> Fraction:
    """Give the surface of a box, in the square of the unit of its sides."""
    length, width, height = box
    return 2 * (length * width + width * height + length * height)


def cut_into(
    whole: Segment, counts: Counts, named: Callable[[int], str], look: Lookup = figure
) -> tuple[Segment, ...]:
    """Give the segments of a piece that is cut, numbered from 1 in its name.

    The skin of the whole is its own surface where it has one, else a share of its box's (CP134).
    named: gives the name of each segment. Raises ValueError where the piece lacks a size.
    """
    box = _box(whole)
    skin = whole.surface_m2
    total = surface_of(box)
    share = Fraction(look(_SHARE).amount) if skin is None else Fraction(skin) / total
    along = tuple(counts.along(axis) for axis in Axis)
    part = tuple(side / count for side, count in zip(box, along, strict=True))
    cells = [
        cell for cell in product(*(range(count) for count in along)) if _outer(cell, along, part)
    ]
    return tuple(
        replace(
            whole,
            id=SegmentId(f"{whole.id}-{number}") if len(cells) > 1 else whole.id,
            name=named(number),
            length_m=decimal_of(part[0], _PLACES),
            width_m=decimal_of(part[1], _PLACES),
            height_m=decimal_of(part[2], _PLACES),
            surface_m2=decimal_of(_outer(cell, along, part) * share, _PLACES),
            joints_m=decimal_of(_seams(cell, along, box), _PLACES),
        )
        for number, cell in enumerate(cells, start=1)
    )


def _box(whole: Segment) -> Box:
    sides = whole.length_m, whole.width_m, whole.height_m
    known = [Fraction(side) for side in sides if side is not None]
    if len(known) != len(sides):
        raise ValueError(f"no size: {whole.id}")
    return known[0], known[1], known[2]


def _outer(cell: tuple[int, ...], along: tuple[int, ...], part: tuple[Fraction, ...]) -> Fraction:
    """Give the area of the faces of a part that are not cut."""
    faces = Fraction(0)
    for axis, (at, count) in enumerate(zip(cell, along, strict=True)):
        face = part[axis - 1] * part[axis - 2]
        faces += face * ((at == 0) + (at == count - 1))
    return faces


def _seams(cell: tuple[int, ...], along: tuple[int, ...], box: Box) -> Fraction:
    """Give the length of seam at a part: at each cut its share of the girth of the whole."""
    seams = Fraction(0)
    for axis, (at, count) in enumerate(zip(cell, along, strict=True)):
        girth = 2 * (box[axis - 1] + box[axis - 2])
        others = along[axis - 1] * along[axis - 2]
        seams += girth / others * ((at > 0) + (at < count - 1))
    return seams
