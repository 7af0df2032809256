"""Stages that are done by the same team: which teams can do all of them."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from scheduler.calendar import Index
from scheduler.daily import ShortDays
from scheduler.teams import Team
from scheduler.terms import FOREVER

if TYPE_CHECKING:
    from scheduler.search import Spot


class Pairs:
    """The stages of an index that want one team, in groups; made once for each index."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._mates = _mates([stage.same_team_as for stage in index.problem.stages])
        self._teams: dict[Sequence[int], frozenset[Team] | None] = {}

    def mates(self, stage: int) -> tuple[int, ...]:
        """Return all stages of a stage's group, none where it wants nobody else's team."""
        return self._mates.get(stage, ())

    def team_of(self, stage: int, spots: "Mapping[int, Spot]") -> Team | None:
        """Return the team that a stage must have because of others placed, None for any."""
        for mate in self._mates.get(stage, ()):
            spot = spots.get(mate)
            if spot is not None and self._index.problem.stages[mate].ways[spot.way].work:
                return spot.team
        return None

    def teams(self, stage: int) -> frozenset[Team] | None:
        """Return the teams that can do a stage and all its mates, None where any may do."""
        mates = self._mates.get(stage)
        if mates is None:
            return None
        if mates not in self._teams:
            self._teams[mates] = self._of_all(mates)
        return self._teams[mates]

    def _of_all(self, mates: Sequence[int]) -> frozenset[Team] | None:
        index, found = self._index, None
        for mate in mates:
            ways = range(len(index.problem.stages[mate].ways))
            calls = [index.call(mate, way) for way in ways]
            if not all(index.problem.stages[mate].ways[way].work for way in ways):
                continue
            if not any(map(index.has_too_many_teams, calls)):
                mine = frozenset(
                    team
                    for way, call in zip(ways, calls, strict=True)
                    for team in index.all_teams(call)
                    if self._can_ever(mate, way, team)
                )
                found = mine if found is None else found & mine
        return found

    def _can_ever(self, stage: int, way: int, team: Team) -> bool:
        """Return whether a team could do a stage if it had nothing else to do."""
        index = self._index
        asked, work = index.problem.stages[stage], index.steps(team, way, stage)
        runs = index.runs(team, way, stage)
        if not team or work > runs.most:
            return not team
        limits = (index.problem.workers[worker].sanding_max for worker in team)
        most = min((limit for limit in limits if limit is not None), default=work)
        if not asked.sands or asked.under_way or work <= most or not index.problem.days:
            return True
        if asked.one_go and not runs.has_midnight(index.problem.days):
            return False
        return index.once(ShortDays).from_day(runs.hours, most, work, 0) < FOREVER


def _mates(pairs: Sequence[int | None]) -> dict[int, tuple[int, ...]]:
    """Return, by stage that has any, all stages of its group."""
    roots = list(range(len(pairs)))

    def root(stage: int) -> int:
        while roots[stage] != stage:
            stage = roots[stage]
        return stage

    for stage, other in enumerate(pairs):
        if other is not None:
            roots[root(stage)] = root(other)
    groups: dict[int, list[int]] = defaultdict(list)
    for stage in range(len(pairs)):
        groups[root(stage)].append(stage)
    return {stage: tuple(group) for group in groups.values() if len(group) > 1 for stage in group}
