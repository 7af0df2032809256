"""Working hours as tables: when work begun at many moments at once starts and ends.

The same rule as `scheduler.hours`, for rows of moments, each with hours and work of its own.
"""

import numpy as np

from scheduler.chance.arrays import NEVER, Ints, where_true
from scheduler.hours import Hours, Runs
from scheduler.problem import Spans

ROUNDS_MAX = 60
USUAL_SHARE = 8
"""Of the stretches in which work in one go may lie, as long as the longest of the last eighth."""
WORK_MAX = 4000
"""No work takes more working steps."""
_FIRST_ROOM = 1 << 16


class _Row:
    """Numbers to which more are added now and then."""

    __slots__ = ("count", "values")

    def __init__(self) -> None:
        self.values: Ints = np.empty(_FIRST_ROOM, dtype=np.int32)
        self.count = 0

    def add(self, more: Ints) -> int:
        """Add numbers; return where they begin."""
        begins, self.count = self.count, self.count + len(more)
        if self.count > len(self.values):
            wider: Ints = np.empty(2 * self.count, dtype=np.int32)
            wider[:begins] = self.values[:begins]
            self.values = wider
        self.values[begins : self.count] = more
        return begins


class Bank:
    """The tables of all hours that were asked for, one behind the other.

    Of each hours: its open steps, and how many lie before each step. Of each runs: its stretches,
    and in or before which one each step lies. Behind the last stretch is one at the end of time.
    """

    def __init__(self, upto: int) -> None:
        """Begin with none; upto: no table reaches further."""
        self.upto = upto
        self._ranks, self._steps, self._runs = _Row(), _Row(), _Row()
        self._firsts, self._lasts = _Row(), _Row()
        self._of_hours: dict[int, tuple[Hours, int]] = {}
        self._of_runs: dict[int, tuple[Runs, int]] = {}
        self._rank_at: list[int] = []
        self._run_at: list[int] = []
        self._usual: list[int] = []
        self._bases: tuple[Ints, Ints] | None = None

    def number(self, runs: Runs) -> int:
        """Return the number of the table of some runs."""
        found = self._of_runs.get(id(runs))
        if found is None:
            found = self._of_runs[id(runs)] = (runs, self._add(runs))
        return found[1]

    def usual(self, number: int) -> int:
        """Return the work that fits most stretches; longer work in one go counts as so long."""
        return self._usual[number]

    def _add(self, runs: Runs) -> int:
        kept = [at for at, first in enumerate(runs.first) if first < self.upto]
        firsts = np.array([*(runs.first[at] for at in kept), NEVER], dtype=np.int32)
        lasts = np.array([*(runs.last[at] for at in kept), 2 * NEVER], dtype=np.int32)
        held = sorted((runs.held[at] for at in kept), reverse=True)
        begins = self._firsts.add(firsts)
        self._lasts.add(lasts)
        bounds = np.concatenate((firsts[1:], [self.upto])).clip(max=self.upto)
        bounds = np.concatenate(([0], np.maximum.accumulate(bounds)))
        bounds[-1] = self.upto
        numbers = np.arange(begins, begins + len(firsts), dtype=np.int32)
        self._run_at.append(self._runs.add(np.repeat(numbers, np.diff(bounds))))
        self._rank_at.append(self._add_hours(runs.hours))
        self._usual.append(held[len(held) // USUAL_SHARE] if held else 0)
        self._bases = None
        return len(self._usual) - 1

    def _add_hours(self, hours: Hours) -> int:
        known = self._of_hours.get(id(hours))
        if known is not None:
            return known[1]
        change = np.zeros(self.upto + 1, dtype=np.int8)
        opens = np.array([at for at in hours.opens if at < self.upto], dtype=np.int64)
        change[opens] += 1
        change[np.array(hours.closes[: len(opens)], dtype=np.int64).clip(max=self.upto)] -= 1
        is_open = np.cumsum(change[: self.upto], dtype=np.int8)
        steps = where_true(is_open).astype(np.int32)
        begins = self._steps.add(np.concatenate((steps, np.full(WORK_MAX + 1, NEVER, np.int32))))
        before = np.concatenate(([0], np.cumsum(is_open, dtype=np.int32))) + begins
        found = self._ranks.add(before.astype(np.int32))
        self._of_hours[id(hours)] = (hours, found)
        return found

    def _at(self, which: Ints) -> tuple[Ints, Ints]:
        if self._bases is None:
            self._bases = (np.array(self._rank_at), np.array(self._run_at))
        ranks, runs = self._bases
        return ranks.take(which), runs.take(which)

    def rank(self, which: Ints, t: Ints) -> Ints:
        """Return how many open steps of a table lie before t, more than that by as many for all."""
        found: Ints = self._ranks.values.take(self._at(which)[0] + np.minimum(t, self.upto))
        return found

    def fit(self, which: Ints, t: Ints, work: Ints) -> tuple[Ints, Ints]:
        """Return start and end of so much work (at least 1) begun at t or soonest after.

        which: the table of each. NEVER where it fits nowhere.
        """
        ranks, runs = self._at(which)
        run = self._runs.values.take(runs + np.minimum(t, self.upto - 1))
        start, end = self._fitted(ranks, t, work, run)
        left = where_true(end > self._lasts.values.take(run))
        if not len(left):
            return start, end
        ranks = (ranks if ranks.shape == t.shape else np.broadcast_to(ranks, t.shape)).take(left)
        run, t, work = run.take(left), t.take(left), work.take(left)
        for _ in range(ROUNDS_MAX):
            run = run + 1
            begins, ends = self._fitted(ranks, t, work, run)
            start[left], end[left] = begins, ends
            again = where_true(ends > self._lasts.values.take(run))
            if not len(again):
                return start, end
            left, run, t = left.take(again), run.take(again), t.take(again)
            work, ranks = work.take(again), ranks.take(again)
        start[left] = end[left] = NEVER
        return start, end

    def _fitted(self, ranks: Ints, t: Ints, work: Ints, run: Ints) -> tuple[Ints, Ints]:
        """Return start and end of work that any pause may interrupt, from a stretch on."""
        t = np.minimum(np.maximum(t, self._firsts.values.take(run)), self.upto)
        rank = self._ranks.values.take(ranks + t)
        start: Ints = self._steps.values.take(rank)
        end: Ints = self._steps.values.take(rank + (work - 1)) + 1
        return start, end


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
