"""Many justified passes over a problem of stages and rooms, bred from those that end soonest.

Each order is placed forwards, pulled together from behind and placed once more by the starts that
this gives (V. Valls, F. Ballestin, S. Quintanilla, "Justification and RCPSP", European Journal of
Operational Research 165 (2005) 375-386). New orders take a stretch from one of the best and the
rest from another (S. Hartmann, "A competitive genetic algorithm for resource-constrained project
scheduling", Naval Research Logistics 45 (1998) 733-750).
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from random import Random

from scheduler.problem import Problem, Schedule
from scheduler.quick import Quick

KEPT_MAX = 30
"""So many of the best orders breed."""
NUDGED_SHARE = 2
"""One in so many new orders is nudged besides."""
NOISY_COUNT = 26
"""So many first orders come by the longest tail, disturbed."""
_Order = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    value: int
    order: _Order
    starts: tuple[int, ...]


class Passes:
    """Passes over one problem; the same seed gives the same passes.

    bound: what the closing stage's start can't be less than.
    """

    def __init__(self, problem: Problem, seed: int) -> None:
        """Start with nothing placed. problem: one for which quick.is_for is true."""
        if problem.makespan is None:
            raise ValueError("a book has levels, no makespan")
        self._last = problem.makespan
        self._quick = Quick(problem)
        self._rank = _ranks(self._quick)
        self._draw = Random(seed)
        self._kept: list[_Kept] = []
        stages = sorted(range(len(self._rank)), key=lambda at: self._rank[at])
        tails, followers = _ahead(self._quick, stages)
        self._orders = _first_orders(self._quick, self._rank, tails, followers, self._draw)
        self.bound = _bound(self._quick, stages, followers, self._last)

    @property
    def is_least(self) -> bool:
        """Return whether no schedule can be better than the best."""
        return bool(self._kept) and self._kept[0].value <= self.bound

    @property
    def value(self) -> int | None:
        """Return when the closing stage of the best schedule starts."""
        return self._kept[0].value if self._kept else None

    @property
    def best(self) -> Schedule | None:
        """Return the schedule that ends soonest."""
        if not self._kept:
            return None
        starts, count = self._kept[0].starts, len(self._rank)
        ends = (start + length for start, length in zip(starts, self._quick.lengths, strict=True))
        return Schedule(starts=starts, ends=tuple(ends), ways=(0,) * count, teams=((),) * count)

    def run(self, is_over: Callable[[int], bool]) -> None:
        """Make passes until none is better, or told that it is enough, by how many were made."""
        count = 0
        while not self.is_least and not is_over(count):
            order = next(self._orders, None)
            self._try(self._bred() if order is None else order)
            count += 1

    def _try(self, order: Sequence[int]) -> None:
        quick, rank, lengths = self._quick, self._rank, self._quick.lengths
        stages = range(len(rank))
        starts = quick.forwards(order)
        by_end = sorted(stages, key=lambda at: (-starts[at] - lengths[at], -starts[at], -rank[at]))
        left = quick.backwards(by_end)
        again = sorted(stages, key=lambda at: (-left[at] - lengths[at], rank[at]))
        self._keep(quick.forwards(again))

    def _keep(self, starts: Sequence[int]) -> None:
        rank = self._rank
        order = tuple(sorted(range(len(rank)), key=lambda at: (starts[at], rank[at])))
        kept = _Kept(value=starts[self._last], order=order, starts=tuple(starts))
        if any(each.value == kept.value and each.order == order for each in self._kept):
            return
        self._kept.append(kept)
        self._kept.sort(key=lambda each: each.value)
        del self._kept[KEPT_MAX:]

    def _bred(self) -> Sequence[int]:
        draw, kept = self._draw, self._kept
        if len(kept) < 2:
            child = list(kept[0].order)
            self._nudge(child)
            return child
        one, other = (
            kept[min(draw.randrange(len(kept)), draw.randrange(len(kept)))].order for _ in range(2)
        )
        first, last = sorted((draw.randrange(len(one) + 1), draw.randrange(len(one) + 1)))
        head, middle = one[:first], other
        taken = set(head)
        child = list(head)
        for stage in middle:
            if len(child) >= last:
                break
            if stage not in taken:
                taken.add(stage)
                child.append(stage)
        child += [stage for stage in one if stage not in taken]
        if not draw.randrange(NUDGED_SHARE):
            self._nudge(child)
        return child

    def _nudge(self, order: list[int]) -> None:
        """Move a few stages to somewhere between what they wait for and what waits for them."""
        draw, quick = self._draw, self._quick
        for _ in range(1 + draw.randrange(5)):
            stage = order.pop(draw.randrange(len(order)))
            at = {each: place for place, each in enumerate(order)}
            low = max((at[other] + 1 for other, _ in quick.before[stage]), default=0)
            high = min((at[other] for other, _ in quick.after[stage]), default=len(order))
            order.insert(draw.randint(low, high), stage)


def _ranks(quick: Quick) -> list[int]:
    """Return the stages' ranks in an order in which each comes after all that it waits for."""
    waits = [len(links) for links in quick.before]
    ready = [at for at, count in enumerate(waits) if not count]
    for at in ready:
        for other, _ in quick.after[at]:
            waits[other] -= 1
            if not waits[other]:
                ready.append(other)
    ranks = [0] * len(waits)
    for rank, at in enumerate(ready):
        ranks[at] = rank
    return ranks


