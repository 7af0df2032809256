"""Three-point estimates: mean and spread from a low, a likely and a high figure.

Source: D.G. Malcolm, J.H. Roseboom, C.E. Clark, W. Fazar, "Application of a technique for
research and development program evaluation", Operations Research 7 (1959) 646-669.
"""

from decimal import Decimal
from fractions import Fraction

Figure = int | Fraction | Decimal
"""A number that is held exactly."""


def three_point_mean(low: Figure, likely: Figure, high: Figure) -> Fraction:
    """Give the expected figure, (low + 4 likely + high) / 6, exactly and in the same unit.

    Raises
    ------
    ValueError
        If low <= likely <= high does not hold; so do all functions here.
    """
    first, middle, last = _ordered(low, likely, high)
    return (first + 4 * middle + last) / 6


def three_point_sd(low: Figure, likely: Figure, high: Figure) -> Fraction:
    """Give the standard deviation, (high - low) / 6, exactly and in the same unit."""
    first, _, last = _ordered(low, likely, high)
    return (last - first) / 6


def three_point_variance(low: Figure, likely: Figure, high: Figure) -> Fraction:
    """Give the variance, the square of the standard deviation, exactly."""
    return three_point_sd(low, likely, high) ** 2


def _ordered(low: Figure, likely: Figure, high: Figure) -> tuple[Fraction, Fraction, Fraction]:
    if not low <= likely <= high:
        raise ValueError(f"must be low <= likely <= high: {low}, {likely}, {high}")
    return Fraction(low), Fraction(likely), Fraction(high)
