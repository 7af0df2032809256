"""What is to be least, as expressions of the model: a makespan, or the levels of a book.

Each level is the one that aims.levels counts, bounded from below: no solution can make it
smaller than it is.
"""

from collections.abc import Callable

from ortools.sat.python import cp_model

from scheduler.aims import (
    DAY_POINTS,
    DAY_STEPS,
    HOUR_POINTS,
    MOVED_STEPS,
    SOON_STEPS,
    TEAM_POINTS,
)
from scheduler.model.variables import ALWAYS, Expr, Frame, Literal, StageVars, negated
from scheduler.problem import JobAim, Stage

LEVEL_COUNT = 8


def makespan(frame: Frame) -> Expr | None:
    """Return the start of the stage that closes a plain instance, or None for a book."""
    last = frame.problem.makespan
    return None if last is None else frame.stages[last].start


def level(frame: Frame, number: int) -> Expr:
    """Return a level of the objective, 1 to 8."""
    return _LEVELS[number - 1](frame)


def least_possible(frame: Frame, number: int) -> int:
    """Return what a level can't be less than, whatever the plan."""
    hopeless = [job for job in frame.problem.jobs if job.latest is None]
    if number == 1:
        return sum(job.firm for job in hopeless)
    if number == 2:
        return sum(not job.firm for job in hopeless)
    if number == LEVEL_COUNT:
        return -frame.problem.horizon * sum(len(job.floor) for job in frame.problem.jobs)
    return 0


def _missed(frame: Frame, *, firm: bool) -> Expr:
    return sum(
        (
            _misses(frame, number, job)
            for number, job in enumerate(frame.problem.jobs)
            if job.firm is firm
        ),
        start=0,
    )


def _misses(frame: Frame, number: int, job: JobAim) -> Literal:
    if job.latest is None:
        return ALWAYS
    kept = _kept(frame, job, job.latest)
    if job.trip is None or not job.trip.makes_window:
        return negated(kept)
    in_time = [
        literal
        for literal, going in zip(frame.trips[number], job.trip.options, strict=True)
        if going.in_time
    ]
    made = frame.model.new_bool_var("")
    frame.model.add_implication(made, kept)
    frame.model.add_bool_or(in_time).only_enforce_if(made)
    return ~made


def _kept(frame: Frame, job: JobAim, latest: int) -> Literal:
    """Return a literal under which loading ends by the latest."""
    kept = frame.model.new_bool_var("")
    for last in job.lasts:
        frame.model.add(frame.stages[last].end <= latest).only_enforce_if(kept)
    return kept


def _late_steps(frame: Frame) -> Expr:
    return sum((late_steps(frame, job) for job in frame.problem.jobs), start=0)


def late_steps(frame: Frame, job: JobAim) -> Expr:
    """Return the steps by which loading of a job ends after its latest."""
    if job.latest is None or not job.lasts:
        return 0
    late = frame.model.new_int_var(0, max(0, frame.problem.horizon - job.latest), "")
    for last in job.lasts:
        frame.model.add(late >= frame.stages[last].end - job.latest)
    return late


def _short_steps(frame: Frame) -> Expr:
    return sum((_short(frame, job) for job in frame.problem.jobs), start=0)


def _short(frame: Frame, job: JobAim) -> Expr:
    if job.wish is None or not job.lasts:
        return 0
    latest = frame.problem.horizon if job.latest is None else job.latest
    most = max(0, latest - job.wish)
    short = frame.model.new_int_var(0, most, "")
    kept = _kept(frame, job, latest)
    frame.model.add(short >= most).only_enforce_if(negated(kept))
    for last in job.lasts:
        end = frame.stages[last].end
        frame.model.add(short >= end - job.wish).only_enforce_if(kept)
    return short


