"""Whole passes on made-up workshops: always sound, never worse, the same for the same seed."""

from dataclasses import replace
from functools import cache

import pytest

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.justify import justify
from scheduler.place import Unfit, place
from scheduler.problem import Edge, JobAim, Problem, Schedule
from scheduler.replay import breaches
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort
from scheduler.urgency import countback_order
from tests.scheduler.problems import random_problem
from tests.scheduler.shops import a_worker, by_hand, stage_of

SEEDS = [range(first, first + 20) for first in range(0, 300, 20)]


@cache
def small(seed: int) -> tuple[Problem, Index, Schedule]:
    problem = random_problem(
        seed,
        jobs=1 + seed % 4,
        segments=2 + seed % 6,
        workers=3 + seed % 4,
        spice=seed % 7 > 0,
    )
    index = Index(problem)
    found = place(index, countback_order(index))
    assert isinstance(found, Schedule), (seed, found)
    return problem, index, found


@pytest.mark.parametrize("seeds", SEEDS)
def test_every_pass_keeps_every_rule(seeds: range) -> None:
    for seed in seeds:
        problem, _, found = small(seed)
        assert breaches(problem, found) == (), seed


@pytest.mark.parametrize("seeds", SEEDS)
def test_pulling_together_keeps_every_rule_and_every_window(seeds: range) -> None:
    for seed in seeds:
        problem, index, found = small(seed)
        pulled = justify(index, found)
        assert pulled is not None, seed
        assert breaches(problem, pulled) == (), seed
        assert levels(problem, pulled)[:6] == levels(problem, found)[:6], seed


def test_pulling_together_takes_floor_time_away() -> None:
    before = after = 0
    for seed in range(100):
        problem, index, found = small(seed)
        pulled = justify(index, found)
        assert pulled is not None
        before += levels(problem, found)[7]
        after += levels(problem, pulled)[7]

    assert after * 20 < before * 19


@pytest.mark.parametrize("seed", range(0, 300, 5))
def test_shifts_keep_every_rule_and_never_make_it_worse(seed: int) -> None:
    problem, index, found = small(seed)
    told: list[Levels] = []

    def tell(_: Schedule, reached: Levels) -> None:
        told.append(reached)

    better = improve_by_shifts(index, found, seed=seed, stop=AfterEffort(5), on_better=tell)
    reached = levels(problem, better)
    assert breaches(problem, better) == ()
    assert reached <= levels(problem, found)
    assert told == sorted(told, reverse=True)
    assert not told or told[-1] == reached


@pytest.mark.parametrize("seeds", SEEDS)
def test_no_schedule_beats_the_empty_workshop(seeds: range) -> None:
    for seed in seeds:
        problem, index, found = small(seed)
        soonest, last = earliest(index), latest(index)
        kept = {
            number
            for number, job in enumerate(problem.jobs)
            if job.latest is not None
            and max(found.ends[stage] for stage in job.lasts) <= job.latest
        }
        for stage, asked in enumerate(problem.stages):
            if found.ways[stage] < 0:
                continue
            least, most = soonest.starts[stage], last.starts[stage]
            end, last_end = soonest.ends[stage], last.ends[stage]
            assert least is not None, seed
            assert end is not None, seed
            assert (least, end) <= (found.starts[stage], found.ends[stage])
            assert end <= found.ends[stage]
            if asked.job in kept and most is not None and last_end is not None:
                assert found.starts[stage] <= most, (seed, stage)
                assert found.ends[stage] <= last_end, (seed, stage)


def test_shifts_win_a_window_that_the_countback_order_misses() -> None:
    """The first job can't make it at all, and takes the second one's place for nothing."""
    hopeless, easy = stage_of(by_hand(30), job=0), stage_of(by_hand(30), job=1)
    problem = Problem(
        horizon=200,
        stages=(hopeless, easy),
        workers=(a_worker(),),
        jobs=(JobAim(lasts=(0,), latest=20), JobAim(lasts=(1,), latest=40)),
    )
    index = Index(problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    better = improve_by_shifts(index, first, seed=1, stop=AfterEffort(40))

    assert levels(problem, first)[0] == 2
    assert levels(problem, better)[0] == 1


def test_a_first_schedule_and_its_improvement_repeat_themselves() -> None:
    def once() -> tuple[Schedule, Schedule]:
        index = Index(random_problem(8, jobs=4, segments=10, workers=5))
        found = first_schedule(index, 3)
        assert isinstance(found, Schedule)
        return found, improve_by_shifts(index, found, seed=3, stop=AfterEffort(15))

    assert once() == once()


def test_other_orders_are_tried_where_the_countback_s_fits_nowhere() -> None:
    """What nothing presses comes last, and then finds its latest start gone."""
    stages = (stage_of(by_hand(10), job=0), stage_of(by_hand(10), job=1, start_by=5))
    problem = Problem(
        horizon=100,
        stages=(*stages, stage_of(by_hand(1), job=1)),
        edges=(Edge(before=1, after=2),),
        workers=(a_worker(),),
        jobs=(JobAim(lasts=(0,), latest=12), JobAim(lasts=(2,), latest=None)),
    )
    index = Index(problem)

    assert isinstance(place(index, countback_order(index)), Unfit)
    found = first_schedule(index, 1)
    assert isinstance(found, Schedule)
    assert breaches(problem, found) == ()


def test_names_of_workers_do_not_matter_where_all_are_alike() -> None:
    problem = random_problem(4, jobs=2, segments=5, workers=3, spice=False)
    order = (2, 0, 1)
    turned = replace(problem, workers=tuple(problem.workers[worker] for worker in order))
    one = place(Index(problem), range(len(problem.stages)))
    other = place(Index(turned), range(len(problem.stages)))
    assert isinstance(one, Schedule)
    assert isinstance(other, Schedule)
    renamed = replace(
        other, teams=tuple(tuple(sorted(order[who] for who in team)) for team in other.teams)
    )

    assert breaches(problem, renamed) == ()


@pytest.mark.parametrize("seed", [1, 2])
def test_a_workshop_of_six_hundred_stages_is_placed_and_sound(seed: int) -> None:
    problem = random_problem(seed, jobs=12, segments=56, workers=12)
    found = first_schedule(Index(problem), 1)

    assert len(problem.stages) > 550
    assert isinstance(found, Schedule)
    assert breaches(problem, found) == ()


def test_the_made_up_problems_use_every_field() -> None:
    problems = [small(seed)[0] for seed in range(60)]
    stages = [stage for problem in problems for stage in problem.stages]
    plain = {"job", "ways"}
    for field in stages[0].__slots__:
        assert field in plain or len({repr(getattr(stage, field)) for stage in stages}) > 1, field
    edges = [edge for problem in problems for edge in problem.edges]
    assert any(edge.from_start and edge.least < 0 for edge in edges)
    assert any(edge.insert is not None for edge in edges)
    assert any(hold.first is None for problem in problems for hold in problem.holds)
    assert any(edge.most_table is not None for edge in edges)
    ways = [way for stage in stages for way in stage.ways]
    assert any(way.clear is not None for way in ways)
    assert any(use.against for way in ways for use in way.uses)
    jobs = [job for problem in problems for job in problem.jobs]
    assert any(job.trip is not None for job in jobs)
    assert any(not job.firm for job in jobs)
    assert any(job.latest is None for job in jobs)
    missed = [levels(problem, small(seed)[2])[0] for seed, problem in enumerate(problems)]
    assert any(missed)
    assert not all(missed)
