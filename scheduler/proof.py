"""Proofs that jobs can't all be loaded in time, whatever the plan.

The ladder, cheapest first: the longest chain; work that must lie in a stretch against the hours
of those who can do it, or the room for it; the solver with people as pools; the solver with people
by name. Each rung only drops rules, so none ever says "cannot" of what can be.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.colliding import Collision
from scheduler.countback import Times, earliest, latest
from scheduler.crowded import without_crowds
from scheduler.energy import Energy, Overload
from scheduler.model.alone import alone
from scheduler.model.run import Limits
from scheduler.model.whole import can_be_in_time
from scheduler.phased import Phased, Phases
from scheduler.problem import Problem
from scheduler.purse import Purse
from scheduler.shifts import first_schedule

Kind = Literal["chain", "energy", "pools", "solver", "journeys"]
COUNTED: tuple[Kind, ...] = ("chain", "energy")
SOLVED: tuple[Kind, ...] = ("pools", "solver")
_POOLS_PARTS = 3
"""The pools get one of so many parts of what a question may take, people by name the rest."""
PHASES_MIN = 2
PHASES_SHARE = 800
"""The phases of a job get so many thousandths, questions about the whole the rest."""
RUNGS: tuple[Kind, ...] = (*COUNTED, *SOLVED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """That loading of a job ends at least `bound_steps` after its latest, whatever the plan.

    kind: by the longest chain, by counting work, by the solver with people as pools or by name; or
    that its journeys in time all collide with those of the job beside: then nothing is said of when
    loading ends.
    beside: the jobs that keep their windows meanwhile; none: so even alone in an empty workshop.
    overload: the stretch with too much work in it, collision: which journeys collide, where that is
    the proof.
    """

    kind: Kind
    job: int
    bound_steps: int
    beside: tuple[int, ...] = ()
    overload: Overload | None = None
    collision: Collision | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Refuted:
    """That not all jobs of a problem can be in time, by which rung."""

    kind: Kind
    overload: Overload | None = None


class Ladder:
    """One problem, asked again and again whether all of its jobs can load by given times."""

    def __init__(self, problem: Problem) -> None:
        """Drop what stands in crowded rooms; nothing is asked yet."""
        problem = without_crowds(problem)
        self._index = Index(problem)
        self._soonest: Times | None = None
        self._energy: Energy | None = None
        self._pools_say_yes: list[tuple[int | None, ...]] = []
        self._phases: Phases | None = None
        self._phased: Phased | None = None

    @property
    def problem(self) -> Problem:
        """Return the problem, what stands in crowded rooms dropped."""
        return self._index.problem

    @property
    def soonest(self) -> Times:
        """Return the earliest times, everybody else out of the way."""
        if self._soonest is None:
            self._soonest = earliest(self._index)
        return self._soonest

    def soonest_end(self, job: int) -> int:
        """Return when loading of a job can end at the soonest; past the horizon: never."""
        never = self.problem.horizon + 1
        ends = (self.soonest.ends[last] for last in self.problem.jobs[job].lasts)
        return max((never if end is None else end for end in ends), default=0)

    def by_counting(self, due: Sequence[int | None]) -> Refuted | None:
        """Try the chain and the energy. due: by job, when it must have loaded (None: any time)."""
        if any(when is not None and self.soonest_end(job) > when for job, when in enumerate(due)):
            return Refuted(kind="chain")
        last = latest(self._asked(due))
        if self._is_crossed(last):
            return Refuted(kind="chain")
        if self._energy is None:
            self._energy = Energy(self._index)
        overload = self._energy.overload(self.soonest, last)
        return None if overload is None else Refuted(kind="energy", overload=overload)

    def by_solver(
        self, due: Sequence[int | None], purse: Purse, *, kinds: Sequence[Kind] = SOLVED
    ) -> Refuted | bool | None:
        """Ask the solver; True: it knows of no reason why not, None: not known."""
        said: bool | None = None
        for at, kind in enumerate(kinds):
            if purse.is_over():
                return None
            if kind == "pools" and self._is_easier(due):
                continue
            limits = purse.part(_POOLS_PARTS if at + 1 < len(kinds) else 1)
            said, effort = can_be_in_time(
                self._asked(due), limits, people=kind == "solver", cancel=purse.cancel
            )
            purse.spend(effort)
            if said is False:
                return Refuted(kind=kind)
            if kind == "pools" and said:
                self._pools_say_yes.append(tuple(due))
        return said if kinds and kinds[-1] == "solver" else None

    def in_phases(self, purse: Purse) -> Phased | None:
        """Return the soonest end of the only job, phase after phase; None where it has no phases.

        Once decided it is remembered.
        """
        problem = self.problem
        if len(problem.jobs) != 1:
            return None
        if self._phases is None:
            self._phases = Phases(problem)
        if len(self._phases.phases) < PHASES_MIN:
            return None
        if self._phased is None or not self._phased.can_end_by(problem, self._phased.end):
            self._phased = self._phases.soonest(purse)
        return self._phased

    def can_place(self, due: Sequence[int | None]) -> bool:
        """Return whether a few passes find a plan in which all jobs are in time."""
        found = first_schedule(self._asked(due), 1)
        return not isinstance(found, Unfit) and all(
            when is None or loading_end(aim, found) <= when
            for aim, when in zip(self.problem.jobs, due, strict=True)
        )

    def _asked(self, due: Sequence[int | None]) -> Index:
        problem, terms = self._index.problem, self._index.terms
        aims = tuple(
            replace(aim, latest=when, wish=None)
            for aim, when in zip(problem.jobs, due, strict=True)
        )
        return self._index.variant(replace(problem, jobs=aims), terms.bounds)

    def _is_crossed(self, last: Times) -> bool:
        """Return whether some stage would have to start or end before it can."""
        return any(
            (soonest is None or (late is not None and late < soonest))
            for pair in ((self.soonest.starts, last.starts), (self.soonest.ends, last.ends))
            for stage, (soonest, late) in enumerate(zip(*pair, strict=True))
            if not self.problem.stages[stage].optional
        )

    def _is_easier(self, due: Sequence[int | None]) -> bool:
        """Return whether the pools have said yes to no later times."""
        return any(
            all(b is None or (a is not None and a <= b) for a, b in zip(said, due, strict=True))
            for said in self._pools_say_yes
        )


def prove(
    index: Index,
    job: int,
    limits: Limits,
    *,
    most_steps: int | None = None,
    cancel: Callable[[], bool] | None = None,
) -> Proof | None:
    """Return a proof that a job can't be in time, None if none was found within the limits.

    The ladder goes on, while the limits allow, to the greatest bound it can prove; most_steps:
    how late a plan is known to be, past which no bound needs to be asked for.
    """
    aim = index.problem.jobs[job]
    if aim.latest is None or aim.guessed or not aim.lasts:
        return None
    climb = Climb(Ladder(alone(index.problem, job)), 0, {0: aim.latest}, most_steps)
    return climb.proof(job, Purse(limits, cancel))


def prove_by_chain(index: Index, job: int) -> Proof | None:
    """Return the proof by the longest chain alone, None if the chain could be in time."""
    aim = index.problem.jobs[job]
    if aim.latest is None or aim.guessed:
        return None
    ladder = Ladder(alone(index.problem, job))
    bound = max(0, ladder.soonest_end(0) - aim.latest)
    return Proof(kind="chain", job=job, bound_steps=bound) if bound else None


class Climb:
    """Asking of one job for one bound after another, while others keep their windows."""

    def __init__(
        self,
        ladder: Ladder,
        job: int,
        due: Mapping[int, int],
        most: int | None = None,
        known: Proof | None = None,
    ) -> None:
        """Ask about this job of the ladder's problem.

        due: by job, its latest. most: as prove takes it. known: what is proved of it already.
        is_at_its_best says later whether no more can be proved: the solver knows of a plan.
        """
        self._ladder, self._job = ladder, job
        self._due = [due.get(each) for each in range(len(ladder.problem.jobs))]
        self._latest = due[job]
        too_much = ladder.problem.horizon - self._latest + 1
        self._most = min(too_much, too_much if most is None else most)
        self._proved, self._why = 0, Refuted(kind="chain")
        self.is_at_its_best = False
        if known is not None:
            self._proved = known.bound_steps
            self._why = Refuted(kind=known.kind, overload=known.overload)

    def proof(self, job: int, purse: Purse, kinds: Sequence[Kind] = SOLVED) -> Proof | None:
        """Go as far as the purse allows; return what is proved then, job so named."""
        self.count()
        self.solve(purse, kinds)
        return self.result(job)

    def result(self, job: int, beside: tuple[int, ...] = ()) -> Proof | None:
        """Return what is proved so far. job, beside: as the proof shall name them."""
        if not self._proved:
            return None
        return Proof(
            kind=self._why.kind,
            job=job,
            bound_steps=self._proved,
            beside=beside,
            overload=self._why.overload,
        )

    def count(self) -> None:
        """Go as far as chain and energy can prove."""
        chain = self._ladder.soonest_end(self._job) - self._latest
        if chain > self._proved:
            self._proved, self._why = chain, Refuted(kind="chain")
        self._gallop(lambda bound: self._ladder.by_counting(self._late(bound)))

    def solve(self, purse: Purse, kinds: Sequence[Kind] = SOLVED) -> None:
        """Go on with the solver: phase by phase, then of the whole for one bound after another.

        Half of what is left for each question but the last there is.
        """
        if self._proved >= self._most:
            return
        self.is_at_its_best = self._ladder.can_place(self._late(self._proved + 1))
        if not self.is_at_its_best:
            self._in_phases(purse)
        if self.is_at_its_best:
            return

        def ask(bound: int) -> Refuted | bool | None:
            due = self._late(bound)
            if self._ladder.can_place(due):
                return True
            share = Purse(purse.part(1 if bound == self._most else 2), purse.cancel)
            found = self._ladder.by_solver(due, share, kinds=kinds)
            purse.spend(share.spent)
            return found

        self._gallop(ask, purse.is_over, is_rising=False)

    def _in_phases(self, purse: Purse) -> None:
        """Go as far as the phases of a job prove, and see whether a plan ends as soon as that."""
        share = Purse(purse.left(PHASES_SHARE), purse.cancel)
        found = self._ladder.in_phases(share)
        purse.spend(share.spent)
        if found is None:
            return
        bound = found.end - self._latest
        if bound > self._proved:
            self._proved, self._why = bound, Refuted(kind="solver")
        best = self._latest + self._proved
        self.is_at_its_best = found.can_end_by(self._ladder.problem, best)

    def _late(self, bound: int) -> list[int | None]:
        """Return the due times with this job less than so late."""
        due = list(self._due)
        due[self._job] = self._latest + bound - 1
        return due

    def _gallop(
        self,
        ask: Callable[[int], Refuted | bool | None],
        is_over: Callable[[], bool] = lambda: False,
        *,
        is_rising: bool = True,
    ) -> None:
        """Raise the bound by ever longer strides, then by ever shorter ones; or only by those."""
        ceiling = self._most
        stride = 1 if is_rising else max(1, (ceiling - self._proved + 1) // 2)
        while self._proved < ceiling and not is_over():
            bound = min(ceiling, self._proved + stride)
            found = ask(bound)
            if isinstance(found, Refuted):
                # What is too much for the window itself says more than what is so for a later one.
                first = self._why if self._why.kind == found.kind else found
                self._proved, self._why = bound, first
                stride = 2 * stride if is_rising else max(1, (ceiling - bound) // 2)
            elif stride == 1:
                self.is_at_its_best = found is True
                return
            else:
                ceiling, is_rising = bound - 1, False
                stride = max(1, (ceiling - self._proved + 1) // 2)
