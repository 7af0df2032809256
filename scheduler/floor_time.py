"""How long a segment stands on the floor at the least, everybody free and every place empty.

From the start of its first stage to the end of its last: the chain between them, begun at any
moment there is. The end is a rising function of the start, so that a stretch of starts is worth no
less than its first end less its last start; stretches that could be better than the best start
known are halved until none is left.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from scheduler.calendar import Index
from scheduler.countback import Times
from scheduler.fits import Fits
from scheduler.lags import Fixed, Lag, Tabled
from scheduler.problem import Spans
from scheduler.reach import Reach
from scheduler.terms import Link

Steps = NDArray[np.int64]
Tables = tuple[NDArray[np.int32], NDArray[np.int32]]
PIECE_STEPS = 48
NEVER = 1 << 30
"""A moment after every horizon."""


class FloorTime:
    """Least floor times of one problem."""

    def __init__(self, index: Index, soonest: Times) -> None:
        """Keep what is asked of; soonest: its earliest times."""
        self._index, self._soonest = index, soonest
        self._reach = index.once(Reach)
        self._fits = index.once(Fits)
        self._place = {stage: at for at, stage in enumerate(self._reach.order)}
        self._tables: dict[object, Tables] = {}
        self._lags: dict[int, tuple[Steps, Steps]] = {}

    def least(self, first: int, last: int) -> int:
        """Return the least steps from the start of a stage to the end of another."""
        horizon = self._index.problem.horizon
        opens = self._soonest.starts[first]
        end = self._soonest.ends[last]
        if opens is None or end is None:
            return 0
        bounds = self._index.terms.bounds[first]
        closes = min(bounds.latest_start, horizon)
        chain = self._chain(first, last)
        if last not in chain or opens > closes:
            return end - closes
        return self._search(chain, last, opens, closes)

    def _chain(self, first: int, last: int) -> list[int]:
        """Return the stages between two, in order, both among them if one leads to the other."""
        after = {first}
        for stage in self._reach.order[self._place[first] :]:
            if any(link.before in after for link in self._reach.ins[stage]):
                after.add(stage)
        before = {last}
        for stage in reversed(self._reach.order[: self._place[last] + 1]):
            if any(link.after in before for link in self._reach.outs[stage]):
                before.add(stage)
        return sorted(after & before, key=self._place.__getitem__)

    def _search(self, chain: list[int], last: int, opens: int, closes: int) -> int:
        lows = np.arange(opens, closes + 1, PIECE_STEPS, dtype=np.int64)
        highs = np.minimum(lows + PIECE_STEPS - 1, closes)
        best = NEVER
        while len(lows):
            ends = self._ends(chain, last, lows)
            found = ends - lows
            best = min(best, int(found.min()))
            alone = lows == highs
            open_yet = ~alone & (ends - highs < best)
            lows, highs = lows[open_yet], highs[open_yet]
            middles = (lows + highs) // 2
            lows, highs = np.concatenate((lows, middles + 1)), np.concatenate((middles, highs))
        return best

    def _ends(self, chain: list[int], last: int, starts: Steps) -> Steps:
        """Return the least end of the last stage for each start of the first or any later one."""
        begun: dict[int, Steps] = {}
        ended: dict[int, Steps] = {}
        for at, stage in enumerate(chain):
            low = np.zeros(len(starts), dtype=np.int64) if at else starts
            low_end = np.zeros(len(starts), dtype=np.int64)
            for link in self._reach.ins[stage] if at else ():
                if link.before in begun:
                    ready = self._ready(link, begun[link.before], ended[link.before])
                    if link.to_end:
                        low_end = np.maximum(low_end, ready)
                    else:
                        low = np.maximum(low, ready)
            begun[stage], ended[stage] = self._soonest_of(stage, low, low_end)
        return ended[last]

    def _ready(self, link: Link, begun: Steps, ended: Steps) -> Steps:
        came = ended if link.from_end else begun
        if link.lag is None:
            return np.zeros(len(came), dtype=np.int64)
        return np.where(came >= NEVER, NEVER, self._of(link.lag, came))

    def _of(self, lag: Lag, came: Steps) -> Steps:
        if isinstance(lag, Fixed):
            return came + lag.steps
        if not isinstance(lag, Tabled):
            raise TypeError(f"no lag of a problem as it stands: {lag}")
        if id(lag) not in self._lags:
            uptos = np.array(lag.uptos, dtype=np.int64)
            self._lags[id(lag)] = uptos, _padded(np.array(lag.values, dtype=np.int64))
        uptos, values = self._lags[id(lag)]
        return np.maximum(came + lag.steps, values[np.searchsorted(uptos, came)])

    def _soonest_of(self, stage: int, low: Steps, low_end: Steps) -> tuple[Steps, Steps]:
        asked = self._index.problem.stages[stage]
        bounds, horizon = self._index.terms.bounds[stage], self._index.problem.horizon
        low = np.minimum(np.maximum(low, bounds.earliest_start), horizon + 1)
        starts, ends = self._tables_of(stage)
        end = np.maximum(ends[low].astype(np.int64), low_end)
        if asked.ends is not None:
            end = _next_allowed(asked.ends, end)
        return starts[low].astype(np.int64), end

    def _tables_of(self, stage: int) -> Tables:
        """Return, by moment, the least start and end of a stage that starts then or later."""
        forms = self._fits.forms(stage)
        found = [self._fits.pairs(stage, form) for form in forms]
        key = tuple(
            (form.work, None if pairs is None else id(pairs[0]))
            for form, pairs in zip(forms, found, strict=True)
        )
        if key not in self._tables:
            starts = np.full(self._index.problem.horizon + 2, NEVER, dtype=np.int32)
            ends = starts.copy()
            moments = np.arange(len(starts) - 1, dtype=np.int32)
            for form, pairs in zip(forms, found, strict=True):
                begun, ended = (moments, moments + form.work) if pairs is None else pairs
                starts[begun] = begun
                ends[begun] = np.minimum(ends[begun], ended)
            self._tables[key] = _from_then_on(starts), _from_then_on(ends)
        return self._tables[key]


def _from_then_on(figures: NDArray[np.int32]) -> NDArray[np.int32]:
    """Return the least figure at each moment or after it."""
    return np.minimum.accumulate(figures[::-1])[::-1]


def _padded(steps: Steps) -> Steps:
    return np.append(steps, NEVER)


def _next_allowed(spans: Spans, moments: Steps) -> Steps:
    opens = np.array([start for start, _ in spans], dtype=np.int64)
    closes = np.array([end for _, end in spans], dtype=np.int64)
    at = np.searchsorted(closes, moments, side="right")
    return np.maximum(moments, _padded(opens)[at])


def least_floor(index: Index, soonest: Times, segments: Iterable[tuple[int, int]]) -> int:
    """Return the least floor time of some segments, each by itself, all added up."""
    found = FloorTime(index, soonest)
    return sum(found.least(first, last) for first, last in segments)
