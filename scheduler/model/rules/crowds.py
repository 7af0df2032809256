"""At no time are more people of a pool at work than there are in it.

For every pool (pools.py): sum over stages of the places that nobody else can fill, journeys and
bookings of its workers besides <= workers in it. It follows from the other rules where people are
named; stated, it makes bounds and proofs short. Where nobody is named it is all there is.
Pinned by tests/scheduler/test_model_rules.py, "crowds", and tests/scheduler/test_pools.py.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from ortools.sat.python import cp_model

from scheduler.model.pools import Pool, pools_of
from scheduler.model.variables import ALWAYS, Expr, Frame, Literal, span_of
from scheduler.problem import Absence

_Load = tuple[cp_model.IntervalVar, Expr]


def post(frame: Frame) -> None:
    """State how many there are in every pool."""
    held: dict[int, cp_model.IntervalVar] = {}
    demands: dict[tuple[int, tuple[int, ...]], Expr] = {}
    for pool in pools_of(frame.problem):
        loads = [*_stages(frame, pool, held, demands), *_away(frame, pool)]
        intervals, taken = [each for each, _ in loads], [each for _, each in loads]
        frame.model.add_cumulative(intervals, taken, len(pool.workers))


def _stages(
    frame: Frame,
    pool: Pool,
    held: dict[int, cp_model.IntervalVar],
    demands: dict[tuple[int, tuple[int, ...]], Expr],
) -> Iterator[_Load]:
    for stage, counts in pool.places.items():
        found = frame.stages[stage]
        if isinstance(found.size, int) and not found.size:
            continue
        if stage not in held:
            held[stage] = span_of(frame, found.start, found.size, found.end, found.present)
        if (stage, counts) not in demands:
            demands[stage, counts] = _demand(frame, found.ways, counts)
        yield held[stage], demands[stage, counts]


def _demand(frame: Frame, ways: Sequence[Literal], counts: tuple[int, ...]) -> Expr:
    if len(set(counts)) == 1:
        return counts[0]
    domain = cp_model.Domain.from_values(sorted({0, *counts}))
    demand = frame.model.new_int_var_from_domain(domain, "")
    taken = (count * way for way, count in zip(ways, counts, strict=True) if count)
    frame.model.add(demand == sum(taken, start=0))
    return demand


def _away(frame: Frame, pool: Pool) -> Iterator[_Load]:
    """Give when workers of the pool are booked, or away on the journeys that there may be."""
    workers = frame.problem.workers
    booked = Counter(span for worker in pool.workers for span in workers[worker].busy)
    for (start, end), count in booked.items():
        yield span_of(frame, start, end - start, end, ALWAYS), count
    for job, literals in frame.trips.items():
        trip = frame.problem.jobs[job].trip
        for going, literal in zip(trip.options if trip else (), literals, strict=True):
            for (start, end), count in _gone(going.away, pool).items():
                yield span_of(frame, start, end - start, end, literal), count


def _gone(away: Sequence[Absence], pool: Pool) -> Counter[tuple[int, int]]:
    return Counter((start, end) for worker, start, end in away if worker in pool.workers)
