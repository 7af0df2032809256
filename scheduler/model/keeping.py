"""Running the solver until what it finds keeps the limits of a day."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic

from scheduler.model.rules import daily
from scheduler.model.run import Enough, Found, Limits, Status, Tell, Tuning, run
from scheduler.model.variables import Expr, Frame
from scheduler.problem import Schedule


def run_keeping(
    frame: Frame,
    objective: Expr,
    limits: Limits,
    *,
    cancel: Enough | None = None,
    on_schedule: Tell | None = None,
    tuning: Tuning | None = None,
) -> Found:
    """Return the schedule of least objective that the limits allow to find, as `run` does.

    Wherever a solution breaks a limit of a day, that limit is stated and the solver asked again;
    until then it bounds what there can be, but it is told to nobody.
    """
    ends = None if limits.seconds is None else monotonic() + limits.seconds
    effort = 0
    while True:
        left = _left(limits, ends, effort)
        tell = None if on_schedule is None else _telling(frame, on_schedule)
        found = run(frame, objective, left, cancel=cancel, on_schedule=tell, tuning=tuning)
        effort += found.effort
        trouble = None if found.schedule is None else daily.broken(frame, found.schedule)
        if not trouble:
            return replace(found, effort=effort)
        daily.state(frame, trouble)
        if (cancel is not None and cancel()) or _is_over(limits, ends, effort):
            return Found(status=Status.UNKNOWN, bound=found.bound, effort=effort)


def _telling(frame: Frame, on_schedule: Tell) -> Callable[[Schedule], None]:
    def tell(schedule: Schedule) -> None:
        if not daily.broken(frame, schedule):
            on_schedule(schedule)

    return tell


def _left(limits: Limits, ends: float | None, effort: int) -> Limits:
    return replace(
        limits,
        seconds=None if ends is None else max(0.0, ends - monotonic()),
        effort=None if limits.effort is None else max(0, limits.effort - effort),
    )


def _is_over(limits: Limits, ends: float | None, effort: int) -> bool:
    if limits.effort is not None and effort >= limits.effort:
        return True
    return ends is not None and monotonic() >= ends
