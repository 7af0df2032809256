"""Running the solver: time and effort, cancelling, telling of each better schedule.

The solver works on a thread of its own, so that the caller's thread can be asked whether it has
had enough, hears a signal, and is the one that tells of schedules.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil
from queue import SimpleQueue

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model_helper import CpSolverStatus

from scheduler.model.answer import schedule_of
from scheduler.model.variables import Expr, Frame
from scheduler.problem import Schedule
from scheduler.stop import pause

EFFORT_UNITS_PER_SOLVER_SECOND = 100
_POLL_SECONDS = 0.002
_ALONE_FIRST = 5
"""So much effort goes to one search first. Several together bring the whole process down where one
of them is done while others are still loading (seen with ortools 9.15, taking turns: "Check failed:
heuristics.fixed_search", else a segmentation fault); what one search settles at once never comes to
that."""
_ROUNDING = 1e-6
Tell = Callable[[Schedule], None]
Enough = Callable[[], bool]


class Status(StrEnum):
    """How a solve ended."""

    PROVED = "proved"
    FOUND = "found"
    NOTHING_FITS = "nothing_fits"
    UNKNOWN = "unknown"


_STATUS = {
    cp_model.OPTIMAL: Status.PROVED,
    cp_model.FEASIBLE: Status.FOUND,
    cp_model.INFEASIBLE: Status.NOTHING_FITS,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a solve may take.

    seconds: of wall time. effort: of deterministic work, in hundredths of the solver's own
    seconds; with it the same problem, seed and workers give the same answer. None: no limit.
    """

    seconds: float | None = None
    effort: int | None = None
    workers: int = 2
    seed: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuning:
    """How the solver searches, where it is not the usual way of a book.

    plain: of a plain instance; else of a book without a linear relaxation, and no more is read.
    pair: the two searches of two workers (none: as the solver chooses). both: each worker keeps to
    one of them; else the second worker looks round the best schedule, and the second search only
    counts where effort is limited. linear: how much of a linear relaxation one worker keeps.
    lower: one worker raises the bound first. varied: search at random.
    """

    pair: tuple[str, str] | None = None
    both: bool = False
    lower: bool = False
    varied: bool = False
    linear: int = 0
    plain: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What one solve gave: the best schedule, its value, and the least value there can be."""

    status: Status
    schedule: Schedule | None = None
    value: int | None = None
    bound: int | None = None
    effort: int = 0


def run(
    frame: Frame,
    objective: Expr,
    limits: Limits,
    *,
    cancel: Enough | None = None,
    on_schedule: Tell | None = None,
    tuning: Tuning | None = None,
) -> Found:
    """Return the schedule of least objective that the limits allow to find.

    tuning: None for the usual way of a book.
    """
    frame.model.minimize(objective)

    def once(limits: Limits) -> Found:
        return _once(
            frame, objective, limits, cancel=cancel, on_schedule=on_schedule, tuning=tuning
        )

    if limits.workers == 1:
        return once(limits)
    alone = _ALONE_FIRST if limits.effort is None else min(_ALONE_FIRST, limits.effort)
    first = once(replace(limits, workers=1, effort=alone))
    if first.status in (Status.PROVED, Status.NOTHING_FITS):
        return first
    left = None if limits.effort is None else limits.effort - first.effort
    if left is not None and left <= 0:
        return first
    return _better(first, once(replace(limits, effort=left)))


def _better(first: Found, then: Found) -> Found:
    """Return what two searches of one problem gave together, the second after the first."""
    effort = first.effort + then.effort
    if then.status is Status.UNKNOWN and first.status is Status.FOUND:
        return replace(first, effort=effort)
    return replace(then, effort=effort)


def _once(
    frame: Frame,
    objective: Expr,
    limits: Limits,
    *,
    cancel: Enough | None,
    on_schedule: Tell | None,
    tuning: Tuning | None,
) -> Found:
    solver = _solver(limits, tuning)
    if tuning is None and isinstance(objective, int):
        # A question without objective is answered twice as fast without the linear relaxation.
        solver.parameters.linearization_level = 0
    told: SimpleQueue[Schedule] = SimpleQueue()
    listener = _Listener(frame, told) if on_schedule else None
    with ThreadPoolExecutor(max_workers=1) as threads:
        future = threads.submit(solver.solve, frame.model, listener)
        try:
            while not future.done():
                pause(_POLL_SECONDS)
                _tell_all(told, on_schedule)
                if cancel is not None and cancel():
                    break
        finally:
            while not future.done():
                solver.stop_search()
                pause(_POLL_SECONDS)
        _tell_all(told, on_schedule)
        return _found(frame, solver, future.result())


class _Listener(cp_model.CpSolverSolutionCallback):
    def __init__(self, frame: Frame, told: SimpleQueue[Schedule]) -> None:
        super().__init__()
        self._frame = frame
        self._told = told

    def on_solution_callback(self) -> None:
        self._told.put(schedule_of(self._frame, self.value))


def _tell_all(told: SimpleQueue[Schedule], on_schedule: Tell | None) -> None:
    while on_schedule is not None and not told.empty():
        on_schedule(told.get())


def _solver(limits: Limits, tuning: Tuning | None) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = limits.workers
    solver.parameters.random_seed = limits.seed
    solver.parameters.catch_sigint_signal = False
    _tune(solver, limits, tuning)
    if limits.seconds is not None:
        solver.parameters.max_time_in_seconds = max(0.0, limits.seconds)
    if limits.effort is not None:
        solver.parameters.max_deterministic_time = limits.effort / EFFORT_UNITS_PER_SOLVER_SECOND
        solver.parameters.interleave_search = limits.workers > 1
    return solver


def _tune(solver: cp_model.CpSolver, limits: Limits, tuning: Tuning | None) -> None:
    if tuning is None or not tuning.plain:
        # Calendars make domains of hundreds of ranges: probing them takes longer than the search.
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.symmetry_level = 0
        solver.parameters.max_presolve_iterations = 1
        if tuning is not None:
            solver.parameters.linearization_level = 0
        return
    solver.parameters.randomize_search = tuning.varied
    if limits.workers == 1:
        solver.parameters.linearization_level = tuning.linear
        solver.parameters.use_objective_lb_search = tuning.lower
    elif limits.workers == 2 and tuning.pair is not None:
        solver.parameters.subsolvers.extend(tuning.pair)
        solver.parameters.num_full_subsolvers = 2 if tuning.both else 0


def _found(frame: Frame, solver: cp_model.CpSolver, ended: CpSolverStatus) -> Found:
    status = _STATUS.get(ended, Status.UNKNOWN)
    spent = ceil(solver.deterministic_time * EFFORT_UNITS_PER_SOLVER_SECOND)
    if status is Status.NOTHING_FITS:
        return Found(status=status, effort=spent)
    bound = ceil(solver.best_objective_bound - _ROUNDING)
    if status is Status.UNKNOWN:
        return Found(status=status, bound=bound, effort=spent)
    return Found(
        status=status,
        schedule=schedule_of(frame, solver.value),
        value=round(solver.objective_value),
        bound=bound,
        effort=spent,
    )
