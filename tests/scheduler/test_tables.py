"""What an index leaves for the next changes nothing but how long it takes."""

from dataclasses import replace

import pytest

from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.place import Unfit, place
from scheduler.problem import Calendar, Problem
from scheduler.shifts import first_schedule
from scheduler.tables import Tables
from tests.scheduler.problems import random_problem


def edited(problem: Problem, step: int) -> Problem:
    """Return the problem with a job less, with leave, moved calendars, or a shorter horizon."""
    workers, calendars = problem.workers, problem.calendars
    if step == 1:
        first = calendars[0]
        shorter = Calendar(open=first.open[5:], shifts=first.shifts[5:])
        return replace(problem, calendars=(shorter, *calendars[1:]))
    if step == 2:
        turned = tuple(
            replace(one, calendar=None if one.calendar is None else one.calendar + 1)
            for one in workers
        )
        stages = tuple(
            replace(
                stage,
                ways=tuple(
                    replace(way, calendar=None if way.calendar is None else way.calendar + 1)
                    for way in stage.ways
                ),
            )
            for stage in problem.stages
        )
        more = (calendars[0], *calendars)
        return replace(problem, workers=turned, stages=stages, calendars=more)
    if step == 3:
        return replace(problem, workers=(replace(workers[0], can=frozenset()), *workers[1:]))
    return problem if step == 0 else replace(problem, shut=((0, 1), *problem.shut))


@pytest.mark.parametrize("seed", range(10))
def test_edits_one_after_another_give_what_fresh_tables_give(seed: int) -> None:
    problem = random_problem(seed, jobs=2, segments=3, workers=4)
    tables = Tables()

    for step in (0, 1, 0, 2, 3, 4, 0):
        asked = edited(problem, step)
        fresh, kept = Index(asked), Index(asked, tables=tables)

        assert (earliest(kept), latest(kept)) == (earliest(fresh), latest(fresh))
        assert first_schedule(kept, 1) == first_schedule(fresh, 1)


def test_hours_and_runs_are_kept_and_old_ones_go() -> None:
    problem = random_problem(2, jobs=2, segments=3, workers=4)
    tables = Tables()
    first = Index(problem, tables=tables)
    found = place(first, range(len(problem.stages)))
    assert not isinstance(found, Unfit) or found.stage >= 0

    again = Index(problem, tables=tables)
    assert again.hours((0,)) is first.hours((0,))

    for number in range(200):
        calendar = Calendar(open=((number, number + 5),), shifts=((number, number + 5),))
        other = replace(problem, calendars=(calendar, *problem.calendars[1:]))
        Index(other, tables=tables).hours((0,))
    store = tables.store(problem, watch_first=False)
    assert len(store.hours) < 100
