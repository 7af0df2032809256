"""Working hours as tables: when work begun at many moments at once starts and ends.

The same rule as `scheduler.hours`, for a row of moments and amounts of work.
"""

import numpy as np

from scheduler.chance.arrays import NEVER, Ints
from scheduler.hours import Hours, Moments, Runs
from scheduler.problem import Spans

ROUNDS_MAX = 40
USUAL_SHARE = 8
"""Of the stretches in which work in one go may lie, as long as the longest of the last eighth."""


class HoursTable:
    """Open steps of some hours: how many lie before each step, and which they are."""

    __slots__ = ("rank", "steps", "total")

    def __init__(self, hours: Hours, upto: int) -> None:
        change = np.zeros(upto + 1, dtype=np.int8)
        opens = np.array([at for at in hours.opens if at < upto], dtype=np.int64)
        closes = np.array(hours.closes[: len(opens)], dtype=np.int64).clip(max=upto)
        change[opens] += 1
        change[closes] -= 1
        is_open = np.cumsum(change[:upto], dtype=np.int8)
        self.steps: Ints = np.flatnonzero(is_open).astype(np.int32)
        self.total = len(self.steps)
        self.rank: Ints = np.concatenate(([0], np.cumsum(is_open, dtype=np.int32))).astype(np.int32)


class RunsTable:
    """Where some work may lie, as tables up to a step.

    usual: the work that fits most of its stretches; longer work in one go counts as so long, as if
    somebody stayed on.
    """

    __slots__ = ("_first", "_hours", "_last", "_run_of", "_upto", "usual")

    def __init__(self, runs: Runs, hours: HoursTable, upto: int) -> None:
        self._hours, self._upto = hours, upto
        kept = [at for at, first in enumerate(runs.first) if first < upto]
        self._first = np.array([runs.first[at] for at in kept], dtype=np.int32)
        self._last = np.array([runs.last[at] for at in kept], dtype=np.int32)
        held = np.sort(np.array([runs.held[at] for at in kept], dtype=np.int64))[::-1]
        self.usual = int(held[len(held) // USUAL_SHARE]) if len(held) else 0
        self._run_of: Ints | None = None
        if len(kept) > 1:
            bounds = np.concatenate((self._first[1:], [upto])).clip(max=upto)
            counts = np.diff(np.concatenate(([0], bounds)))
            self._run_of = np.repeat(np.arange(len(kept), dtype=np.int32), counts)

    def fit(self, t: Ints, work: Ints) -> tuple[Ints, Ints]:
        """Return start and end of so much work (at least 1) begun at t or soonest after."""
        if not self.usual:
            return np.full_like(t, NEVER), np.full_like(t, NEVER)
        if self._run_of is None:
            return self._fitted(t.clip(min=self._first[0]), work, int(self._last[0]))
        run = self._run_of[np.minimum(t, self._upto - 1)]
        start, end = self._fitted(np.maximum(t, self._first[run]), work, None)
        left = np.flatnonzero(end > self._last[run])
        for _ in range(ROUNDS_MAX):
            if not len(left):
                break
            run = run[left] + 1
            is_over = run >= len(self._first)
            if is_over.any():
                gone = left[is_over]
                start[gone] = end[gone] = NEVER
                left, run = left[~is_over], run[~is_over]
            begins, ends = self._fitted(np.maximum(t[left], self._first[run]), work[left], None)
            start[left], end[left] = begins, ends
            again = ends > self._last[run]
            wide = np.zeros_like(t)
            wide[left] = run
            left, run = left[again], wide
        else:
            start[left] = end[left] = NEVER
        return start, end

    def _fitted(self, t: Ints, work: Ints, last: int | None) -> tuple[Ints, Ints]:
        """Return start and end of work that any pause may interrupt."""
        table = self._hours
        rank = table.rank[np.minimum(t, self._upto)]
        until = rank + work
        is_in = until <= table.total
        most = table.total - 1
        start: Ints = table.steps[np.minimum(rank, most)]
        end: Ints = table.steps[np.minimum(until - 1, most)] + 1
        if last is not None:
            is_in &= end <= last
        if not is_in.all():
            start = np.where(is_in, start, NEVER).astype(np.int32)
            end = np.where(is_in, end, NEVER).astype(np.int32)
        return start, end


class Timetables:
    """The tables of all hours that are asked for; made once each."""

    def __init__(self, upto: int) -> None:
        """upto: no table reaches further."""
        self.upto = upto
        self._hours: dict[int, tuple[Hours, HoursTable]] = {}
        self._runs: dict[int, tuple[Runs, RunsTable]] = {}

    def runs(self, runs: Runs) -> RunsTable:
        """Return the table of some runs."""
        found = self._runs.get(id(runs))
        if found is None:
            table = RunsTable(runs, self._of_hours(runs.hours), self.upto)
            found = self._runs[id(runs)] = (runs, table)
        return found[1]

    def rank(self, runs: Runs) -> Ints:
        """Return by step how many open steps of some hours lie before it."""
        return self._of_hours(runs.hours).rank

    def _of_hours(self, hours: Hours) -> HoursTable:
        found = self._hours.get(id(hours))
        if found is None:
            found = self._hours[id(hours)] = (hours, HoursTable(hours, self.upto))
        return found[1]


def moments_from(clear: Spans | None, t: Ints) -> Ints:
    """Return for each moment itself, or the soonest after at which something may be."""
    if clear is None:
        return t
    firsts = np.array([first for first, _ in clear] or [NEVER], dtype=np.int32)
    lasts = np.array([last for _, last in clear] or [NEVER], dtype=np.int32)
    at = np.searchsorted(lasts, t)
    inside = np.minimum(at, len(lasts) - 1)
    found: Ints = np.where(at < len(lasts), np.maximum(t, firsts[inside]), NEVER).astype(np.int32)
    return found


def is_moment(runs: Runs) -> bool:
    """Return whether it is about work of no length."""
    return isinstance(runs, Moments)
