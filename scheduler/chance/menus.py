"""Who may do a stage and where: the ways that call for the same people, each with its places."""

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.chance.planned import Planned
from scheduler.choices import Choices
from scheduler.hours import Runs
from scheduler.problem import Spans
from scheduler.teams import Team, work_steps
from scheduler.terms import Claim

TEAMS_LISTED = 80
"""Of more teams so many are kept, evenly picked."""
PLANNED_BONUS_STEPS = 24
"""So much later the planned team may end than another and still be taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """People who may do it together, and how long it takes them.

    steps: working steps at the hours as written, not rounded. against: what speaks against them.
    """

    team: Team
    runs: Runs
    steps: float
    against: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One way in one place: what it claims there."""

    claims: tuple[Claim, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Menu:
    """Ways of a stage that differ only in their places, with the parties who may do them.

    clear: for work of no length, where it may be.
    """

    spots: tuple[Spot, ...]
    parties: tuple[Party, ...]
    has_work: bool
    clear: Spans | None


class Menus:
    """The menus of all stages; stages that call for the same people share their parties."""

    def __init__(self, index: Index, planned: Planned) -> None:
        self._index, self._planned = index, planned
        self._known: dict[object, tuple[Party, ...]] = {}
        self._made: dict[int, tuple[Menu, ...]] = {}

    def of(self, stage: int) -> tuple[Menu, ...]:
        """Return the menus of a stage, that of the planned way first."""
        found = self._made.get(stage)
        if found is None:
            found = self._made[stage] = self._make(stage)
        return found

    def _make(self, stage: int) -> tuple[Menu, ...]:
        index = self._index
        asked = index.problem.stages[stage]
        groups: dict[object, list[int]] = {}
        for way, one in enumerate(asked.ways):
            key = (index.call(stage, way), one.work, one.calendar, one.clear, one.cost)
            groups.setdefault(key, []).append(way)
        wanted = self._planned.ways[stage]
        ordered = sorted(groups.values(), key=lambda ways: wanted not in ways)
        found = tuple(self._menu(stage, ways, wanted) for ways in ordered)
        usable = tuple(menu for menu in found if menu.parties or not menu.has_work)
        return usable or found[:1]

    def _menu(self, stage: int, ways: Sequence[int], wanted: int) -> Menu:
        index = self._index
        one = index.problem.stages[stage].ways[ways[0]]
        claims = index.terms.claims[stage]
        return Menu(
            spots=tuple(
                Spot(claims=claims[way]) for way in sorted(ways, key=lambda way: way != wanted)
            ),
            parties=self._parties(stage, ways[0], wanted in ways) if one.work else (),
            has_work=bool(one.work),
            clear=one.clear,
        )

    def _parties(self, stage: int, way: int, is_planned: bool) -> tuple[Party, ...]:  # noqa: FBT001
        index, asked = self._index, self._index.problem.stages[stage]
        one = asked.ways[way]
        team = self._planned.teams[stage]
        if is_planned and (asked.only_asked or asked.same_team_as is not None):
            return self._of_teams(stage, way, [team])
        limits = (asked.one_go, asked.watch, asked.longest_pause, asked.company)
        key = (index.call(stage, way), one.work, one.calendar, one.clear, one.cost, limits)
        if key not in self._known:
            call = index.call(stage, way)
            if not one.hands_count:
                teams: list[Team] = [()]
            elif index.has_too_many_teams(call):
                teams = [team] if is_planned else []
            else:
                every = index.all_teams(call)
                teams = list(every[:: -(-len(every) // TEAMS_LISTED) or 1])
                if is_planned and team not in teams and team in every:
                    teams.append(team)
            self._known[key] = self._of_teams(stage, way, teams)
        return self._known[key]

    def _of_teams(self, stage: int, way: int, teams: Sequence[Team]) -> tuple[Party, ...]:
        index = self._index
        work = index.problem.stages[stage].ways[way].work
        dear = next(o.dear for o in index.once(Choices).menu(stage).offers if o.way == way)
        found = []
        for team in teams:
            runs = index.runs(team, way, stage)
            paces = [index.problem.workers[worker].pace for worker in team]
            steps = float(work) * (len(paces) / float(sum(paces)) if paces else 1.0)
            hands = index.problem.stages[stage].ways[way].hands_count
            against = work_steps(work, paces) * hands // 2 + dear
            if runs.most:
                found.append(Party(team=team, runs=runs, steps=steps, against=against))
        return tuple(found)
