"""The cheapest ways out: all levers open, dropped dearest first, then cheaper ones looked for.

Levers that cost nothing stay open while it is found which of the others are needed, and are
dropped last. What is offered is planned and checked.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random

from scheduler.grid import DAY_STEPS
from scheduler.kept import Kept
from scheduler.levers.catalogue import levers_of
from scheduler.levers.cheaper import SOLVED_EFFORT, SOLVED_STAGES, Cheaper
from scheduler.levers.dropping import dropped
from scheduler.levers.law import lawful_together
from scheduler.levers.offering import offered
from scheduler.levers.sets import Ids, Known, cost_of, ids_of, likeness
from scheduler.levers.trying import Trials, Tried
from scheduler.levers.values import WayOut, WaysOut
from scheduler.outcome import Outcome
from scheduler.reasons import Reason
from scheduler.request import Cancel, SolveRequest
from scheduler.solve import Clock, solve
from shared.ids import JobId
from shared.levers import Lever, LeverKind, price_of

WAYS_MAX = 3
ROUNDS = 12
SOLVED_SINGLY_MAX = 4
BARS = 6
"""So often a lever of each set found is barred, another one each time, to find others."""
SMALL_STAGES = 80
PASSES_SMALL = 40
"""So many shifts a trial of a small book may take beside the first few passes."""
SOONER = tuple(days * DAY_STEPS for days in (0, 5, 15, 40))
"""In a larger book the job is more urgent by so many days in one pass after the other."""
PASSES_OPEN = 24
"""So many shifts a trial of a larger book may take while no set at all is known."""
BASE_SECONDS_MAX = 2
BASE_SHARE, FIND_SHARE, OTHERS_SHARE, BRANCH_SHARE = 80, 600, 750, 880
"""Up to so many thousandths of the time go to the plan without levers, to finding sets, to others
that differ, to the proof that nothing is cheaper; the rest goes to a price that all have."""
_OF_THE_CREW = frozenset(
    {
        Reason.SAME_CREW.value,
        Reason.CREW_AWAY.value,
        Reason.CREW_HOURS.value,
        Reason.JOURNEYS_AT_ONCE.value,
    }
)
_WHOLE = 1000


def ways_out(
    request: SolveRequest,
    job: JobId,
    *,
    base: Outcome | None = None,
    kept: Kept | None = None,
    on_way: Callable[[WayOut], None] | None = None,
    cancel: Cancel | None = None,
    clock: Clock = time.monotonic,
) -> WaysOut:
    """Return the cheapest ways in which a job keeps its window and no other loses one it keeps.

    request: seconds for all of it. base, kept: an answer to the same book and what it left, to
    start from. on_way: told of sets as soon as they are found.

    Raises
    ------
    EngineFault
        If the check finds a plan broken.
    """
    began = clock()
    kept = kept or Kept()
    if base is None or kept.before is None:
        seconds = min(BASE_SECONDS_MAX, request.seconds * BASE_SHARE / _WHOLE)
        base = solve(replace(request, seconds=seconds), cancel=cancel, clock=clock, kept=kept)
    levers = levers_of(request.book, request.now, (job,))
    told = WaysOut(job=job, base=base, levers=levers)
    told = replace(told, levers=_to_the_point(told))
    if told.is_kept or kept.before is None:
        return told
    ends = began + request.seconds

    def share(part: int) -> bool:
        gone = clock() - began
        return gone * _WHOLE >= request.seconds * part or (cancel is not None and cancel())

    trials = Trials(request, job, kept, lambda: clock() >= ends)
    return _Search(trials, told, share, on_way).run()


class _Search:
    """The search for one job. is_over: whether so many thousandths of the time are used up."""

    def __init__(
        self,
        trials: Trials,
        told: WaysOut,
        is_over: Callable[[int], bool],
        on_way: Callable[[WayOut], None] | None,
    ) -> None:
        self._trials, self._told, self._is_over, self._on_way = trials, told, is_over, on_way
        self._known = Known(told.levers)
        self._draw = Random(trials.request.seed)
        self._until = FIND_SHARE
        self._found: dict[Ids, Tried] = {}
        self._first_told = False
        lawful = lawful_together(trials.request.book, told.levers)
        helping = [lever for lever in lawful if lever.only_helps]
        self._free = [lever for lever in helping if not _costs(lever)]
        self._priced = [lever for lever in helping if _costs(lever)]
        self._all_count = len(helping)
        self._others = [lever for lever in told.levers if lever not in helping]

    def run(self) -> WaysOut:
        """Find sets, then others that differ, then prove that nothing is cheaper."""
        shut = self._test([])
        if shut is not None and shut.keeps:
            return self._kept_anyway(shut)
        self._find()
        if frozenset() in self._found:
            return self._kept_anyway(self._found[frozenset()])
        self._until = OTHERS_SHARE
        self._differ()
        self._until = _WHOLE
        cheaper = Cheaper(self._trials, self._known, self._test, self._free, self._priced)
        best = self._best()
        is_over = (lambda: self._is_over(BRANCH_SHARE), lambda: self._is_over(_WHOLE))
        at_least, is_proved = cheaper.bound(best, self._others, is_over, self._keep)
        sets = self._chosen()
        is_best_same = bool(sets) and best is not None and sets[0] is best
        ways = [
            offered(self._trials, each, proved=is_proved and not at and is_best_same)
            for at, each in enumerate(sets)
        ]
        good = tuple(way for way in ways if way.keeps)
        return replace(
            self._told,
            ways=good,
            free=self._best_free() if good == () or good[0].price else None,
            at_least=at_least,
            stuck=not good and cheaper.is_stuck(self._others, lambda: self._is_over(_WHOLE)),
            trials=self._trials.count,
        )

    def _kept_anyway(self, shut: Tried) -> WaysOut:
        way = offered(self._trials, shut, proved=False)
        return replace(self._told, anyway=way, trials=self._trials.count)

    def _find(self) -> None:
        free = self._test(self._free)
        if free is not None and free.keeps:
            self._drop(free, rounds=3)
            return
        everything = self._test([*self._free, *self._priced])
        if everything is not None and not everything.keeps:
            everything = self._solved(everything)
        if everything is not None and everything.keeps:
            self._drop(everything, rounds=1)
            self._singly()
            self._drop(everything, rounds=ROUNDS - 1)
        self._with_others()

    def _solved(self, tried: Tried) -> Tried:
        """Give a trial of a small book to the solver, where quick plans are not enough."""
        ids = ids_of(tried.levers)
        is_small = self._trials.stages_count <= SOLVED_STAGES
        if tried.schedule is None or not is_small or self._known.is_disproved(ids):
            return tried
        better, never = self._trials.solved(tried, SOLVED_EFFORT)
        if never:
            self._known.disprove(ids)
        elif better.keeps:
            self._known.note(better, 0)
        return better

    def _singly(self) -> None:
        """Try each lever that costs something alone, cheapest first, with all that is free."""
        for lever in sorted(self._priced, key=lambda each: (each.price + each.once, each.id)):
            best = self._best()
            if best is not None and lever.price + lever.once >= price_of(best.levers):
                return
            found = self._test([*self._free, lever])
            if found is not None and found.keeps:
                self._drop(found, rounds=1)
                return

    def _with_others(self) -> None:
        """Try each lever that may also harm, with what is free; the rest is dropped before it."""
        for lever in self._others:
            best = self._best()
            cost = lever.price + lever.once
            if best is not None and cost >= price_of(best.levers):
                continue
            self._with(lever)

    def _with(self, lever: Lever) -> None:
        found = self._test([*self._free, lever])
        if (found is None or not found.keeps) and self._best() is None:
            found = self._test([*self._free, *self._priced, lever])
        if found is not None and found.keeps:
            self._drop(found, rounds=1, held=frozenset({lever.id}))

    def _drop(self, enough: Tried, rounds: int, held: Ids = frozenset()) -> None:
        until = self._until
        for each in range(rounds):
            if self._is_over(self._until):
                break
            # The first set is worth all of the time: it is offered as it comes out.
            self._until = until if self._found else _WHOLE
            draw = None if not self._found and not each else self._draw
            self._keep(dropped(enough, draw, self._test, held))
            self._until = until
        if not self._found:
            self._keep(enough)

    def _keep(self, found: Tried) -> None:
        """Note a set, unless time ran out before it was known that nothing more can go."""
        ids = ids_of(found.levers)
        if self._found and self._is_over(self._until) and ids not in self._found:
            return
        self._found[ids] = found
        if self._on_way is not None and not self._first_told:
            self._first_told = True
            self._on_way(offered(self._trials, found, proved=False, passes=0))

    def _differ(self) -> None:
        """Look for sets that differ: a lever of each that was found barred at once."""
        if self._best() is None:
            return
        for lever in sorted(self._others, key=lambda each: (each.price + each.once, each.id)):
            if len(self._distinct()) < WAYS_MAX and not self._is_over(self._until):
                self._with(lever)
        for turn in range(BARS):
            chosen = self._chosen()
            if len(self._distinct()) >= WAYS_MAX or self._is_over(self._until):
                return
            barred = likeness(_at(each.levers, turn) for each in chosen)
            left = [
                each
                for each in (*self._free, *self._priced)
                if likeness((each,)).isdisjoint(barred)
            ]
            found = self._test(left)
            if found is not None and found.keeps:
                self._drop(found, rounds=1)
        self._solved_singly()

    def _solved_singly(self) -> None:
        """Give a few single levers of a small book to the solver, where only one set is known."""
        if self._trials.stages_count > SOLVED_STAGES:
            return
        levers = [*self._free, *self._priced, *self._others]
        ranked = sorted(levers, key=lambda each: (each.price + each.once, each.id))
        known = {lever.id for tried in self._chosen() for lever in tried.levers}
        for lever in [each for each in ranked if each.id not in known][:SOLVED_SINGLY_MAX]:
            if len(self._chosen()) > 1 or self._is_over(self._until):
                return
            found = self._test([lever])
            better = found if found is None or found.keeps else self._solved(found)
            if better is not None and better.keeps:
                self._keep(better)

    def _test(self, levers: Sequence[Lever]) -> Tried | None:
        ids = ids_of(levers)
        passes = PASSES_SMALL if self._is_small else 0
        if not self._is_small and not self._found and len(levers) == self._all_count:
            passes = PASSES_OPEN
        known = self._known.tried.get(ids)
        if known is not None and (known[1].keeps or known[0] >= passes):
            return known[1]
        if self._is_over(self._until) or self._known.is_disproved(ids):
            return None
        found = self._trials.tried(levers, passes, () if self._is_small else SOONER)
        self._known.note(found, passes)
        if found.keeps and len(found.levers) < len(levers):
            self._known.note_enough(ids, found)
        if not found.keeps and self._trials.is_disproved(found):
            self._known.disprove(ids)
        return found

    @property
    def _is_small(self) -> bool:
        return self._trials.stages_count <= SMALL_STAGES

    def _minimal(self) -> list[Tried]:
        """Return the sets found of which no other is a part, cheapest first."""
        sets = [
            tried
            for ids, tried in self._found.items()
            if not any(other < ids for other in self._found)
        ]
        return sorted(sets, key=lambda tried: cost_of(tried.levers))

    def _best(self) -> Tried | None:
        found = self._minimal()
        return found[0] if found else None

    def _chosen(self) -> list[Tried]:
        """Return the cheapest set and the next two that differ from those before them.

        By what they change rather than by whose hours they take, as far as such were found.
        """
        chosen = self._distinct()
        for tried in self._minimal():
            alike = [each for each in chosen if likeness(each.levers) == likeness(tried.levers)]
            if not alike and len(chosen) < WAYS_MAX:
                chosen.append(tried)
        return sorted(chosen, key=lambda tried: cost_of(tried.levers))

    def _distinct(self) -> list[Tried]:
        """Return the cheapest sets each of which has levers of other kinds."""
        chosen: dict[frozenset[LeverKind], Tried] = {}
        for tried in self._minimal():
            kinds = frozenset(lever.kind for lever in tried.levers)
            if len(chosen) < WAYS_MAX:
                chosen.setdefault(kinds, tried)
        return list(chosen.values())

    def _best_free(self) -> WayOut | None:
        """Return what costs nothing and brings the job nearer, less what brings it no nearer."""
        found = self._known.tried.get(ids_of(self._free))
        base = self._known.tried.get(frozenset())
        if found is None or found[1].schedule is None or not self._free:
            return None
        tried = found[1]
        shut = self._trials.tried(()) if base is None else base[1]
        if tried.late_steps >= shut.late_steps or tried.lost:
            return None
        for lever in self._free:
            left = [each for each in tried.levers if each is not lever]
            less = self._trials.tried(left)
            if less.schedule is not None and less.late_steps <= tried.late_steps and not less.lost:
                tried = less
        return offered(self._trials, tried, proved=False) if tried.levers else None


def _to_the_point(told: WaysOut) -> tuple[Lever, ...]:
    """Return the levers without those that the reason of the miss has nothing to do with.

    Somebody else goes with a journey only where it is the crew that keeps it.
    """
    codes = {clash.code for clash in told.told.reasons}
    if not codes.isdisjoint(_OF_THE_CREW):
        return told.levers
    return tuple(lever for lever in told.levers if lever.kind is not LeverKind.CREW)


def _costs(lever: Lever) -> bool:
    return bool(lever.price or lever.once)


def _at(levers: Sequence[Lever], turn: int) -> Lever:
    """Return the dearest of some levers, in later turns the next ones."""
    ranked = sorted(levers, key=lambda each: (-each.price - each.once, each.id))
    return ranked[turn % len(ranked)]
