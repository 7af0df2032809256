"""Pulling together unit by unit: nothing breaks, nothing loads later, and it always works out."""

import pytest

from scheduler.aims import levels, loading_end
from scheduler.busy import Busy
from scheduler.calendar import Index
from scheduler.justify import justify
from scheduler.later import put_later
from scheduler.place import Unfit
from scheduler.problem import Edge, Problem, Schedule
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from tests.scheduler.problems import random_problem
from tests.scheduler.shops import NINE_TO_FIVE, a_calendar, a_worker, by_hand, placed, stage_of


def planned(seed: int) -> tuple[Problem, Schedule] | None:
    problem = random_problem(seed, jobs=1 + seed % 3, segments=2 + seed % 5, workers=3 + seed % 4)
    found = first_schedule(Index(problem), 1)
    return None if isinstance(found, Unfit) else (problem, found)


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("by_start", [False, True])
def test_it_breaks_nothing_and_nothing_loads_later(seed: int, by_start: bool) -> None:
    given = planned(seed)
    if given is None:
        pytest.skip("nothing fits")
    problem, schedule = given

    found = put_later(Index(problem), schedule, by_start=by_start)

    assert breaches(problem, found) == ()
    for job in problem.jobs:
        assert loading_end(job, found) <= loading_end(job, schedule)


def test_it_pulls_a_stage_up_to_what_follows() -> None:
    days = a_calendar(*NINE_TO_FIVE)
    problem = Problem(
        horizon=240,
        stages=(stage_of(by_hand(2)), stage_of(by_hand(2)), stage_of(by_hand(3))),
        edges=(Edge(before=0, after=2), Edge(before=1, after=2, least=24)),
        calendars=(days,),
        workers=(a_worker(0), a_worker(0)),
    )
    early = placed(problem)

    found = put_later(Index(problem), early)

    assert (early.starts[0], found.ends[0]) == (9, found.starts[2])
    assert found.starts[2] == early.starts[2]


def test_late_jobs_are_justified_as_well() -> None:
    problem = random_problem(3, jobs=3, segments=6, workers=3, spice=False)
    schedule = placed(problem)

    found = justify(Index(problem), schedule)

    assert breaches(problem, found) == ()
    assert levels(problem, found) <= levels(problem, schedule)


def test_whoever_is_given_back_is_free_again() -> None:
    problem = Problem(horizon=240, stages=(), calendars=(), workers=(a_worker(None),))
    busy = Busy(Index(problem))
    for start, end in ((0, 4), (10, 14), (14, 20)):
        busy.book_worker(0, start, end)

    busy.free_worker(0, 10, 14)
    busy.free_worker(0, 0, 4)

    assert (busy.free_from(0, 0), busy.free_from(0, 10), busy.free_from(0, 15)) == (0, 10, 20)
    assert busy.blocked_until((0,), 5, 30) == 20
