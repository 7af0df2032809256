"""Whether a piece passes: opening by opening, all ways round that it may be turned.

Two sizes of the piece as it is moved lie across an opening, the third along it, in its depth or
in the room to turn, where that is given. The answer for a way round is what it leaves to spare
where it leaves least.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from shared.passing.boxes import Margins, Piece, Sides, Turn, moved
from shared.passing.passages import Carrier, Course, Gap, Passage
from shared.passing.roads import Demand, Dimension, Limit, Road


class Answer(StrEnum):
    """Whether a piece passes, best to worst.

    turned: only if it is turned. notice: somebody must be asked or told before. measure: by less
    than is wished to spare, or nobody measured the opening.
    """

    PASSES = "passes"
    TURNED = "turned"
    NOTICE = "notice"
    MEASURE = "measure"
    TOO_BIG = "too_big"


_WORST_LAST = tuple(Answer)
_HEAVIEST_LAST = tuple(Demand)


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One piece at one passage: the answer, in which way round, and what that leaves.

    spare_mm: below 0 so much too big; dimension: where that is. limit: of a road, the heaviest
    that is passed, else None.
    """

    passage: Passage
    answer: Answer
    turn: Turn
    spare_mm: Fraction
    dimension: Dimension
    limit: Limit | None = None

    @property
    def rank(self) -> int:
        """Return the answer as a number, the worst last."""
        return _WORST_LAST.index(self.answer)


@dataclass(frozen=True, slots=True, kw_only=True)
class Passing:
    """A piece on its whole way: what was judged, in the order of the way, and the carrier.

    deciding: the worst of them, None where there is nothing to pass.
    """

    piece: Piece
    judged: tuple[Judged, ...]
    carrier: Carrier | None
    deciding: Judged | None


def judge_way(piece: Piece, course: Course, margins: Margins) -> Passing:
    """Return what a piece comes to on its way, by the carrier that takes it best.

    That is the first with enough to spare, else the one that leaves most.
    """
    before = [judge(piece, each, margins) for each in course.workshop]
    behind = [judge(piece, each, margins) for each in course.site]
    carrier, on_it = _carried(piece, course.carriers, margins)
    judged = (*before, *on_it, *behind)
    return Passing(piece=piece, judged=judged, carrier=carrier, deciding=deciding_of(judged))


def deciding_of(judged: Iterable[Judged]) -> Judged | None:
    """Return the worst: by its answer, then by what it leaves, then the first on the way."""
    return min(judged, key=lambda each: (-each.rank, each.spare_mm), default=None)


def _carried(
    piece: Piece, carriers: Sequence[Carrier], margins: Margins
) -> tuple[Carrier | None, list[Judged]]:
    found = [(one, [judge(piece, each, margins) for each in one.passages]) for one in carriers]
    if not found:
        return None, []
    easy = (pair for pair in found if _is_easy(pair[1], margins))
    return next(easy, None) or min(found, key=lambda pair: _trouble(pair[1]))


def _is_easy(judged: Iterable[Judged], margins: Margins) -> bool:
    return all(
        each.answer is not Answer.TOO_BIG
        and each.limit is None
        and (isinstance(each.passage, Road) or each.spare_mm >= margins.spare)
        for each in judged
    )


def _trouble(judged: Sequence[Judged]) -> tuple[int, Fraction]:
    worst = deciding_of(judged)
    return (0, Fraction()) if worst is None else (worst.rank, -worst.spare_mm)


def judge(piece: Piece, passage: Passage, margins: Margins) -> Judged:
    """Return whether a piece passes something, in the way round that is best for it."""
    ways = [(turn, moved(piece.box, turn, margins)) for turn in piece.turns]
    if isinstance(passage, Road):
        return _on_road(passage, ways)
    return _through(passage, ways, margins.spare)


