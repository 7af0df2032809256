"""Solving a plain instance for its makespan, by the way that suits its kind.

One door for all: what there is in the problem decides, never where it comes from. People are
named last: first the model of pools, whose bound holds for the whole, then people put to what it
found, then the whole model in between. Many stages that only share rooms start from passes that
breed orders. Everything else goes straight to the solver.
"""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic

from scheduler.calendar import Index
from scheduler.faults import EngineFault
from scheduler.model import objective
from scheduler.model.answer import hint as give_hint
from scheduler.model.build import build
from scheduler.model.keeping import run_keeping
from scheduler.model.menu import menus
from scheduler.model.pools import pools_of
from scheduler.model.run import Enough, Found, Limits, Status, Tell, Tuning, run
from scheduler.model.variables import Expr, Frame
from scheduler.model.who import with_people
from scheduler.model.whole import ModelResult, honest, is_exact
from scheduler.passes import Passes
from scheduler.problem import Problem, Schedule
from scheduler.purse import WHOLE_SHARE, Purse
from scheduler.quick import is_for

MANY_STAGES = 50
"""From so many stages on, passes find what the solver does not."""
FIRST_ORDERS = 30
ORDERS_PER_EFFORT = 4
SLICE_SECONDS = 0.05
POOLS_SHARE, WHO_SHARE, FIRST_SHARE, BREED_SHARE = 500, 60, 50, 300
WHO_TRIES_MAX = 8
LOOK_SHARE, NEAR_PERCENT = 300, 4
VARIED_MAX, VARY_SHARE = 20, 100

PROVE = Tuning(pair=("no_lp", "quick_restart_no_lp"))
LOWER = Tuning(pair=("objective_lb_search_no_lp", "no_lp"), lower=True)
CLOSE = Tuning(pair=("no_lp", "objective_lb_search_no_lp"), both=True)
SHOP = Tuning(pair=("no_lp", "objective_lb_search"), both=True)
VARIED = Tuning(pair=("no_lp", "quick_restart_no_lp"), varied=True)
WITH_PEOPLE = Tuning(pair=("default_lp", "no_lp"))


def least_makespan(
    index: Index,
    limits: Limits,
    *,
    hint: Schedule | None = None,
    cancel: Enough | None = None,
    on_schedule: Tell | None = None,
) -> ModelResult:
    """Return the schedule of a plain instance that ends soonest, as far as the limits allow."""
    search = _Search(index, limits, hint, cancel, on_schedule)
    problem = index.problem
    if _is_pooled(problem):
        search.pools()
        search.whole(WITH_PEOPLE)
    elif is_for(problem):
        search.rooms()
    else:
        search.whole(PROVE)
    return search.result()


def _is_pooled(problem: Problem) -> bool:
    """Return whether who does what is all that the model without people leaves out."""
    has_limits_of_days = problem.pieces_max is not None or any(s.sands for s in problem.stages)
    return not problem.jobs and not has_limits_of_days and bool(pools_of(problem))


