"""Places and things in a replay: who holds how much of each from when to when, by draw."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.chance.arrays import NEVER, Ints, Truths, where_true
from scheduler.problem import Room

HOLDERS_MAX = 40
"""So many of the last holders of a room are kept; older ones are long gone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """Units of a room that a stage holds, by draw. since, until: the first and last in any."""

    stage: int
    units: int
    since: int
    until: int


class _Held:
    """Who holds one room: a row of starts and one of ends for each."""

    __slots__ = ("ends", "holders", "starts")

    def __init__(self, draws: int, count: int) -> None:
        self.starts: Ints = np.full((count, draws), NEVER, dtype=np.int32)
        self.ends: Ints = np.zeros((count, draws), dtype=np.int32)
        self.holders: list[Holding | None] = [None] * count

    def add(self, held: Holding, starts: Ints | int, ends: Ints | int) -> None:
        """Let somebody hold it, in the row of whoever is gone first."""
        row = min(
            range(len(self.holders)),
            key=lambda at: -1 if (one := self.holders[at]) is None else one.until,
        )
        self.starts[row], self.ends[row], self.holders[row] = starts, ends, held


class Floor:
    """The rooms of a problem."""

    def __init__(self, rooms: Sequence[Room], draws: int) -> None:
        """Take over what is booked of rooms beforehand."""
        self._capacity = [room.capacity for room in rooms]
        self._draws = draws
        self._held: list[_Held | None] = [None] * len(rooms)
        for number, room in enumerate(rooms):
            for start, end, units in room.busy:
                held = Holding(stage=-1, units=units, since=start, until=end)
                self._of(number, len(room.busy)).add(held, start, end)

    def _of(self, room: int, besides: int = 0) -> _Held:
        found = self._held[room]
        if found is None:
            found = self._held[room] = _Held(self._draws, HOLDERS_MAX + besides)
        return found

    def hold(self, room: int, held: Holding, starts: Ints, ends: Ints) -> None:
        """Let a stage hold a room."""
        self._of(room).add(held, starts, ends)

    def met_until(
        self, room: int, units: int | None, start: Ints, end: Ints, some: Ints
    ) -> tuple[Ints, Ints] | None:
        """Return where a room is freed that has no so many units left over a stretch, and by whom.

        0 where it has, None where it has in all draws. units: None for nobody else. some: the
        draws that are asked about.
        """
        held = self._held[room]
        if held is None or not len(start):
            return None
        soonest, latest = int(start.min()), int(end.max())
        alive = [
            at
            for at, one in enumerate(held.holders)
            if one is not None and one.until > soonest and one.since < latest
        ]
        holders = [one for at in alive if (one := held.holders[at]) is not None]
        left = 0 if units is None else self._capacity[room] - units
        if sum(one.units for one in holders) <= left:
            return None
        starts, ends = _of_rows(held.starts, alive), _of_rows(held.ends, alive)
        if len(some) < self._draws:
            starts, ends = starts.take(some, axis=1), ends.take(some, axis=1)
        weights = np.array([one.units for one in holders], dtype=np.int64)
        stages = np.array([one.stage for one in holders], dtype=np.int32)
        return _freed((starts, ends), weights, stages, left, (start, end))


def _of_rows(table: Ints, rows: list[int]) -> Ints:
    """Return some rows of a table, not copied where they lie next to each other."""
    first, last = rows[0], rows[-1]
    found: Ints = table[first : last + 1] if last - first < len(rows) else table[rows]
    return found


def _freed(
    rows: tuple[Ints, Ints], weights: Ints, stages: Ints, left: int, stretch: tuple[Ints, Ints]
) -> tuple[Ints, Ints] | None:
    """Return where more than `left` is held over a stretch: until when, and by whom last."""
    (starts, ends), (start, end) = rows, stretch
    met = (starts < end) & (ends > start)
    is_alone = left < int(weights.min())
    most = np.logical_or.reduce(met) if is_alone else weights @ met.astype(np.int64) > left
    short = where_true(most)
    if not len(short):
        return None
    ends, met = ends.take(short, axis=1), met.take(short, axis=1)
    if not is_alone:
        starts = starts.take(short, axis=1)
        is_short = _load(starts, ends, met, weights, start[short]) > left
        short, ends, met = short[is_short], ends[:, is_short], met[:, is_short]
        if not len(short):
            return None
    row = (ends * met).argmax(axis=0) if is_alone else np.where(met, ends, NEVER).argmin(axis=0)
    freed, by = np.zeros_like(start), np.full_like(start, -1)
    freed[short], by[short] = ends[row, np.arange(len(short))], stages[row]
    return freed, by


def _load(starts: Ints, ends: Ints, met: Truths, weights: Ints, begin: Ints) -> Ints:
    """Return the most that is held at a moment of a stretch: at its start, or where one begins."""
    most = np.zeros(starts.shape[1], dtype=np.int64)
    moments = [begin, *(np.maximum(row, begin) for row in starts)]
    for moment in moments:
        there = met & (starts <= moment) & (ends > moment)
        most = np.maximum(most, weights @ there.astype(np.int64))
    return most
