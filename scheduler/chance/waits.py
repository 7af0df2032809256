"""Least and greatest waits for a row of moments: fixed steps, or tables laid out step by step."""

from bisect import bisect_left

import numpy as np

from scheduler.chance.arrays import NEVER, Floats, Ints
from scheduler.lags import Fixed, Lag, Limit, Tabled, TabledLimit


class Waits:
    """Tables of waits, each laid out once."""

    def __init__(self, upto: int) -> None:
        """upto: what begins later waits as if it began then."""
        self._upto = upto
        self._laid: dict[int, tuple[object, Ints]] = {}

    def ready(self, lag: Lag, t: Ints) -> Ints:
        """Return from when on, for each moment."""
        if isinstance(lag, Fixed):
            return t + np.int32(lag.steps)
        assert isinstance(lag, Tabled)
        found: Ints = np.maximum(t + np.int32(lag.steps), self._at(lag.uptos, lag.values, t))
        return found

    def between(self, quick: Lag, slow: Lag, t: Ints, share: Floats) -> Ints:
        """Return from when on, so large a share of the way from the quicker wait to the slower."""
        soon, late = self.ready(quick, t), self.ready(slow, t)
        gap = np.maximum(late - soon, 0)
        found: Ints = soon + np.ceil(gap * share - 1e-9).astype(np.int32)
        return found

    def latest(self, limit: Limit, t: Ints) -> Ints:
        """Return by when, for each moment."""
        if isinstance(limit, Fixed):
            return t + np.int32(limit.steps)
        assert isinstance(limit, TabledLimit)
        by_table = self._at(limit.uptos, limit.values, t)
        if limit.steps is None:
            return by_table
        found: Ints = np.minimum(t + np.int32(limit.steps), by_table)
        return found

    def _at(self, uptos: tuple[int, ...], values: tuple[int, ...], t: Ints) -> Ints:
        """Return the values of a table; past its last knot NEVER."""
        known = self._laid.get(id(uptos))
        if known is None:
            known = self._laid[id(uptos)] = (uptos, self._lay(uptos, values))
        return known[1][np.minimum(t, self._upto)]

    def _lay(self, uptos: tuple[int, ...], values: tuple[int, ...]) -> Ints:
        count = min(len(uptos), bisect_left(uptos, self._upto) + 1)
        ends = np.array(uptos[:count], dtype=np.int64).clip(max=self._upto)
        lengths = np.diff(np.concatenate(([-1], ends)))
        laid = np.repeat(np.array(values[:count], dtype=np.int64), lengths)
        beyond = np.full(self._upto + 1 - len(laid), NEVER, dtype=np.int64)
        found: Ints = np.concatenate((laid, beyond)).astype(np.int32)
        return found
