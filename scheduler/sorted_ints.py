"""Bisection of sorted whole numbers: lists of them, and rows that never change.

Compiled, `typed_ints` takes its place: there a call of the standard library costs more than the
search.
"""

from bisect import bisect_left, bisect_right
from bisect import bisect_left as row_left
from bisect import bisect_right as row_right

__all__ = ["bisect_left", "bisect_right", "row_left", "row_right"]
