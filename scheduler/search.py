"""Where a stage fits soonest: the choice of way, team and start that ends first.

A choice is worth its end plus what speaks against it. Choices are tried in the order of what
they could be worth at best, until none can beat the best found.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from scheduler.busy import Busy
from scheduler.calendar import Index, next_allowed
from scheduler.choices import Choice, Choices, Menu
from scheduler.demands import Demand, Demands
from scheduler.laws import Laws
from scheduler.teams import Team
from scheduler.terms import FOREVER, Bounds

NEAR_COUNT = 6
"""First only teams of the so many who are free soonest for each need are tried."""
TOLD_BONUS_STEPS = 48
"""A team that was told may end so many steps later than another and still be taken."""
_NEVER = FOREVER + 1


class Why(StrEnum):
    """Why a stage fits nowhere, by code."""

    NOBODY = "nobody"
    NO_TIME = "no_time"
    ROOM = "room"
    STOCK = "stock"
    WAIT = "wait"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a stage is placed."""

    start: int
    end: int
    way: int
    team: Team


class Window:
    """Where start and end may lie just now, both limits included."""

    __slots__ = ("earliest_end", "earliest_start", "latest_end", "latest_start")

    def __init__(self, bounds: Bounds) -> None:
        self.earliest_start = bounds.earliest_start
        self.latest_start = bounds.latest_start
        self.earliest_end = bounds.earliest_end
        self.latest_end = bounds.latest_end

    def no_sooner(self, t: int, *, end: bool) -> None:
        """Let start or end be no sooner than t."""
        if end:
            self.earliest_end = max(self.earliest_end, t)
        else:
            self.earliest_start = max(self.earliest_start, t)

    def no_later(self, t: int, *, end: bool) -> None:
        """Let start or end be no later than t."""
        if end:
            self.latest_end = min(self.latest_end, t)
        else:
            self.latest_start = min(self.latest_start, t)


