"""What is remembered of single stages is what would be found out about them anew."""

from dataclasses import replace
from random import Random

import pytest

from scheduler.broken import broken
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.company import alone
from scheduler.countback import latest
from scheduler.net import Nets
from scheduler.problem import Problem, Spans
from scheduler.shifts import first_schedule
from scheduler.spans import less, merged
from scheduler.spots import spots_of
from scheduler.tables import Tables
from tests.scheduler.problems import random_problem
from tests.scheduler.test_tables import edited


def ill(problem: Problem, worker: int) -> Problem:
    """Return the problem with somebody who works only every second stretch of their hours."""
    one = problem.workers[worker]
    if one.calendar is None:
        return problem
    old = problem.calendars[one.calendar]
    fewer = replace(old, open=old.open[::2])
    now = replace(one, calendar=len(problem.calendars))
    workers = (*problem.workers[:worker], now, *problem.workers[worker + 1 :])
    return replace(problem, workers=workers, calendars=(*problem.calendars, fewer))


@pytest.mark.parametrize("seed", range(12))
def test_what_broke_is_found_with_and_without_what_was_remembered(seed: int) -> None:
    problem = random_problem(seed, jobs=2, segments=3, workers=4)
    schedule = first_schedule(Index(problem), 1)
    if isinstance(schedule, Unfit):
        pytest.skip("nothing is placed")
    spots, tables = spots_of(schedule), Tables()
    trips = {job: option for job, option in enumerate(schedule.trips) if option >= 0}
    inserted = frozenset(stage for stage in spots if problem.stages[stage].optional)
    met = False

    for asked in (
        problem,
        ill(problem, 0),
        problem,
        ill(problem, 1),
        ill(problem, 2),
        *(edited(problem, step) for step in range(5)),
        problem,
    ):
        found = []
        for index in (Index(asked), Index(asked, tables=tables)):
            net = index.once(Nets).net(inserted)
            broke = broken(index, net, spots, trips)
            found.append((broke.stages, broke.jobs, latest(index)))
        assert found[0] == found[1]
        met |= bool(found[0][0])
    assert met


def test_a_world_keeps_what_it_knew_while_another_is_asked_about() -> None:
    problem = random_problem(1, jobs=2, segments=3, workers=4)
    tables = Tables()
    first = Index(problem, tables=tables)
    other = Index(edited(problem, 1), tables=tables)

    assert latest(other) == latest(Index(edited(problem, 1)))
    assert latest(first) == latest(Index(problem))
    assert first.recall is not other.recall


def test_what_is_remembered_stays_as_large_as_a_problem() -> None:
    tables = Tables()
    problem = random_problem(1, jobs=2, segments=3, workers=4)
    for _ in range(10):
        equal = tuple(replace(stage) for stage in problem.stages)
        index = Index(replace(problem, stages=equal), tables=tables)
        assert index.recall is not None
        assert len(index.recall.latest) <= 2 * len(problem.stages) + 64
        latest(index)


@pytest.mark.parametrize("seed", range(40))
def test_hours_alone_are_those_in_which_nobody_else_is_on_shift(seed: int) -> None:
    draw = Random(seed)

    def drawn(count: int) -> Spans:
        starts = (draw.randrange(400) for _ in range(count))
        return merged((start, start + draw.randrange(1, 12)) for start in starts)

    own = drawn(20)
    others = [drawn(draw.choice((3, 40, 90))) for _ in range(draw.randrange(5))]
    together = merged(span for each in others for span in each)

    assert alone(own, others) == less(own, together)
