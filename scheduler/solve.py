"""The door: one question in, one checked answer out."""

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, cast

from scheduler.aims import Levels, levels
from scheduler.budget import Budget
from scheduler.calendar import Index
from scheduler.check import check
from scheduler.crowded import is_crowded
from scheduler.faults import broken
from scheduler.held_told import freed, hold_told, slot_of
from scheduler.kept import Kept
from scheduler.levers.taken import taken_cost
from scheduler.model.departures import let_leave
from scheduler.normalise import Normal, normalise
from scheduler.normalise.ways import money
from scheduler.outcome import LEVEL_COUNT, CheckResult, Outcome
from scheduler.problem import Schedule
from scheduler.repair import without_loss
from scheduler.request import Cancel, Progress, SolveRequest
from scheduler.shifts import improve_by_shifts
from scheduler.starting import Start, first_start, staying
from scheduler.stop import WHOLE_SHARE, Stop
from scheduler.unfold import to_plan
from scheduler.verdicts import Proved, job_outcomes, worst
from shared.book import Standing
from shared.ids import JobId
from shared.plan import Plan
from shared.units import STEP_MINUTES

if TYPE_CHECKING:
    from scheduler.bounding import Bounding
    from scheduler.proofs import Prover

Clock = Callable[[], float]
SMALL_STAGES = 80
"""Books with no more stages go to the solver whole."""
SMALL_SHARE = 150
"""Up to so many thousandths of the time or effort jobs of a small book are shifted."""
PARTS_SHARE = 700
"""Up to so many thousandths the plan is bettered where proofs can't be looked for beside it."""
TELL_SECONDS = 1.0
"""No more often than this is a better plan told: each is unfolded and checked first."""


def solve(
    request: SolveRequest,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    clock: Clock = time.monotonic,
    kept: Kept | None = None,
) -> Outcome:
    """Return a checked plan of the book and the verdict on each of its jobs.

    progress: told of better plans and bounds meanwhile. cancel: asked often; once it says True
    the best so far is returned. clock: seconds that only rise. kept: what the last solve left; the
    plan begins from its answer, with as little changed as an edit since then asks for, and this
    answer is left for the next.

    Raises
    ------
    EngineFault
        If the check finds the engine's own plan broken.
    UnknownZone, UnknownCalendar
        If nothing is known of a zone or of the holidays of a country in the book.
    """
    return _Solve(request, progress, cancel, clock, kept or Kept()).run()