class Search:
    """Looks for spots among the bookings of a pass. why: why the last look found none."""

    def __init__(
        self,
        index: Index,
        busy: Busy,
        laws: Laws | None,
        teams: Mapping[int, tuple[int, Team]] | None = None,
    ) -> None:
        self._index = index
        self._laws = laws
        self._teams = {} if teams is None else teams
        self._choices = index.once(Choices)
        self._busy = busy
        self._demands = index.once(Demands)
        self._spare: Sequence[int] = ()
        self._tellings = [_told(stage.told_team) for stage in index.problem.stages]
        self.why = Why.NO_TIME

    def find(
        self,
        stage: int,
        window: Window,
        ends: Mapping[int, int],
        spare: Sequence[int],
        only: Team | None = None,
    ) -> Spot | None:
        """Return the best spot in the window.

        ends: by stage that ends a stand, its end if placed. spare: by consumable, what must be
        left for others. only: the team that is tried, if there is work.
        """
        self._spare = spare
        menu = self._choices.menu(stage)
        self.why = Why.NO_TIME if menu.choices or not menu.whole else Why.NOBODY
        free = {
            worker: self._busy.free_from(worker, window.earliest_start)
            for pool in menu.pools
            for worker in pool
        }
        stands = self._demands.of_stands(stage, ends)
        if stage in self._teams:
            choices = self._only(stage, menu)
            return self._best(stage, window, choices, free, stands)
        if only is not None:
            choices = self._by_team(stage, menu, only)
            self.why = Why.NO_TIME if choices else Why.NOBODY
            return self._best(stage, window, choices, free, stands)
        near = _near(menu.pools, free, self._index.problem.stages[stage].told_team)
        if near is None and menu.whole:
            return self._best(stage, window, menu.choices, free, stands)
        soonest = near if near is not None else set(free)
        few = self._few(stage, menu.choices, soonest, whole=menu.whole)
        best = self._best(stage, window, few, free, stands)
        if best is not None or not menu.choices:
            return best
        return self._best(stage, window, menu.choices, free, stands)

    def _only(self, stage: int, menu: Menu) -> Sequence[Choice]:
        way, team = self._teams[stage]
        choices = menu.choices if menu.whole else self._choices.among(stage, team)
        return [choice for choice in choices if choice.way == way and choice.team == team]

    def _by_team(self, stage: int, menu: Menu, team: Team) -> Sequence[Choice]:
        choices = menu.choices if menu.whole else self._choices.among(stage, team)
        return [choice for choice in choices if choice.team == team or not choice.work]

    def _few(
        self, stage: int, choices: Sequence[Choice], near: set[int], *, whole: bool
    ) -> Sequence[Choice]:
        asked = self._index.problem.stages[stage].asked
        near.update(asked)
        if whole:
            return [choice for choice in choices if near.issuperset(choice.team)]
        return self._choices.among(stage, near)

    def _best(
        self,
        stage: int,
        window: Window,
        choices: Sequence[Choice],
        free: Mapping[int, int],
        stands: Sequence[Demand],
    ) -> Spot | None:
        told = self._tellings[stage]
        earliest = window.earliest_start
        ranked = []
        for number, choice in enumerate(choices):
            t = earliest if earliest > choice.early else choice.early
            for worker in choice.team:
                if free[worker] > t:
                    t = free[worker]
            against = choice.penalty - (TOLD_BONUS_STEPS if choice.team == told else 0)
            ranked.append((t + choice.work + against, number, t, against))
        ranked.sort()
        best: Spot | None = None
        ceiling = _NEVER
        for least, number, t, against in ranked:
            if least >= ceiling:
                break
            choice = choices[number]
            found = self._try(stage, window, choice, t, (ceiling - against, stands))
            if found is not None:
                ceiling = found[1] + against
                best = Spot(start=found[0], end=found[1], way=choice.way, team=choice.team)
        return best

    def _try(
        self,
        stage: int,
        window: Window,
        choice: Choice,
        t: int,
        limits: tuple[int, Sequence[Demand]],
    ) -> tuple[int, int] | None:
        ceiling, stands = limits
        demands = self._demands.of_way(stage, choice.way)
        if stands:
            demands = (*demands, *stands)
        if not self._is_in_stock(stage, choice.way):
            self.why = Why.STOCK
            return None
        latest_end = min(window.latest_end, choice.late, ceiling - 1)
        latest_start = window.latest_start
        bounds = self._index.terms.bounds[stage]
        is_anywhere = bounds.starts is None and bounds.ends is None
        while True:
            found = choice.fit(self._index, stage, t)
            if found is None:
                return None
            start, end = found
            if start > latest_start or end > latest_end:
                return None
            later = -1
            if not is_anywhere or end < window.earliest_end:
                later = self._later(stage, window, choice, found)
            if later < 0:
                later = self._held_until(choice, demands, start, end)
            if later < 0 and self._laws is not None and end > start:
                later = self._laws.later(stage, choice.team, choice.hours, found)
            if later < 0:
                return found
            if later >= FOREVER:
                self.why = Why.ROOM if later == FOREVER else self.why
                return None
            t = max(later, start + 1)

    def _later(self, stage: int, window: Window, choice: Choice, span: tuple[int, int]) -> int:
        """Return a later start if start or end lie where they may not, else -1."""
        bounds = self._index.terms.bounds[stage]
        start, end = span
        if bounds.starts is not None:
            allowed = next_allowed(bounds.starts, start)
            if allowed != start:
                return _NEVER if allowed is None else allowed
        if end >= window.earliest_end and bounds.ends is None:
            return -1
        wanted: int | None = max(end, window.earliest_end)
        if bounds.ends is not None and wanted is not None:
            wanted = next_allowed(bounds.ends, wanted)
        if wanted == end:
            return -1
        if wanted is None or wanted >= FOREVER:
            return _NEVER
        reached = self._index.ending_at(choice.team, choice.way, stage, wanted)
        return _NEVER if reached is None else reached[0]

    def _held_until(self, choice: Choice, demands: Sequence[Demand], start: int, end: int) -> int:
        """Return a later start if somebody or something is taken, else -1."""
        later = -1
        if end > start and choice.team:
            later = self._busy.blocked_until(choice.team, start, end)
        for demand in demands:
            claim = demand.claim
            until = demand.until if demand.until is not None else claim.ends(end)
            crowded = self._busy.crowded_until(claim.room, claim.begins(start), until, demand.most)
            if crowded >= FOREVER:
                return FOREVER
            if crowded >= 0:
                later = max(later, claim.start_after(crowded))
        return later

    def _is_in_stock(self, stage: int, way: int) -> bool:
        consumes = self._index.problem.stages[stage].ways[way].consumes
        return not consumes or all(
            self._busy.stock[consumable] - units >= self._spare[consumable]
            for consumable, units in consumes
        )


def _near(pools: Sequence[Team], free: Mapping[int, int], told: Team | None) -> set[int] | None:
    """Return who is free soonest for each need, or None where that is nearly everybody."""
    if all(len(pool) <= NEAR_COUNT for pool in pools):
        return None
    near = set(told or ())
    for pool in pools:
        near.update(sorted(pool, key=lambda worker: free[worker])[:NEAR_COUNT])
    return near


def _told(team: Team | None) -> Team | None:
    return None if not team else tuple(sorted(team))
