"""The order of a schedule: its soonest and latest forms are schedules, and nothing goes further."""

from dataclasses import replace
from itertools import product

import pytest

from scheduler.aims import loading_end
from scheduler.breaches import ProblemRule
from scheduler.calendar import Index
from scheduler.problem import Problem, Schedule
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from scheduler.terms import FOREVER
from scheduler.why.order_graph import Left, OrderGraph, Sliding
from scheduler.why.order_values import Arc, Bar
from tests.scheduler.problems import random_problem
from tests.scheduler.tiny import every_schedule, tiny_problem

LEFT_ASIDE = {
    ProblemRule.PIECES,
    ProblemRule.SANDING,
    ProblemRule.COMPANY,
    ProblemRule.TRIP_LEFT_OUT,
}
"""What an order leaves aside, and that a lorry could have gone now that all is ready sooner."""


def slid(schedule: Schedule, found: Sliding) -> Schedule:
    return replace(schedule, starts=found.starts, ends=found.ends)


def a_schedule(problem: Problem) -> Schedule:
    found = first_schedule(Index(problem), 1)
    assert isinstance(found, Schedule)
    return found


def limits_of(problem: Problem, schedule: Schedule) -> dict[int, int]:
    """No loading later than it is."""
    return {last: schedule.ends[last] for job in problem.jobs for last in job.lasts}


def rules_broken(problem: Problem, schedule: Schedule) -> set[ProblemRule]:
    return {found.rule for found in breaches(problem, schedule)} - LEFT_ASIDE


@pytest.mark.parametrize("seed", range(30))
def test_soonest_and_latest_forms_keep_every_rule(seed: int) -> None:
    problem = random_problem(seed, jobs=1 + seed % 3, segments=2 + seed % 4, workers=2 + seed % 3)
    schedule = a_schedule(problem)
    assert not breaches(problem, schedule)
    graph = OrderGraph(Index(problem), schedule)

    soon, late = graph.earliest(), graph.latest(limits_of(problem, schedule))

    assert not rules_broken(problem, slid(schedule, soon))
    assert not rules_broken(problem, slid(schedule, late))
    for stage in graph.placed:
        assert soon.starts[stage] <= schedule.starts[stage] <= late.starts[stage]
    for job in problem.jobs:
        assert loading_end(job, slid(schedule, soon)) <= loading_end(job, schedule)
        assert loading_end(job, slid(schedule, late)) == loading_end(job, schedule)


def keeps(graph: OrderGraph, schedule: Schedule) -> bool:
    """Whether a schedule is in the order of the graph, read plainly."""
    return all(
        _keeps_arc(arc, schedule) for stage in graph.placed for arc in graph.ins[stage]
    ) and all(_keeps_bar(bar, schedule) for stage in graph.placed for bar in graph.bars[stage])


def _keeps_arc(arc: Arc, schedule: Schedule) -> bool:
    came = schedule.ends[arc.before] if arc.from_end else schedule.starts[arc.before]
    comes = schedule.ends[arc.after] if arc.to_end else schedule.starts[arc.after]
    ready = 0 if arc.lag is None else arc.lag.of(came)
    until = FOREVER if arc.most is None else arc.most.of(came)
    return ready is not None and ready <= comes <= (FOREVER if until is None else until)


def _keeps_bar(bar: Bar, schedule: Schedule) -> bool:
    start, end = schedule.starts[bar.stage], schedule.ends[bar.stage]
    return start >= bar.low and bar.low_end <= end <= bar.high


def fitting(seed: int) -> tuple[Problem, list[Schedule]]:
    """A tiny problem that something fits, and all that does."""
    for more in range(0, 100_000, 1000):
        problem = replace(tiny_problem(seed + more), pieces_max=None)
        every = list(every_schedule(problem))
        if every:
            return problem, every
    raise AssertionError("nothing ever fits")


@pytest.mark.parametrize("seed", range(16))
def test_no_schedule_of_the_same_order_goes_further(seed: int) -> None:
    """Trying out every schedule of a tiny problem with the same ways, teams and departures."""
    problem, every = fitting(seed)
    schedule = every[seed % len(every)]
    graph = OrderGraph(Index(problem), schedule)
    limits = limits_of(problem, schedule)

    soon, late = graph.earliest(), graph.latest(limits)

    alike = [
        one
        for one in every
        if (one.ways, one.teams, one.trips) == (schedule.ways, schedule.teams, schedule.trips)
        and all(one.ends[last] <= by for last, by in limits.items())
        and keeps(graph, one)
    ]
    assert schedule in alike
    for one, stage in product(alike, graph.placed):
        assert soon.starts[stage] <= one.starts[stage] <= late.starts[stage]
    if not any(stage.sands or stage.company for stage in problem.stages):
        for stage in graph.placed:
            assert min(one.starts[stage] for one in alike) == soon.starts[stage]
            assert max(one.starts[stage] for one in alike) == late.starts[stage]


def test_what_counts_no_more_lets_others_be_sooner() -> None:
    problem = random_problem(3, jobs=2, segments=3, workers=2)
    schedule = a_schedule(problem)
    index = Index(problem)
    every = frozenset(range(len(problem.stages)))

    usual = OrderGraph(index, schedule).earliest()
    alone = OrderGraph(index, schedule, left=Left(people=every, rooms=every)).earliest()
    uncured = OrderGraph(index, schedule, left=Left(cures=every)).earliest()

    for free in (alone, uncured):
        assert all(a <= b for a, b in zip(free.ends, usual.ends, strict=True))
        assert free.ends != usual.ends