def _bound(quick: Quick, stages: Sequence[int], followers: Sequence[set[int]], last: int) -> int:
    """Return when the closing stage starts at the earliest: by the longest way, by full rooms."""
    soonest = [0] * len(stages)
    for stage in stages:
        for before, wait in quick.before[stage]:
            soonest[stage] = max(soonest[stage], soonest[before] + wait)
    taken = [0] * len(quick.capacities)
    for stage in stages:
        for room, units in quick.demands[stage] if last in followers[stage] else ():
            taken[room] += units * quick.lengths[stage]
    full = (-(-units // room) for units, room in zip(taken, quick.capacities, strict=True) if units)
    return max(soonest[last], *full, 0)


def _first_orders(
    quick: Quick,
    rank: Sequence[int],
    tails: Sequence[int],
    followers: Sequence[set[int]],
    draw: Random,
) -> Iterator[Sequence[int]]:
    """Give orders by priority rules, the longest way to the end first, then that disturbed."""
    lengths = quick.lengths
    yield _in_order(quick, rank, tails)
    yield _in_order(quick, rank, [len(each) for each in followers])
    loads = [
        lengths[at] + sum(lengths[after] for after in followers[at]) for at in range(len(rank))
    ]
    yield _in_order(quick, rank, loads)
    spread = max(1, max(tails, default=0) // 5)
    for _ in range(NOISY_COUNT):
        yield _in_order(quick, rank, [tail + draw.randrange(-spread, spread + 1) for tail in tails])


def _ahead(quick: Quick, stages: Sequence[int]) -> tuple[list[int], list[set[int]]]:
    """Return, by stage, the longest way from its start to the end, and all that follows it."""
    tails = list(quick.lengths)
    followers: list[set[int]] = [set() for _ in stages]
    for other in reversed(stages):
        for before, wait in quick.before[other]:
            tails[before] = max(tails[before], wait + tails[other])
            followers[before] |= {other} | followers[other]
    return tails, followers


def _in_order(quick: Quick, rank: Sequence[int], keys: Sequence[int]) -> list[int]:
    """Return the stages by the greatest key, each after all that it waits for."""
    waits = [len(links) for links in quick.before]
    heap = [(-keys[at], rank[at], at) for at, count in enumerate(waits) if not count]
    heapify(heap)
    found = []
    while heap:
        at = heappop(heap)[2]
        found.append(at)
        for other, _ in quick.after[at]:
            waits[other] -= 1
            if not waits[other]:
                heappush(heap, (-keys[other], rank[other], other))
    return found
