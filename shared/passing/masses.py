"""What pieces weigh as they are moved, as a range; it is held against a payload at its high end.

Frame and fixings are shares of a piece's mass, the lifting gear goes with each piece; all three
are common practice (figures CP404 to CP406). What a lift may carry is never said here: that is
for the lift plan of a competent person.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from shared.book import Segment
from shared.trade import figure

_PERCENT = 100
_KG_PER_T = 1000


class Weight(StrEnum):
    """Pieces against a payload.

    within: at the high end. weigh: not at the high end, or nobody knows. too_heavy: not even at
    the low end of the bare pieces.
    """

    WITHIN = "within"
    WEIGH = "weigh"
    TOO_HEAVY = "too_heavy"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mass:
    """What a piece or several weigh, in kg: bare at least, and from low to high as moved."""

    bare: Fraction
    low: Fraction
    high: Fraction


def mass_of(segment: Segment) -> Mass | None:
    """Return what a segment weighs as it is moved, None where nobody knows."""
    low, high = segment.mass_low_kg, segment.mass_high_kg
    if low is None and high is None:
        return None
    bare = Fraction(_known(low, high))
    heaviest = Fraction(_known(high, low))
    shares = (figure("CP404"), figure("CP405"))
    gear = figure("CP406")
    least = sum((Fraction(each.least) for each in shares), Fraction())
    most = sum((Fraction(each.most) for each in shares), Fraction())
    return Mass(
        bare=bare,
        low=bare * (1 + least / _PERCENT) + Fraction(gear.least),
        high=heaviest * (1 + most / _PERCENT) + Fraction(gear.most),
    )


def _known(wanted: Decimal | None, other: Decimal | None) -> Decimal:
    found = other if wanted is None else wanted
    assert found is not None
    return found


def together(masses: Iterable[Mass | None]) -> Mass | None:
    """Return what several pieces weigh, None where of one nobody knows."""
    each_of = tuple(masses)
    return None if None in each_of else known_of(each_of)


def known_of(masses: Iterable[Mass | None]) -> Mass:
    """Return what those of several pieces weigh of which somebody knows."""
    known = [each for each in masses if each is not None]
    return Mass(
        bare=sum((each.bare for each in known), Fraction()),
        low=sum((each.low for each in known), Fraction()),
        high=sum((each.high for each in known), Fraction()),
    )


def against(masses: Sequence[Mass | None], payload_kg: Decimal | None) -> Weight:
    """Return how pieces stand against a payload; a payload that nobody knows is no limit."""
    if payload_kg is None:
        return Weight.WITHIN
    known = known_of(masses)
    if known.bare > payload_kg:
        return Weight.TOO_HEAVY
    return Weight.WEIGH if None in masses or known.high > payload_kg else Weight.WITHIN


def payload_passed(mass: Mass | None, payloads: Sequence[Decimal | None]) -> Decimal | None:
    """Return the greatest of some payloads if a piece is too heavy for each, else None."""
    if mass is None or not payloads:
        return None
    known = [payload for payload in payloads if payload is not None]
    if len(known) < len(payloads) or mass.bare <= max(known):
        return None
    return max(known)


def calls_for_notice(mass: Mass | None) -> bool:
    """Return whether what is moved alone weighs more than a lorry may in all (figure TR07b)."""
    return mass is not None and mass.high > figure("TR07b").amount * _KG_PER_T
