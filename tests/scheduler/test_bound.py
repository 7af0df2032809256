"""Tiny problems in which company, pairs and the limits of a day decide, tried out."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.justify import justify
from scheduler.model.run import Limits
from scheduler.place import Unfit, place
from scheduler.problem import Problem, Schedule
from scheduler.proof import prove
from scheduler.replay import breaches
from tests.scheduler.bound import bound_problem
from tests.scheduler.tiny import best_levels, every_schedule
from tests.scheduler.tried import hold_against_best

LIMITS = Limits(effort=2000, workers=1)
SEEDS = range(40)


@cache
def all_of(seed: int) -> tuple[Schedule, ...]:
    return tuple(every_schedule(bound_problem(seed)))


def _some_and_many(some: range, many: range) -> list[object]:
    return [*some, *(pytest.param(seed, marks=pytest.mark.slow) for seed in many)]


@pytest.mark.parametrize("seed", _some_and_many(SEEDS, range(40, 300)))
def test_the_proved_levels_are_those_that_trying_everything_finds(seed: int) -> None:
    problem = bound_problem(seed)
    best = min((levels(problem, schedule) for schedule in all_of(seed)), default=None)
    hold_against_best(problem, best, LIMITS)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_schedule_beats_the_empty_workshop(seed: int) -> None:
    problem = bound_problem(seed)
    index = Index(problem)
    soonest, last = earliest(index), latest(index)
    for schedule in all_of(seed):
        in_time = all(loading_end(job, schedule) <= (job.latest or 0) for job in problem.jobs)
        for stage, (start, end) in enumerate(zip(schedule.starts, schedule.ends, strict=True)):
            known = soonest.starts[stage], soonest.ends[stage]
            assert known[0] is not None
            assert known[1] is not None
            assert known[0] <= start
            assert known[1] <= end
            if in_time:
                latest_start, latest_end = last.starts[stage], last.ends[stage]
                assert latest_start is None or start <= latest_start
                assert latest_end is None or end <= latest_end


@pytest.mark.parametrize("seed", SEEDS)
def test_no_proof_is_beyond_what_trying_everything_finds(seed: int) -> None:
    problem = bound_problem(seed)
    jobs = tuple(replace(job, latest=2, wish=None, trip=None) for job in problem.jobs)
    pressed = replace(problem, jobs=jobs)
    late = [max(0, loading_end(jobs[0], one) - 2) for one in every_schedule(pressed)]

    proof = prove(Index(pressed), 0, LIMITS)

    assert proof is None or not late or 0 < proof.bound_steps <= min(late)


def test_every_pass_and_its_pulling_together_keep_every_rule() -> None:
    placed_count = 0
    for seed in range(600):
        problem = bound_problem(seed)
        index = Index(problem)
        found = place(index, range(len(problem.stages)))
        if isinstance(found, Unfit):
            continue
        placed_count += 1
        assert breaches(problem, found) == (), seed
        pulled = justify(index, found)
        assert pulled is not None, seed
        assert breaches(problem, pulled) == (), seed
    assert placed_count > 150


def _of_stages(**fields: object) -> Callable[[Problem], Problem]:
    def without(problem: Problem) -> Problem:
        stages = (replace(stage, **fields) for stage in problem.stages)  # type: ignore[arg-type]
        return replace(problem, stages=tuple(stages))

    return without


WITHOUT: dict[str, Callable[[Problem], Problem]] = {
    "company": _of_stages(company=False),
    "pair": _of_stages(same_team_as=None),
    "pieces": lambda problem: replace(problem, pieces_max=None),
    "sanding": _of_stages(sands=False),
}


@pytest.mark.slow
@pytest.mark.parametrize("rule", WITHOUT)
def test_each_rule_decides_in_some_problems_and_forbids_in_others(rule: str) -> None:
    decides = forbids = False
    for seed in range(400):
        if decides and forbids:
            return
        problem = bound_problem(seed)
        other = WITHOUT[rule](problem)
        if other == problem:
            continue
        best, best_without = best_levels(problem), best_levels(other)
        decides |= None not in (best, best_without) and best != best_without
        forbids |= best is None and best_without is not None
    assert decides
    assert forbids
