"""Working hours as sorted stretches: when so much work that starts at t ends, and backwards.

Lists and bisection: the cost of a question does not grow with the horizon. Both answers are
monotone in t, on which countback, slack and placement rest.
"""

import bisect
from itertools import accumulate
from typing import Final

from scheduler.problem import Spans
from scheduler.sorted_ints import bisect_left, bisect_right
from scheduler.spans import common, merged, overlap

Reached = tuple[int, int, int, int]
"""So much work, from when it was asked for, and where it starts and ends."""
NOWHERE: Final = (1 << 60) + 1
"""Start and end of what fits nowhere: past every horizon, and past whatever lasts for ever."""


class Hours:
    """When somebody, or several together, work: open stretches and shifts."""

    __slots__ = ("_of", "_shifts", "closes", "opens", "total", "worked")

    def __init__(
        self, open_spans: Spans, shifts: Spans, *, of: "tuple[Hours, Hours] | None" = None
    ) -> None:
        """Take over stretches; of: whose they are together, then sorted and apart already."""
        spans = merged(open_spans) if of is None else open_spans
        self.opens = [start for start, _ in spans]
        self.closes = [end for _, end in spans]
        self.worked = list(accumulate((end - start for start, end in spans), initial=0))
        self.total = self.worked[-1]
        self._shifts, self._of = shifts, of

    def together(self, other: "Hours") -> "Hours":
        """Return when both work."""
        # What two sets of stretches have in common touches only where both have a seam.
        return Hours(common(self.open, other.open), (), of=(self, other))

    @property
    def open(self) -> Spans:
        """Return the open stretches, made anew each time: few ask, and they take up room."""
        return tuple(zip(self.opens, self.closes, strict=True))

    @property
    def shifts(self) -> Spans:
        """Return the shifts; of several together made anew each time."""
        if self._of is None:
            return self._shifts
        one, other = self._of
        return common(one.shifts, other.shifts)

    def rank(self, t: int) -> int:
        """Return how many open steps lie before t."""
        i = bisect_right(self.opens, t) - 1
        if i < 0:
            return 0
        return self.worked[i] + min(t, self.closes[i]) - self.opens[i]

    def worked_in(self, start: int, end: int) -> int:
        """Return how many open steps lie in [start, end)."""
        return self.rank(end) - self.rank(start) if end > start else 0

    def inside(self, start: int, end: int) -> Spans:
        """Return what is open of [start, end)."""
        first = bisect_right(self.closes, start)
        last = bisect_left(self.opens, end)
        return tuple(
            (max(self.opens[at], start), min(self.closes[at], end)) for at in range(first, last)
        )

    def next_open(self, t: int) -> int | None:
        """Return the first open step at t or later."""
        i = bisect_right(self.closes, t)
        return None if i == len(self.opens) else max(t, self.opens[i])

    def step_at(self, rank: int) -> int:
        """Return the open step before which so many open steps lie, 0 <= rank < total."""
        i = bisect_right(self.worked, rank) - 1
        return self.opens[i] + rank - self.worked[i]


