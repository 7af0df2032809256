"""Which jobs to ask about together: those that want the same people and places at the same time.

A proof about a few jobs holds for the whole book, and a few are decided where the whole is not.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from scheduler.calendar import Index
from scheduler.countback import Times
from scheduler.problem import Problem

PAIRS_MAX = 5
THREES_MAX = 3

Loads = dict[tuple[str, int], Fraction]
"""By worker or room, how much of it a job takes if all who could share it do."""


def partners(index: Index, soonest: Times, job: int, among: Sequence[int]) -> list[int]:
    """Return jobs by how much they want of what a job wants while it wants it, most first."""
    problem = index.problem
    loads = _loads(index, {job, *among})
    mine, window = loads[job], _window(problem, soonest, job)
    scores = {
        other: _shared(mine, loads[other]) * _overlap(window, _window(problem, soonest, other))
        for other in among
    }
    wanted = [other for other in among if scores[other] > 0]
    return sorted(wanted, key=lambda other: (-scores[other], other))


def groups(job: int, ranked: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Give the sub-books of a job to ask about: with one more, with two, with all."""
    pairs = [(job, other) for other in ranked[:PAIRS_MAX]]
    threes = [(job, *others) for others in combinations(ranked[:THREES_MAX], 2)]
    whole = (job, *sorted(ranked))
    yield from dict.fromkeys((*pairs, *threes, whole) if ranked else ())


def _loads(index: Index, jobs: set[int]) -> dict[int, Loads]:
    found: dict[int, Loads] = {job: defaultdict(Fraction) for job in jobs}
    for number, stage in enumerate(index.problem.stages):
        if stage.job not in jobs or stage.optional:
            continue
        mine, way = found[stage.job], stage.ways[0]
        call = index.call(number, 0)
        able = index.eligible(call)
        for worker in able:
            mine["worker", worker] += way.work * call.hands_count / len(able)
        for use in way.uses:
            capacity = max(1, index.problem.rooms[use.room].capacity)
            mine["room", use.room] += way.work * use.units / capacity
    return found


def _shared(mine: Loads, others: Loads) -> Fraction:
    return sum((mine[each] * others[each] for each in mine.keys() & others.keys()), Fraction(0))


def _window(problem: Problem, soonest: Times, job: int) -> tuple[int, int]:
    starts = (
        start
        for stage, start in zip(problem.stages, soonest.starts, strict=True)
        if stage.job == job and start is not None
    )
    latest = problem.jobs[job].latest
    return min(starts, default=0), problem.horizon if latest is None else latest


def _overlap(one: tuple[int, int], other: tuple[int, int]) -> Fraction:
    """Return how much of the shorter window lies in the other."""
    common = min(one[1], other[1]) - max(one[0], other[0])
    shorter = min(one[1] - one[0], other[1] - other[0])
    return Fraction(max(0, common), max(1, shorter))
