"""What goes along with the pieces: fixings and sealant by the length of their joints.

Each joint is between two pieces, so it counts half at each. Rates are common practice (figures
CP407 to CP409).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shared.book import Measure, Segment
from shared.routes.measures import amount_of
from shared.trade import figure
from shared.units import whole_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """What goes along for the joints of some pieces.

    estimated: the length of some joint was not in the book. Nothing is counted for none.
    """

    joints_m: Fraction
    bolts: int
    sealant_ml: int
    cartridges: int
    is_estimated: bool


def taking(segments: Sequence[Segment]) -> Taking:
    """Return what goes along for segments that are joined with one another at the site."""
    is_alone = len(segments) < 2
    ends = (Fraction(amount_of(each, Measure.JOINTS, is_alone=is_alone)) for each in segments)
    joints = sum(ends, Fraction()) / 2
    sealant = joints * Fraction(figure("CP407").amount)
    return Taking(
        joints_m=joints,
        bolts=whole_up(joints * Fraction(figure("CP409").amount)),
        sealant_ml=whole_up(sealant),
        cartridges=whole_up(sealant / Fraction(figure("CP408").amount)),
        is_estimated=bool(joints) and any(each.joints_m is None for each in segments),
    )
