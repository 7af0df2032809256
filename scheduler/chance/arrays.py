"""Rows of whole numbers, one for each draw."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.integer[Any]]
Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

NEVER = 1 << 28
"""A step past every horizon, with room to add to it."""


def filled(count: int, value: int) -> Ints:
    """Return a row of one number."""
    return np.full(count, value, dtype=np.int32)


def where_true(truths: Truths | Ints) -> Ints:
    """Return where numbers, laid end to end, are true or not 0."""
    found: Ints = truths.ravel().nonzero()[0]
    return found
