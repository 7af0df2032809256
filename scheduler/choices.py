"""The ways and teams that a pass tries for a stage, each with what speaks against it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.calendar import Index, moment_from
from scheduler.pairs import Pairs
from scheduler.teams import Call, Team, teams_among, until
from scheduler.terms import FOREVER

if TYPE_CHECKING:
    from scheduler.hours import Hours, Runs

COST_PENALTY_STEPS = 96
"""By so many steps the dearest way of a problem may end earlier than a free one and lose."""


class Choice:
    """A way with a team; runs are worked out when first asked for."""

    __slots__ = ("_runs", "early", "late", "penalty", "team", "way", "work")

    def __init__(self, way: int, team: Team, work: int, penalty: int) -> None:
        self.way = way
        self.team = team
        self.work = work
        self.penalty = penalty
        self.early = 0
        self.late = FOREVER
        self._runs: Runs | None = None

    def fit(self, index: Index, stage: int, t: int) -> tuple[int, int] | None:
        """Return start and end of the stage begun at t or soonest after, as far as hours go."""
        if not self.work:
            return moment_from(index.problem.stages[stage].ways[self.way].clear, t)
        if self._runs is None:
            self._runs = index.runs(self.team, self.way, stage)
        return self._runs.fit(t, self.work)

    @property
    def hours(self) -> "Hours":
        """Return the hours of the work; it must have been fitted in once."""
        assert self._runs is not None
        return self._runs.hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Menu:
    """All choices for a stage. pools: by need, who could take a place. whole: none left out."""

    choices: tuple[Choice, ...]
    pools: tuple[Team, ...]
    whole: bool


class Choices:
    """The menus of an index; stages that call for the same share one."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._menus: list[Menu | None] = [None] * len(index.problem.stages)
        self._shared: dict[object, Menu] = {}
        costs = [way.cost for stage in index.problem.stages for way in stage.ways]
        self._dearest = max((cost for cost in costs if cost > 0), default=1)

    def menu(self, stage: int) -> Menu:
        """Return all choices for a stage, or those for which nobody is called if too many."""
        found = self._menus[stage]
        if found is None:
            key = self._key(stage)
            found = self._shared.get(key)
            if found is None:
                found = self._shared[key] = self._make_menu(stage)
            self._menus[stage] = found
        return found

    def among(self, stage: int, workers: Iterable[int]) -> tuple[Choice, ...]:
        """Return the choices whose teams are formed among these workers and who is asked for."""
        chosen = tuple(workers)
        problem = self._index.problem
        return tuple(
            choice
            for way in range(len(problem.stages[stage].ways))
            for choice in self._of_way(
                stage,
                way,
                teams_among(problem.workers, self._index.call(stage, way), chosen),
            )
        )

    def _key(self, stage: int) -> object:
        asked = self._index.problem.stages[stage]
        calls = tuple(self._index.call(stage, way) for way in range(len(asked.ways)))
        ways = tuple((way.work, way.calendar, way.cost, way.clear) for way in asked.ways)
        mates = self._index.once(Pairs).teams(stage)
        return calls, ways, asked.one_go, asked.watch, asked.longest_pause, asked.company, mates

    def _make_menu(self, stage: int) -> Menu:
        index = self._index
        ways = range(len(index.problem.stages[stage].ways))
        calls = [index.call(stage, way) for way in ways]
        whole = not any(map(index.has_too_many_teams, calls))
        choices = (
            choice
            for way, call in zip(ways, calls, strict=True)
            if not index.has_too_many_teams(call)
            for choice in self._of_way(stage, way, index.all_teams(call))
        )
        return Menu(choices=tuple(choices), pools=_pools(index, calls), whole=whole)

    def _of_way(self, stage: int, way: int, teams: Iterable[Team]) -> Iterator[Choice]:
        index = self._index
        asked = index.problem.stages[stage].ways[way]
        call = index.call(stage, way)
        mates = index.once(Pairs).teams(stage)
        dear = COST_PENALTY_STEPS * max(0, asked.cost) // self._dearest
        for team in teams:
            if mates is not None and asked.work and team not in mates:
                continue
            work = index.steps(team, way, stage)
            choice = Choice(way, team, work, work * len(team) // 2 + dear)
            self._limit(choice, call)
            yield choice

    def _limit(self, choice: Choice, call: Call) -> None:
        last = until(self._index.problem.workers, call, choice.team)
        if last is None:
            return
        if self._index.watch_first:
            choice.early = self._index.problem.horizon - last
        else:
            choice.late = last


def _pools(index: Index, calls: Sequence[Call]) -> tuple[Team, ...]:
    needs = {need for call in calls for need in call.needs}
    everybody = {worker for call in calls for worker in index.eligible(call)}
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