class _Search:
    """What is known so far of one instance."""

    def __init__(
        self,
        index: Index,
        limits: Limits,
        hint: Schedule | None,
        cancel: Enough | None,
        on_schedule: Tell | None,
    ) -> None:
        if index.problem.makespan is None:
            raise ValueError("a book has levels, no makespan")
        self._index = index
        self._last = index.problem.makespan
        self._purse = Purse(limits, cancel)
        self._on_schedule = on_schedule
        self._best: Schedule | None = None
        self._start = hint
        self._value: int | None = None
        self._bound: int | None = None
        self._status: Status | None = None
        self._exact = True

    def result(self) -> ModelResult:
        """Return what was found."""
        if self._is_closed():
            self._status = Status.PROVED
        status = self._status
        if status is None:
            status = Status.UNKNOWN if self._best is None else Status.FOUND
        return ModelResult(
            status=honest(status, exact=self._exact),
            schedule=self._best,
            values=() if self._value is None else (self._value,),
            bounds=() if self._bound is None or self._best is None else (self._bound,),
            exact=self._exact,
        )

    def pools(self) -> None:
        """Solve without people, then put people to what was found."""
        frame = build(self._index, people=False)
        found: list[Schedule] = []
        answer = run_keeping(
            frame,
            self._goal(frame),
            self._purse.left(POOLS_SHARE),
            cancel=self._purse.cancel,
            on_schedule=found.append,
            tuning=PROVE,
        )
        self._purse.spend(answer.effort)
        if answer.status is Status.NOTHING_FITS:
            self._status = Status.NOTHING_FITS
            return
        self._raise(answer.bound)
        if answer.schedule is not None and answer.schedule not in found:
            found.append(answer.schedule)
        self._put_people(found[::-1][:WHO_TRIES_MAX])
        if self._best is None and found:
            self._start = found[-1]
        if answer.status is Status.PROVED and not self._is_closed():
            self._vary(frame)

    def _vary(self, frame: Frame) -> None:
        """Look for other schedules of pools as short as can be, one that people can be put to."""
        frame.model.add(self._goal(frame) <= (self._bound or 0))
        for turn in range(VARIED_MAX):
            limits = self._purse.left(VARY_SHARE)
            limits = replace(limits, seed=limits.seed + turn)
            answer = run(frame, 0, limits, cancel=self._purse.cancel, tuning=VARIED)
            self._purse.spend(answer.effort)
            if answer.schedule is None:
                return
            self._put_people([answer.schedule])
            if self._is_closed() or self._purse.is_over():
                return

    def _put_people(self, schedules: list[Schedule]) -> None:
        menu_by_stage = menus(self._index)
        for schedule in schedules:
            if self._purse.is_over():
                return
            limits = self._purse.of_whole(WHO_SHARE)
            named, effort = with_people(self._index, menu_by_stage, schedule, limits)
            self._purse.spend(effort)
            if named is not None:
                self._keep(named)
                return

    def rooms(self) -> None:
        """Start from passes; breed more of them where there are many stages."""
        problem = self._index.problem
        passes = Passes(problem, self._purse.left().seed)
        passes.run(lambda count: count >= FIRST_ORDERS or self._purse.is_over())
        self._purse.spend(FIRST_ORDERS // ORDERS_PER_EFFORT)
        self._raise(passes.bound)
        self._take(passes)
        if all(room.capacity == 1 for room in problem.rooms):
            self.whole(SHOP)
            return
        if len(problem.stages) < MANY_STAGES:
            self.whole(PROVE, share=LOOK_SHARE)
            self.whole(CLOSE)
            return
        self.whole(PROVE, share=FIRST_SHARE)
        if not self._is_closed():
            self._breed(passes)
            self.whole(CLOSE if self._is_near() else PROVE)

    def _is_near(self) -> bool:
        """Return whether little is left between the bound and the best."""
        if self._value is None or self._bound is None:
            return False
        return 100 * (self._value - self._bound) <= NEAR_PERCENT * self._value

    def _breed(self, passes: Passes) -> None:
        """Make passes, with the solver beside them where time is what is limited."""
        limits = self._purse.of_whole(BREED_SHARE)
        if limits.seconds is None or limits.workers < 2:
            self._breed_alone(passes, limits)
        else:
            beside = replace(limits, workers=limits.workers - 1)
            self.whole(LOWER, limits=beside, beside=lambda: self._slice(passes))
        self._take(passes)

    def _breed_alone(self, passes: Passes, limits: Limits) -> None:
        ends = None if limits.seconds is None else monotonic() + limits.seconds
        most = None if limits.effort is None else limits.effort * ORDERS_PER_EFFORT

        def is_over(count: int) -> bool:
            if most is not None and count >= most:
                return True
            return self._purse.is_over() or (ends is not None and monotonic() >= ends)

        passes.run(is_over)
        self._purse.spend(limits.effort or 0)

    def _slice(self, passes: Passes) -> bool:
        """Make passes for a moment; return whether none can be better any more."""
        ends = monotonic() + SLICE_SECONDS
        passes.run(lambda _: monotonic() >= ends)
        return passes.is_least

    def _take(self, passes: Passes) -> None:
        best = passes.best
        if best is not None and max(best.ends) <= self._index.problem.horizon:
            self._keep(best)

    def whole(
        self,
        tuning: Tuning,
        *,
        share: int = WHOLE_SHARE,
        limits: Limits | None = None,
        beside: Callable[[], bool] | None = None,
    ) -> None:
        """Ask the solver about everything, from what is known on."""
        if self._is_closed() or self._status is Status.NOTHING_FITS or self._purse.is_over():
            return
        frame = build(self._index)
        self._exact = is_exact(frame)
        goal = self._goal(frame)
        if self._bound is not None:
            frame.model.add(goal >= self._bound)
        if self._value is not None:
            frame.model.add(goal <= self._value)
        start = self._best if self._best is not None else self._start
        if start is not None:
            give_hint(frame, start)

        def cancel() -> bool:
            if beside is not None and beside():
                return True
            return self._purse.cancel is not None and self._purse.cancel()

        answer = run_keeping(
            frame,
            goal,
            self._purse.of_whole(share) if limits is None else limits,
            cancel=cancel,
            on_schedule=self._keep if self._on_schedule is not None else None,
            tuning=tuning,
        )
        self._purse.spend(answer.effort)
        self._note(answer)

    def _note(self, answer: Found) -> None:
        if answer.schedule is not None:
            self._keep(answer.schedule)
        if answer.status is Status.NOTHING_FITS:
            if self._best is not None:
                raise EngineFault("the solver rules out a schedule that is known")
            self._status = Status.NOTHING_FITS
            return
        self._raise(answer.bound)

    def _goal(self, frame: Frame) -> Expr:
        goal = objective.makespan(frame)
        if goal is None:
            raise ValueError("a book has levels, no makespan")
        return goal

    def _keep(self, schedule: Schedule) -> None:
        value = schedule.starts[self._last]
        if self._value is None or value < self._value:
            self._best, self._value = schedule, value
            if self._on_schedule is not None:
                self._on_schedule(schedule)

    def _raise(self, bound: int | None) -> None:
        if bound is not None and (self._bound is None or bound > self._bound):
            self._bound = bound

    def _is_closed(self) -> bool:
        return self._value is not None and self._bound is not None and self._bound >= self._value
