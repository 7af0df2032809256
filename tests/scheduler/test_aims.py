from dataclasses import replace

from scheduler.aims import levels
from scheduler.problem import JobAim, Problem, Schedule
from tests.scheduler.goings import a_trip
from tests.scheduler.shops import a_worker, by_hand, stage_of

DAY = 96
WAYS = (by_hand(10), replace(by_hand(5, 2), cost=7))
TOLD = stage_of(*WAYS, job=0, told_start=DAY, told_team=(0,))
JOB = JobAim(lasts=(0,), latest=DAY + 20, wish=DAY + 5, floor=((0, 0),))
PROBLEM = Problem(horizon=900, stages=(TOLD,), workers=(a_worker(), a_worker()), jobs=(JOB,))


def at(start: int, length: int = 10, *, way: int = 0, team: tuple[int, ...] = (0,)) -> Schedule:
    return Schedule(
        starts=(start,), ends=(start + length,), ways=(way,), teams=(team,), trips=(-1,)
    )


def test_each_level_counts_its_own() -> None:
    assert levels(PROBLEM, at(DAY)) == (0, 0, 0, 5, 0, 0, 0, 10)
    assert levels(PROBLEM, at(DAY + 20)) == (1, 0, 10, 15, 1, 1, 0, 10)
    assert levels(PROBLEM, at(DAY, 5, way=1, team=(0, 1))) == (0, 0, 0, 0, 1, 4, 7, 5)


def test_points_for_another_team_another_day_or_an_hour() -> None:
    points = [levels(PROBLEM, at(DAY + later))[5] for later in (0, 3, 4, DAY)]

    assert points == [0, 0, 1, 2]
    assert levels(PROBLEM, at(DAY + 300, team=(1,)))[5] == 4


def test_only_the_first_two_days_make_anew() -> None:
    later = replace(PROBLEM, stages=(replace(TOLD, told_start=2 * DAY),))

    assert levels(PROBLEM, at(DAY + 1))[4] == 1
    assert levels(later, at(DAY + 1))[4] == 0


def test_an_enquiry_and_a_job_without_a_way_to_its_window() -> None:
    enquiry = replace(PROBLEM, jobs=(replace(JOB, firm=False, latest=DAY),))
    shut = replace(PROBLEM, jobs=(replace(JOB, latest=None, wish=None),))

    assert levels(enquiry, at(DAY))[:3] == (0, 1, 10)
    assert levels(shut, at(DAY))[:4] == (1, 0, 0, 0)


def test_leaving_with_a_later_departure_misses_the_window_too() -> None:
    trip = a_trip((DAY + 20, DAY + 30, DAY + 30), (DAY + 40, DAY + 50, DAY + 50))
    going = replace(PROBLEM, jobs=(replace(JOB, trip=trip),))

    assert levels(going, replace(at(DAY), trips=(0,)))[0] == 0
    assert levels(going, replace(at(DAY), trips=(1,)))[0] == 1
