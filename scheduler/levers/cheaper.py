"""Whether any set of levers is cheaper: the dearest of what is left is branched on.

A node has levers that are in and levers that may be. All of them open is tried: where that is
enough, a cheaper set comes out of it; where it is proved not to be, nothing below it is; else it
stays open, and its price is a bound.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal

from scheduler.levers.dropping import Test, dropped
from scheduler.levers.sets import Ids, Known, ids_of
from scheduler.levers.trying import Trials, Tried
from scheduler.model.run import Limits
from scheduler.proofs import Prover
from shared.levers import Lever, LeverKind, price_of

NODES_MAX = 400
MIXTURES_MAX = 64
PROOF_SECONDS = 4.0
SOLVED_STAGES, SOLVED_EFFORT = 60, 100
"""Books with no more stages go to the solver whole, with so much effort each."""


class Cheaper:
    """The search for a cheaper set, or the proof that there is none."""

    def __init__(
        self,
        trials: Trials,
        known: Known,
        test: Test,
        free: Sequence[Lever],
        priced: Sequence[Lever],
    ) -> None:
        """Take what is known; free: levers that cost nothing, priced: the others that only help."""
        self._trials, self._known, self._test = trials, known, test
        self._free, self._priced = tuple(free), tuple(priced)
        self._open: list[Decimal] = []
        self._asked: set[Ids] = set()
        self._nodes = 0

    def bound(
        self,
        best: Tried | None,
        others: Sequence[Lever],
        is_over: tuple[Callable[[], bool], Callable[[], bool]],
        keep: Callable[[Tried], None],
    ) -> tuple[Decimal, bool]:
        """Return what no set costs less than, and whether that is what the best one costs.

        others: levers that may also harm. is_over: when no more is branched on, and when all is
        over: between them a price is looked for below which all is proved. keep: told of what
        is found that is cheaper.
        """
        if best is None:
            return Decimal(0), False
        self._most = price_of(best.levers)
        (self._is_over, is_all_over), self._keep = is_over, keep
        if not self._most:
            return Decimal(0), True
        mixed_sets, is_whole = mixtures([each for each in others if each.price < self._most])
        if not is_whole:
            self._open.append(Decimal(0))
        for mixed in mixed_sets:
            inside = (*self._free, *mixed)
            if price_of(inside) < self._most:
                self._search(inside, self._priced)
        least = min(self._open, default=self._most)
        self._is_over = is_all_over
        if self._open and mixed_sets == [()]:
            least = max(least, self._threshold())
        return min(least, self._most), not self._open

    def _threshold(self) -> Decimal:
        """Return a price that some lever of every way out has at least.

        All levers below it, open at once, are proved not to be enough.
        """
        prices = sorted({each.price + each.once for each in self._priced})
        prices = [price for price in prices if price < self._most]
        first, last = 0, len(prices)
        while first < last and not self._is_over():
            middle = (first + last) // 2
            below = [each for each in self._priced if each.price + each.once < prices[middle]]
            levers = (*self._free, *below)
            found = self._test(levers)
            is_low = found is not None and found.keeps
            if not is_low and self._is_disproved(levers, found):
                first = middle + 1
            else:
                last = middle
        return prices[first - 1] if first else Decimal(0)

    def is_stuck(self, others: Sequence[Lever], is_over: Callable[[], bool]) -> bool:
        """Return whether it is proved that all levers together are not enough."""
        self._is_over = is_over
        mixed_sets, is_whole = mixtures(others)
        if not is_whole:
            return False
        for mixed in mixed_sets:
            levers = (*self._free, *self._priced, *mixed)
            if self._known.is_disproved(ids_of(levers)):
                continue
            found = self._test(levers)
            if found is None or found.keeps or not self._is_disproved(levers, found):
                return False
        return True

    def _search(self, inside: Sequence[Lever], maybe: Sequence[Lever]) -> None:
        """Look into all sets with some levers in and others that may be."""
        paid = price_of(inside)
        maybe = [each for each in maybe if price_of((*inside, each)) < self._most]
        levers = (*inside, *maybe)
        if self._known.is_disproved(ids_of(levers)):
            return
        self._nodes += 1
        if self._is_over() or self._nodes > NODES_MAX:
            self._open.append(paid)
            return
        found = self._test(levers)
        if found is not None and found.keeps:
            less = dropped(found, None, self._test)
            if price_of(less.levers) < self._most:
                self._most = price_of(less.levers)
                self._keep(less)
                self._search(inside, maybe)
                return
        elif self._is_disproved(levers, found):
            return
        elif found is not None and self._is_solved(found):
            self._search(inside, maybe)
            return
        if not maybe:
            self._open.append(paid)
            return
        if price_of(levers) < self._most:
            # All of it is affordable, not enough as far as was found, and not proved.
            self._open.append(paid)
            return
        dearest = max(maybe, key=lambda each: (each.price + each.once, each.id))
        left = [each for each in maybe if each is not dearest]
        self._search(inside, left)
        self._search((*inside, dearest), left)

    def _is_solved(self, found: Tried) -> bool:
        """Return whether the solver settles what quick plans and the ladder did not."""
        if found.schedule is None or self._trials.stages_count > SOLVED_STAGES or self._is_over():
            return False
        ids = ids_of(found.levers)
        if ids in self._asked:
            return False
        self._asked.add(ids)
        better, never = self._trials.solved(found, SOLVED_EFFORT)
        if never:
            self._known.disprove(ids)
        elif better.keeps:
            self._known.note(better, 0)
        return never or better.keeps

    def _is_disproved(self, levers: Sequence[Lever], found: Tried | None) -> bool:
        ids = ids_of(levers)
        if self._known.is_disproved(ids):
            return True
        if found is None or found.schedule is None or self._is_over():
            return False
        schedule = found.freed
        limits = Limits(seconds=PROOF_SECONDS, workers=self._trials.request.workers)

        def climb(prover: Prover, job: int) -> None:
            prover.alone(job, schedule, limits, self._is_over)
            if job in prover.unproved(schedule):
                prover.together(job, schedule, limits, self._is_over)

        if not self._trials.is_disproved(found, climb):
            return False
        self._known.disprove(ids)
        return True


def mixtures(levers: Sequence[Lever]) -> tuple[list[tuple[Lever, ...]], bool]:
    """Return all sets of levers that may harm, and whether all of them are there.

    Of those that take each other's place (windows of a job, crews of a journey, weeks apart) a
    set has one at most.
    """
    groups: dict[object, list[Lever]] = {}
    for lever in levers:
        groups.setdefault(_rivals(lever), []).append(lever)
    found: list[tuple[Lever, ...]] = [()]
    for group in groups.values():
        if len(found) * (1 + len(group)) > MIXTURES_MAX:
            return [(), *((each,) for each in levers)], False
        found += [(*each, lever) for each in found for lever in group]
    return sorted(found, key=lambda each: (price_of(each), len(each))), True


def _rivals(lever: Lever) -> object:
    if lever.kind in (LeverKind.OTHER_WINDOW, LeverKind.RE_PROMISE):
        return lever.kind, lever.about[0]
    return (lever.kind, *lever.about[:2]) if lever.kind is LeverKind.CREW else lever.id
