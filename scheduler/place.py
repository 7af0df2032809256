"""The placement pass: every stage in an order of urgency, each where it ends soonest.

Stages joined by greatest waits are placed one after another; where one would start too late, the
one before it is moved later by as much and placing goes on from there. A unit that finds a room
filled by what stands there without a known end is put back until something leaves.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import Unfit, place_unit
from scheduler.net import Net, Nets
from scheduler.problem import JobAim, Problem, Schedule
from scheduler.ready import Queue
from scheduler.search import Spot, Why
from scheduler.teams import Team
from scheduler.terms import FOREVER
from scheduler.trips import Trips

__all__ = ["Unfit", "place"]

INSERTED_MAX = 20
WAITS_MAX = 20
"""So often loading is put off until a departure that is soon enough has its crew free."""
_NOWHERE = Spot(start=-1, end=-1, way=-1, team=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """How a pass goes, as `place` says. inserted: the optional stages that are placed."""

    release: Sequence[int] | None = None
    fixed: Mapping[int, Spot] | None = None
    by_time: bool = False
    inserted: frozenset[int] = frozenset()
    teams: Mapping[int, tuple[int, Team]] | None = None


def place(
    index: Index,
    order: Sequence[int],
    *,
    release: Sequence[int] | None = None,
    fixed: Mapping[int, Spot] | None = None,
    inserted: frozenset[int] = frozenset(),
    teams: Mapping[int, tuple[int, Team]] | None = None,
    by_time: bool = False,
) -> Schedule | Unfit:
    """Return a schedule that keeps every rule, or the stage that would not fit.

    order: every stage once, the most urgent first; a stage whose predecessors are not placed
    waits for them. release: by stage, a start before which it is not placed as long as that is
    feasible. fixed: stages placed beforehand, unquestioned. inserted: optional stages to be
    placed from the start; more are put in where a greatest wait can't be kept. teams: by stage, the
    only way and team that are tried. by_time: not the most urgent stage that is ready but the
    one that can start soonest is next, the order breaking ties (list scheduling: nobody idles
    while something in the list could begin).
    """
    wish = Wish(release=release, fixed=fixed, by_time=by_time, inserted=inserted, teams=teams)
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
        self._trips = Trips(index, self._board.busy, self._board.laws)
        self._punctual = {
            stage
            for job in index.problem.jobs
            if job.trip is not None and job.trip.stands_most is not None
            for stage in job.loads
        }
        self._queue = Queue(self._net.waits, self._net.followers, self._ranks)

    def run(self) -> Schedule | Unfit:
        """Place everything."""
        trouble = self._place_fixed()
        if trouble is not None:
            return trouble
        self._trips.keep_windows(self._board.spots.values())
        self._settle(range(len(self._index.problem.jobs)))
        trouble = self._place_units()
        if trouble is not None:
            return trouble
        self._settle_left()
        return self._schedule()

    def _settle_left(self) -> None:
        """Let those leave after all whose crew was kept for a journey that was let go since."""
        spots, jobs = self._board.spots, self._index.problem.jobs
        taken = self._trips.taken
        if any(option < 0 and job.trip for option, job in zip(taken, jobs, strict=True)):
            self._trips.settle_left([self._ends(job) for job in jobs], spots.values())

    def _ends(self, job: JobAim) -> tuple[int, int]:
        """Return when a job whose loading is placed is ready to leave, and when loaded."""
        spots = self._board.spots
        ready = max((spots[last].end for last in job.lasts if last in spots), default=0)
        if not job.loaded:
            return ready, ready
        return ready, max((spots[load].end for load in job.loaded if load in spots), default=0)

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
            trouble = self._place_unit(unit)
            if trouble is not None:
                if trouble.why is not Why.ROOM or not stands.any_open():
                    return trouble
                put_back[unit] = trouble
                continue
            self._queue.done(unit)
            stages = self._net.units[unit]
            self._settle({self._index.problem.stages[stage].job for stage in stages})
            if put_back and stands.close_with(stages):
                self._queue.put_back(put_back)
                put_back = {}
        return next(iter(put_back.values()), None)

    def _place_unit(self, unit: int) -> Unfit | None:
        """Place a unit, so late that its lorry leaves soon enough after loading if it must."""
        board = self._board
        stages = self._punctual.intersection(self._net.units[unit]) - board.spots.keys()
        left = [stage for stage in self._net.units[unit] if stage not in board.spots]
        mark = board.busy.mark()
        trouble = place_unit(board, self._net, unit, self._wish.release)
        for _ in range(WAITS_MAX if stages else 0):
            later = None if trouble is not None else self._ends_later(stages)
            if later is None:
                break
            board.undo(left, mark)
            board.ends_from |= later
            trouble = place_unit(board, self._net, unit, self._wish.release)
            if trouble is not None:
                board.ends_from = {}
                trouble = place_unit(board, self._net, unit, self._wish.release)
                break
        return trouble

    def _ends_later(self, stages: Collection[int]) -> dict[int, int] | None:
        """Return from when on the loading placed last has to end, None where it need not move."""
        spots = self._board.spots
        for job in {self._index.problem.stages[stage].job for stage in stages}:
            aim = self._index.problem.jobs[job]
            if all(load in spots for load in aim.loads):
                end = self._trips.needs_later(job, self._ends(aim), spots.values())
                if end is not None:
                    return {max(stages, key=lambda last: (spots[last].end, last)): end}
        return None

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

    def _settle(self, jobs: Iterable[int]) -> None:
        spots = self._board.spots
        for job in jobs:
            if job < 0:
                continue
            aim = self._index.problem.jobs[job]
            if all(stage in spots for stage in aim.lasts):
                self._trips.settle(job, self._ends(aim), spots.values())

    def _schedule(self) -> Schedule:
        count = len(self._index.problem.stages)
        spots = [self._board.spots.get(stage, _NOWHERE) for stage in range(count)]
        return Schedule(
            starts=tuple(spot.start for spot in spots),
            ends=tuple(spot.end for spot in spots),
            ways=tuple(spot.way for spot in spots),
            teams=tuple(spot.team for spot in spots),
            trips=tuple(self._trips.taken),
        )


def _ranks(net: Net, order: Sequence[int]) -> list[int]:
    ranks = {stage: rank for rank, stage in enumerate(order)}
    return [min(ranks.get(stage, len(order)) for stage in unit) for unit in net.units]
