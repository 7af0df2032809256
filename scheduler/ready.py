"""The units that can be placed next, the most urgent first."""

from collections.abc import Iterable, Sequence
from heapq import heapify, heappop, heappush


class Queue:
    """Units whose predecessors are placed. ranks: by unit, its urgency, the least first."""

    def __init__(
        self, waits: Sequence[int], followers: Sequence[Sequence[int]], ranks: Sequence[int]
    ) -> None:
        self._waits = list(waits)
        self._followers = followers
        self._ranks = ranks
        self._heap = [(rank, unit) for unit, rank in enumerate(ranks) if not waits[unit]]
        heapify(self._heap)

    def pop(self) -> int | None:
        """Take the most urgent unit out, None if there is none."""
        return heappop(self._heap)[1] if self._heap else None

    def ready(self) -> list[int]:
        """Return all units that can be placed, the most urgent first."""
        return [unit for _, unit in sorted(self._heap)]

    def take(self, unit: int) -> None:
        """Take one of the ready units out."""
        self._heap.remove((self._ranks[unit], unit))
        heapify(self._heap)

    def put_back(self, units: Iterable[int]) -> None:
        """Let units wait for their turn again."""
        for unit in units:
            heappush(self._heap, (self._ranks[unit], unit))

    def done(self, unit: int) -> None:
        """Let those that waited for a unit come."""
        for follower in self._followers[unit]:
            self._waits[follower] -= 1
            if not self._waits[follower]:
                heappush(self._heap, (self._ranks[follower], follower))
