"""The replay: stages served in planned order, in every draw by the team that ends first.

Nobody's own order is kept: in-one-go work fills shifts to the quarter hour, so that in a strict
order an overrun of a twentieth costs days, then a recoat time, then everybody's queue. What begins
long after people are free is noted apart and the gap stays open for others. Not reckoned with:
floor under waiting pieces, limits of a day, a journey that leaves later than planned.
"""

from dataclasses import dataclass

import numpy as np

from scheduler.calendar import Index
from scheduler.chance.arrays import Ints, Truths, filled
from scheduler.chance.crew import Crew
from scheduler.chance.fitting import Bank, moments_from
from scheduler.chance.floor import Floor
from scheduler.chance.luck import Luck
from scheduler.chance.menus import Menu, Menus
from scheduler.chance.planned import Planned
from scheduler.chance.seats import Seats, Wanted
from scheduler.chance.waits import Waits
from scheduler.lags import Fixed, Tabled, lag_of_edge
from scheduler.normalise import Normal, StageName
from scheduler.problem import Edge, Span, Wait
from scheduler.terms import Link
from shared.units import steps_up

ABRADED_STEPS = 16
"""So long a coat is sanded whose recoat time ran out, where the book says nothing of it (common
practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Replayed:
    """By stage, by draw: when it ended, and which stage it waited for last (-1 for none)."""

    ends: tuple[Ints | None, ...]
    causes: tuple[Ints | None, ...]

    def part(self, which: slice) -> "Replayed":
        """Return what came of some of the draws."""
        ends, causes = _parts(self.ends, which), _parts(self.causes, which)
        return Replayed(ends=ends, causes=causes)


def _parts(rows: tuple[Ints | None, ...], which: slice) -> tuple[Ints | None, ...]:
    return tuple(None if row is None else row[which] for row in rows)


class Pools:
    """One replay of a plan; `run` may be called once."""

    def __init__(
        self,
        normal: Normal,
        index: Index,
        planned: Planned,
        luck: Luck,
        draws: int,
        bank: Bank,
        menus: Menus,
    ) -> None:
        self._normal, self._index, self._planned, self._luck = normal, index, planned, luck
        self._draws, self._bank = draws, bank
        self._menus = menus
        self._waits = Waits(bank.upto)
        problem = index.problem
        crew = Crew(len(problem.workers), draws, bank.upto, _fixed(index, planned))
        self._seats = Seats(crew, Floor(problem.rooms, draws), bank, self._waits)
        count = len(problem.stages)
        self._starts: list[Ints | None] = [None] * count
        self._ends: list[Ints | None] = [None] * count
        self._causes: list[Ints | None] = [None] * count
        self._all = np.arange(draws, dtype=np.int32)

    def run(self) -> Replayed:
        """Serve every stage."""
        for stage in self._planned.order:
            self._serve(stage)
        return Replayed(ends=tuple(self._ends), causes=tuple(self._causes))

    def _serve(self, stage: int) -> None:
        asked, name = self._index.problem.stages[stage], self._normal.stages[stage]
        ready, cause = self._ready(stage)
        if asked.fixed_start is not None:
            ready = filled(self._draws, asked.fixed_start)
        waited = self._waited_for(name)
        if waited is not None:
            ready = waited
        menus = self._menus.of(stage)
        if not menus[0].has_work:
            self._moment(stage, menus[0], ready, cause)
            return
        skipped = self._skipped(name)
        some = self._all if skipped is None else np.flatnonzero(~skipped).astype(np.int32)
        start, end = ready.copy(), ready.copy()
        if len(some):
            wanted = Wanted(
                stage=stage,
                team=self._planned.teams[stage],
                one_go=asked.one_go,
                menus=menus,
                factor=self._luck.factors[stage],
            )
            start[some], end[some], by = self._seats.place(
                wanted, ready[some], some, lambda at, draws: self._too_late(stage, at, draws)
            )
            cause[some] = np.where(by >= 0, by, cause[some])
        self._note(stage, start, end, cause)

    def _note(self, stage: int, start: Ints, end: Ints, cause: Ints) -> None:
        self._starts[stage], self._ends[stage], self._causes[stage] = start, end, cause

    def _moment(self, stage: int, menu: Menu, ready: Ints, cause: Ints) -> None:
        """Place a stage of no length, which holds nobody."""
        ends = self._index.problem.stages[stage].ends
        found = moments_from(menu.clear, ready)
        if ends is not None:
            found = moments_from(tuple((a, b - 1) for a, b in ends), found)
        self._note(stage, found, found, cause)

    def _waited_for(self, name: StageName) -> Ints | None:
        """Return when an answer comes whose pictures are out already, None for anything else."""
        answers = self._luck.answers.get(name.step)
        if answers is None or name.part or name.begun is None or name.due is None:
            return None
        shown = filled(self._draws, _steps_at(self._normal, name))
        due: Ints = np.maximum(answers.ready(name.round, shown) - np.int32(answers.more), 0)
        return due

    def _skipped(self, name: StageName) -> Truths | None:
        """Return the draws in which rework between rounds is not called for."""
        answers = self._luck.answers.get(name.step)
        if answers is None or name.part != "rework":
            return None
        return ~answers.is_needed(name.round + 1)

    def _ready(self, stage: int) -> tuple[Ints, Ints]:
        """Return from when on a stage may start, and which stage that comes from."""
        release = max(0, self._index.terms.bounds[stage].earliest_start)
        ready, cause = filled(self._draws, release), filled(self._draws, -1)
        for link in self._planned.ins[stage]:
            came = (self._ends if link.from_end else self._starts)[link.before]
            if link.lag is None or came is None:
                continue
            lets = self._lets(link, came)
            later = lets > ready
            if later.any():
                ready = np.where(later, lets, ready)
                cause = np.where(later, np.int32(link.before), cause)
        return ready, cause

    def _lets(self, link: Link, came: Ints) -> Ints:
        """Return from when on what is before lets a stage start."""
        name = self._normal.stages[link.before]
        answers = self._luck.answers.get(name.step)
        if answers is not None and link.from_end and name.round and not name.part:
            if name.begun is None:
                return answers.ready(name.round, came)
            return came + np.int32(answers.more)
        assert link.lag is not None
        stage = self._index.problem.stages[link.before]
        if link.from_end and stage.quickest is not None and stage.quickest != stage.cure:
            edge = Edge(before=link.before, after=link.after, least=_least(link, stage.cure))
            quick = lag_of_edge(stage.quickest, edge)
            return self._waits.between(quick, link.lag, came, self._luck.weather)
        return self._waits.ready(link.lag, came)

    def _too_late(self, stage: int, start: Ints, some: Ints) -> Ints | None:
        """Return how much later a coat comes whose recoat time ran out: for what is abraded first.

        None where none ran out. Where the book says nothing of abrading it is some hours.
        """
        found: Ints | None = None
        for link in self._planned.ins[stage]:
            came = (self._ends if link.from_end else self._starts)[link.before]
            if link.most is None or came is None or link.insert in self._planned.inserted:
                continue
            late = start > self._waits.latest(link.most, came[some])
            if not late.any():
                continue
            steps = filled(len(some), ABRADED_STEPS)
            if link.insert is not None:
                factor = self._luck.factors[link.insert]
                work = float(self._index.problem.stages[link.insert].ways[0].work)
                exact = work * (factor if isinstance(factor, float) else factor[some])
                steps = np.ceil(np.broadcast_to(exact, some.shape)).astype(np.int32)
            waits = np.where(late, steps, 0)
            found = waits if found is None else np.maximum(found, waits)
        return found


def _least(link: Link, cure: Wait) -> int:
    """Return the least wait of a link that is not the cure's own."""
    steps = link.lag.steps if isinstance(link.lag, Fixed | Tabled) else 0
    return steps if steps > cure.least else 0


def _steps_at(normal: Normal, name: StageName) -> int:
    """Return the step at which the pictures of a round went out."""
    assert name.begun is not None
    return steps_up(normal.origin, name.begun)


def _fixed(index: Index, planned: Planned) -> list[list[Span]]:
    """Return by worker what is booked besides, journeys as planned among it."""
    found = [list(worker.busy) for worker in index.problem.workers]
    for going in planned.trips:
        for worker, start, end in () if going is None else going.absences:
            found[worker].append((start, end))
    return found