def _told_anew(frame: Frame) -> Expr:
    by_worker: dict[int, Literal] = {}
    for stage, found in zip(frame.problem.stages, frame.stages, strict=True):
        if stage.told_start is None or stage.told_start >= SOON_STEPS or not stage.told_team:
            continue
        as_told = frame.model.new_bool_var("")
        frame.model.add(found.start == stage.told_start).only_enforce_if(as_told)
        _same_team(frame, stage, found, as_told)
        for worker in stage.told_team:
            if worker not in by_worker:
                by_worker[worker] = frame.model.new_bool_var("")
            frame.model.add_bool_or([by_worker[worker], as_told])
    return sum(by_worker.values(), start=0)


def _same_team(frame: Frame, stage: Stage, found: StageVars, as_told: Literal) -> None:
    if stage.told_team is None or not frame.people:
        return
    if not set(stage.told_team) <= set(found.members):
        frame.model.add_bool_or([negated(as_told)])
    for worker, is_in in found.members.items():
        same = is_in if worker in stage.told_team else negated(is_in)
        if same is not ALWAYS:
            frame.model.add_bool_or([same, negated(as_told)])
    if found.present is not ALWAYS:
        frame.model.add_bool_or([found.present, negated(as_told)])


def _change_points(frame: Frame) -> Expr:
    return sum(
        (
            _points(frame, stage, found, stage.told_start)
            for stage, found in zip(frame.problem.stages, frame.stages, strict=True)
            if stage.told_start is not None
        ),
        start=0,
    )


def _points(frame: Frame, stage: Stage, found: StageVars, told_start: int) -> Expr:
    model = frame.model
    same_team, same_day, same_hour = (model.new_bool_var("") for _ in range(3))
    _same_team(frame, stage, found, same_team)
    day = told_start - told_start % DAY_STEPS
    _within(model, found.start, day, day + DAY_STEPS - 1, same_day)
    first, last = told_start - MOVED_STEPS + 1, told_start + MOVED_STEPS - 1
    _within(model, found.start, first, last, same_hour)
    points = model.new_int_var(0, TEAM_POINTS, "")
    model.add(points >= TEAM_POINTS * (1 - same_team))
    model.add(points >= DAY_POINTS * (1 - same_day))
    model.add(points >= HOUR_POINTS * (1 - same_hour))
    return points


def _within(
    model: cp_model.CpModel, start: Expr, first: int, last: int, literal: cp_model.IntVar
) -> None:
    model.add(start >= first).only_enforce_if(literal)
    model.add(start <= last).only_enforce_if(literal)


def _cost(frame: Frame) -> Expr:
    return _price(frame) + sum(
        (
            way.cost * literal
            for stage, found in zip(frame.problem.stages, frame.stages, strict=True)
            for way, literal in zip(stage.ways, found.ways, strict=True)
            if way.cost
        ),
        start=0,
    )


def _price(frame: Frame) -> Expr:
    """Return what the journeys cost; one that stays counts as the dearest of its options."""
    trips = ((frame.problem.jobs[job].trip, literals) for job, literals in frame.trips.items())
    return sum(
        (
            trip.dearest - (trip.dearest - going.price) * literal
            if at == 0
            else -(trip.dearest - going.price) * literal
            for trip, literals in trips
            if trip is not None and trip.dearest
            for at, (literal, going) in enumerate(zip(literals, trip.options, strict=True))
        ),
        start=0,
    )


def _floor_steps(frame: Frame) -> Expr:
    return sum(
        (
            frame.stages[last].end - frame.stages[first].start
            for job in frame.problem.jobs
            for first, last in job.floor
        ),
        start=0,
    )


def _firm_missed(frame: Frame) -> Expr:
    return _missed(frame, firm=True)


def _asked_missed(frame: Frame) -> Expr:
    return _missed(frame, firm=False)


_LEVELS: tuple[Callable[[Frame], Expr], ...] = (
    _firm_missed,
    _asked_missed,
    _late_steps,
    _short_steps,
    _told_anew,
    _change_points,
    _cost,
    _floor_steps,
)
