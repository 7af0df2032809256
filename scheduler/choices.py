"""The ways that a pass tries for a stage, and the teams that could do each of them.

Teams are looked up when a pass asks for them and shared by all stages that call for the same.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from scheduler.calendar import Index
from scheduler.hours import Moments, Runs
from scheduler.pairs import Pairs
from scheduler.problem import Worker
from scheduler.teams import Call, Team, is_team, until, work_steps
from scheduler.terms import FOREVER

COST_PENALTY_STEPS = 96
"""By so many steps the dearest way of a problem may end earlier than a free one and lose."""


class Choice:
    """A team with its hours. early, late: the least start and greatest end by certificates.

    is_usual: all its workers have the pace of 1.
    """

    __slots__ = ("early", "is_usual", "late", "runs", "team")

    def __init__(self, team: Team, runs: Runs, *, is_usual: bool) -> None:
        self.team = team
        self.runs = runs
        self.is_usual = is_usual
        self.early = 0
        self.late = FOREVER


class Party:
    """Whoever may do stages that call for the same, and the teams asked for so far.

    stage, way: where it is called for. eligible: who could take a place. others: how many of a
    team's places are not taken by those asked for. whole: its teams are few enough to be gone
    through. mates: the only teams there are, by what other stages call for (None: any).
    """

    def __init__(
        self, index: Index, stage: int, way: int, call: Call, mates: frozenset[Team] | None
    ) -> None:
        asked = index.problem.stages[stage].ways[way]
        self._index, self._stage, self._way = index, stage, way
        self._mates = mates if asked.work else None
        self.call = call
        self.eligible = index.eligible(call)
        self.asked = call.asked
        self.others = call.hands_count - len(call.asked)
        self.whole = not index.has_too_many_teams(call)
        self._clear = asked.clear
        self._has_work = bool(asked.work)
        self._choices: dict[Team, Choice | None] = {}
        self._own: dict[int, Runs] = {}

    def choice(self, team: Team) -> Choice | None:
        """Return a team, in order, as a choice; None where it may not do it."""
        if team in self._choices:
            return self._choices[team]
        found = self._choices[team] = self._make(team) if self._is_team(team) else None
        return found

    def _is_team(self, team: Team) -> bool:
        if self._mates is not None and team not in self._mates:
            return False
        return is_team(self._index.problem.workers, self.call, self.eligible, team)

    def _make(self, team: Team) -> Choice:
        index = self._index
        workers = index.problem.workers
        runs = index.runs(team, self._way, self._stage) if self._has_work else Moments(self._clear)
        choice = Choice(team, runs, is_usual=all(workers[one].pace == 1 for one in team))
        last = until(workers, self.call, team)
        if last is not None and index.watch_first:
            choice.early = index.problem.horizon - last
        elif last is not None:
            choice.late = last
        return choice

    def own(self, worker: int) -> Runs:
        """Return where work may lie as far as one member's own hours go, without company."""
        found = self._own.get(worker)
        if found is None:
            stage = self._index.problem.stages[self._stage]
            asked = stage.ways[self._way]
            calendars = self._index.calendars_of((worker,), asked.calendar)
            found = self._own[worker] = self._index.runs_of(calendars, stage, asked.clear)
        return found


class Offer:
    """One way of a stage. usual: steps that it takes a usual team; least: any team, or less.

    dear: what its cost counts, in steps. against: the least that speaks against any team.
    """

    __slots__ = ("against", "dear", "hands", "least", "party", "usual", "way", "work")

    def __init__(
        self, way: int, party: Party, work: Fraction, dear: int, paces: list[Fraction]
    ) -> None:
        self.way = way
        self.party = party
        self.work = work
        self.dear = dear
        self.hands = party.call.hands_count
        self.usual = work_steps(work, ())
        self.least = self.usual
        if any(pace != 1 for pace in paces):
            best = sorted(paces, reverse=True)[: self.hands]
            self.least = work_steps(work, best) if len(best) == self.hands else self.usual
        self.against = self.least * self.hands // 2 + dear

    def steps(self, choice: Choice, workers: Sequence[Worker]) -> int:
        """Return the working steps that a team needs."""
        if choice.is_usual:
            return self.usual
        return work_steps(self.work, [workers[worker].pace for worker in choice.team])


