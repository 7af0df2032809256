"""Placing what broke around what is kept: in rounds, each of which lets go a little more."""

from collections.abc import Collection, Iterable
from copy import copy
from typing import TYPE_CHECKING

from scheduler.board import Board
from scheduler.broken import broken
from scheduler.calendar import Index
from scheduler.departing import departures
from scheduler.edited import Carried
from scheduler.grid import DAY_STEPS
from scheduler.leaving import Leaving
from scheduler.net import Nets
from scheduler.placing import Placing
from scheduler.problem import Schedule
from scheduler.search import Spot
from scheduler.terms import FOREVER
from scheduler.urgency import Urgency

if TYPE_CHECKING:
    from scheduler.chain import Unfit
    from scheduler.teams import Team

AHEAD_STEPS = 30 * DAY_STEPS
"""So long before its latest start a stage that is new is first tried."""
Found = dict[int, Spot]


class Refit:
    """What is kept of an earlier schedule, and the rounds in which the rest is placed.

    freed: stages that are placed anew although nothing may be wrong with them. ahead: so long
    before its latest start a stage that is new is first tried.
    """

    def __init__(
        self,
        index: Index,
        kept: Carried,
        freed: Collection[int] = (),
        ahead: int = AHEAD_STEPS,
    ) -> None:
        self._index, self._carried = index, kept
        self._inserted = frozenset(
            stage for stage in kept.starts if index.problem.stages[stage].optional
        )
        self._net = index.once(Nets).net(self._inserted)
        self._trips = {job: at for job, at in kept.trips.items() if self._is_in_time(job, at)}
        self._hopes = self._all_hopes(ahead)
        self._kept = self._sound(freed)
        self._let_go_count = 0
        self._stuck: list[Unfit] = []
        self._in_the_way: set[int] = set()

    def copied(self, ahead: int) -> "Refit":
        """Return the same before any round, with stages that are new first tried so much ahead."""
        other = copy(self)
        other._trips, other._kept = dict(self._trips), dict(self._kept)
        other._hopes = self._all_hopes(ahead)
        return other

    def _is_in_time(self, job: int, option: int) -> bool:
        trip = self._index.problem.jobs[job].trip
        return trip is not None and trip.is_in_time(option)

    def _sound(self, freed: Collection[int]) -> Found:
        """Return what can stay where it was, with what must not move in front."""
        active = set(self._net.active)
        firm = self._firm()
        spots = dict(firm)
        for stage, spot in self._carried.spots.items():
            if stage in active and stage not in firm and stage not in freed:
                spots[stage] = spot
        self._trips |= departures(self._index.problem, spots, self._trips)
        found = broken(self._index, self._net, spots, self._trips, firm)
        for job in found.jobs:
            del self._trips[job]
        return {stage: spot for stage, spot in spots.items() if stage not in found.stages}

    def _firm(self) -> Found:
        """Return where stages are that are pinned or under way, whatever else there is."""
        bounds, asked = self._index.terms.bounds, self._index.problem.stages
        stages = [one for one in self._net.active if bounds[one].fixed or asked[one].under_way]
        stages.sort(key=lambda one: (not asked[one].under_way, bounds[one].earliest_start, one))
        same: dict[int, tuple[int, Team]] = {}
        board = Board(self._index, self._net, same)
        for stage in stages:
            spot = self._carried.spots.get(stage)
            if spot is not None:
                same[stage] = spot.way, spot.team
            found = board.find(stage)
            if found is None and same.pop(stage, None) is not None:
                found = board.find(stage)
            if found is not None:
                board.book(stage, found)
        return board.spots

    def _all_hopes(self, ahead: int) -> list[int]:
        """Return when each stage was planned; for a new one, some time before its latest start."""
        starts = self._carried.starts
        count = len(self._index.problem.stages)
        if all(stage in starts for stage in self._net.active):
            return [starts.get(stage, 0) for stage in range(count)]
        latest = self._index.once(Urgency).latest_starts
        return [
            starts[stage] if stage in starts else _ahead(latest[stage], ahead)
            for stage in range(count)
        ]

    def round(self) -> Schedule | None:
        """Place everything that is not kept; None where something got stuck."""
        same: dict[int, tuple[int, Team]] = {}
        board = Board(self._index, self._net, same)
        leaving = Leaving(self._index, self._net, board, self._trips)
        for stage, spot in self._kept.items():
            board.book(stage, spot)
        leaving.begin()
        placing = Placing(self._index, self._net, board, leaving, same)
        self._stuck = placing.run(self._carried.spots, self._hopes)
        self._in_the_way = placing.in_the_way
        if self._stuck:
            return None
        leaving.settle_left()
        return leaving.schedule()

    @property
    def since(self) -> int:
        """Return when the first stage was planned that is not kept; the horizon for none."""
        missing = (stage for stage in self._net.active if stage not in self._kept)
        return min((self._hopes[stage] for stage in missing), default=self._index.problem.horizon)

    def let_go(self, most: int) -> bool:
        """Let go what stands in the way of what got stuck; False where nothing does, or too much.

        most: so many may be let go in all.
        """
        if not self._stuck:
            return True
        freed = self._movable(self._in_the_way)
        for trouble in self._stuck:
            freed |= self._around(self._net.unit_of[trouble.stage])
        if self._let_go_count + len(freed) > most:
            return False
        self._let_go_count += len(freed)
        for stage in freed:
            del self._kept[stage]
        inserts = {trouble.insert for trouble in self._stuck if trouble.insert is not None}
        wanted = frozenset(inserts) - self._inserted
        if wanted and not freed:
            self._inserted |= wanted
            self._net = self._index.once(Nets).net(self._inserted)
        return bool(freed or wanted)

    def _around(self, unit: int) -> set[int]:
        """Return what is kept of a unit, else of the units after it, else of those before."""
        members = self._net.units[unit]
        after = [link.after for stage in members for link in self._net.outs[stage]]
        before = [link.before for stage in members for link in self._net.ins[stage]]
        own = self._movable(members)
        if own or self._in_the_way:
            return own
        return self._movable(self._units_of(after)) or self._movable(self._units_of(before))

    def _units_of(self, stages: Iterable[int]) -> set[int]:
        net = self._net
        units = {net.unit_of[stage] for stage in stages}
        return {stage for unit in units for stage in net.units[unit]}

    def _movable(self, stages: Iterable[int]) -> set[int]:
        """Return those that are kept and may move."""
        bounds, asked = self._index.terms.bounds, self._index.problem.stages
        return {
            stage
            for stage in stages
            if stage in self._kept and not (bounds[stage].fixed or asked[stage].under_way)
        }


def _ahead(latest_start: int, steps: int) -> int:
    return 0 if latest_start >= FOREVER else max(0, latest_start - steps)
