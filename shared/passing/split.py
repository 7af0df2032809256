"""Cuts straight through a piece, so that its parts pass everything on their way.

Of all cuts across length, width and height the fewest segments are wanted. Parts as large as one
another pass wherever others of that number do, since whatever passes still passes when it is
smaller; so only equal parts are tried, the fewest first, and of the same number those with the
least cut through. A cut face is not a finished one: a part may be put down on it.

Each cut is one seam, as long as the box's girth there. Flanges are made and closed on both sides
of it; it is fitted, faired and taken apart once. Each further segment is loaded, and gets its
lifting points (figures CP125, CP140 to CP143, CP157 and CP181, common practice).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from shared.book import Segment
from shared.passing.boxes import AS_MADE, FACES, Axis, Box, Margins, Piece, Turn, turns_of
from shared.passing.judge import Judged, Passing, is_clear, judge_way, leaves
from shared.passing.passages import Course, Gap
from shared.trade import figure

MOST_PARTS = 48
"""More segments than that are no way out."""

_MM_PER_M = 1000
_PER_FLANGE = ("CP140", "CP181")
_PER_SEAM = ("CP141", "CP142", "CP143")
_PER_SEGMENT = ("CP125", "CP157")
_SIDES_OF_A_SEAM = 2


class BadCut(ValueError):  # noqa: N818 - it says what it is
    """A cut that is none: it lies outside the piece, or where another lies."""

    def __init__(self, axis: Axis, at_mm: Fraction, most_mm: Fraction) -> None:
        """Keep where it would lie, and how long the piece is there."""
        super().__init__(axis, at_mm, most_mm)
        self.axis, self.at_mm, self.most_mm = axis, at_mm, most_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """How many parts along each size."""

    length: int = 1
    width: int = 1
    height: int = 1

    @property
    def all(self) -> int:
        """Return how many segments that makes."""
        return self.length * self.width * self.height

    def along(self, axis: Axis) -> int:
        """Return how many parts lie along a size."""
        if axis is Axis.LENGTH:
            return self.length
        return self.width if axis is Axis.WIDTH else self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursMore:
    """Person-hours that cuts add."""

    low: Fraction
    likely: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """The fewest equal parts that pass with enough to spare.

    passing: one of the parts on its way; it stands for all. deciding: the opening or vehicle that
    alone calls for most parts, and the least left there; None where the mass decides, or nothing
    needs to be cut. whole: the piece as it is. close: the fewest that pass with less to spare, if
    that is fewer.
    """

    counts: Counts
    passing: Passing
    whole: Passing
    deciding: Judged | None
    seams_m: Fraction
    hours: HoursMore
    close: Counts | None
    is_by_mass: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """Cuts as somebody wants them: every part on its way."""

    counts: Counts
    parts: tuple[Passing, ...]
    seams_m: Fraction
    hours: HoursMore


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A piece before it is cut; least_count: so many parts its mass calls for at the least."""

    segment: Segment
    piece: Piece
    least_count: int = 1


def propose(whole: Whole, course: Course, margins: Margins) -> Proposal | None:
    """Return the fewest equal parts that pass, None where no cut helps."""
    finest = Counts(length=MOST_PARTS, width=MOST_PARTS, height=MOST_PARTS)
    if not is_clear(_part(whole, finest), course, margins, margins.spare):
        return None
    close: Counts | None = None
    by_size: Counts | None = None
    for counts in _in_order(whole.piece.box):
        part = _part(whole, counts)
        is_light = whole.least_count <= counts.all
        if is_clear(part, course, margins, margins.spare):
            by_size = by_size or counts
            if is_light:
                return _proposal(whole, course, margins, (by_size, counts, close))
        if close is None and is_light and is_clear(part, course, margins, Fraction()):
            close = counts
    return None


def _proposal(
    whole: Whole, course: Course, margins: Margins, found: tuple[Counts, Counts, Counts | None]
) -> Proposal:
    """Return the proposal for what sizes alone call for, what mass does too, what is close."""
    by_size, counts, close = found
    passing = judge_way(_part(whole, counts), course, margins)
    is_by_mass = by_size.all < counts.all
    seams = seams_m(whole.piece.box, counts)
    return Proposal(
        counts=counts,
        passing=passing,
        whole=judge_way(whole.piece, course, margins),
        deciding=None if is_by_mass else _deciding(whole, passing, margins, counts),
        seams_m=seams,
        hours=hours_of(seams, counts.all),
        close=close if close is not None and close.all < counts.all else None,
        is_by_mass=is_by_mass,
    )


def _deciding(whole: Whole, passing: Passing, margins: Margins, counts: Counts) -> Judged | None:
    """Return what alone calls for most parts; of several, where least is left."""
    found = [
        (_alone(whole, each.passage, margins, counts.all), -each.spare_mm, each)
        for each in passing.judged
        if isinstance(each.passage, Gap)
    ]
    most, _, judged = max(found, key=lambda one: one[:2], default=(1, 0, None))
    return judged if most > 1 else None


