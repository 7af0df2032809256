"""Journeys in a pass: what makes the window is kept free from the start, and let go if missed."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from scheduler.busy import Busy
from scheduler.calendar import Index
from scheduler.laws import Laws
from scheduler.problem import Absence, Going, Trip
from scheduler.search import Spot

NOT_SETTLED = -2
Ends = tuple[int, int]
"""When a job is ready to leave, and when its lorry is loaded."""


class Trips:
    """The trips of a pass, by job: the option it takes, or -1.

    had: by job, the option that it takes unless its loading ends too late for it.
    """

    def __init__(
        self, index: Index, busy: Busy, laws: Laws | None, had: Mapping[int, int] | None = None
    ) -> None:
        self._problem = index.problem
        self._busy = busy
        self._laws = laws
        self.taken = [
            -1 if job.trip is None or not job.trip.options else NOT_SETTLED
            for job in self._problem.jobs
        ]
        self._kept: dict[int, int] = {}
        self._had = had or {}
        for job, option in self._had.items():
            self._keep(job, option)

    def keep_windows(self, spots: Iterable[Spot]) -> None:
        """Keep crew and vehicles free for a departure that makes each window, in job order."""
        placed = tuple(spots)
        for job, aim in enumerate(self._problem.jobs):
            trip = aim.trip
            if self.taken[job] != NOT_SETTLED or trip is None or job in self._kept:
                continue
            for option, going in enumerate(trip.options):
                if not going.in_time:
                    break
                if self._is_free(going, placed):
                    self._keep(job, option)
                    break

    def _keep(self, job: int, option: int) -> None:
        trip = self._problem.jobs[job].trip
        if trip is not None:
            self._kept[job] = option
            self._book(trip.options[option])

    def settle(self, job: int, ends: Ends, spots: Iterable[Spot]) -> None:
        """Let a job leave: in time, the cheapest way, or else with the first that is free."""
        trip = self._problem.jobs[job].trip
        if trip is None or self.taken[job] != NOT_SETTLED:
            return
        kept = self._kept.get(job)
        is_wanted = kept is not None and (job in self._had or self._is_cheapest(trip, kept))
        if kept is not None and is_wanted and trip.may_leave(kept, *ends):
            self.taken[job] = kept
            return
        placed = tuple(spots)
        self._let_go(job, trip, placed)
        self.taken[job] = -1
        for option in trip.preferred:
            going = trip.options[option]
            if trip.may_leave(option, *ends) and self._is_free(going, placed):
                self.taken[job] = option
                self._book(going)
                return

    def settle_left(self, ends: Sequence[Ends], spots: Iterable[Spot]) -> None:
        """Let those leave, in job order, who could not when they were asked but can now."""
        placed = tuple(spots)
        for job, aim in enumerate(self._problem.jobs):
            if self.taken[job] == -1 and aim.trip is not None and aim.trip.options:
                self.taken[job] = NOT_SETTLED
                self.settle(job, ends[job], placed)

    def needs_later(self, job: int, ends: Ends, spots: Iterable[Spot]) -> int | None:
        """Return a later end of loading from which a job may leave, None where it may now."""
        trip = self._problem.jobs[job].trip
        if trip is None or trip.stands_most is None or self.taken[job] != NOT_SETTLED:
            return None
        placed = tuple(spots)
        kept = self._kept.get(job)
        later: list[int] = []
        for option, going in enumerate(trip.options):
            if going.leaves < ends[0] or not (option == kept or self._is_free(going, placed, job)):
                continue
            if trip.may_leave(option, *ends):
                return None
            later.append(going.leaves - trip.stands_most)
        return min(later, default=None)

    def _is_cheapest(self, trip: Trip, kept: int) -> bool:
        price = trip.options[kept].price
        return not price or all(going.price >= price for going in trip.options if going.in_time)

    def _booked(self, but: int) -> Iterator[Going]:
        """Give what is booked of all jobs but one."""
        for job, aim in enumerate(self._problem.jobs):
            option = self._kept.get(job, self.taken[job])
            if aim.trip is not None and option >= 0 and job != but:
                yield aim.trip.options[option]

    def _let_go(self, job: int, trip: Trip, placed: Sequence[Spot]) -> None:
        kept = self._kept.pop(job, None)
        if kept is None:
            return
        going = trip.options[kept]
        if self._laws is not None:
            self._laws.come_back(going)
        for room, start, end, units in going.takes:
            self._busy.book_room(room, start, end, -units)
        for worker in dict.fromkeys(one for one, _, _ in going.absences):
            stretches = self._stretches(worker, placed, rests=True)
            self._busy.rewrite_worker(worker, sorted(stretches))

    def _book(self, going: Going) -> None:
        if self._laws is not None:
            self._laws.leave(going)
        for room, start, end, units in going.takes:
            self._busy.book_room(room, start, end, units)
        for worker, start, end in going.absences:
            self._busy.book_worker(worker, start, end)

    def _stretches(
        self, worker: int, placed: Sequence[Spot], *, rests: bool, but: int = -1
    ) -> list[tuple[int, int]]:
        """Return what a worker does, without or with the rests that it calls for."""
        stretches = list(self._problem.workers[worker].busy)
        stretches += [(spot.start, spot.end) for spot in placed if worker in spot.team]
        for going in self._booked(but):
            absences = going.absences if rests else going.away
            stretches += [(start, end) for one, start, end in absences if one == worker]
        return stretches

    def _is_free(self, going: Going, placed: Sequence[Spot], but: int = -1) -> bool:
        """Return whether everybody and everything is free. but: a job that would let go."""
        if self._laws is not None and not self._laws.may_leave(going):
            return False
        return (
            all(self._is_off(one, placed, but, rests=True) for one in going.away)
            and all(self._is_off(one, placed, but, rests=False) for one in going.rests)
            and all(self._has_room(*taken, but) for taken in going.takes)
        )

    def _is_off(self, absence: Absence, placed: Sequence[Spot], but: int, *, rests: bool) -> bool:
        worker, leaves, free = absence
        return all(
            end <= leaves or start >= free
            for start, end in self._stretches(worker, placed, rests=rests, but=but)
            if start < end
        )

    def _has_room(self, room: int, start: int, end: int, units: int, but: int) -> bool:
        most = self._problem.rooms[room].capacity - units
        own, trip = self._kept.get(but), self._problem.jobs[but].trip if but >= 0 else None
        if own is not None and trip is not None:
            takes = trip.options[own].takes
            most += sum(n for each, a, b, n in takes if each == room and a < end and b > start)
        return self._busy.crowded_until(room, start, end, most) < 0
