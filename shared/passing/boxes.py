"""Pieces as boxes, the ways round they may be turned, and their sizes as they are moved.

All lengths are exact, in millimetres. A turn says which of a piece's own sizes stands upright,
which lies across the way and which along it. Wrapping is added on every side; skates or a pallet
beneath, whatever stands upright.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from shared.book import Face, Segment, Workshop
from shared.trade import figure

_MM_PER_M = 1000


class Axis(StrEnum):
    """A size of a piece, as it is made."""

    LENGTH = "length"
    WIDTH = "width"
    HEIGHT = "height"


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A way round: the size that stands upright, the one along the way, the one across it."""

    up: Axis
    along: Axis
    across: Axis

    @property
    def is_as_made(self) -> bool:
        """Return whether the piece stands as it is made, its height upright."""
        return self.up is Axis.HEIGHT


def _turn(up: Axis, along: Axis, across: Axis) -> Turn:
    return Turn(up=up, along=along, across=across)


TURNS: tuple[Turn, ...] = (
    _turn(Axis.HEIGHT, Axis.LENGTH, Axis.WIDTH),
    _turn(Axis.HEIGHT, Axis.WIDTH, Axis.LENGTH),
    _turn(Axis.WIDTH, Axis.LENGTH, Axis.HEIGHT),
    _turn(Axis.WIDTH, Axis.HEIGHT, Axis.LENGTH),
    _turn(Axis.LENGTH, Axis.WIDTH, Axis.HEIGHT),
    _turn(Axis.LENGTH, Axis.HEIGHT, Axis.WIDTH),
)
"""All six ways round of a box: as it is made first, on its side, on its end."""

AS_MADE = TURNS[:2]
"""The ways round in which its height stands upright."""

UPRIGHT_BY_WORD: dict[str, tuple[Axis, ...]] = {
    "upright": (Axis.HEIGHT,),
    "on_side": (Axis.WIDTH,),
    "on_end": (Axis.LENGTH,),
    "lying": (Axis.WIDTH, Axis.LENGTH),
}
"""The words of `Segment.turns`, and what stands upright then."""

FACES: dict[Axis, frozenset[Face]] = {
    Axis.HEIGHT: frozenset({Face.TOP, Face.BOTTOM}),
    Axis.WIDTH: frozenset({Face.FRONT, Face.BACK}),
    Axis.LENGTH: frozenset({Face.LEFT, Face.RIGHT}),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """The sizes of a piece as it is made, in millimetres."""

    length: Fraction
    width: Fraction
    height: Fraction

    def along(self, axis: Axis) -> Fraction:
        """Return one of the sizes."""
        if axis is Axis.LENGTH:
            return self.length
        return self.width if axis is Axis.WIDTH else self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """A piece as it is moved, in millimetres: across the way, upright, and along it."""

    width: Fraction
    height: Fraction
    length: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """What is added to a piece that is moved, and what is wished to spare, in millimetres."""

    wrap: Fraction
    skates: Fraction
    spare: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece with its sizes and the ways round it may be turned, which are one at least."""

    id: str
    name: str
    box: Box
    turns: tuple[Turn, ...]


def piece_of(segment: Segment) -> Piece | None:
    """Return a segment as a piece, None where a size is missing."""
    sizes = (segment.length_m, segment.width_m, segment.height_m)
    length, width, height = (None if size is None else mm(size) for size in sizes)
    if length is None or width is None or height is None:
        return None
    return Piece(
        id=segment.id,
        name=segment.name,
        box=Box(length=length, width=width, height=height),
        turns=turns_of(segment.turns, segment.finished_faces) or AS_MADE,
    )


def turns_of(words: Iterable[str], finished: Iterable[Face]) -> tuple[Turn, ...]:
    """Return the ways round that words allow, without those that lie on a finished face.

    Words that are not known count for nothing; without a known one every way round is allowed.
    A piece may be put down on either of two opposite faces, so only both of them rule it out.
    """
    known = [axis for word in words for axis in UPRIGHT_BY_WORD.get(word, ())]
    marked = frozenset(finished)
    return tuple(
        turn for turn in TURNS if (not known or turn.up in known) and not FACES[turn.up] <= marked
    )


def margins_of(workshop: Workshop) -> Margins:
    """Return the workshop's own margins, else the usual ones: common practice, no source."""
    return Margins(
        wrap=_own_or_usual(workshop.wrap_m, "CP400"),
        skates=_own_or_usual(workshop.skates_m, "CP401"),
        spare=_own_or_usual(workshop.spare_m, "CP402"),
    )


def _own_or_usual(own_m: Decimal | None, name: str) -> Fraction:
    return Fraction(figure(name).amount) if own_m is None else mm(own_m)


def moved(box: Box, turn: Turn, margins: Margins) -> Sides:
    """Return the sizes of a box as it is moved in one way round."""
    wrap = 2 * margins.wrap
    return Sides(
        width=box.along(turn.across) + wrap,
        height=box.along(turn.up) + wrap + margins.skates,
        length=box.along(turn.along) + wrap,
    )


def mm(metres: Decimal) -> Fraction:
    """Return metres as millimetres."""
    return Fraction(metres) * _MM_PER_M
