"""Who may form a team for a way of doing a stage.

A team has exactly as many workers as the way takes hands, everybody asked for among them, each
with the certificates asked for, and each filling one place: `can` places take who can do the
skill, `helps` places who can or may help.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import comb

from scheduler.problem import Need, Stage, Way, Worker

Team = tuple[int, ...]
TEAMS_MAX = 4000
"""So many teams are listed at most; where there are more, they are formed among a few."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """Whom a stage's way calls for; equal calls have the same teams."""

    needs: tuple[Need, ...]
    asked: Team
    only_asked: bool
    certificates: tuple[int, ...]

    @property
    def hands_count(self) -> int:
        """Return how many workers it takes."""
        return sum(need.can + need.helps for need in self.needs)


def call_of(stage: Stage, way: Way) -> Call:
    """Return whom a way of a stage calls for; without work it calls for nobody."""
    if not way.work:
        return Call(needs=(), asked=(), only_asked=False, certificates=())
    return Call(
        needs=way.needs,
        asked=tuple(sorted(set(stage.asked))),
        only_asked=stage.only_asked,
        certificates=stage.certificates,
    )


def eligible(workers: Sequence[Worker], call: Call) -> Team:
    """Return the workers who could take some place, in order."""
    pool: Iterable[int] = call.asked if call.only_asked else range(len(workers))
    return tuple(
        worker
        for worker in pool
        if _certified(workers[worker], call.certificates)
        and any(_may_fill(workers[worker], need) for need in call.needs)
    )


def team_count(call: Call, eligible_count: int) -> int:
    """Return how many teams would have to be looked at."""
    rest = eligible_count - len(call.asked)
    places = call.hands_count - len(call.asked)
    return comb(rest, places) if 0 <= places <= rest else 0


def teams_among(workers: Sequence[Worker], call: Call, among: Iterable[int]) -> Iterator[Team]:
    """Yield every team whose members are asked for or lie in `among`, in order."""
    fit = set(eligible(workers, call))
    if not fit.issuperset(call.asked):
        return
    if call.only_asked and len(call.asked) != call.hands_count:
        return
    others = sorted(fit.intersection(among).difference(call.asked))
    places = call.hands_count - len(call.asked)
    if places < 0:
        return
    for chosen in combinations(others, places):
        team = tuple(sorted((*call.asked, *chosen)))
        if fills(workers, call.needs, team):
            yield team


def is_team(workers: Sequence[Worker], call: Call, eligible_ones: Team, team: Team) -> bool:
    """Return whether a team answers a call. eligible_ones: as `eligible` says."""
    return (
        len(team) == call.hands_count
        and set(eligible_ones).issuperset(team)
        and set(call.asked).issubset(team)
        and (not call.only_asked or len(call.asked) == len(team))
        and fills(workers, call.needs, team)
    )


def until(workers: Sequence[Worker], call: Call, team: Team) -> int | None:
    """Return by when a stage of this team must end, for their certificates; None: no limit."""
    return min(
        (_valid_until(workers[worker], asked) for worker in team for asked in call.certificates),
        default=None,
    )


def work_steps(work: Fraction, paces: Sequence[Fraction]) -> int:
    """Return the steps that so much work takes workers of these paces together."""
    if not paces:
        return -(-work.numerator // work.denominator)
    needed = work * len(paces) / sum(paces)
    return -(-needed.numerator // needed.denominator)


def fills(workers: Sequence[Worker], needs: Sequence[Need], team: Team) -> bool:
    """Return whether the team fills every place, each member one."""
    if len(needs) == 1:
        need = needs[0]
        can = sum(need.skill in workers[worker].can for worker in team)
        return can >= need.can and all(_may_fill(workers[worker], need) for worker in team)
    places = [(need.skill, at < need.can) for need in needs for at in range(need.can + need.helps)]
    return _seat(workers, places, list(team))


def _seat(workers: Sequence[Worker], places: list[tuple[int, bool]], free: list[int]) -> bool:
    if not places:
        return not free
    skill, must_can = places[0]
    return any(
        _seat(workers, places[1:], free[:at] + free[at + 1 :])
        for at, worker in enumerate(free)
        if skill in workers[worker].can or (not must_can and skill in workers[worker].helps)
    )


def _may_fill(worker: Worker, need: Need) -> bool:
    return need.skill in worker.can or (need.helps > 0 and need.skill in worker.helps)


def _certified(worker: Worker, certificates: tuple[int, ...]) -> bool:
    if not certificates:
        return True
    held = {certificate for certificate, _ in worker.certificates}
    return held.issuperset(certificates)


def _valid_until(worker: Worker, asked: int) -> int:
    return max(end for certificate, end in worker.certificates if certificate == asked)
