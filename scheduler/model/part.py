"""A part of a schedule solved anew: free stages within reach, all else where it is.

The levels stay strict: neighbouring ones are weighed together, each worth more than all that
those behind it can differ by, as far as the figures stay small enough; the rest is solved level
after level, those before held at what they reached.
"""

from collections.abc import Generator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model_helper import CpSolverStatus

from scheduler.aims import SOON_STEPS, TEAM_POINTS, levels
from scheduler.excerpt import Excerpt
from scheduler.model import objective
from scheduler.model.answer import hint as give_hint
from scheduler.model.answer import read
from scheduler.model.build import RULES
from scheduler.model.menu import menus_within
from scheduler.model.options import Menu, Option, Starts
from scheduler.model.part_days import GivenDays
from scheduler.model.rules import crowds, daily
from scheduler.model.run import EFFORT_UNITS_PER_SOLVER_SECOND
from scheduler.model.starts import StartTable
from scheduler.model.variables import Expr, Frame, frame_of
from scheduler.problem import JobAim, Schedule

WEIGHED_MAX = 1 << 40
"""Weights of levels that are weighed together stay below this."""
DAYS_TRIES_MAX = 4
"""So often limits of a day are stated before a part is given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLimits:
    """What a part may take: seconds of wall time or units of effort (None: no limit).

    weighed_max: levels are weighed together as long as their weights stay below. keeps_ways: each
    stage is done in the way it is now, by whomever.
    """

    seconds: float | None = None
    effort: int | None = None
    seed: int = 1
    weighed_max: int = WEIGHED_MAX
    keeps_ways: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A model to be solved, by whoever and on whichever thread."""

    solver: cp_model.CpSolver
    model: cp_model.CpModel

    def run(self) -> CpSolverStatus:
        """Solve it."""
        return self.solver.solve(self.model)

    def stop(self) -> None:
        """Let it end as soon as may be."""
        self.solver.stop_search()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFound:
    """The best schedule of a part, None for none; whether it is proved; the effort it took."""

    schedule: Schedule | None
    is_proved: bool
    effort: int


Ended = CpSolverStatus
"""What came of a task."""
Solving = Generator[Task, CpSolverStatus, PartFound]


def solve_part(part: Excerpt, given: GivenDays, table: StartTable, limits: PartLimits) -> PartFound:
    """Return the best schedule of a part, solved on this thread."""
    solving = solving_part(part, given, table, limits)
    status: CpSolverStatus | None = None
    while True:
        try:
            task = next(solving) if status is None else solving.send(status)
        except StopIteration as ended:
            found: PartFound = ended.value
            return found
        status = task.run()


def solving_part(part: Excerpt, given: GivenDays, table: StartTable, limits: PartLimits) -> Solving:
    """Give the models that a part needs solved, each to be sent what came of it."""
    frame = part_frame(part, table, keeps_ways=limits.keeps_ways)
    goals = _goals(frame, part, limits.weighed_max)
    best: Schedule | None = None
    effort, is_proved = 0, True
    for number, goal in enumerate(goals):
        give_hint(frame, best or part.present)
        frame.model.minimize(goal)
        for _ in range(DAYS_TRIES_MAX):
            task = Task(
                solver=_solver(limits, effort, parts=len(goals) - number), model=frame.model
            )
            status = yield task
            effort += ceil(task.solver.deterministic_time * EFFORT_UNITS_PER_SOLVER_SECOND)
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return PartFound(schedule=best, is_proved=False, effort=effort)
            found = read(frame, task.solver.value)
            trouble = given.broken(part, found)
            if not trouble:
                best = found
                break
            daily.state(frame, trouble)
        else:
            return PartFound(schedule=best, is_proved=False, effort=effort)
        is_proved = is_proved and status == cp_model.OPTIMAL
        frame.model.add(goal <= round(task.solver.objective_value))
    return PartFound(schedule=best, is_proved=is_proved, effort=effort)


def part_frame(part: Excerpt, table: StartTable, *, keeps_ways: bool = False) -> Frame:
    """Return the model of a part, without objective."""
    index = part.index
    table.forget()
    free = menus_within(index, part.windows, part.present.teams, table)
    if keeps_ways:
        free = {at: _only_way(menu, part.present.ways[at]) for at, menu in free.items()}
    menus = [
        free[at] if at in free else _pinned(part, at) for at in range(len(index.problem.stages))
    ]
    frame = frame_of(index, menus)
    for rule in RULES:
        # Nobody asks a part for a bound, so that what only makes bounds short is left out.
        if rule is not crowds.post:
            rule(frame)
    for job in range(part.touched, len(index.problem.jobs)):
        for literal in frame.trips.get(job, ()):
            frame.model.add_bool_or([literal])
    return frame


