"""People in a replay: from when on each is free in each draw, and what they do later on."""

from collections.abc import Sequence

import numpy as np

from scheduler.chance.arrays import NEVER, Ints, Truths, filled
from scheduler.problem import Span
from scheduler.teams import Team

LATER_MAX = 3
"""So many stretches of later work are kept apart for each person; more become one."""
GAP_STEPS = 6
"""Working steps between two stretches with which nobody begins anything."""


class Fixed:
    """What is fixed beforehand of some people: the stretch met first from a step on."""

    __slots__ = ("begins", "ends")

    def __init__(self, spans: Sequence[Span], upto: int) -> None:
        self.begins, self.ends = filled(upto + 1, NEVER), filled(upto + 1, 0)
        before = 0
        for start, end in _joined(spans):
            until = min(end, upto + 1)
            self.begins[before:until] = start
            self.ends[before:until] = end
            before = max(before, until)


class Crew:
    """Who is free when, by draw.

    What begins long after somebody is free is noted apart, so that others' work still fits before.
    """

    def __init__(self, count: int, draws: int, upto: int, fixed: Sequence[Sequence[Span]]) -> None:
        """fixed: by worker, what they do besides."""
        self._upto = upto
        self.free = np.zeros((count, draws), dtype=np.int32)
        self._starts = np.full((count, LATER_MAX, draws), NEVER, dtype=np.int32)
        self._ends = np.zeros((count, LATER_MAX, draws), dtype=np.int32)
        self._next = np.full((count, draws), NEVER, dtype=np.int32)
        self._has_later = [False] * count
        self.last = np.full((count, draws), -1, dtype=np.int32)
        self._spans = [tuple(spans) for spans in fixed]
        self._fixed: dict[Team, Fixed | None] = {}

    def from_on(self, team: Team, ready: Ints, some: Ints) -> Ints:
        """Return from when on all of a team are free. some: the draws that are asked about."""
        found = ready
        is_all = len(some) == self.free.shape[1]
        for worker in team:
            free = self.free[worker] if is_all else self.free[worker, some]
            found = np.maximum(found, free)
        return found

    def met_until(self, team: Team, start: Ints, end: Ints, some: Ints) -> Ints:
        """Return where what the team does later is over, that meets a stretch; 0 where nothing."""
        found = np.zeros_like(start)
        is_all = len(some) == self.free.shape[1]
        for worker in team:
            if not self._has_later[worker]:
                continue
            soon = self._next[worker] if is_all else self._next[worker, some]
            at = np.flatnonzero(soon < end)
            if len(at):
                where = some[at]
                starts, ends = self._starts[worker][:, where], self._ends[worker][:, where]
                met = (starts < end[at]) & (ends > start[at])
                found[at] = np.maximum(found[at], np.where(met, ends, 0).max(axis=0))
        fixed = self._fixed_of(team)
        if fixed is not None:
            at = np.minimum(start, self._upto)
            found = np.maximum(found, np.where(fixed.begins[at] < end, fixed.ends[at], 0))
        return found.astype(np.int32)

    def _fixed_of(self, team: Team) -> Fixed | None:
        if team not in self._fixed:
            spans = [span for worker in team for span in self._spans[worker]]
            self._fixed[team] = Fixed(spans, self._upto) if spans else None
        return self._fixed[team]

    def book(self, team: Team, rank: Ints, start: Ints, end: Ints, some: Ints, stage: int) -> None:
        """Let a team work in some draws. rank: open steps of the team before each step."""
        before = rank[np.minimum(start, self._upto)]
        for worker in team:
            free = self.free[worker, some]
            gap = before - rank[np.minimum(free, self._upto)]
            soon = (gap < GAP_STEPS) | (start <= free)
            self.free[worker, some] = np.where(soon, np.maximum(free, end), free)
            self.last[worker, some] = stage
            if not soon.all():
                late = ~soon
                self._later(worker, start[late], end[late], some[late])
            if self._has_later[worker]:
                self._absorb(worker, some)

    def _later(self, worker: int, start: Ints, end: Ints, some: Ints) -> None:
        """Note work that begins after a while: in a free row, else joined with the last one."""
        starts, ends = self._starts[worker][:, some], self._ends[worker][:, some]
        row = np.argmax(starts == NEVER, axis=0)
        is_full = (starts != NEVER).all(axis=0)
        row = np.where(is_full, np.argmax(ends, axis=0), row)
        self._has_later[worker] = True
        old_start, old_end = starts[row, np.arange(len(some))], ends[row, np.arange(len(some))]
        self._starts[worker][row, some] = np.minimum(old_start, start)
        self._ends[worker][row, some] = np.maximum(old_end, end)
        self._next[worker, some] = np.minimum(self._next[worker, some], start)

    def _absorb(self, worker: int, some: Ints) -> None:
        """Let later work that has become the next be what they are busy with."""
        free = self.free[worker, some]
        at = np.flatnonzero(self._next[worker, some] <= free + GAP_STEPS)
        if not len(at):
            return
        some, free = some[at], free[at]
        starts, ends = self._starts[worker][:, some], self._ends[worker][:, some]
        near: Truths = starts <= free + GAP_STEPS
        self.free[worker, some] = np.maximum(free, np.where(near, ends, 0).max(axis=0))
        starts = np.where(near, NEVER, starts)
        self._starts[worker][:, some] = starts
        self._ends[worker][:, some] = np.where(near, 0, ends)
        self._next[worker, some] = starts.min(axis=0)


def _joined(spans: Sequence[Span]) -> list[Span]:
    found: list[Span] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found