@dataclass(frozen=True, slots=True, kw_only=True)
class Menu:
    """All ways of a stage, those with least work first. pools: by need, who could take a place.

    workers: all of them. whole: no way has too many teams to go through. has_any: whether there
    is a team for any way that has not too many.
    """

    offers: tuple[Offer, ...]
    pools: tuple[Team, ...]
    workers: Team
    whole: bool
    has_any: bool

    def offer(self, way: int) -> Offer:
        """Return one way."""
        return next(offer for offer in self.offers if offer.way == way)


class Choices:
    """The menus of an index; stages that call for the same share one."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._menus: list[Menu | None] = [None] * len(index.problem.stages)
        self._shared: dict[object, Menu] = {}
        self._parties: dict[object, Party] = {}
        costs = [way.cost for stage in index.problem.stages for way in stage.ways]
        self._dearest = max((cost for cost in costs if cost > 0), default=1)

    def menu(self, stage: int) -> Menu:
        """Return the ways of a stage."""
        found = self._menus[stage]
        if found is None:
            key = self._key(stage)
            found = self._shared.get(key)
            if found is None:
                found = self._shared[key] = self._make_menu(stage)
            self._menus[stage] = found
        return found

    def _key(self, stage: int) -> object:
        ways = self._index.problem.stages[stage].ways
        return tuple(
            (self._party_key(stage, number), way.work, way.cost) for number, way in enumerate(ways)
        )

    def _party_key(self, stage: int, way: int) -> object:
        asked = self._index.problem.stages[stage]
        chosen = asked.ways[way]
        return (
            self._index.call(stage, way),
            bool(chosen.work),
            chosen.calendar,
            chosen.clear,
            asked.one_go,
            asked.watch,
            asked.longest_pause,
            asked.company,
            self._index.once(Pairs).teams(stage),
        )

    def _party(self, stage: int, way: int) -> Party:
        key = self._party_key(stage, way)
        found = self._parties.get(key)
        if found is None:
            call, mates = self._index.call(stage, way), self._index.once(Pairs).teams(stage)
            found = self._parties[key] = Party(self._index, stage, way, call, mates)
        return found

    def _make_menu(self, stage: int) -> Menu:
        ways = range(len(self._index.problem.stages[stage].ways))
        offers = sorted(
            (self._offer(stage, way) for way in ways),
            key=lambda offer: (offer.least + offer.against, offer.way),
        )
        pools = _pools(self._index, [offer.party for offer in offers])
        return Menu(
            offers=tuple(offers),
            pools=pools,
            workers=tuple(dict.fromkeys(worker for pool in pools for worker in pool)),
            whole=all(offer.party.whole for offer in offers),
            has_any=any(self._has_teams(offer.party) for offer in offers),
        )

    def _has_teams(self, party: Party) -> bool:
        if not party.whole:
            return False
        return any(party.choice(team) for team in self._index.all_teams(party.call))

    def _offer(self, stage: int, way: int) -> Offer:
        asked = self._index.problem.stages[stage].ways[way]
        dear = COST_PENALTY_STEPS * max(0, asked.cost) // self._dearest
        party = self._party(stage, way)
        workers = self._index.problem.workers
        paces = [workers[worker].pace for worker in party.eligible]
        return Offer(way, party, asked.work, dear, paces)


def _pools(index: Index, parties: Iterable[Party]) -> tuple[Team, ...]:
    chosen = list(parties)
    needs = {need for party in chosen for need in party.call.needs}
    everybody = {worker for party in chosen for worker in party.eligible}
    workers = index.problem.workers
    pools = {
        tuple(
            worker
            for worker in sorted(everybody)
            if need.skill in workers[worker].can
            or (need.helps > 0 and need.skill in workers[worker].helps)
        )
        for need in needs
    }
    return tuple(sorted(pools))


def near(
    pools: Sequence[Team], free: Mapping[int, int], told: Team | None, count: int
) -> set[int] | None:
    """Return who is free soonest for each need, or None where that is nearly everybody."""
    if all(len(pool) <= count for pool in pools):
        return None
    found = set(told or ())
    for pool in pools:
        found.update(sorted(pool, key=lambda worker: free[worker])[:count])
    return found
