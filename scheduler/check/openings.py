"""Open stretches of time as pairs of quarters, and the plain questions asked of them."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from itertools import accumulate

from scheduler.check.clock import down, seconds, up
from shared import worktime

Pair = tuple[int, int]
Pairs = tuple[Pair, ...]


def inside(spans: Iterable[worktime.Span]) -> Pairs:
    """Return the whole quarters inside spans: openings up, closings down."""
    rounded = ((up(seconds(span.start)), down(seconds(span.end))) for span in spans)
    return tuple(pair for pair in rounded if pair[0] < pair[1])


def common(one: Pairs, other: Pairs) -> Pairs:
    """Return what lies in both."""
    if one is other:
        return one
    found: list[Pair] = []
    firsts, seconds = iter(one), iter(other)
    first, second = next(firsts, None), next(seconds, None)
    while first is not None and second is not None:
        (start, end), (opens, shuts) = first, second
        if start < shuts and opens < end:
            found.append(first if first == second else (max(start, opens), min(end, shuts)))
        if end <= shuts:
            first = next(firsts, None)
        if shuts <= end:
            second = next(seconds, None)
    return tuple(found)


def less(one: Pairs, other: Pairs) -> Pairs:
    """Return what lies in the first and not in the other."""
    found: list[Pair] = []
    others = iter(other)
    cut = next(others, None)
    for start, end in one:
        while cut is not None and cut[0] < end:
            if start < cut[0]:
                found.append((start, cut[0]))
            start = max(start, cut[1])
            if cut[1] > end:
                break
            cut = next(others, None)
        if start < end:
            found.append((start, end))
    return tuple(found)


def union(pairs: Iterable[Pair]) -> Pairs:
    """Return what lies in any of some stretches."""
    found: list[Pair] = []
    for start, end in sorted(pair for pair in pairs if pair[0] < pair[1]):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return tuple(found)


class Openings:
    """Sorted stretches in which work is possible."""

    def __init__(self, pairs: Pairs) -> None:
        """Keep the stretches and the sum of quarters before each."""
        self.pairs = pairs
        self._starts = [start for start, _ in pairs]
        self._before = [0, *accumulate(end - start for start, end in pairs)]

    def at(self, quarter: int) -> Pair | None:
        """Return the stretch that holds a quarter, None if it is shut."""
        index = bisect_right(self._starts, quarter) - 1
        if index < 0 or quarter >= self.pairs[index][1]:
            return None
        return self.pairs[index]

    def before(self, quarter: int) -> int:
        """Return how many open quarters lie before a quarter."""
        index = bisect_right(self._starts, quarter) - 1
        if index < 0:
            return 0
        start, end = self.pairs[index]
        return self._before[index] + min(quarter, end) - start

    def between(self, start: int, end: int) -> int:
        """Return how many open quarters lie in [start, end)."""
        return max(0, self.before(end) - self.before(start))

    def back(self, quarter: int, count: int) -> int:
        """Return the quarter from which just so many open ones lie before a quarter."""
        target = max(0, self.before(quarter) - count)
        index = min(bisect_right(self._before, target), len(self.pairs)) - 1
        return self._starts[index] + target - self._before[index] if index >= 0 else quarter

    def within(self, start: int, end: int) -> list[Pair]:
        """Return what is open of [start, end)."""
        if start >= end:
            return []
        first = max(0, bisect_right(self._starts, start) - 1)
        last = bisect_left(self._starts, end)
        found = [pair for pair in self.pairs[first:last] if pair[1] > start]
        if found:
            found[0] = (max(found[0][0], start), found[0][1])
            found[-1] = (found[-1][0], min(found[-1][1], end))
        return found

    def gaps(self, start: int, end: int) -> list[Pair]:
        """Return the shut stretches inside [start, end)."""
        found, at = [], start
        first = max(0, bisect_right(self._starts, start) - 1)
        last = bisect_left(self._starts, end)
        for opens, shuts in self.pairs[first:last]:
            if opens > at:
                found.append((at, opens))
            at = max(at, shuts)
        if at < end:
            found.append((at, end))
        return found
