"""Where a stage fits soonest: the choice of way, team and start that ends first.

A team is worth its end plus what speaks against it; of teams worth as much, the one that could
have ended first for all that its members were free wins, then the first way and team. No team can
end before any of its members could alone, so teams are formed of those who could end soonest, and
tried until none can beat the best found.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from typing import Final

from scheduler.busy import Busy
from scheduler.calendar import Index, next_allowed
from scheduler.choices import Choice, Choices, Menu, Offer, near
from scheduler.demands import Demand, Demands
from scheduler.hours import Runs
from scheduler.laws import Laws
from scheduler.sorted_ints import bisect_left, bisect_right
from scheduler.teams import Team, teams_among
from scheduler.terms import FOREVER, Bounds

NEAR_COUNT: Final = 6
"""First only teams of the so many who are free soonest for each need are tried."""
TOLD_BONUS_STEPS: Final = 48
"""A team that was told may end so many steps later than another and still be taken."""
_NEVER: Final = FOREVER + 1
_UNKNOWN: Final = (-1, 0, 0, 0)
Member = tuple[int, int, int]
"""The end and start of the work as far as one worker alone goes, and the worker."""


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
    """Looks for spots among the bookings of a pass. why: why the last look found none.

    teams: by stage, the only way and team that are tried; it may change while the pass runs.
    """

    def __init__(
        self,
        index: Index,
        busy: Busy,
        laws: Laws | None,
        teams: Mapping[int, tuple[int, Team]] | None = None,
    ) -> None:
        self._index = index
        self._workers = index.problem.workers
        self._laws = laws
        self._teams = {} if teams is None else teams
        self._choices = index.once(Choices)
        self._busy = busy
        self._starts, self._ends = busy.starts, busy.ends
        self._demands = index.once(Demands)
        self.why = Why.NO_TIME
        self._stage = 0
        self._window = Window(Bounds())
        self._told: Team | None = None
        self._free: dict[int, int] = {}
        self._stands: tuple[Demand, ...] = ()
        self._spare: Sequence[int] = ()
        self._is_thorough = False
        self._known: dict[Offer, dict[int, tuple[int, int, int, int]]] = {}
        self._forget()

    def _forget(self) -> None:
        """Forget the best found so far."""
        self._worth = _NEVER
        self._rank: tuple[int, int, Team] = (_NEVER, 0, ())
        self._best: tuple[int, int, int, Team] = (-1, -1, -1, ())

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
        menu = self._choices.menu(stage)
        self._ask(stage, window, menu)
        self._stands, self._spare = self._demands.of_stands(stage, ends), spare
        self._forget()
        self.why = Why.NO_TIME if menu.has_any or not menu.whole else Why.NOBODY
        if stage in self._teams:
            way, team = self._teams[stage]
            self._look_with([menu.offer(way)], team)
        elif only is not None:
            self._look_with(menu.offers, only)
        else:
            self._look(menu)
        if self._worth >= _NEVER:
            return None
        start, end, way, team = self._best
        return Spot(start=start, end=end, way=way, team=team)

    def _ask(self, stage: int, window: Window, menu: Menu) -> None:
        told = self._index.problem.stages[stage].told_team
        self._stage, self._window = stage, window
        self._told = tuple(sorted(told)) if told else None
        earliest = window.earliest_start
        free = self._free = {}
        for worker in menu.workers:
            until = self._ends[worker][bisect_right(self._starts[worker], earliest) - 1]
            free[worker] = until if until > earliest else earliest

    def _look(self, menu: Menu) -> None:
        """Look with whom is free soonest, then with everybody if they are not too many."""
        asked = self._index.problem.stages[self._stage]
        soonest = near(menu.pools, self._free, asked.told_team, NEAR_COUNT)
        if soonest is not None:
            soonest.update(asked.asked)
        self._look_among(menu.offers, soonest)
        if self._worth >= _NEVER and menu.has_any and (soonest is not None or not menu.whole):
            self._look_among([offer for offer in menu.offers if offer.party.whole], None)

    def _look_among(self, offers: Sequence[Offer], among: set[int] | None) -> None:
        for offer in offers:
            if self._is_in_stock(offer.way):
                self._try_offer(offer, among)
        if self._worth >= _NEVER:
            self._say_why((offer, self._teams_of(offer, among)) for offer in offers)

    def _look_with(self, offers: Iterable[Offer], team: Team) -> None:
        """Look with one team only, where there is work."""
        tried = [(offer, [team if offer.work else ()]) for offer in offers]
        self.why = Why.NOBODY if not any(o.party.choice(t[0]) for o, t in tried) else Why.NO_TIME
        for offer, only in tried:
            if self._is_in_stock(offer.way):
                self._try(offer, only[0], (self._window.earliest_start, 0))
        if self._worth >= _NEVER:
            self._say_why(tried)

    def _try_offer(self, offer: Offer, among: set[int] | None) -> None:
        party = offer.party
        from_on = self._with_room(offer)
        if not offer.hands:
            self._try(offer, (), (from_on, from_on))
            return
        if party.others < 0:
            return
        chosen = party.eligible
        if among is not None:
            chosen = tuple(worker for worker in chosen if worker in among)
        members = self._members(offer, chosen, from_on)
        if not party.asked:
            self._try_teams(offer, members, (), (from_on, from_on))
            return
        asked = [member for member in members if member[2] in party.asked]
        if len(asked) == len(party.asked):
            rest = [member for member in members if member[2] not in party.asked]
            bound = (max(member[1] for member in asked), asked[-1][0])
            self._try_teams(offer, rest, party.asked, bound)

    def _members(self, offer: Offer, chosen: Iterable[int], from_on: int) -> list[Member]:
        """Return when each could start and end alone, at best, who ends first before the others."""
        work, party = offer.least, offer.party
        latest_start, last = self._window.latest_start, self._window.latest_end
        against = offer.against - (TOLD_BONUS_STEPS if self._told else 0)
        if self._worth - against < last:
            last = self._worth - against
        known = self._known.get(offer)
        if known is None:
            known = self._known[offer] = {}
        changes, free = self._busy.changes, self._free
        found: list[Member] = []
        for worker in chosen:
            t = free[worker]
            if t < from_on:
                t = from_on
            if t + work > last:
                continue
            alone = known.get(worker, _UNKNOWN)
            if alone[0] != changes[worker] or t < alone[1] or t > alone[2]:
                alone = self._alone(party.own(worker), work, worker, t)
                known[worker] = alone
            if alone[2] <= latest_start and alone[3] <= last:
                found.append((alone[3], alone[2], worker))
        found.sort()
        return found

    def _alone(self, runs: Runs, work: int, worker: int, t: int) -> tuple[int, int, int, int]:
        """Return when work could start and end as far as one worker goes, from t on.

        Before that: how often what they do was written, and t.
        """
        since = t
        starts, ends = self._starts[worker], self._ends[worker]
        while True:
            memo = runs.memo
            if memo[0] != work or t < memo[1] or t > memo[2]:
                memo = runs.reach(t, work)
            start, end = memo[2], memo[3]
            t = ends[bisect_left(starts, end) - 1]
            if t <= start:
                return self._busy.changes[worker], since, start, end

    def _try_teams(
        self, offer: Offer, members: Sequence[Member], asked: Team, bound: tuple[int, int]
    ) -> None:
        """Try teams of those asked for and others, those who could end soonest first.

        bound: when those asked for can start and end at the soonest.
        """
        count = offer.party.others
        if not count:
            self._try(offer, asked, bound)
            return
        against = offer.against - (TOLD_BONUS_STEPS if self._told else 0)
        least_end = max(bound[1], self._window.earliest_end)
        for at, (end, start, worker) in enumerate(members):
            if end < least_end:
                end = least_end
            if start < bound[0]:
                start = bound[0]
            if end + against >= self._worth:
                if end + against > self._worth:
                    break
                least = max(self._free[worker], self._window.earliest_start) + offer.least
                smallest = sorted(member[2] for member in members[:at])[: count - 1]
                if (least + against, offer.way, _team((*asked, *smallest), worker)) > self._rank:
                    continue
            if count == 1:
                self._try(offer, (worker,) if not asked else _team(asked, worker), (start, end))
                continue
            for others in combinations(members[:at], count - 1):
                since = start
                for _, one_start, _ in others:
                    if one_start > since:
                        since = one_start
                team = _team((*asked, *(other for _, _, other in others)), worker)
                self._try(offer, team, (since, end))

    def _try(self, offer: Offer, team: Team, bound: tuple[int, int]) -> None:
        """Try one team, which can neither start nor end before the bound; keep it if best."""
        choice = offer.party.choice(team)
        if choice is None:
            return
        work = offer.usual if choice.is_usual else offer.steps(choice, self._workers)
        against = work * offer.hands // 2 + offer.dear
        if team == self._told and team:
            against -= TOLD_BONUS_STEPS
        t = self._window.earliest_start
        if choice.early > t:
            t = choice.early
        for worker in team:
            if self._free[worker] > t:
                t = self._free[worker]
        rank = (t + work + against, offer.way, team)
        last = self._worth - against
        if rank > self._rank:
            last -= 1
        if last > self._window.latest_end:
            last = self._window.latest_end
        if last > choice.late:
            last = choice.late
        start, end = bound
        if end > last:
            return
        found = self._first(offer.way, choice, work, start if start > t else t, last)
        if found is not None:
            self._worth, self._rank = found[1] + against, rank
            self._best = (found[0], found[1], offer.way, team)

    def _first(
        self, way: int, choice: Choice, work: int, t: int, last: int
    ) -> tuple[int, int] | None:
        """Return the first start and end from t on, None where it would end after `last`."""
        window, runs = self._window, choice.runs
        latest_start = window.latest_start
        bounds = self._index.terms.bounds[self._stage]
        is_anywhere = bounds.starts is None and bounds.ends is None
        demands = self._demands.of_way(self._stage, way)
        if self._stands:
            demands = (*demands, *self._stands)
        while True:
            memo = runs.memo
            if memo[0] != work or t < memo[1] or t > memo[2]:
                memo = runs.reach(t, work)
            start, end = memo[2], memo[3]
            if start > latest_start or end > last:
                return None
            later = -1
            if not is_anywhere or end < window.earliest_end:
                later = self._later(choice, work, start, end)
            if later < 0:
                later = self._busy.blocked_until(choice.team, start, end)
                if later < 0 or self._is_thorough:
                    later = max(later, self._crowded(demands, start, end))
            if later < 0 and self._laws is not None and end > start:
                later = self._laws.later(self._stage, choice.team, runs.hours, (start, end))
            if later < 0:
                return start, end
            if later >= FOREVER:
                self.why = Why.ROOM if later == FOREVER else self.why
                return None
            t = later if later > start else start + 1

    def _crowded(self, demands: Sequence[Demand], start: int, end: int) -> int:
        """Return a later start if some room is taken, FOREVER if for ever, else -1."""
        later = -1
        for demand in demands:
            crowded = self._busy.crowded_until(
                demand.room, demand.begins(start), demand.ends(end), demand.most
            )
            if crowded >= FOREVER:
                return FOREVER
            if crowded >= 0:
                later = max(later, demand.start_after(crowded))
        return later

    def _with_room(self, offer: Offer) -> int:
        """Return the soonest start with room enough for the least work, whoever does it."""
        t = earliest = self._window.earliest_start
        demands = self._demands.of_way(self._stage, offer.way)
        again = bool(demands)
        while again:
            again = False
            for demand in demands:
                loads = self._busy.loads[demand.room]
                if len(loads) == 1 and loads[0] <= demand.most:
                    continue
                if loads[-1] > demand.most:
                    return earliest
                crowded = self._busy.crowded_until(
                    demand.room, demand.begins(t), demand.ends(t + offer.least), demand.most
                )
                if crowded >= 0:
                    later = demand.start_after(crowded)
                    t, again = later if later > t else t + 1, True
            if t > self._window.latest_start:
                break
        return t

    def _later(self, choice: Choice, work: int, start: int, end: int) -> int:
        """Return a later start if start or end lie where they may not, else -1."""
        window = self._window
        bounds = self._index.terms.bounds[self._stage]
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
        reached = choice.runs.fit_end(wanted, work)
        return _NEVER if reached is None else reached[0]

    def _is_in_stock(self, way: int) -> bool:
        consumes = self._index.problem.stages[self._stage].ways[way].consumes
        return not consumes or all(
            self._busy.stock[consumable] - units >= self._spare[consumable]
            for consumable, units in consumes
        )

    def _teams_of(self, offer: Offer, among: set[int] | None) -> Iterable[Team]:
        chosen = offer.party.eligible if among is None else among
        return teams_among(self._workers, offer.party.call, chosen)

    def _say_why(self, tried: Iterable[tuple[Offer, Iterable[Team]]]) -> None:
        """Say why none of some teams found a spot: what stopped the last that was tried."""
        offers = list(tried)
        if not any(self._may_lack(offer.way) for offer, _ in offers):
            return
        self._is_thorough = True
        ranked = []
        for offer, teams in offers:
            for team in teams:
                choice = offer.party.choice(team)
                if choice is not None:
                    work = offer.steps(choice, self._workers)
                    t = max(
                        [
                            self._window.earliest_start,
                            choice.early,
                            *map(self._free.__getitem__, team),
                        ]
                    )
                    against = work * offer.hands // 2 + offer.dear
                    against -= TOLD_BONUS_STEPS if team and team == self._told else 0
                    ranked.append((t + work + against, offer.way, team, t, work, choice))
        for _, way, _, t, work, choice in sorted(ranked, key=lambda one: one[:3]):
            if not self._is_in_stock(way):
                self.why = Why.STOCK
                continue
            self._first(way, choice, work, t, min(self._window.latest_end, choice.late))
        self._is_thorough = False

    def _may_lack(self, way: int) -> bool:
        """Return whether stock may be short, or a room full for ever."""
        demands = (*self._demands.of_way(self._stage, way), *self._stands)
        return not self._is_in_stock(way) or any(
            self._busy.loads[demand.room][-1] > demand.most for demand in demands
        )


def _team(members: Iterable[int], another: int) -> Team:
    return tuple(sorted((*members, another)))