def _alone(whole: Whole, gap: Gap, margins: Margins, most: int) -> int:
    """Return how many parts one opening calls for, were it the only one."""
    for counts in _in_order(whole.piece.box):
        if counts.all >= most or leaves(_part(whole, counts), gap, margins, margins.spare):
            return counts.all
    return most


def by_hand(
    whole: Whole, course: Course, margins: Margins, cuts: Mapping[Axis, Sequence[Fraction]]
) -> ByHand:
    """Return what every part comes to with cuts at so many millimetres from one end.

    Raises
    ------
    BadCut
        If a cut lies outside the piece or on another.
    """
    spans = {axis: _spans(whole.piece.box, axis, cuts.get(axis, ())) for axis in Axis}
    counts = Counts(**{axis.value: len(spans[axis]) for axis in Axis})
    turns = _turns(whole, counts)
    boxes = [
        Box(length=length, width=width, height=height)
        for length in spans[Axis.LENGTH]
        for width in spans[Axis.WIDTH]
        for height in spans[Axis.HEIGHT]
    ]
    pieces = [
        Piece(id=f"{whole.piece.id}-{at}", name=whole.piece.name, box=box, turns=turns)
        for at, box in enumerate(boxes, start=1)
    ]
    seams = seams_m(whole.piece.box, counts)
    return ByHand(
        counts=counts,
        parts=tuple(judge_way(piece, course, margins) for piece in pieces),
        seams_m=seams,
        hours=hours_of(seams, counts.all),
    )


def _spans(box: Box, axis: Axis, cuts: Sequence[Fraction]) -> list[Fraction]:
    most = box.along(axis)
    ends = [Fraction(), *sorted(cuts), most]
    for before, behind in pairwise(ends):
        if behind <= before:
            raise BadCut(axis, before if before > 0 else behind, most)
    return [behind - before for before, behind in pairwise(ends)]


def seams_m(box: Box, counts: Counts) -> Fraction:
    """Return the length of all seams, in metres: at each cut the girth of the box."""
    girths = {
        Axis.LENGTH: box.width + box.height,
        Axis.WIDTH: box.length + box.height,
        Axis.HEIGHT: box.length + box.width,
    }
    total = sum(((counts.along(axis) - 1) * 2 * girths[axis] for axis in Axis), Fraction())
    return total / _MM_PER_M


def hours_of(seams: Fraction, count: int) -> HoursMore:
    """Return the person-hours that so many metres of seams and so many segments add."""
    flange, seam, segment = (_rates(names) for names in (_PER_FLANGE, _PER_SEAM, _PER_SEGMENT))
    low, likely, high = (
        seams * (_SIDES_OF_A_SEAM * flange[at] + seam[at]) + (count - 1) * segment[at]
        for at in range(len(flange))
    )
    return HoursMore(low=low, likely=likely, high=high)


def _rates(names: Sequence[str]) -> tuple[Fraction, Fraction, Fraction]:
    """Return the sums of some figures: low, likely, high."""
    found = [figure(name) for name in names]
    low, likely, high = (
        sum(map(Fraction, column), Fraction())
        for column in zip(*((each.least, each.amount, each.most) for each in found), strict=True)
    )
    return low, likely, high


def _in_order(box: Box) -> Iterator[Counts]:
    """Give the ways to cut, the fewest segments first, then the least cut through."""
    for count in range(1, MOST_PARTS + 1):
        found = [
            Counts(length=along, width=across, height=count // (along * across))
            for along in range(1, count + 1)
            if count % along == 0
            for across in range(1, count // along + 1)
            if (count // along) % across == 0
        ]
        yield from sorted(found, key=lambda counts: _cut_through(box, counts))


def in_parts(box: Box, count: int) -> Counts:
    """Return how a box is cut into so many equal parts with the least cut through."""
    return next(counts for counts in _in_order(box) if counts.all == count)


def _cut_through(box: Box, counts: Counts) -> Fraction:
    """Return the area of all cut faces."""
    volume = box.length * box.width * box.height
    faces = ((counts.along(axis) - 1) * volume / box.along(axis) for axis in Axis)
    return sum(faces, Fraction())


def _part(whole: Whole, counts: Counts) -> Piece:
    box = whole.piece.box
    return replace(
        whole.piece,
        box=Box(
            length=box.length / counts.length,
            width=box.width / counts.width,
            height=box.height / counts.height,
        ),
        turns=_turns(whole, counts),
    )


def _turns(whole: Whole, counts: Counts) -> tuple[Turn, ...]:
    """Return how parts may be turned: each has a cut face wherever the piece is cut."""
    cut = {face for axis in Axis if counts.along(axis) > 1 for face in FACES[axis]}
    finished = [face for face in whole.segment.finished_faces if face not in cut]
    return turns_of(whole.segment.turns, finished) or AS_MADE
