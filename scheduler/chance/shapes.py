"""What a drawn number becomes: three-point hours as a beta distribution, normal numbers as shares.

Tables in the place of exact inverses; what they are off by is far below the error of the draws.
Mean and spread of three points: D.G. Malcolm, J.H. Roseboom, C.E. Clark, W. Fazar, "Application of
a technique for research and development program evaluation", Operations Research 7 (1959).
"""

from functools import lru_cache
from math import erf, sqrt
from statistics import NormalDist

import numpy as np

from scheduler.chance.arrays import Floats

MOST_SIGMAS = 5.0
_KNOTS = 401
_FINE = 4000
_SHAPES = 1000
"""So many places of the likely figure between low and high are told apart."""
_NORMAL = NormalDist()


@lru_cache(maxsize=1)
def _sigmas() -> Floats:
    return np.linspace(-MOST_SIGMAS, MOST_SIGMAS, _KNOTS)


@lru_cache(maxsize=1)
def _shares() -> Floats:
    return np.array([0.5 * (1 + erf(z / sqrt(2))) for z in _sigmas()])


def share_below(normals: Floats) -> Floats:
    """Return for each normal number the share of all that lie below it."""
    found: Floats = np.interp(normals, _sigmas(), _shares())
    return found


def normals_of(shares: Floats) -> Floats:
    """Return the normal numbers below which such shares lie."""
    found: Floats = np.interp(shares, _shares(), _sigmas())
    return found


@lru_cache(maxsize=16)
def even_normals(count: int) -> Floats:
    """Return so many normal numbers, each in the middle of an equal share of all."""
    return np.array([_NORMAL.inv_cdf((each + 0.5) / count) for each in range(count)])


@lru_cache(maxsize=256)
def _quantiles(place: int) -> Floats:
    """Return the beta quantiles at the knots; place: of the likely figure, in thousandths."""
    likely = place / _SHAPES
    alpha, beta = 1 + 4 * likely, 1 + 4 * (1 - likely)
    middles = (np.arange(_FINE) + 0.5) / _FINE
    weights = middles ** (alpha - 1) * (1 - middles) ** (beta - 1)
    below = np.concatenate(([0.0], np.cumsum(weights)))
    found: Floats = np.interp(_shares(), below / below[-1], np.arange(_FINE + 1) / _FINE)
    return found


def three_point(normals: Floats, low: float, likely: float, high: float) -> Floats:
    """Return drawn figures of a low, a likely and a high one, in their unit.

    Beta on [low, high], its shape 1 + 4 (likely - low) / (high - low) and 1 + 4 (high - likely) /
    (high - low). Where low and high are the same, that figure.
    """
    if high <= low:
        return np.full(len(normals), float(likely))
    place = min(_SHAPES, max(0, round(_SHAPES * (likely - low) / (high - low))))
    found: Floats = low + (high - low) * np.interp(normals, _sigmas(), _quantiles(place))
    return found