def _only_way(menu: Menu, way: int) -> Menu:
    """Return a menu with one way only; the same one for a stage that is not placed."""
    if way < 0:
        return menu
    return replace(menu, options=tuple(option for option in menu.options if option.way == way))


def _pinned(part: Excerpt, at: int) -> Menu:
    start, end = part.present.starts[at], part.present.ends[at]
    starts = Starts(pieces=((end - start, ((start, start),)),))
    return Menu(options=(Option(way=0, team=part.present.teams[at], starts=starts),))


def _goals(frame: Frame, part: Excerpt, weighed_max: int) -> list[Expr]:
    """Return what is to be least, one after the other; what can't get less is held."""
    present = levels(frame.problem, part.present)
    goals: list[Expr] = []
    weighed: list[tuple[Expr, int]] = []
    may_hold = True
    for number in range(1, objective.LEVEL_COUNT + 1):
        spread = _spread(part, number)
        if not spread:
            continue
        goal = _level(frame, part, number)
        if isinstance(goal, int):
            continue
        least = objective.least_possible(frame, number)
        if may_hold and number < objective.LEVEL_COUNT and present[number - 1] <= least:
            frame.model.add(goal <= least)
            continue
        may_hold = False
        scale = spread + 1
        for _, span in weighed:
            scale *= span + 1
        if weighed and scale > weighed_max:
            goals.append(_sum_of(weighed))
            weighed = []
        weighed.append((goal, spread))
    return [*goals, _sum_of(weighed)] if weighed else goals


def _sum_of(weighed: Sequence[tuple[Expr, int]]) -> Expr:
    """Return the levels added up, each worth more than the spread of all behind it."""
    total: Expr = 0
    weight = 1
    for goal, spread in reversed(weighed):
        total = total + weight * goal
        weight *= spread + 1
    return total


def _level(frame: Frame, part: Excerpt, number: int) -> Expr:
    if number < objective.LEVEL_COUNT:
        return objective.level(frame, number)
    return sum(
        (frame.stages[at].end * part.lasts[at] - frame.stages[at].start * part.firsts[at])
        for at in part.free
        if part.lasts[at] or part.firsts[at]
    )


def _spread(part: Excerpt, number: int) -> int:
    """Return by how much a level can differ between schedules of the part, or more."""
    problem = part.index.problem
    jobs = problem.jobs[: part.touched]
    free = [problem.stages[at] for at in part.free]
    if number <= 2:
        return sum(job.firm is (number == 1) for job in jobs)
    if number == 3:
        return sum(_latest_end(part, job) for job in jobs if job.latest is not None)
    if number == 4:
        return sum(
            max(0, (problem.horizon if job.latest is None else job.latest) - job.wish)
            for job in jobs
            if job.wish is not None
        )
    told = [stage for stage in free if stage.told_start is not None]
    if number == 5:
        soon = any((stage.told_start or 0) < SOON_STEPS and stage.told_team for stage in told)
        return len(problem.workers) if soon else 0
    if number == 6:
        return TEAM_POINTS * len(told)
    if number == 7:
        costs = [[way.cost for way in stage.ways] for stage in free]
        prices = sum(job.trip.dearest for job in jobs if job.trip is not None)
        return prices + sum(
            max(each) - (0 if stage.optional else min(each))
            for each, stage in zip(costs, free, strict=True)
        )
    return sum(
        (part.lasts[at] + part.firsts[at])
        * max(0, part.windows[at].latest_end - part.windows[at].earliest_start)
        for at in part.free
    )


def _latest_end(part: Excerpt, job: JobAim) -> int:
    ends = [
        part.windows[at].latest_end if at in part.windows else part.present.ends[at]
        for at in job.lasts
    ]
    return max(0, max(ends, default=0) - (job.latest or 0))


def _solver(limits: PartLimits, spent: int, parts: int) -> cp_model.CpSolver:
    """Return the solver for one of so many goals that are left."""
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = limits.seed
    parameters.catch_sigint_signal = False
    parameters.cp_model_probing_level = 0
    parameters.symmetry_level = 0
    parameters.max_presolve_iterations = 1
    # Parts are proved a quarter sooner without the linear relaxation.
    parameters.linearization_level = 0
    if limits.seconds is not None:
        parameters.max_time_in_seconds = limits.seconds / parts
    if limits.effort is not None:
        left = max(1, limits.effort - spent) / parts
        parameters.max_deterministic_time = left / EFFORT_UNITS_PER_SOLVER_SECOND
    return solver
