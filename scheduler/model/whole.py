"""Solving a whole book, level by level."""

from dataclasses import dataclass, replace
from time import monotonic

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.model import objective
from scheduler.model.answer import hint as give_hint
from scheduler.model.build import build
from scheduler.model.keeping import run_keeping
from scheduler.model.run import Enough, Found, Limits, Status, Tell, Tuning
from scheduler.model.variables import Frame
from scheduler.problem import Problem, Schedule

SHARE_NUMERATOR, SHARE_DENOMINATOR = 3, 5
"""A level takes at most this share of what is left, so that the next ones get some."""

_SHORT = Tuning(plain=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelResult:
    """What the model says of a problem.

    values: the levels of `schedule` (a plain instance has one, its makespan). bounds: of the
    first levels, one after the other, the least there can be while those before it stand at
    their values; once one is not reached, none follows. exact: the model left nobody's team
    out, so that its bounds are proofs.
    """

    status: Status
    schedule: Schedule | None = None
    values: tuple[int, ...] = ()
    bounds: tuple[int, ...] = ()
    exact: bool = True

    @property
    def proved_count(self) -> int:
        """Return how many leading levels are proved least."""
        if not self.exact:
            return 0
        reached = [bound >= value for value, bound in zip(self.values, self.bounds, strict=False)]
        return reached.index(False) if False in reached else len(reached)


def solve_whole(
    index: Index,
    limits: Limits,
    *,
    hint: Schedule | None = None,
    through: int = objective.LEVEL_COUNT,
    cancel: Enough | None = None,
    on_schedule: Tell | None = None,
) -> ModelResult:
    """Return the best schedule of a book that the limits allow to find.

    Level after level, each solved by itself with those before it held at what they reached.
    hint: a sound schedule to start from; the answer is never worse. through: the last level to
    work on. cancel is asked, and on_schedule told, on the thread of the caller; on_schedule is
    told schedules that are better than any before.
    """
    frame = build(
        index,
        wanted=() if hint is None else hint.teams,
        in_time=hint is not None and _all_in_time(index.problem, hint),
    )
    descent = _Descent(index, frame, limits, hint, cancel, on_schedule)
    for number in range(1, through + 1):
        if not descent.take(number):
            break
    return descent.result()


def can_be_in_time(
    index: Index, limits: Limits, *, people: bool = True, cancel: Enough | None = None
) -> tuple[bool | None, int]:
    """Return whether every job can load by its latest, None if not known, and the effort.

    False is a proof: where teams are too many to list, more is allowed than they could do.
    True says that the model knows of no reason why not. people: as build takes it.
    """
    frame = build(index, generous=True, in_time=True, people=people)
    for job in index.problem.jobs:
        for last in job.lasts if job.latest is not None else ():
            frame.model.add(frame.stages[last].end <= (job.latest or 0))
    found = run_keeping(frame, 0, limits, cancel=cancel)
    if found.status is Status.NOTHING_FITS:
        return False, found.effort
    return (True if found.schedule is not None else None), found.effort


def soonest_loading(
    index: Index,
    limits: Limits,
    *,
    first: Schedule,
    at_least: int,
    cancel: Enough | None = None,
) -> Found:
    """Return the schedule of one job that ends soonest, and what no end is below.

    first: a schedule to be no later than. at_least: an end that none is below. The bound is a
    proof: where teams are too many to list, more is allowed than they could do.
    """
    problem = index.problem
    end = loading_end(problem.jobs[0], first)
    pressed = replace(problem, jobs=(replace(problem.jobs[0], latest=end),))
    frame = build(index.variant(pressed, index.terms.bounds), generous=True, in_time=True)
    goal = frame.model.new_int_var(at_least, end, "")
    for last in problem.jobs[0].lasts:
        frame.model.add(goal >= frame.stages[last].end)
    give_hint(frame, first)
    return run_keeping(frame, goal, limits, cancel=cancel, tuning=_SHORT)


def _all_in_time(problem: Problem, schedule: Schedule) -> bool:
    """Return whether no better schedule can be late, because this one is not."""
    return all(job.latest is not None for job in problem.jobs) and not any(
        levels(problem, schedule)[:3]
    )


class _Descent:
    """The way down the levels of one book."""

    def __init__(
        self,
        index: Index,
        frame: Frame,
        limits: Limits,
        hint: Schedule | None,
        cancel: Enough | None,
        on_schedule: Tell | None,
    ) -> None:
        self._problem = index.problem
        self._frame = frame
        self._limits = limits
        self._ends = None if limits.seconds is None else monotonic() + limits.seconds
        self._effort = limits.effort
        self._cancel = cancel
        self._on_schedule = on_schedule
        self._best = hint
        self._values = None if hint is None else levels(index.problem, hint)
        self._bounds: list[int] = []
        self._bounding = True
        self._status = Status.UNKNOWN if hint is None else Status.FOUND

    def take(self, number: int) -> bool:
        """Work on a level; return whether to go on."""
        least = objective.least_possible(self._frame, number)
        reached = None if self._values is None else self._values[number - 1]
        bound: int | None = least
        if reached is None or reached > least:
            found = self._solve(number)
            if found.status is Status.NOTHING_FITS:
                self._status = honest(Status.NOTHING_FITS, exact=is_exact(self._frame))
                return False
            bound = found.bound
        self._note(number, bound)
        self._hold(number)
        return self._best is not None and not self._is_over()

    def result(self) -> ModelResult:
        """Return what was found."""
        exact = is_exact(self._frame)
        found = ModelResult(
            status=self._status,
            schedule=self._best,
            values=self._values or (),
            bounds=tuple(self._bounds),
            exact=exact,
        )
        proved = self._best is not None and found.proved_count == objective.LEVEL_COUNT
        return replace(found, status=Status.PROVED) if proved else found

    def _solve(self, number: int) -> Found:
        if self._best is not None:
            give_hint(self._frame, self._best)
        goal = objective.level(self._frame, number)
        last = number == objective.LEVEL_COUNT
        found = run_keeping(
            self._frame,
            goal,
            self._share(whole=last),
            cancel=self._cancel,
            on_schedule=self._tell,
        )
        if self._effort is not None:
            self._effort = max(0, self._effort - found.effort)
        if found.schedule is not None:
            self._tell(found.schedule)
        return found

    def _tell(self, schedule: Schedule) -> None:
        values = levels(self._problem, schedule)
        if self._values is not None and values >= self._values:
            return
        self._best, self._values, self._status = schedule, values, Status.FOUND
        if self._on_schedule is not None:
            self._on_schedule(schedule)

    def _note(self, number: int, bound: int | None) -> None:
        if not self._bounding or bound is None:
            self._bounding = False
            return
        self._bounds.append(bound)
        self._bounding = self._values is not None and bound >= self._values[number - 1]

    def _hold(self, number: int) -> None:
        if self._values is not None:
            goal = objective.level(self._frame, number)
            self._frame.model.add(goal <= self._values[number - 1])

    def _share(self, *, whole: bool) -> Limits:
        """Return what a level may take of the time and effort that are left."""
        left = None if self._ends is None else max(0.0, self._ends - monotonic())
        effort = self._effort
        if not whole:
            left = None if left is None else left * SHARE_NUMERATOR / SHARE_DENOMINATOR
            effort = None if effort is None else effort * SHARE_NUMERATOR // SHARE_DENOMINATOR
        return replace(self._limits, seconds=left, effort=effort)

    def _is_over(self) -> bool:
        if self._cancel is not None and self._cancel():
            return True
        if self._effort is not None and self._effort <= 0:
            return True
        return self._ends is not None and monotonic() >= self._ends


def is_exact(frame: Frame) -> bool:
    """Return whether nobody's team was left out."""
    return not any(stage.menu.missing for stage in frame.stages)


def honest(status: Status, *, exact: bool) -> Status:
    """Return the status, but that a model which leaves teams out proves nothing."""
    proof = status in (Status.NOTHING_FITS, Status.PROVED)
    if proof and not exact:
        return Status.FOUND if status is Status.PROVED else Status.UNKNOWN
    return status
