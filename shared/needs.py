"""Needs of material, grown with a size, or joined where work is done as one."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import MaterialNeed

Needs = tuple[MaterialNeed, ...]

_THOUSANDTHS = 1000


def grown_needs(needs: Needs, share: Decimal | Fraction) -> Needs:
    """Return needs for so much more or less work, rounded up to a thousandth of the unit."""
    return tuple(replace(need, quantity=_grown(need.quantity, share)) for need in needs)


def _grown(quantity: Decimal, share: Decimal | Fraction) -> Decimal:
    exact = Fraction(quantity) * Fraction(share) * _THOUSANDTHS
    return Decimal(-(-exact.numerator // exact.denominator)) / _THOUSANDTHS


def joined_needs(several: Iterable[Needs]) -> Needs:
    """Return one need for each material, in the order in which they are first named."""
    found: dict[str, MaterialNeed] = {}
    for need in (need for needs in several for need in needs):
        before = found.get(need.material)
        total = need.quantity + (before.quantity if before else 0)
        found[need.material] = replace(before or need, quantity=total)
    return tuple(found.values())
