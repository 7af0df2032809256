"""Which job gets a departure when those that were kept are looked through."""

from dataclasses import replace

from scheduler.departing import departures
from scheduler.problem import JobAim, Problem
from scheduler.search import Spot
from tests.scheduler.goings import a_trip

LOADED, NOT_PLACED = 0, 1
SPOTS = {LOADED: Spot(start=0, end=5, way=0, team=())}
GOES = JobAim(lasts=(LOADED,), latest=10, trip=a_trip((10, 20, 20)))


def given(*jobs: JobAim, trips: dict[int, int] | None = None) -> dict[int, int]:
    """Give what is found with one stage placed, which ends at step 5."""
    return departures(Problem(horizon=100, stages=(), jobs=jobs), SPOTS, trips or {})


def test_a_job_whose_loading_is_placed_gets_one_in_time() -> None:
    assert given(GOES) == {0: 0}


def test_who_goes_nowhere_has_gone_or_is_not_loaded_gets_none() -> None:
    collected = JobAim(lasts=(LOADED,), latest=10)
    unplaced = replace(GOES, lasts=(LOADED, NOT_PLACED))

    assert given(collected, GOES, unplaced, GOES, trips={3: 0}) == {1: 0}


def test_a_job_of_which_nothing_is_planned_may_leave_at_once() -> None:
    assert given(JobAim(lasts=(), latest=10, trip=a_trip((0, 20, 20)))) == {0: 0}
