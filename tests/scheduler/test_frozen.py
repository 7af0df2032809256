"""What can't be while others stay where they are: held against every schedule there is."""

from fractions import Fraction

import pytest

from scheduler.aims import missed_jobs
from scheduler.calendar import Index
from scheduler.model.run import Limits
from scheduler.problem import Calendar, JobAim, Need, Problem, Schedule, Stage, Way, Worker
from scheduler.shifts import first_schedule
from scheduler.why.frozen import never_in_place
from tests.scheduler.tiny import every_schedule, tiny_problem

LIMITS = Limits(effort=200, workers=1)
SCHEDULES = 3
"""So many of the schedules of a problem are asked about, spread over all."""


def others_of(problem: Problem, schedule: Schedule, job: int) -> object:
    """Give where everything is that is not the job's."""
    spots = zip(schedule.starts, schedule.ends, schedule.ways, schedule.teams, strict=True)
    return (
        [spot for spot, asked in zip(spots, problem.stages, strict=True) if asked.job != job],
        [trip for at, trip in enumerate(schedule.trips) if at != job],
    )


@pytest.mark.parametrize("first", range(0, 80, 40))
def test_never_is_said_of_what_can_be(first: int) -> None:
    said = 0
    for seed in range(first, first + 40):
        problem = tiny_problem(seed)
        every = list(every_schedule(problem))
        for schedule in every[:: max(1, len(every) // SCHEDULES)]:
            for job in missed_jobs(problem, schedule):
                if never_in_place(Index(problem), schedule, job, limits=LIMITS):
                    said += 1
                    rest = others_of(problem, schedule, job)
                    assert all(
                        job in missed_jobs(problem, each)
                        for each in every
                        if others_of(problem, each, job) == rest
                    )
    assert said


def test_who_is_booked_forbids_it_and_once_that_moves_it_can_be() -> None:
    problem = _two_jobs(first_due=10, second_due=4)
    taken = Schedule(
        starts=(0, 4), ends=(4, 8), ways=(0, 0), teams=((0,), (0,)), trips=(-1, -1)
    )  # fmt: skip
    assert missed_jobs(problem, taken) == {1}
    assert never_in_place(Index(problem), taken, 1, limits=LIMITS)
    found = first_schedule(Index(problem), 1)
    assert isinstance(found, Schedule)
    assert not missed_jobs(problem, found)


def test_nothing_is_said_where_the_job_itself_may_begin_sooner() -> None:
    problem = _two_jobs(first_due=14, second_due=4)
    slow = Schedule(
        starts=(8, 2), ends=(12, 6), ways=(0, 0), teams=((0,), (0,)), trips=(-1, -1)
    )  # fmt: skip
    assert missed_jobs(problem, slow) == {1}
    assert not never_in_place(Index(problem), slow, 1, limits=LIMITS)


def _two_jobs(*, first_due: int, second_due: int) -> Problem:
    """Make two jobs of four steps each that the only worker does one after the other."""
    way = Way(work=Fraction(4), needs=(Need(skill=0, can=1),))
    return Problem(
        horizon=14,
        stages=(Stage(ways=(way,), job=0), Stage(ways=(way,), job=1)),
        edges=(),
        calendars=(Calendar(open=((0, 14),), shifts=((0, 14),)),),
        workers=(Worker(calendar=0, can=frozenset({0}), helps=frozenset()),),
        rooms=(),
        jobs=(JobAim(lasts=(0,), latest=first_due), JobAim(lasts=(1,), latest=second_due)),
    )
