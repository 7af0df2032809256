"""The placement pass: every stage in an order of urgency, each where it ends soonest.

Stages joined by greatest waits are placed one after another; where one would start too late, the
one before it is moved later by as much and placing goes on from there. A unit that finds a room
filled by what stands there without a known end is put back until something leaves.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import Unfit, place_unit
from scheduler.leaving import Leaving
from scheduler.net import Net, Nets
from scheduler.problem import Problem, Schedule
from scheduler.ready import Queue
from scheduler.search import Spot, Why
from scheduler.teams import Team
from scheduler.terms import FOREVER

__all__ = ["Unfit", "place"]

INSERTED_MAX = 20
Over = Callable[[int, int], bool]
"""Told of each job and when its loading ends, once that is placed; says whether to give up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """How a pass goes, as `place` says. inserted: the optional stages that are placed."""

    release: Sequence[int] | None = None
    fixed: Mapping[int, Spot] | None = None
    by_time: bool = False
    inserted: frozenset[int] = frozenset()
    teams: Mapping[int, tuple[int, Team]] | None = None
    over: Over | None = None


def place(
    index: Index,
    order: Sequence[int],
    *,
    release: Sequence[int] | None = None,
    fixed: Mapping[int, Spot] | None = None,
    inserted: frozenset[int] = frozenset(),
    teams: Mapping[int, tuple[int, Team]] | None = None,
    by_time: bool = False,
    over: Over | None = None,
) -> Schedule | Unfit:
    """Return a schedule that keeps every rule, or the stage that would not fit.

    order: every stage once, the most urgent first; a stage whose predecessors are not placed
    waits for them. release: by stage, a start before which it is not placed as long as that is
    feasible. fixed: stages placed beforehand, unquestioned. inserted: optional stages to be
    placed from the start; more are put in where a greatest wait can't be kept. teams: by stage, the
    only way and team that are tried. by_time: not the most urgent stage that is ready but the
    one that can start soonest is next, the order breaking ties (list scheduling: nobody idles
    while something in the list could begin). over: asked on the way whether the schedule is worth
    nothing any more; then the stage is returned at which it was given up.
    """
    wish = Wish(
        release=release, fixed=fixed, by_time=by_time, inserted=inserted, teams=teams, over=over
    )
    found = _inserting(index, order, wish)
    if isinstance(found, Unfit) and found.why is Why.ROOM and index.terms.stands:
        return _inserting(index, _job_by_job(index.problem, order), wish)
    return found


def _inserting(index: Index, order: Sequence[int], wish: Wish) -> Schedule | Unfit:
    for _ in range(INSERTED_MAX):
        found = _Pass(index, order, wish).run()
        if not isinstance(found, Unfit) or found.insert is None:
            return found
        wish = replace(wish, inserted=wish.inserted | {found.insert})
    return found


def _job_by_job(problem: Problem, order: Sequence[int]) -> list[int]:
    first: dict[int, int] = {}
    for rank, stage in enumerate(order):
        first.setdefault(problem.stages[stage].job, rank)
    return sorted(order, key=lambda stage: first[problem.stages[stage].job])


class _Pass:
    """One placement pass; `run` may be called once."""

    def __init__(self, index: Index, order: Sequence[int], wish: Wish) -> None:
        self._index = index
        self._wish = wish
        self._net = index.once(Nets).net(wish.inserted)
        self._ranks = _ranks(self._net, order)
        self._board = Board(index, self._net, wish.teams)
        self._leaving = Leaving(index, self._net, self._board)
        self._queue = Queue(self._net.waits, self._net.followers, self._ranks)

    def run(self) -> Schedule | Unfit:
        """Place everything."""
        trouble = self._place_fixed()
        if trouble is not None:
            return trouble
        self._leaving.begin()
        if self._is_over(range(len(self._index.problem.jobs))):
            return Unfit(stage=0, why=Why.NO_TIME)
        trouble = self._place_units()
        if trouble is not None:
            return trouble
        self._leaving.settle_left()
        return self._leaving.schedule()

    def _place_fixed(self) -> Unfit | None:
        board = self._board
        for stage, spot in (self._wish.fixed or {}).items():
            board.book(stage, spot)
        bounds = self._index.terms.bounds
        pinned = [stage for stage in self._net.active if bounds[stage].fixed]
        asked = self._index.problem.stages
        # What is under way counts in the limits of a day that others are held to.
        pinned.sort(
            key=lambda stage: (not asked[stage].under_way, bounds[stage].earliest_start, stage)
        )
        for stage in pinned:
            if stage not in board.spots:
                found = board.find(stage)
                if found is None:
                    return Unfit(stage=stage, why=board.why)
                board.book(stage, found)
        return None

    def _place_units(self) -> Unfit | None:
        put_back: dict[int, Unfit] = {}
        stands = self._board.stands
        while (unit := self._next()) is not None:
            trouble = self._leaving.place_unit(unit, self._wish.release)
            if trouble is not None:
                if trouble.why is not Why.ROOM or not stands.any_open():
                    return trouble
                put_back[unit] = trouble
                continue
            self._queue.done(unit)
            stages = self._net.units[unit]
            jobs = {self._index.problem.stages[stage].job for stage in stages}
            self._leaving.settle(jobs)
            if self._is_over(jobs):
                return Unfit(stage=stages[0], why=Why.NO_TIME)
            if put_back and stands.close_with(stages):
                self._queue.put_back(put_back)
                put_back = {}
        return next(iter(put_back.values()), None)

    def _is_over(self, jobs: Iterable[int]) -> bool:
        """Return whether to give up, now that more of some jobs is placed."""
        over = self._wish.over
        if over is None:
            return False
        for job in jobs:
            end = self._leaving.loaded(job)
            if end is not None and over(job, end):
                return True
        return False

    def _next(self) -> int | None:
        if not self._wish.by_time:
            return self._queue.pop()
        ready = self._queue.ready()
        if not ready:
            return None
        soonest = min(ready, key=self._could_start)
        self._queue.take(soonest)
        return soonest

    def _could_start(self, unit: int) -> tuple[int, int]:
        board = self._board
        stages = [stage for stage in self._net.units[unit] if stage not in board.spots]
        mark = board.busy.mark()
        if place_unit(board, self._net, unit, self._wish.release) is not None:
            return FOREVER, self._ranks[unit]
        start = min((board.spots[stage].start for stage in stages), default=0)
        board.undo(stages, mark)
        return start, self._ranks[unit]


def _ranks(net: Net, order: Sequence[int]) -> list[int]:
    ranks = {stage: rank for rank, stage in enumerate(order)}
    return [min(ranks.get(stage, len(order)) for stage in unit) for unit in net.units]
