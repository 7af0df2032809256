"""What binds people beyond being free: company, the same team, the limits of a day."""

from typing import TYPE_CHECKING

from scheduler.calendar import Index
from scheduler.company import Absences, Company
from scheduler.daily import Daily
from scheduler.hours import Hours
from scheduler.pairs import Pairs
from scheduler.problem import Going, Problem
from scheduler.teams import Team

if TYPE_CHECKING:
    from collections.abc import Mapping

    from scheduler.search import Spot


class Laws:
    """What binds the people of one pass, as far as the problem asks for it."""

    def __init__(self, index: Index) -> None:
        problem = index.problem
        self._index = index
        self._pairs = index.once(Pairs) if _has_pairs(problem) else None
        self._daily = Daily(index) if _has_limits(problem) else None
        wants_company = any(stage.company for stage in problem.stages)
        self._absences = Absences(index.once(Company), problem) if wants_company else None

    def team_of(self, stage: int, spots: "Mapping[int, Spot]") -> Team | None:
        """Return the team that a stage must have because of others placed, None for any."""
        return None if self._pairs is None else self._pairs.team_of(stage, spots)

    def later(self, stage: int, team: Team, hours: Hours, span: tuple[int, int]) -> int:
        """Return a later start if a law would be broken, past FOREVER if there is none, else -1.

        hours: of the team at this stage.
        """
        later = -1
        if self._daily is not None:
            later = self._daily.later(stage, team, hours, span)
        if self._absences is not None and self._wants_company(stage, team):
            later = max(later, self._absences.alone_until(team[0], hours, *span))
        return later

    def book(self, stage: int, spot: "Spot") -> None:
        """Note a stage that is placed."""
        if spot.end == spot.start or not spot.team:
            return
        hours, span = self._hours(stage, spot.team, spot.way), (spot.start, spot.end)
        if self._daily is not None:
            self._daily.book(stage, spot.team, hours, span)
        if self._absences is not None and self._wants_company(stage, spot.team):
            self._absences.book(stage, spot.team[0], hours, span)

    def take_back(self, stage: int, spot: "Spot") -> None:
        """Take back a stage that was noted."""
        if spot.end == spot.start or not spot.team:
            return
        if self._daily is not None:
            hours = self._hours(stage, spot.team, spot.way)
            self._daily.take_back(stage, spot.team, hours, (spot.start, spot.end))
        if self._absences is not None:
            self._absences.forget(stage)

    def may_leave(self, going: Going) -> bool:
        """Return whether a journey can leave without leaving anybody alone who may not be."""
        return self._absences is None or not self._absences.leaves_alone(going.absences)

    def leave(self, going: Going) -> None:
        """Let those away who go with a journey."""
        if self._absences is not None:
            self._absences.leave(going.absences)

    def come_back(self, going: Going) -> None:
        """Take back that they are away."""
        if self._absences is not None:
            self._absences.come_back(going.absences)

    def _hours(self, stage: int, team: Team, way: int) -> Hours:
        return self._index.hours_at(team, way, stage)

    def _wants_company(self, stage: int, team: Team) -> bool:
        return len(team) == 1 and self._index.problem.stages[stage].company


def laws_of(index: Index) -> Laws | None:
    """Return the laws of a pass, None where the problem asks for none."""
    problem = index.problem
    asks = (
        _has_pairs(problem)
        or _has_limits(problem)
        or any(stage.company for stage in problem.stages)
    )
    return Laws(index) if asks else None


def _has_pairs(problem: Problem) -> bool:
    return any(stage.same_team_as is not None for stage in problem.stages)


def _has_limits(problem: Problem) -> bool:
    if problem.pieces_max is not None and problem.half_days:
        return True
    return bool(problem.days) and any(stage.sands for stage in problem.stages)
