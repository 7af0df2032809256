"""What those that stay leave to the free stages of a part: workers, rooms and stock."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.model.starts import Window
from scheduler.problem import Going, Hold, Room, Worker
from scheduler.spans import merged
from scheduler.spots import journeys
from scheduler.taken import Taken
from scheduler.ties import Ties

Piece = tuple[int, int, int]
"""From when to when, and units."""


class Left:
    """What those that stay take, near enough to matter, as bookings.

    leaving: the jobs, others than the touched, whose journeys are near; they are told as
    journeys, for they may rest while others do. A worker of a pinned stage is told as its team.
    """

    def __init__(
        self,
        index: Index,
        taken: Taken,
        free: frozenset[int],
        pinned: Collection[int],
        touched: Sequence[int],
        windows: Mapping[int, Window],
    ) -> None:
        self._index = index
        self._problem = index.problem
        self._ties = index.once(Ties)
        self._taken = taken
        self._free = free
        self._pinned = pinned
        self._rooms: set[int] = set()
        self._first = min(window.earliest_start for window in windows.values())
        self._last = max(window.latest_end for window in windows.values())
        self._see_claims(windows)
        self._see_holds()
        for job in touched:
            trip = self._problem.jobs[job].trip
            for going in trip.options if trip is not None else ():
                self._rooms.update(room for room, _, _, _ in going.takes)
                for start, end in _spans(going):
                    self._see(start, end)
        self.leaving = [
            job
            for job, going in journeys(index.problem, taken.schedule)
            if job not in touched and any(self._is_near(*span) for span in _spans(going))
        ]

    def _see(self, start: int, end: int) -> None:
        self._first, self._last = min(self._first, start), max(self._last, end)

    def _is_near(self, start: int, end: int) -> bool:
        return start < self._last and end > self._first

    def _see_claims(self, windows: Mapping[int, Window]) -> None:
        for stage, window in windows.items():
            for claims in self._index.terms.claims[stage]:
                for claim in claims:
                    self._rooms |= {claim.room, *claim.against}
                    begins = claim.begins(window.earliest_start)
                    self._see(begins, claim.ends(window.latest_end))

    def _see_holds(self) -> None:
        schedule = self._taken.schedule
        for stage in self._free:
            for number in self._ties.holds[stage]:
                hold = self._problem.holds[number]
                self._rooms.add(hold.room)
                self._see(0 if hold.first is None else self._last, self._last)
                for end in (hold.first, hold.last):
                    if end is not None and end not in self._free and schedule.ways[end] >= 0:
                        self._see(schedule.starts[end], schedule.ends[end])

    def workers(self) -> tuple[Worker, ...]:
        """Return the workers with what they are booked for."""
        schedule = self._taken.schedule
        busy = [list(worker.busy) for worker in self._problem.workers]
        for stage, team in enumerate(schedule.teams):
            start, end = schedule.starts[stage], schedule.ends[stage]
            if team and start < end and stage not in self._free and stage not in self._pinned:
                for worker in team if self._is_near(start, end) else ():
                    busy[worker].append((start, end))
        return tuple(
            replace(worker, busy=merged(span for span in spans if self._is_near(*span)))
            for worker, spans in zip(self._problem.workers, busy, strict=True)
        )

    def rooms(self) -> tuple[Room, ...]:
        """Return the rooms with what is taken of them, of those that matter."""
        pieces: dict[int, list[Piece]] = {
            room: list(self._problem.rooms[room].busy) for room in self._rooms
        }
        for stage, shares in enumerate(self._taken.shares):
            for share in shares if stage not in self._free else ():
                if share.room in pieces and share.units:
                    pieces[share.room].append((share.start, share.end, share.units))
        for hold, start, end in self._fixed_holds():
            if hold.room in pieces:
                pieces[hold.room].append((start, end, hold.units))
        return tuple(
            replace(room, busy=tuple(self._profile(pieces.get(number, ()))))
            for number, room in enumerate(self._problem.rooms)
        )

    def _fixed_holds(self) -> Iterator[tuple[Hold, int, int]]:
        schedule = self._taken.schedule
        for hold in self._problem.holds:
            if self._free.isdisjoint((hold.first, hold.last)):
                start = 0 if hold.first is None else schedule.starts[hold.first]
                end = schedule.ends[hold.last]
                if start >= 0 and end >= 0:
                    yield hold, start, end

    def _profile(self, pieces: Sequence[Piece]) -> Iterator[Piece]:
        """Give what is taken as pieces that lie behind one another."""
        change: dict[int, int] = {}
        for start, end, units in pieces:
            if start < end and self._is_near(start, end):
                change[start] = change.get(start, 0) + units
                change[end] = change.get(end, 0) - units
        since = taken = 0
        for t in sorted(change):
            if change[t]:
                if taken:
                    yield since, t, taken
                since, taken = t, taken + change[t]

    def stock(self) -> tuple[int, ...]:
        """Return what is left of each consumable."""
        left = list(self._problem.consumables)
        for stage, way in enumerate(self._taken.schedule.ways if left else ()):
            if way >= 0 and stage not in self._free:
                for consumable, units in self._problem.stages[stage].ways[way].consumes:
                    left[consumable] -= units
        return tuple(left)


def _spans(going: Going) -> Iterator[tuple[int, int]]:
    """Give the stretches over which a journey takes somebody or something."""
    yield from ((start, end) for _, start, end in going.absences)
    yield from ((start, end) for _, start, end, _ in going.takes)
