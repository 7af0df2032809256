"""Who and what is taken when, while a pass places stages; every booking can be taken back.

A worker's line is a list of busy stretches, joined where no working step lies between, so that
a booked month is one stretch. A room's profile is a list of steps at which its load changes.
"""

from collections.abc import Iterable

from scheduler.calendar import Index
from scheduler.sorted_ints import bisect_left, bisect_right
from scheduler.terms import FOREVER


class Busy:
    """The bookings of one pass, empty but for what the problem says is taken.

    starts, ends: by worker, busy stretches, before the first one that ends at 0. loads: by room,
    what is taken of it from one change to the next. changes: by worker, how often what they do
    was written.
    """

    def __init__(self, index: Index) -> None:
        problem = index.problem
        self._hours = [
            None if worker.calendar is None else index.hours((worker.calendar,))
            for worker in problem.workers
        ]
        self.starts = [[-1] for _ in problem.workers]
        self.ends = [[0] for _ in problem.workers]
        self._times = [[0] for _ in problem.rooms]
        self.loads = [[0] for _ in problem.rooms]
        self.stock = list(problem.consumables)
        self.changes = [0] * len(problem.workers)
        self._trail: list[tuple[list[int], int, int, list[int], int]] = []
        for position, worker in enumerate(problem.workers):
            for start, end in worker.busy:
                self.book_worker(position, start, end)
        for number, room in enumerate(problem.rooms):
            for start, end, units in room.busy:
                self.book_room(number, start, end, units)

    def mark(self) -> int:
        """Return a mark to which `undo` can go back."""
        return len(self._trail)

    def undo(self, mark: int) -> None:
        """Take back every booking made since the mark."""
        while len(self._trail) > mark:
            items, start, end, old, worker = self._trail.pop()
            items[start:end] = old
            if worker >= 0:
                self.changes[worker] += 1

    def _write(
        self, items: list[int], start: int, end: int, new: list[int], worker: int = -1
    ) -> None:
        self._trail.append((items, start, start + len(new), items[start:end], worker))
        items[start:end] = new
        if worker >= 0:
            self.changes[worker] += 1

    def free_from(self, worker: int, t: int) -> int:
        """Return t, or the end of the busy stretch in which it lies."""
        at = bisect_right(self.starts[worker], t) - 1
        return max(t, self.ends[worker][at])

    def blocked_until(self, team: Iterable[int], start: int, end: int) -> int:
        """Return the end of the last busy stretch of the team that meets [start, end), or -1."""
        latest = -1
        for worker in team:
            stretch_end = self.ends[worker][bisect_left(self.starts[worker], end) - 1]
            if stretch_end > start and stretch_end > latest:
                latest = stretch_end
        return latest

    def book_worker(self, worker: int, start: int, end: int) -> None:
        """Take a worker for [start, end)."""
        if end <= start:
            return
        starts, ends = self.starts[worker], self.ends[worker]
        first = bisect_right(starts, start)
        last = first
        if self._joins(worker, ends[first - 1], start):
            first -= 1
            start = starts[first]
            end = max(end, ends[first])
        while last < len(starts) and self._joins(worker, end, starts[last]):
            end = max(end, ends[last])
            last += 1
        self._write(starts, first, last, [start], worker)
        self._write(ends, first, last, [end])

    def free_worker(self, worker: int, start: int, end: int) -> None:
        """Give a worker back who was taken for [start, end)."""
        starts, ends = self.starts[worker], self.ends[worker]
        at = bisect_right(starts, start) - 1
        before, after = starts[at], ends[at]
        pieces = [(before, start)] if before < start else []
        if end < after:
            pieces.append((end, after))
        if not at and not (pieces and pieces[0][0] < 0):
            pieces.insert(0, (-1, 0))
        self._write(starts, at, at + 1, [piece[0] for piece in pieces], worker)
        self._write(ends, at, at + 1, [piece[1] for piece in pieces])

    def _joins(self, worker: int, end: int, start: int) -> bool:
        if end >= start:
            return True
        hours = self._hours[worker]
        if hours is None:
            return False
        works = hours.next_open(end)
        return works is None or works >= start

    def crowded_until(self, room: int, start: int, end: int, most: int) -> int:
        """Return the end of the last piece of [start, end) with a load above most, or -1."""
        times, loads = self._times[room], self.loads[room]
        at = bisect_left(times, end) - 1
        while at >= 0:
            if loads[at] > most:
                piece_end = times[at + 1] if at + 1 < len(times) else FOREVER
                return piece_end if piece_end > start else -1
            if times[at] <= start:
                return -1
            at -= 1
        return -1

    def book_room(self, room: int, start: int, end: int, units: int) -> None:
        """Take units of a room for [start, end); negative units give them back."""
        if end <= start or not units:
            return
        first = self._cut(room, start)
        last = self._cut(room, end) if end < FOREVER else len(self._times[room])
        loads = self.loads[room]
        self._write(loads, first, last, [load + units for load in loads[first:last]])

    def _cut(self, room: int, t: int) -> int:
        times, loads = self._times[room], self.loads[room]
        at = bisect_right(times, t) - 1
        if times[at] == t:
            return at
        self._write(times, at + 1, at + 1, [t])
        self._write(loads, at + 1, at + 1, [loads[at]])
        return at + 1

    def use_up(self, consumable: int, units: int) -> None:
        """Take units of a consumable for good."""
        self._write(self.stock, consumable, consumable + 1, [self.stock[consumable] - units])

    def rewrite_worker(self, worker: int, stretches: Iterable[tuple[int, int]]) -> None:
        """Put exactly these stretches in a worker's line."""
        self._write(self.starts[worker], 0, len(self.starts[worker]), [-1], worker)
        self._write(self.ends[worker], 0, len(self.ends[worker]), [0])
        for start, end in stretches:
            self.book_worker(worker, start, end)
