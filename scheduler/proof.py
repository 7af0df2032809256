"""Proofs that a job can't be loaded in time, even alone in an otherwise empty workshop.

The longest chain first, which takes milliseconds; then the solver on the job alone. Both only
drop rules, so neither ever says "cannot" of a job that can.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from time import monotonic
from typing import Literal

from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.crowded import without_crowds
from scheduler.model.alone import alone
from scheduler.model.run import Limits
from scheduler.model.whole import can_be_in_time
from scheduler.problem import JobAim, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """That loading of a job ends at least `bound_steps` after its latest, whatever the plan.

    kind: by the longest chain, or by the solver.
    """

    kind: Literal["chain", "solver"]
    job: int
    bound_steps: int


def prove(
    index: Index,
    job: int,
    limits: Limits,
    *,
    most_steps: int | None = None,
    cancel: Callable[[], bool] | None = None,
) -> Proof | None:
    """Return a proof that a job can't be in time, None if none was found within the limits.

    The solver goes on, while the limits allow, to the greatest bound it can prove; most_steps:
    how late a plan is known to be, past which no bound needs to be asked for.
    """
    aim = index.problem.jobs[job]
    if aim.latest is None or aim.guessed or not aim.lasts:
        return None
    by_itself = without_crowds(alone(index.problem, job))
    chain = _chain_bound(Index(by_itself), by_itself.jobs[0], aim.latest)
    found = _Climb(by_itself, aim.latest, limits, cancel).climb(chain, most_steps)
    if found > chain:
        return Proof(kind="solver", job=job, bound_steps=found)
    return Proof(kind="chain", job=job, bound_steps=chain) if chain else None


def prove_by_chain(index: Index, job: int) -> Proof | None:
    """Return the proof by the longest chain alone, None if the chain could be in time."""
    aim = index.problem.jobs[job]
    if aim.latest is None or aim.guessed:
        return None
    by_itself = without_crowds(alone(index.problem, job))
    bound = _chain_bound(Index(by_itself), by_itself.jobs[0], aim.latest)
    return Proof(kind="chain", job=job, bound_steps=bound) if bound else None


def _chain_bound(index: Index, aim: JobAim, latest: int) -> int:
    ends = earliest(index).ends
    never = index.problem.horizon + 1
    soonest = max((_or(ends[last], never) for last in aim.lasts), default=0)
    return max(0, soonest - latest)


def _or(end: int | None, never: int) -> int:
    return never if end is None else end


class _Climb:
    """Asking for one bound after another."""

    def __init__(
        self,
        problem: Problem,
        latest: int,
        limits: Limits,
        cancel: Callable[[], bool] | None,
    ) -> None:
        self._problem = problem
        self._latest = latest
        self._limits = limits
        self._ends = None if limits.seconds is None else monotonic() + limits.seconds
        self._effort = limits.effort
        self._cancel = cancel

    def climb(self, proved: int, most: int | None) -> int:
        """Return the greatest b for which it is proved that no plan is less than b late."""
        too_much = self._problem.horizon - self._latest + 1
        ceiling = min(too_much, too_much if most is None else most)
        stride = 1
        while proved < ceiling and not self._is_over():
            asked = min(ceiling, proved + stride)
            answer = self._cannot(asked)
            if answer is None:
                break
            if answer:
                proved, stride = asked, 2 * stride
            elif stride == 1:
                break
            else:
                ceiling, stride = asked - 1, max(1, (asked - 1 - proved) // 2)
        return proved

    def _cannot(self, late_steps: int) -> bool | None:
        """Return whether loading can't end less than so many steps late; None: not known."""
        latest = self._latest + late_steps - 1
        (aim,) = self._problem.jobs
        asked = replace(self._problem, jobs=(replace(aim, latest=latest, wish=None),))
        limits = replace(self._limits, seconds=self._left(), effort=self._effort)
        answer, effort = can_be_in_time(Index(asked), limits, cancel=self._cancel)
        if self._effort is not None:
            self._effort = max(0, self._effort - effort)
        return None if answer is None else not answer

    def _left(self) -> float | None:
        return None if self._ends is None else max(0.0, self._ends - monotonic())

    def _is_over(self) -> bool:
        if self._cancel is not None and self._cancel():
            return True
        if self._effort is not None and self._effort <= 0:
            return True
        return self._ends is not None and monotonic() >= self._ends
