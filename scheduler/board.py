"""The board of one pass: where every stage is placed so far, and where the next one may lie."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from scheduler.busy import Busy
from scheduler.calendar import Index
from scheduler.laws import laws_of
from scheduler.net import Net
from scheduler.problem import Problem
from scheduler.search import Search, Spot, Why, Window
from scheduler.stands import Stands
from scheduler.teams import Team
from scheduler.terms import FOREVER, Link


class Board:
    """Spots by stage, with everything that they take.

    delays: by stage, the least start and least end that a chain asks for just now. hopes: by
    stage, a start before which it is not placed, while that is feasible. teams: by stage, the
    only way and team that are tried. ends_from: by stage, the least end that a journey asks for.
    """

    def __init__(
        self, index: Index, net: Net, teams: Mapping[int, tuple[int, Team]] | None = None
    ) -> None:
        self._index = index
        self.net = net
        self.busy = Busy(index)
        self.stands = Stands(index, self.busy)
        self.spots: dict[int, Spot] = {}
        self.delays: dict[int, tuple[int, int]] = {}
        self.hopes: Sequence[int] | None = None
        self.ends_from: dict[int, int] = {}
        self.laws = laws_of(index)
        self._search = Search(index, self.busy, self.laws, teams)
        self._owed = _Owed(index.problem, net.active)

    @property
    def why(self) -> Why:
        """Return why the last search found nothing."""
        return self._search.why

    def find(self, stage: int, *, waits_free: Collection[int] = ()) -> Spot | None:
        """Return the best spot for a stage.

        waits_free: stages from which no greatest wait counts.
        """
        window = self._window(stage, waits_free)
        if window.earliest_start >= FOREVER or window.earliest_end >= FOREVER:
            self._search.why = Why.NO_TIME
            return None
        only = None if self.laws is None else self.laws.team_of(stage, self.spots)
        spare = self._owed.without(stage)
        return self._search.find(stage, window, self.stands.ends, spare, only)

    def _window(self, stage: int, waits_free: Collection[int]) -> Window:
        window = Window(self._index.terms.bounds[stage])
        if self.hopes is not None:
            window.no_sooner(self.hopes[stage], end=False)
        if stage in self.delays:
            start, end = self.delays[stage]
            window.no_sooner(start, end=False)
            window.no_sooner(end, end=True)
        if stage in self.ends_from:
            window.no_sooner(self.ends_from[stage], end=True)
        for link in self.net.ins[stage]:
            spot = self.spots.get(link.before)
            if spot is not None:
                bound_after(window, link, spot, has_most=link.before not in waits_free)
        for link in self.net.outs[stage]:
            spot = self.spots.get(link.after)
            if spot is not None:
                bound_before(window, link, spot)
        return window

    def book(self, stage: int, spot: Spot) -> None:
        """Place a stage."""
        self.spots[stage] = spot
        self._owed.settle(stage)
        if spot.end > spot.start:
            for worker in spot.team:
                self.busy.book_worker(worker, spot.start, spot.end)
        for claim in self._index.terms.claims[stage][spot.way]:
            start, end = claim.begins(spot.start), claim.ends(spot.end)
            self.busy.book_room(claim.room, start, end, claim.units)
        for consumable, units in self._index.problem.stages[stage].ways[spot.way].consumes:
            self.busy.use_up(consumable, units)
        self.stands.book(stage, spot)
        if self.laws is not None:
            self.laws.book(stage, spot)

    def lift(self, stage: int) -> None:
        """Take one stage from the board, whenever it was placed."""
        spot = self.spots.pop(stage)
        if self.laws is not None:
            self.laws.take_back(stage, spot)
        self._owed.reopen(stage)
        self.stands.lift(stage, spot)
        if spot.end > spot.start:
            for worker in spot.team:
                self.busy.free_worker(worker, spot.start, spot.end)
        for claim in self._index.terms.claims[stage][spot.way]:
            start, end = claim.begins(spot.start), claim.ends(spot.end)
            self.busy.book_room(claim.room, start, end, -claim.units)
        for consumable, units in self._index.problem.stages[stage].ways[spot.way].consumes:
            self.busy.use_up(consumable, -units)

    def undo(self, stages: Iterable[int], mark: int) -> None:
        """Take stages from the board that were placed since the mark."""
        for stage in stages:
            spot = self.spots.pop(stage)
            if self.laws is not None:
                self.laws.take_back(stage, spot)
            self._owed.reopen(stage)
            self.stands.forget(stage)
        self.busy.undo(mark)


class _Owed:
    """How much of each consumable the stages still to come need at least."""

    def __init__(self, problem: Problem, active: Iterable[int]) -> None:
        self._count = len(problem.consumables)
        self._least: dict[int, list[int]] = {}
        self._sum = [0] * self._count
        for stage in active if self._count else ():
            ways = [dict(way.consumes) for way in problem.stages[stage].ways]
            least = [min(way.get(each, 0) for way in ways) for each in range(self._count)]
            if any(least):
                self._least[stage] = least
                self._add(least, 1)

    def settle(self, stage: int) -> None:
        if stage in self._least:
            self._add(self._least[stage], -1)

    def reopen(self, stage: int) -> None:
        if stage in self._least:
            self._add(self._least[stage], 1)

    def without(self, stage: int) -> Sequence[int]:
        least = self._least.get(stage)
        if least is None:
            return self._sum
        return [owed - own for owed, own in zip(self._sum, least, strict=True)]

    def _add(self, least: Sequence[int], sign: int) -> None:
        for each, units in enumerate(least):
            self._sum[each] += sign * units


def bound_after(window: Window, link: Link, spot: Spot, *, has_most: bool) -> None:
    """Bound a stage by the link from one that is placed before it."""
    came = spot.end if link.from_end else spot.start
    if link.lag is not None:
        ready = link.lag.of(came)
        window.no_sooner(FOREVER if ready is None else ready, end=link.to_end)
    if link.most is not None and has_most:
        latest = link.most.of(came)
        if latest is not None:
            window.no_later(latest, end=link.to_end)


def bound_before(window: Window, link: Link, spot: Spot, *, has_most: bool = True) -> None:
    """Bound a stage by the link to one that is placed after it."""
    comes = spot.end if link.to_end else spot.start
    if link.lag is not None:
        latest = link.lag.inverse(comes)
        window.no_later(-1 if latest is None else latest, end=link.from_end)
    if link.most is not None and has_most:
        least = link.most.inverse(comes)
        if least is not None:
            window.no_sooner(least, end=link.from_end)
