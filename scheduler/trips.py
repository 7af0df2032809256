"""Journeys in a pass: what makes the window is kept free from the start, and let go if missed."""

from collections.abc import Iterable, Sequence

from scheduler.busy import Busy
from scheduler.calendar import Index
from scheduler.laws import Laws
from scheduler.problem import Trip
from scheduler.search import Spot

NOT_SETTLED = -2


class Trips:
    """The trips of a pass, by job: the option it takes, or -1."""

    def __init__(self, index: Index, busy: Busy, laws: Laws | None) -> None:
        self._problem = index.problem
        self._busy = busy
        self._laws = laws
        self.taken = [
            -1 if job.trip is None or not job.trip.options else NOT_SETTLED
            for job in self._problem.jobs
        ]
        self._kept: set[int] = set()

    def keep_windows(self, spots: Iterable[Spot]) -> None:
        """Keep crew and vehicles free for every departure that makes a window, in job order."""
        placed = tuple(spots)
        for job, aim in enumerate(self._problem.jobs):
            trip = aim.trip
            if self.taken[job] != NOT_SETTLED or trip is None or not trip.makes_window:
                continue
            if self._is_free(trip, 0, placed):
                self._kept.add(job)
                self._book(trip, 0)

    def settle(self, job: int, loaded: int, spots: Iterable[Spot]) -> None:
        """Let a job leave: in time, or else with the first departure whose crew is free."""
        trip = self._problem.jobs[job].trip
        if trip is None or self.taken[job] != NOT_SETTLED:
            return
        if job in self._kept and loaded <= trip.options[0][0]:
            self.taken[job] = 0
            return
        placed = tuple(spots)
        self._let_go(job, trip, placed)
        self.taken[job] = -1
        for option, (leaves, _, _) in enumerate(trip.options):
            if leaves >= loaded and self._is_free(trip, option, placed):
                self.taken[job] = option
                self._book(trip, option)
                return

    def _booked(self) -> list[tuple[Trip, int]]:
        found = []
        for job, aim in enumerate(self._problem.jobs):
            option = 0 if job in self._kept else self.taken[job]
            if aim.trip is not None and option >= 0:
                found.append((aim.trip, option))
        return found

    def _let_go(self, job: int, trip: Trip, placed: Sequence[Spot]) -> None:
        if job not in self._kept:
            return
        self._kept.remove(job)
        leaves, back, free = trip.options[0]
        if self._laws is not None:
            self._laws.come_back(trip.crew, leaves, free)
        for use in trip.uses:
            self._busy.book_room(
                use.room, max(0, leaves - use.before), back + use.after, -use.units
            )
        for worker in trip.crew:
            self._busy.rewrite_worker(worker, self._stretches(worker, placed))

    def _book(self, trip: Trip, option: int) -> None:
        leaves, back, free = trip.options[option]
        if self._laws is not None:
            self._laws.leave(trip.crew, leaves, free)
        for use in trip.uses:
            self._busy.book_room(use.room, max(0, leaves - use.before), back + use.after, use.units)
        for worker in trip.crew:
            self._busy.book_worker(worker, leaves, free)

    def _stretches(self, worker: int, placed: Sequence[Spot]) -> list[tuple[int, int]]:
        stretches = list(self._problem.workers[worker].busy)
        stretches += [(spot.start, spot.end) for spot in placed if worker in spot.team]
        for trip, option in self._booked():
            if worker in trip.crew:
                leaves, _, free = trip.options[option]
                stretches.append((leaves, free))
        return sorted(stretches)

    def _is_free(self, trip: Trip, option: int, placed: Sequence[Spot]) -> bool:
        leaves, back, free = trip.options[option]
        if self._laws is not None and not self._laws.may_leave(trip.crew, leaves, free):
            return False
        return all(
            end <= leaves or start >= free
            for worker in trip.crew
            for start, end in self._stretches(worker, placed)
            if start < end
        ) and all(
            self._busy.crowded_until(
                use.room,
                max(0, leaves - use.before),
                back + use.after,
                self._problem.rooms[use.room].capacity - use.units,
            )
            < 0
            for use in trip.uses
        )
