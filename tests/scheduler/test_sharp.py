"""Tiny problems in which clear stretches, waits by a table or shared air decide, tried out."""

from dataclasses import replace
from functools import cache

import pytest

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import earliest, latest
from scheduler.justify import justify
from scheduler.model.run import Limits
from scheduler.place import place
from scheduler.problem import Problem, Schedule
from scheduler.proof import prove
from scheduler.replay import breaches
from tests.scheduler.tiny import every_schedule, sharp_problem, tiny_problem
from tests.scheduler.tried import hold_against_best

LIMITS = Limits(effort=2000, workers=1)
SEEDS = range(90)


@cache
def all_of(seed: int) -> tuple[Schedule, ...]:
    return tuple(every_schedule(sharp_problem(seed)))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_proved_levels_are_those_that_trying_everything_finds(seed: int) -> None:
    problem = sharp_problem(seed)
    best = min((levels(problem, schedule) for schedule in all_of(seed)), default=None)
    hold_against_best(problem, best, LIMITS)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_schedule_beats_the_empty_workshop(seed: int) -> None:
    problem = sharp_problem(seed)
    index = Index(problem)
    soonest, last = earliest(index), latest(index)
    for schedule in all_of(seed):
        in_time = all(
            job.latest is None or loading_end(job, schedule) <= job.latest for job in problem.jobs
        )
        for stage, way in enumerate(schedule.ways):
            if way < 0 or problem.stages[stage].optional:
                continue
            start, end = schedule.starts[stage], schedule.ends[stage]
            assert _known(soonest.starts[stage]) <= start
            assert _known(soonest.ends[stage]) <= end
            if in_time:
                assert start <= _or_never(last.starts[stage])
                assert end <= _or_never(last.ends[stage])


def _known(step: int | None) -> int:
    assert step is not None
    return step


def _or_never(step: int | None) -> int:
    return 1000 if step is None else step


@pytest.mark.parametrize("seed", SEEDS)
def test_no_proof_is_beyond_what_trying_everything_finds(seed: int) -> None:
    problem = sharp_problem(seed)
    jobs = tuple(replace(job, latest=2, wish=None, trip=None) for job in problem.jobs)
    pressed = replace(problem, jobs=jobs)
    found = [schedule for schedule in all_of(seed) if not breaches(pressed, schedule)]
    for job, aim in enumerate(pressed.jobs):
        proof = prove(Index(pressed), job, LIMITS)
        late = [max(0, loading_end(aim, schedule) - 2) for schedule in found]
        assert proof is None or not late or 0 < proof.bound_steps <= min(late)


def _pass_of(problem: Problem) -> tuple[Index, Schedule] | None:
    index = Index(problem)
    found = place(index, range(len(problem.stages)))
    return None if isinstance(found, Unfit) else (index, found)


def _is_full_without_anybody(problem: Problem) -> bool:
    """Return whether what stands there anyway does not fit beside what is booked anyway."""
    return any(
        hold.first is None and hold.units + units > problem.rooms[hold.room].capacity
        for hold in problem.holds
        for _, _, units in problem.rooms[hold.room].busy
    )


@pytest.mark.parametrize("maker", [sharp_problem, tiny_problem])
def test_every_pass_and_its_pulling_together_keep_every_rule(maker: object) -> None:
    assert callable(maker)
    placed_count = 0
    for seed in range(600):
        problem = maker(seed)
        found = None if _is_full_without_anybody(problem) else _pass_of(problem)
        if found is None:
            continue
        index, schedule = found
        placed_count += 1
        assert breaches(problem, schedule) == (), seed
        pulled = justify(index, schedule)
        assert pulled is not None, seed
        assert breaches(problem, pulled) == (), seed
    assert placed_count > 100


def test_a_pass_finds_most_of_what_there_is() -> None:
    fits = [seed for seed in SEEDS if all_of(seed)]
    found = [seed for seed in fits if _pass_of(sharp_problem(seed)) is not None]

    assert len(found) * 10 > len(fits) * 8
