"""People in a replay: from when on each is free in each draw, and what they do later on."""

from collections.abc import Sequence

import numpy as np

from scheduler.chance.arrays import NEVER, Ints, filled, where_true
from scheduler.grid import joined
from scheduler.problem import Span

LATER_MAX = 4
"""So many stretches of later work are kept apart for each person."""
GAP_STEPS = 6
"""Working steps between two stretches with which nobody begins anything."""
NEAR_STEPS = 64
"""Elapsed steps between two stretches of later work that count as one: a night."""


class Crew:
    """Who is free when. Everything is asked and told for pairs of a person and a draw.

    A pair is one number, person x draws + draw; who stands behind the last person is nobody, and
    always free. What begins long after somebody is free is noted apart, so that others' work still
    fits before it.
    """

    def __init__(self, count: int, draws: int, upto: int, fixed: Sequence[Sequence[Span]]) -> None:
        """Let everybody be free; fixed: by worker, what they do besides."""
        self.draws, self.nobody, self._upto = draws, count, upto
        pairs = (count + 1) * draws
        self.free = filled(pairs, 0)
        self.last = filled(pairs, -1)
        self._next = filled(pairs, NEVER)
        self._all_starts, self._all_ends = (
            filled(LATER_MAX * pairs, value) for value in (NEVER, 0)
        )
        self._starts = self._all_starts.reshape(LATER_MAX, pairs)
        self._ends = self._all_ends.reshape(LATER_MAX, pairs)
        self._rows_at = np.arange(0, LATER_MAX * pairs, pairs)[:, None]
        self._rows = 0
        self._fixed = _Fixed([*fixed, ()], upto) if any(fixed) else None

    def means(self, sampled: Ints) -> list[float]:
        """Return from when on each is free, on the average of some draws."""
        found: list[float] = self.free.reshape(-1, self.draws)[:, sampled].mean(axis=1).tolist()
        return found

    def met_until(self, workers: Ints, draws: Ints, start: Ints, end: Ints) -> Ints:
        """Return where what a team does later, or besides, is over that meets a stretch, else 0.

        workers: a row for each place in the team.
        """
        found: Ints = np.zeros(workers.shape, dtype=np.int32)
        if self._rows:
            pairs = workers * self.draws + draws
            self._met(pairs, start, end, found)
        if self._fixed is not None:
            self._fixed.met_until(workers, start, end, found)
        until: Ints = np.maximum.reduce(found)
        return until

    def _met(self, pairs: Ints, start: Ints, end: Ints, found: Ints) -> None:
        """Note in `found` where later work that meets a stretch is over."""
        at = where_true(self._next.take(pairs) < end)
        if not len(at):
            return
        draw = at % len(start)
        rows = pairs.take(at) + self._rows_at[: self._rows]
        over = self._all_ends.take(rows)
        met = (self._all_starts.take(rows) < end.take(draw)) & (over > start.take(draw))
        over *= met
        found.reshape(-1)[at] = np.maximum.reduce(over)

    def book(self, workers: Ints, draws: Ints, gaps: Ints, stretch: tuple[Ints, Ints]) -> None:
        """Let people work, one for each draw. gaps: working steps since each was free."""
        start, end = stretch
        pairs = workers * self.draws + draws
        free = self.free.take(pairs)
        soon = (gaps < GAP_STEPS) | (start <= free)
        self.free[pairs] = np.where(soon, np.maximum(free, end), free)
        late = where_true(~soon)
        if len(late):
            self._later(pairs.take(late), start.take(late), end.take(late))
        if self._rows:
            self._absorb(pairs)
        self.free[self.nobody * self.draws :] = 0
        self._next[self.nobody * self.draws :] = NEVER

    def _later(self, pairs: Ints, start: Ints, end: Ints) -> None:
        """Note work that begins after a while: with what it comes next to, else in a free row."""
        self._next[pairs] = np.minimum(self._next.take(pairs), start)
        for row in range(LATER_MAX):
            begins, over = self._starts[row], self._ends[row]
            was_begun, was_over = begins.take(pairs), over.take(pairs)
            fits = (was_begun == NEVER) | (
                (start <= was_over + NEAR_STEPS) & (end >= was_begun - NEAR_STEPS)
            )
            here = where_true(fits)
            if len(here):
                self._rows = max(self._rows, row + 1)
                at = pairs.take(here)
                begins[at] = np.minimum(was_begun, start).take(here)
                over[at] = np.maximum(was_over, end).take(here)
                rest = where_true(~fits)
                pairs, start, end = pairs.take(rest), start.take(rest), end.take(rest)
            if not len(pairs):
                return
        # No row is left: the gap before it is given up.
        self.free[pairs] = np.maximum(self.free.take(pairs), end)

    def _absorb(self, pairs: Ints) -> None:
        """Let later work that has become the next be what they are busy with."""
        near = where_true(self._next.take(pairs) <= self.free.take(pairs) + GAP_STEPS)
        if not len(near):
            return
        at = pairs.take(near)
        free = self.free.take(at)
        limit = free + GAP_STEPS
        soonest = np.full_like(free, NEVER)
        for row in range(self._rows):
            begins = self._starts[row].take(at)
            is_near = begins <= limit
            over = self._ends[row].take(at)
            free = np.maximum(free, over * is_near)
            begins = np.where(is_near, np.int32(NEVER), begins)
            self._starts[row][at] = begins
            self._ends[row][at] = over * ~is_near
            soonest = np.minimum(soonest, begins)
        self.free[at], self._next[at] = free, soonest


class _Fixed:
    """What is fixed beforehand: for each person the stretch met first from a step on."""

    def __init__(self, spans: Sequence[Sequence[Span]], upto: int) -> None:
        self._upto = upto
        self._begins = np.full((len(spans), upto + 1), NEVER, dtype=np.int32)
        self._ends = np.zeros((len(spans), upto + 1), dtype=np.int32)
        for worker, own in enumerate(spans):
            before = 0
            for start, end in joined(own):
                until = min(end, upto + 1)
                self._begins[worker, before:until] = start
                self._ends[worker, before:until] = end
                before = max(before, until)

    def met_until(self, workers: Ints, start: Ints, end: Ints, found: Ints) -> None:
        """Note in `found` where what is met of a stretch is over."""
        at = workers * (self._upto + 1) + np.minimum(start, self._upto)
        met = where_true(self._begins.take(at) < end)
        if len(met):
            rows = found.reshape(-1)
            rows[met] = np.maximum(rows.take(met), self._ends.take(at.take(met)))