def is_clear(piece: Piece, course: Course, margins: Margins, wished: Fraction) -> bool:
    """Return whether a piece passes everything with so much to spare, measured or not.

    Roads are passed in any case, if need be with notice. As `judge_way`, but sooner done.
    """
    if not all(leaves(piece, each, margins, wished) for each in (*course.workshop, *course.site)):
        return False
    return not course.carriers or any(
        all(leaves(piece, each, margins, wished) for each in carrier.passages)
        for carrier in course.carriers
    )


def leaves(piece: Piece, passage: Passage, margins: Margins, wished: Fraction) -> bool:
    """Return whether an opening leaves so much to spare in some way round of a piece."""
    if isinstance(passage, Road):
        return True
    for turn in piece.turns:
        sides = moved(piece.box, turn, margins)
        if (
            (passage.width is None or passage.width - sides.width >= wished)
            and (passage.height is None or passage.height - sides.height >= wished)
            and (passage.length is None or passage.length - sides.length >= wished)
        ):
            return True
    return False


_Way = tuple[Turn, Sides]


def _through(gap: Gap, ways: Sequence[_Way], wished: Fraction) -> Judged:
    fits = [(turn, *_least_spare(gap, sides)) for turn, sides in ways]
    as_made = [fit for fit in fits if fit[0].is_as_made and fit[1] >= wished]
    turn, spare, dimension = max(as_made or fits, key=lambda fit: fit[1])
    if spare < 0:
        answer = Answer.TOO_BIG
    elif spare < wished or not gap.complete:
        answer = Answer.MEASURE
    else:
        answer = Answer.PASSES if turn.is_as_made else Answer.TURNED
    if not gap.measured:
        answer = Answer.MEASURE
    return Judged(passage=gap, answer=answer, turn=turn, spare_mm=spare, dimension=dimension)


def _least_spare(gap: Gap, sides: Sides) -> tuple[Fraction, Dimension]:
    rooms = (
        (Dimension.WIDTH, gap.width, sides.width),
        (Dimension.HEIGHT, gap.height, sides.height),
        (Dimension.LENGTH, gap.length, sides.length),
    )
    spares = [(room - size, dimension) for dimension, room, size in rooms if room is not None]
    return min(spares, key=lambda pair: pair[0])


def _on_road(road: Road, ways: Sequence[_Way]) -> Judged:
    """Return the way round that calls for least, and among those leaves most."""
    fits = [(turn, *_on_limits(road, sides)) for turn, sides in ways]
    turn, spare, nearest, passed = min(fits, key=_calls_for)
    if passed is not None:
        answer = Answer.NOTICE
    else:
        answer = Answer.PASSES if turn.is_as_made else Answer.TURNED
    return Judged(
        passage=road,
        answer=answer,
        turn=turn,
        spare_mm=spare,
        dimension=nearest.dimension,
        limit=passed,
    )


_RoadFit = tuple[Turn, Fraction, Limit, Limit | None]


def _calls_for(fit: _RoadFit) -> tuple[int, bool, Fraction]:
    turn, spare, _, passed = fit
    return _weight(passed), not turn.is_as_made, -spare


def _weight(limit: Limit | None) -> int:
    return -1 if limit is None else _HEAVIEST_LAST.index(limit.demand)


def _on_limits(road: Road, sides: Sides) -> tuple[Fraction, Limit, Limit | None]:
    """Return what is left to the nearest limit, that limit, and the heaviest that is passed.

    Where one is passed, it is the nearest too, and what is left is below 0.
    """
    sizes = {
        Dimension.WIDTH: sides.width,
        Dimension.HEIGHT: sides.height,
        Dimension.LENGTH: sides.length,
    }
    left = [(limit.most - sizes[limit.dimension], limit) for limit in road.limits]
    passed = [pair for pair in left if pair[0] < 0]
    if passed:
        spare, limit = max(passed, key=lambda pair: _weight(pair[1]))
        return spare, limit, limit
    spare, limit = min(left, key=lambda pair: pair[0])
    return spare, limit, None
