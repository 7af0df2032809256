"""Jobs whose journeys in time all need the same people or the same lorry at once.

Two such windows can't both be kept, whatever else the plan does. Only what journeys take of one
another counts, so that none of this hangs on where stages are.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations, product

from scheduler.problem import Absence, Going, Problem

Need = tuple[int | None, int | None]
"""A worker, else a room."""
PAIRS_MAX = 400
"""Of two jobs with more pairs of departures than that nothing is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Collision:
    """Two jobs of which only one can make its window, and whom or what both need first."""

    jobs: tuple[int, int]
    worker: int | None = None
    room: int | None = None

    def other(self, job: int) -> int | None:
        """Return the job that one collides with, None for a job that has no part in this."""
        one, two = self.jobs
        return two if job == one else one if job == two else None


def collisions(problem: Problem, jobs: Iterable[int]) -> list[Collision]:
    """Return the pairs of jobs whose departures in time all collide.

    jobs: those all of whose departures in time the problem knows.
    """
    in_time = {job: _in_time(problem, job) for job in sorted(jobs)}
    in_time = {job: goings for job, goings in in_time.items() if goings}
    found = []
    for one, other in combinations(in_time, 2):
        if len(in_time[one]) * len(in_time[other]) > PAIRS_MAX:
            continue
        need = _always_shared(problem, in_time[one], in_time[other])
        if need is not None:
            found.append(Collision(jobs=(one, other), worker=need[0], room=need[1]))
    return found


def _in_time(problem: Problem, job: int) -> list[Going]:
    aim = problem.jobs[job]
    return [] if aim.trip is None else [going for going in aim.trip.options if going.in_time]


def _always_shared(problem: Problem, ones: list[Going], others: list[Going]) -> Need | None:
    """Return what is needed twice first; None where both can go in some way."""
    first = None
    for one, other in product(ones, others):
        need = _shared(problem, one, other)
        if need is None:
            return None
        first = first or need
    return first


def _shared(problem: Problem, one: Going, other: Going) -> Need | None:
    """Return the worker or the room that both need at once; None where both can go."""
    for ours, theirs in ((one.away, other.away), (one.away, other.rests), (one.rests, other.away)):
        worker = _both(ours, theirs)
        if worker is not None:
            return worker, None
    for room, start, end, units in one.takes:
        for also, their_start, their_end, their_units in other.takes:
            is_at_once = room == also and start < their_end and their_start < end
            if is_at_once and units + their_units > problem.rooms[room].capacity:
                return None, room
    return None


def _both(ours: Iterable[Absence], theirs: Iterable[Absence]) -> int | None:
    """Return who is asked for in both at once."""
    for (worker, start, end), (other, their_start, their_end) in product(ours, theirs):
        if worker == other and start < their_end and their_start < end:
            return worker
    return None
