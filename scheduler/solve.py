"""The door: one question in, one checked answer out."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check import check
from scheduler.faults import EngineFault
from scheduler.normalise import Normal, normalise
from scheduler.outcome import CheckResult, Outcome
from scheduler.problem import Schedule
from scheduler.proofs import prove_missed, proved_levels
from scheduler.request import Cancel, Progress, SolveRequest
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort, AfterSeconds, AnyOf, Stop, WhenCancelled
from scheduler.unfold import to_plan
from scheduler.verdicts import Proved, job_outcomes, worst
from shared.book import Standing
from shared.ids import JobId, StepId
from shared.plan import Plan
from shared.units import STEP_MINUTES

Clock = Callable[[], float]
LEFT_OUT_ONE_BY_ONE = 5
TELL_SECONDS = 1.0
"""No more often than this is a better plan told: each is unfolded and checked first."""


def solve(
    request: SolveRequest,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    clock: Clock = time.monotonic,
) -> Outcome:
    """Return a checked plan of the book and the verdict on each of its jobs.

    progress: told of better plans and bounds meanwhile. cancel: asked often; once it says True
    the best so far is returned. clock: seconds that only rise.

    Raises
    ------
    EngineFault
        If the check finds the engine's own plan broken.
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    return _Solve(request, progress, cancel, clock).run()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Start:
    """The normalised book with its first schedule."""

    normal: Normal
    index: Index
    schedule: Schedule


class _Solve:
    """One solve from the question to the answer."""

    def __init__(
        self,
        request: SolveRequest,
        progress: Progress | None,
        cancel: Cancel | None,
        clock: Clock,
    ) -> None:
        self._request, self._progress, self._clock = request, progress, clock
        self._stop = _stop_of(request, cancel, clock)
        self._told_at: float | None = None

    def run(self) -> Outcome:
        """Find a plan, better it, prove what is missed, judge."""
        start = self._first()
        self._tell(start, start.schedule)
        best = improve_by_shifts(
            start.index,
            start.schedule,
            seed=self._request.seed,
            stop=self._stop,
            on_better=lambda schedule, _: self._tell_sometimes(start, schedule),
        )
        return self._outcome(start, best)

    def _first(self) -> _Start:
        """Return a first schedule; steps that fit nowhere are left out, then their whole jobs."""
        request = self._request
        left_out: set[StepId] = set()
        for tries in range(len(request.book.jobs) + LEFT_OUT_ONE_BY_ONE + 1):
            normal = normalise(request.book, request.now, request.asked, left_out=left_out)
            index = Index(normal.problem)
            found = first_schedule(index, request.seed)
            if not isinstance(found, Unfit):
                return _Start(normal=normal, index=index, schedule=found)
            name = normal.stages[found.stage]
            if tries < LEFT_OUT_ONE_BY_ONE and name.is_told:
                left_out.add(name.step)
            else:
                left_out |= _steps_of(normal, name.job)
        raise AssertionError("a book without any step to place has a schedule")

    def _tell_sometimes(self, start: _Start, schedule: Schedule) -> None:
        now = self._clock()
        if self._told_at is None or now - self._told_at >= TELL_SECONDS:
            self._tell(start, schedule)

    def _tell(self, start: _Start, schedule: Schedule) -> None:
        """Tell of a better plan, checked."""
        if self._progress is None:
            return
        plan, _ = self._checked(start, schedule)
        self._progress.plan(plan, _levels(start.normal, schedule))
        self._told_at = self._clock()

    def _checked(self, start: _Start, schedule: Schedule) -> tuple[Plan, CheckResult]:
        plan = to_plan(start.normal, schedule, seed=self._request.seed)
        found = check(self._request.book, plan)
        if found.breaches:
            raise EngineFault(found.breaches)
        return plan, found

    def _outcome(self, start: _Start, schedule: Schedule) -> Outcome:
        normal = start.normal
        plan, checked = self._checked(start, schedule)
        proofs = self._proofs(start, schedule)
        jobs = job_outcomes(normal, start.index, schedule, proofs)
        proved = proved_levels(normal, schedule, proofs)
        return Outcome(
            revision=self._request.book.revision,
            now=self._request.now,
            plan=plan,
            check=checked,
            verdict=worst(tuple(job.verdict for job in jobs)),
            levels=_levels(normal, schedule),
            proved_levels=proved,
            jobs=jobs,
            stopped=self._stop.reason() or "proved",
        )

    def _proofs(self, start: _Start, schedule: Schedule) -> dict[JobId, Proved]:
        found = prove_missed(start.normal, start.index, schedule)
        for job, proof in found.items():
            if self._progress is not None:
                self._progress.bound(job, proof.bound_steps * STEP_MINUTES)
        return found


def _stop_of(request: SolveRequest, cancel: Cancel | None, clock: Clock) -> Stop:
    stops: list[Stop] = [
        AfterSeconds(request.seconds, clock)
        if request.effort is None
        else AfterEffort(request.effort)
    ]
    if cancel is not None:
        stops.append(WhenCancelled(cancel))
    return AnyOf(*stops)


def _steps_of(normal: Normal, job: JobId) -> set[StepId]:
    return {step.id for name in normal.jobs if name.job.id == job for step in name.job.steps}


def _levels(normal: Normal, schedule: Schedule) -> Levels:
    """Return the levels of a schedule; windows missed by lorries that have gone count too."""
    found = levels(normal.problem, schedule)
    missed = [gone.job.standing for gone in normal.gone if not gone.kept]
    asked = missed.count(Standing.ENQUIRY)
    return (found[0] + len(missed) - asked, found[1] + asked, *found[2:])
