"""Solving a whole problem: a plain instance for its makespan."""

from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.model.answer import hint as give_hint
from scheduler.model.build import build
from scheduler.model.objective import makespan
from scheduler.model.run import Enough, Limits, Status, Tell, run
from scheduler.problem import Problem, Schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelResult:
    """What the model says of a problem.

    values, bounds: of each level of the objective that was worked on (a plain instance has
    one, its makespan): the value of `schedule`, and the least there can be. exact: the model
    left nobody's team out, so that a proof is one.
    """

    status: Status
    schedule: Schedule | None = None
    values: tuple[int, ...] = ()
    bounds: tuple[int, ...] = ()
    exact: bool = True


def least_makespan(
    problem: Problem,
    limits: Limits,
    *,
    hint: Schedule | None = None,
    cancel: Enough | None = None,
    on_schedule: Tell | None = None,
) -> ModelResult:
    """Return the schedule of a plain instance that ends soonest, as far as the limits allow."""
    frame = build(Index(problem))
    objective = makespan(frame)
    if objective is None:
        raise ValueError("a book has levels, no makespan")
    if hint is not None:
        give_hint(frame, hint)
    found = run(frame, objective, limits, cancel=cancel, on_schedule=on_schedule)
    exact = all(not stage.menu.missing for stage in frame.stages)
    return ModelResult(
        status=found.status if exact or found.status is not Status.NOTHING_FITS else Status.UNKNOWN,
        schedule=found.schedule,
        values=() if found.value is None else (found.value,),
        bounds=() if found.bound is None else (found.bound,),
        exact=exact,
    )