class Runs:
    """The stretches inside which a piece of work must lie whole: its start and its end.

    With pauses: everything between two standstills that are too long. In one go: a shift.
    memo: the answer given last, as of `reach`.
    """

    __slots__ = (
        "_closes",
        "_opens",
        "_total",
        "_worked",
        "first",
        "held",
        "hours",
        "last",
        "memo",
        "most",
    )

    def __init__(self, hours: Hours, stretches: Spans) -> None:
        self.hours = hours
        self.memo: Reached = (0, 0, -1, -1)
        self._opens, self._closes, self._worked = hours.opens, hours.closes, hours.worked
        self._total = hours.total
        kept = [(a, b, hours.rank(b) - hours.rank(a)) for a, b in stretches]
        kept = [stretch for stretch in kept if stretch[2] > 0]
        self.first = [a for a, _, _ in kept]
        self.last = [b for _, b, _ in kept]
        self.held = [held for _, _, held in kept]
        self.most = max(self.held, default=0)

    def has_midnight(self, days: Spans) -> bool:
        """Return whether some stretch lies in more than one of these days."""
        mornings = [start for start, _ in days]
        return any(
            bisect_right(mornings, first) != bisect_left(mornings, last)
            for first, last in zip(self.first, self.last, strict=True)
        )

    def reach(self, t: int, work: int) -> Reached:
        """Return the work, t, and start and end of so much work begun at t or soonest after.

        It starts at an open step and ends with the last step worked; both lie past every horizon
        where it fits nowhere. Whoever asks for the same work from t up to the start gets the same
        answer, which is kept as memo: teams often keep the same hours.
        """
        nowhere = (work, t, NOWHERE, NOWHERE)
        if work > self.most:
            return nowhere
        opens, worked, first = self._opens, self._worked, self.first
        run = bisect_right(first, t) - 1
        for at in range(run if run > 0 else 0, len(first)):
            if self.held[at] < work:
                continue
            start = first[at]
            if start < t:
                start = t
            i = bisect_right(self._closes, start)
            if i == len(opens):
                return nowhere
            if start < opens[i]:
                start = opens[i]
            done = worked[i] + start - opens[i] + work
            if done > self._total:
                return nowhere
            # Most work ends in the stretch it begins in, or in the next.
            j = i if done <= worked[i + 1] else bisect_left(worked, done, i + 2) - 1
            end = opens[j] + done - worked[j]
            if end <= self.last[at]:
                self.memo = memo = (work, t, start, end)
                return memo
        return nowhere

    def fit(self, t: int, work: int) -> tuple[int, int] | None:
        """Return start and end of so many steps of work (at least 1) begun at t or soonest after.

        It starts at an open step and ends with the last step worked.
        """
        _, _, start, end = self.reach(t, work)
        return None if start >= NOWHERE else (start, end)

    def fit_back(self, e: int, work: int) -> tuple[int, int] | None:
        """Return start and end of so much work (at least 1) that ends at e or latest before."""
        if work > self.most:
            return None
        opens, closes, worked = self._opens, self._closes, self._worked
        for at in range(bisect_left(self.first, e) - 1, -1, -1):
            if self.held[at] < work:
                continue
            end = self.last[at]
            if e < end:
                end = e
            i = bisect_right(opens, end) - 1
            if i < 0:
                return None
            close = closes[i]
            rank = worked[i] + (end if end < close else close) - opens[i]
            if rank < work:
                return None
            # The last step is worked in this stretch or at the end of the one before.
            low = i if rank > worked[i] else i - 1
            first = rank - work
            j = low if first >= worked[low] else bisect_right(worked, first, 0, low) - 1
            start = opens[j] + first - worked[j]
            if start >= self.first[at]:
                return start, opens[low] + rank - worked[low]
        return None

    def fit_end(self, e: int, work: int) -> tuple[int, int] | None:
        """Return start and end of so much work (at least 1) that ends at e or soonest after."""
        before = self.fit_back(e, work)
        if before is not None and before[1] == e:
            return before
        return self.fit(0 if before is None else before[0] + 1, work)

    def fit_start(self, t: int, work: int) -> tuple[int, int] | None:
        """Return start and end of so much work (at least 1) begun at t or latest before."""
        after = self.fit(t, work)
        if after is not None and after[0] == t:
            return after
        return self.fit_back(max(self.last, default=0) if after is None else after[1] - 1, work)


class Moments(Runs):
    """Where a stage of no length may lie. clear: its start and end lie in one (None: anywhere)."""

    __slots__ = ("_clear",)

    def __init__(self, clear: Spans | None) -> None:
        super().__init__(Hours((), ()), ())
        self._clear = clear

    def reach(self, t: int, work: int) -> Reached:
        """Return no work, t, and the moment at t or soonest after, as start and end."""
        found = moment_from(self._clear, t)
        moment = NOWHERE if found is None else found[0]
        return work, t, moment, moment

    def fit_end(self, e: int, work: int) -> tuple[int, int] | None:
        """Return the moment at e or soonest after, as start and end."""
        return moment_from(self._clear, e)


def moment_from(clear: Spans | None, t: int) -> tuple[int, int] | None:
    """Return start and end of a stage of no length placed clear at t or soonest after."""
    if clear is None:
        return t, t
    at = bisect.bisect_left(clear, t, key=_end_of)
    found = None if at == len(clear) else max(t, clear[at][0])
    return None if found is None else (found, found)


def moment_by(clear: Spans | None, t: int) -> tuple[int, int] | None:
    """Return start and end of a stage of no length placed clear at t or latest before."""
    if clear is None:
        return t, t
    at = bisect.bisect_right(clear, t, key=_start_of) - 1
    found = None if at < 0 else min(t, clear[at][1])
    return None if found is None else (found, found)


def _start_of(span: tuple[int, int]) -> int:
    return span[0]


def _end_of(span: tuple[int, int]) -> int:
    return span[1]


def pausing_stretches(hours: Hours, longest_pause: int | None, shut: Spans) -> Spans:
    """Return the stretches between standstills longer than allowed, shut steps not counted."""
    if not hours.opens:
        return ()
    found: list[tuple[int, int]] = []
    start = hours.opens[0]
    for close, reopen in zip(hours.closes, hours.opens[1:], strict=False):
        if longest_pause is not None and _too_long(close, reopen, longest_pause, shut):
            found.append((start, close))
            start = reopen
    found.append((start, hours.closes[-1]))
    return tuple(found)


def _too_long(close: int, reopen: int, longest_pause: int, shut: Spans) -> bool:
    pause = reopen - close
    return pause > longest_pause and pause - overlap(shut, close, reopen) > longest_pause


def one_go_stretches(hours: Hours, watch: int, *, watch_first: bool = False) -> Spans:
    """Return the shifts without the steps for which they must run on after the end.

    watch_first: those steps lie before the start (time turned round).
    """
    if not watch:
        return hours.shifts
    lead, tail = (watch, 0) if watch_first else (0, watch)
    return tuple((a + lead, b - tail) for a, b in hours.shifts if a + lead < b - tail)
