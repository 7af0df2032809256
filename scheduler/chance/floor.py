"""Places and things in a replay: who holds how much of each from when to when, by draw."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.chance.arrays import NEVER, Ints, Truths, filled
from scheduler.problem import Room

HOLDERS_MAX = 40
"""So many of the last holders of a room are kept; older ones are long gone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """Units of a room that a stage holds, by draw. since, until: the first and last in any."""

    stage: int
    units: int
    starts: Ints
    ends: Ints
    since: int
    until: int


class Floor:
    """The rooms of a problem."""

    def __init__(self, rooms: Sequence[Room], draws: int) -> None:
        self._capacity = [room.capacity for room in rooms]
        self._held: list[list[Holding]] = [
            [
                Holding(
                    stage=-1,
                    units=units,
                    starts=filled(draws, start),
                    ends=filled(draws, end),
                    since=start,
                    until=end,
                )
                for start, end, units in room.busy
            ]
            for room in rooms
        ]

    def hold(self, room: int, held: Holding) -> None:
        """Let a stage hold a room."""
        holders = self._held[room]
        holders.append(held)
        if len(holders) > HOLDERS_MAX:
            del holders[min(range(len(holders)), key=lambda at: holders[at].until)]

    def met_until(
        self, room: int, units: int | None, start: Ints, end: Ints, some: Ints
    ) -> tuple[Ints, Ints]:
        """Return where a room is freed that has no so many units left over a stretch, and by whom.

        0 where it has. units: None for nobody else. some: the draws that are asked about.
        """
        freed, by = np.zeros_like(start), np.full_like(start, -1)
        if not len(start):
            return freed, by
        soonest = int(start.min())
        latest = int(end.max())
        alive = [each for each in self._held[room] if each.until > soonest and each.since < latest]
        if not alive:
            return freed, by
        is_all = len(some) == len(alive[0].starts)
        starts = np.stack([each.starts if is_all else each.starts[some] for each in alive])
        ends = np.stack([each.ends if is_all else each.ends[some] for each in alive])
        met = (starts < end) & (ends > start)
        if not met.any():
            return freed, by
        weights = np.array([each.units for each in alive], dtype=np.int64)
        left = 0 if units is None else self._capacity[room] - units
        most = weights @ met.astype(np.int64)
        short = np.flatnonzero(most > left)
        if not len(short):
            return freed, by
        starts, ends, met = starts[:, short], ends[:, short], met[:, short]
        if left >= int(weights.min()):
            is_short = _load(starts, ends, met, weights, start[short]) > left
            short, ends, met = short[is_short], ends[:, is_short], met[:, is_short]
            if not len(short):
                return freed, by
            first = np.where(met, ends, NEVER)
            row = first.argmin(axis=0)
        else:
            row = np.where(met, ends, 0).argmax(axis=0)
        freed[short] = ends[row, np.arange(len(short))]
        by[short] = np.array([each.stage for each in alive], dtype=np.int32)[row]
        return freed, by


def _load(starts: Ints, ends: Ints, met: Truths, weights: Ints, begin: Ints) -> Ints:
    """Return the most that is held at a moment of a stretch: at its start, or where one begins."""
    most = np.zeros(starts.shape[1], dtype=np.int64)
    moments = [begin, *(np.maximum(row, begin) for row in starts)]
    for moment in moments:
        there = met & (starts <= moment) & (ends > moment)
        most = np.maximum(most, weights @ there.astype(np.int64))
    return most
