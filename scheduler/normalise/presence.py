"""When anybody at all is at work: what no stretch that is to hold work can do without."""

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from scheduler.problem import Calendar, Span, Spans, Way, Worker
from scheduler.spans import merged

Asked = tuple[Spans, bool, int, Spans]
"""Stretches, whether people are needed, for how many steps, and which stretches hold them."""


class Presence:
    """The hours of all people together, and the greatest pace among them."""

    def __init__(
        self, workers: Sequence[Worker], calendars: Sequence[Calendar], horizon: int
    ) -> None:
        """Take who there is."""
        self._workers, self._calendars, self._horizon = workers, calendars, horizon
        self._told: dict[tuple[int, bool, int], tuple[Spans, Spans]] = {}
        self.asked: list[Asked] | None = None

    def holding(self, way: Way, clear: Spans) -> Spans:
        """Return the stretches in which the work of a way could be done as far as hours go."""
        by_people = bool(way.needs)
        steps = _whole_up(way.work / self._pace if by_people and self._pace != 1 else way.work)
        kept = self.of(clear, by_people, steps)
        if self.asked is not None:
            self.asked.append((clear, by_people, steps, kept))
        return kept

    def of(self, clear: Spans, by_people: bool, steps: int) -> Spans:  # noqa: FBT001
        """Return the stretches with so many steps, of hours of people or of any."""
        key = (id(clear), by_people, steps)
        if key not in self._told:
            kept = tuple(span for span in clear if self._length(span, by_people) >= steps)
            self._told[key] = clear, clear if len(kept) == len(clear) else kept
        return self._told[key][1]

    def _length(self, span: Span, by_people: bool) -> int:  # noqa: FBT001
        start, end = span
        return self._steps(end) - self._steps(start) if by_people else end - start

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


def _whole_up(work: Fraction) -> int:
    return -(-work.numerator // work.denominator)
