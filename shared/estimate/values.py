"""What an estimate says: hours by stage and quantities by material, each with where it is from."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from shared.book import Hours, Kind, Material, Measure
from shared.findings import Fact
from shared.ids import SegmentId, StepId
from shared.trade import Confidence, Figure

_FROM_BEST = (
    Confidence.OWN,
    Confidence.OFFICIAL,
    Confidence.SECONDARY,
    Confidence.COMPUTED,
    Confidence.MEMORY,
    Confidence.PRACTICE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A quantity: at least, likely, at most."""

    low: Fraction
    likely: Fraction
    high: Fraction

    def __add__(self, other: "Range") -> "Range":
        """Return both together."""
        return Range(
            low=self.low + other.low,
            likely=self.likely + other.likely,
            high=self.high + other.high,
        )

    def __mul__(self, times: Fraction) -> "Range":
        """Return so many times as much."""
        return Range(low=self.low * times, likely=self.likely * times, high=self.high * times)


NOTHING = Range(low=Fraction(0), likely=Fraction(0), high=Fraction(0))


class FormulaCode(StrEnum):
    """How hours came about; the facts are in `Formula.facts`.

    FIXED: for all of it. GROWS: with a measure. GROWS_BY_CLASS: and by a class of the segments.
    WITH_SETUP and WITH_SETUP_BY_CLASS: besides, hours that each session takes. WRITTEN: the
    planner's own hours, as the book has them. LIKE: those written of a past job, so much larger.
    LIKE_RECORDED: the same from what was recorded there.
    """

    FIXED = "fixed"
    GROWS = "grows"
    GROWS_BY_CLASS = "grows_by_class"
    WITH_SETUP = "with_setup"
    WITH_SETUP_BY_CLASS = "with_setup_by_class"
    WRITTEN = "written"
    LIKE = "like"
    LIKE_RECORDED = "like_recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """How a number came about: a code, facts for its sentence, and the figures in it.

    asked: the sum with figures that the rate is, "" for none.
    """

    code: FormulaCode
    facts: tuple[tuple[str, Fact], ...] = ()
    asked: str = ""
    figures: tuple[Figure, ...] = ()

    @property
    def confidence(self) -> Confidence | None:
        """Return how far it is to be trusted: as far as the weakest of its figures."""
        found = {each.confidence for each in self.figures}
        return max(found, key=_FROM_BEST.index, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One step of a line: its person-hours, and the segments it is on."""

    step: StepId
    name: str
    segments: tuple[SegmentId, ...]
    hours: Hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The person-hours of one stage on all the segments it is written for.

    stage: the step of the way of making, or the book's own step where it is from none. kind:
    None for a gate. own: these are the planner's hours, whatever a way of making would give.
    """

    stage: StepId
    name: str
    kind: Kind | None
    hours: Hours
    formula: Formula
    shares: tuple[Share, ...]
    own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Take:
    """How much of a material one stage takes on all its segments, nothing wasted.

    per: for one of the measure; size: so many of it. own: the planner's quantity.
    """

    stage: StepId
    name: str
    quantity: Range
    measure: Measure | None
    size: Fraction
    per: Range
    asked: str
    figures: tuple[Figure, ...]
    own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """How much of a material there is in all, and with what is wasted.

    waste: in per cent, with the figure it is from, None where the book has its own or none is.
    """

    material: Material
    net: Range
    gross: Range
    waste: Range
    waste_figure: Figure | None
    takes: tuple[Take, ...]


class SizeFrom(StrEnum):
    """Where a size of a segment is from.

    WRITTEN: the book. BOX: length, width and height. SHARE: a share of the box's surface (CP134).
    GIRTH: once around the box, where it meets others.
    """

    WRITTEN = "written"
    BOX = "box"
    SHARE = "share"
    GIRTH = "girth"


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size that hours and quantities go by, of one segment; its range where it is estimated."""

    segment: SegmentId
    measure: Measure
    amount: Range
    of: SizeFrom


@dataclass(frozen=True, slots=True, kw_only=True)
class Mass:
    """What foam and skin of all segments weigh, in kg; nothing wasted."""

    foam: Range
    skin: Range


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """Hours and quantities of a job, or of pieces of some size.

    left: stages of a past job that the new one has no like of.
    """

    lines: tuple[Line, ...]
    quantities: tuple[Quantity, ...] = ()
    sizes: tuple[Size, ...] = ()
    mass: Mass | None = None
    left: tuple[str, ...] = ()

    @property
    def hours(self) -> Hours:
        """Return the person-hours of all of it."""
        return total_hours(line.hours for line in self.lines)


def total_hours(hours: Iterable[Hours]) -> Hours:
    """Return person-hours together."""
    low = likely = high = Decimal(0)
    for each in hours:
        low, likely, high = low + each.low, likely + each.likely, high + each.high
    return Hours(low=low, likely=likely, high=high)