class _Solve:
    """One solve from the question to the answer."""

    def __init__(
        self,
        request: SolveRequest,
        progress: Progress | None,
        cancel: Cancel | None,
        clock: Clock,
        kept: Kept,
    ) -> None:
        self._request, self._progress, self._kept = request, progress, kept
        self._cancel, self._clock = cancel, clock
        self._budget = Budget(request, cancel, clock)
        self._told_at: float | None = None

    def run(self) -> Outcome:
        """Find a plan, better it, prove what is missed, judge."""
        start = self._again() or first_start(self._request, self._kept)
        self._tell(start, start.schedule)
        start = self._without_loss(start)
        # The solver takes a second to import: the first plan must not wait for it.
        from scheduler.proofs import Prover, is_partial, proved_levels

        prover = Prover(*start.free)
        prover.by_chain(freed(start.normal, start.schedule))
        best, proved_count = self._improved(start, prover)
        start, best = self._with_departures(start, best)
        proofs = prover.proved(freed(start.normal, best))
        for job, proof in proofs.items():
            if self._progress is not None:
                self._progress.bound(job, proof.bound_steps * STEP_MINUTES)
        if is_partial(start.normal):
            proved_count = 0
        proved_count = max(
            proved_count, proved_levels(start.free[0], freed(start.normal, best), prover)
        )
        return self._outcome(start, best, proofs, proved_count, prover)

    def _improved(self, start: Start, prover: "Prover") -> tuple[Schedule, int]:
        """Return the best schedule found, and how many of its levels the solver proved least.

        A small book is shifted a little and goes to the solver whole; what is missed without a
        proof is then asked about. Of a larger one parts are solved, and beside that, on a thread
        of its own where it may have one, proofs are looked for.
        """
        if len(start.normal.problem.stages) <= SMALL_STAGES:
            best = self._shifted(start, start.schedule)
            best, proved_count = self._solved_whole(start, prover, best)
            free = freed(start.normal, best)
            prover.by_chain(free)
            if prover.unproved(free):
                self._bounding(prover, free).run()
            return best, proved_count
        if self._request.effort is None and self._request.workers > 1:
            return self._bettered_beside(start, prover), 0
        best = self._bettered(start, self._budget.until(PARTS_SHARE))
        self._bounding(prover, freed(start.normal, best)).run()
        return best, 0

    def _shifted(self, start: Start, schedule: Schedule) -> Schedule:
        return improve_by_shifts(
            start.index,
            schedule,
            seed=self._request.seed,
            stop=self._budget.until(SMALL_SHARE),
            on_better=lambda schedule, _: self._tell_sometimes(start, schedule),
        )

    def _solved_whole(
        self, start: Start, prover: "Prover", schedule: Schedule
    ) -> tuple[Schedule, int]:
        from scheduler.model.whole import solve_whole

        if is_crowded(start.normal.problem, schedule):
            return schedule, 0
        is_open = prover.unproved(freed(start.normal, schedule))
        share = PARTS_SHARE if is_open else WHOLE_SHARE
        found = solve_whole(
            start.index,
            self._budget.limits(until=share),
            hint=schedule,
            cancel=self._cancel,
            on_schedule=lambda schedule: self._tell_sometimes(start, schedule),
        )
        return found.schedule or schedule, found.proved_count

    def _bettered_beside(self, start: Start, prover: "Prover") -> Schedule:
        """Better the schedule while proofs are looked for about the best so far."""
        bounding = self._bounding(prover, freed(start.normal, start.schedule))
        bounding.start()
        try:
            best = self._bettered(
                start,
                self._budget.until(WHOLE_SHARE),
                on_better=lambda schedule: bounding.tell(freed(start.normal, schedule)),
            )
            if prover.unproved(freed(start.normal, best)):
                bounding.finish()
        finally:
            bounding.stop()
        return best

    def _bettered(
        self, start: Start, stop: Stop, on_better: Callable[[Schedule], None] | None = None
    ) -> Schedule:
        from scheduler.improve import BY_EFFORT, IN_SECONDS, improve

        def tell(schedule: Schedule, _: Levels) -> None:
            if on_better is not None:
                on_better(schedule)
            self._tell_sometimes(start, schedule)

        request = self._request
        pace = BY_EFFORT
        if request.effort is None:
            pace = replace(IN_SECONDS, threads=min(IN_SECONDS.threads, request.workers))
        return improve(
            start.index, start.schedule, seed=request.seed, stop=stop, pace=pace, on_better=tell
        )

    def _bounding(self, prover: "Prover", schedule: Schedule) -> "Bounding":
        """Return who looks for proofs with all that is left."""
        from scheduler.bounding import Bounding

        limits = replace(self._budget.limits(), workers=1)
        return Bounding(prover, schedule, limits, cancel=self._cancel)

    def _again(self) -> Start | None:
        """Return a first schedule near the last answer, if there is one."""
        found = self._kept.again(self._request)
        if found is None:
            return None
        return Start(
            normal=found.normal,
            index=found.index,
            schedule=found.schedule,
            left_out={},
            late=found.late,
            free=found.free,
            loses=found.loses,
        )

    def _without_loss(self, start: Start) -> Start:
        """Begin from a schedule made anew where an edit costs windows that this one keeps."""
        if not start.loses:
            return start
        found = without_loss(start.index, start.schedule, self._request.seed)
        if found is not start.schedule:
            self._tell(start, found)
        return replace(start, schedule=found)

    def _with_departures(self, start: Start, schedule: Schedule) -> tuple[Start, Schedule]:
        """Let judged journeys that only lost their window since leave later, where one can."""
        stays = staying(start.normal, schedule)
        if all(start.late.get(job) == loaded for job, loaded in stays.items()):
            return start, schedule
        request, late = self._request, {**start.late, **stays}
        normal = normalise(
            request.book,
            request.now,
            request.asked,
            left_out=start.left_out,
            late=late,
            memory=self._kept.memory,
        )
        free = normal, Index(normal.problem, tables=self._kept.tables)
        let_go = set(map(slot_of, start.normal.let_go))
        normal, index = hold_told(*free, self._kept.tables, let_go)
        found = replace(start, normal=normal, index=index, late=late, free=free)
        return found, let_leave(index, schedule)

    def _tell_sometimes(self, start: Start, schedule: Schedule) -> None:
        now = self._clock()
        if self._told_at is None or now - self._told_at >= TELL_SECONDS:
            self._tell(start, schedule)

    def _tell(self, start: Start, schedule: Schedule) -> None:
        """Tell of a better plan, checked."""
        if self._progress is None:
            return
        plan, _ = self._checked(start, schedule)
        self._progress.plan(plan, _levels(start.normal, schedule))
        self._told_at = self._clock()

    def _checked(self, start: Start, schedule: Schedule) -> tuple[Plan, CheckResult]:
        plan = to_plan(start.normal, schedule, seed=self._request.seed)
        found = check(self._request.book, plan, self._kept.checks)
        if found.breaches:
            raise broken(found.breaches)
        return plan, found

    def _outcome(
        self,
        start: Start,
        schedule: Schedule,
        proofs: Mapping[JobId, Proved],
        proved_count: int,
        prover: "Prover",
    ) -> Outcome:
        normal = start.normal
        plan, checked = self._checked(start, schedule)
        jobs = job_outcomes(*start.free, freed(normal, schedule), proofs)
        self._kept.note(normal, schedule, start.late)
        reached = _levels(normal, schedule)
        return Outcome(
            revision=self._request.book.revision,
            now=self._request.now,
            plan=plan,
            check=checked,
            verdict=worst(tuple(job.verdict for job in jobs)),
            levels=reached,
            bounds=_bounds(normal, reached, proved_count, prover),
            proved_levels=proved_count,
            jobs=jobs,
            stopped=self._budget.stopped(is_proved=proved_count == LEVEL_COUNT),
        )


def _levels(normal: Normal, schedule: Schedule) -> Levels:
    """Return the levels of a schedule, with what no schedule changes."""
    return _with_facts(normal, levels(normal.problem, schedule))


def _bounds(normal: Normal, reached: Levels, proved_count: int, prover: "Prover") -> Levels:
    """Return what each level comes to at least; those proved least are what was reached."""
    least = _with_facts(normal, prover.least_levels())
    pairs = enumerate(zip(reached, least, strict=True))
    found = tuple(value if at < proved_count else min(value, bound) for at, (value, bound) in pairs)
    return cast("Levels", found)


def _with_facts(normal: Normal, found: Levels) -> Levels:
    """Add windows missed by lorries that have gone, and what costs whatever the plan."""
    one, two, three, four, five, six, cost, floor = found
    missed = [gone.job.standing for gone in normal.gone if not gone.kept]
    asked = missed.count(Standing.ENQUIRY)
    paid = money(taken_cost(normal.book))
    return (one + len(missed) - asked, two + asked, three, four, five, six, cost + paid, floor)
