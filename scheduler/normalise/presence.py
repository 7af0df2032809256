"""When anybody at all is at work: what no stretch that is to hold work can do without."""

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from scheduler.problem import Calendar, Span, Spans, Way, Worker
from scheduler.spans import merged


class Presence:
    """The hours of all people together, and the greatest pace among them."""

    def __init__(
        self, workers: Sequence[Worker], calendars: Sequence[Calendar], horizon: int
    ) -> None:
        """Take who there is."""
        self._workers, self._calendars, self._horizon = workers, calendars, horizon

    def could_hold(self, way: Way, span: Span) -> bool:
        """Return whether the work of a way could be done in a stretch as far as hours go."""
        start, end = span
        if way.needs:
            return self._steps(end) - self._steps(start) >= -(-way.work // self._pace)
        return end - start >= way.work

    @cached_property
    def _pace(self) -> Fraction:
        return max((worker.pace for worker in self._workers), default=Fraction(1))

    @cached_property
    def _open(self) -> Spans:
        if any(worker.calendar is None for worker in self._workers):
            return ((0, self._horizon),)
        used = {worker.calendar for worker in self._workers if worker.calendar is not None}
        return merged(span for at in sorted(used) for span in self._calendars[at].open)

    @cached_property
    def _starts(self) -> list[int]:
        return [start for start, _ in self._open]

    @cached_property
    def _sums(self) -> list[int]:
        return [0, *accumulate(end - start for start, end in self._open)]

    def _steps(self, t: int) -> int:
        """Return how many steps before t somebody is at work."""
        at = bisect_right(self._starts, t) - 1
        return 0 if at < 0 else self._sums[at] + min(t, self._open[at][1]) - self._starts[at]
