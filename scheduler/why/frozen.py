"""Whether a job could be in time with everything booked of other jobs left where it is."""

from collections.abc import Callable
from dataclasses import replace

from scheduler.calendar import Index
from scheduler.excerpt import excerpt
from scheduler.model.alone import sub_book
from scheduler.model.run import Limits
from scheduler.problem import Schedule
from scheduler.proof import Climb, Ladder
from scheduler.purse import Purse
from scheduler.taken import Taken

EFFORT = 500
"""Hundredths of the solver's seconds that the question may take."""


def never_in_place(
    index: Index,
    schedule: Schedule,
    job: int,
    *,
    limits: Limits | None = None,
    cancel: Callable[[], bool] | None = None,
) -> bool:
    """Return whether no plan keeps a job's window while no other job moves; False: not known.

    job: its position. Only this job's own steps are free, to begin whenever they can. This is
    stricter than any promise: once work of another job moves, the window may be kept.
    """
    problem, aim = index.problem, index.problem.jobs[job]
    if aim.latest is None or aim.guessed or not aim.lasts:
        return False
    own = (at for at, stage in enumerate(problem.stages) if stage.job == job)
    part = excerpt(index, Taken(index, schedule), own, problem.horizon)
    if part is None or job not in part.jobs[: part.touched]:
        return False
    numbers = {whole: at for at, whole in enumerate(part.jobs)}
    stages = (replace(stage, job=numbers.get(stage.job, -1)) for stage in part.index.problem.stages)
    cut = replace(part.index.problem, stages=tuple(stages))
    ladder = Ladder(sub_book(cut, (numbers[job],)))
    climb = Climb(ladder, 0, {0: aim.latest}, 1)
    climb.count()
    climb.solve(Purse(limits or Limits(effort=EFFORT, workers=1), cancel))
    return climb.result(job) is not None
