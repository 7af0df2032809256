"""A solve of a tiny problem held against trying everything."""

from scheduler.aims import Levels
from scheduler.calendar import Index
from scheduler.model.run import Limits, Status
from scheduler.model.whole import solve_whole
from scheduler.problem import Problem
from scheduler.replay import breaches


def hold_against_best(problem: Problem, best: Levels | None, limits: Limits) -> None:
    """Hold the proved levels against the least there are, None where nothing fits."""
    found = solve_whole(Index(problem), limits)

    if best is None:
        assert found.status is Status.NOTHING_FITS
        return
    assert found.status is Status.PROVED
    assert found.values == best == found.bounds
    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
