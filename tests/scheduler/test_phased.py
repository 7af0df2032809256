"""A job's soonest end by its phases: never more than is true, and the truth where it is cut."""

from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from random import Random

import pytest

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.model.alone import alone
from scheduler.model.run import Limits
from scheduler.necks import end_before, phases_of, problem_of, with_ends
from scheduler.phased import Phases
from scheduler.problem import Edge, JobAim, Need, Problem, Room, Stage, Table, Use, Wait, Way
from scheduler.proof import Ladder, prove
from scheduler.purse import Purse
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from tests.scheduler.problems import random_problem
from tests.scheduler.rungs import BY_ONE, a_worker, of_stages
from tests.scheduler.tiny import every_schedule, tiny_problem

LIMITS = Limits(effort=500, workers=1)
PIECE = Stage(ways=(Way(work=Fraction(4), needs=BY_ONE),), job=0)


def two_phases(latest: int = 0, workers: int = 2, cure: Wait | None = None) -> Problem:
    """Give three pieces of 4 steps, a trial of 2 when all are done, and three pieces more.

    By two workers three pieces take 8 steps: by counting 6, by the longest chain 4.
    """
    trial = Stage(ways=(Way(work=Fraction(2)),), job=0, cure=cure or Wait())
    stages = (PIECE, PIECE, PIECE, trial, PIECE, PIECE, PIECE)
    edges = tuple(
        Edge(before=before, after=after)
        for before, after in ((0, 3), (1, 3), (2, 3), (3, 4), (3, 5), (3, 6))
    )
    return of_stages(
        latest, *stages, edges=edges, workers=tuple(a_worker() for _ in range(workers))
    )


def asked(problem: Problem, effort: int = 500) -> tuple[int, int | None]:
    """Give what is proved of the soonest end, and the end of the plan."""
    found = Phases(problem).soonest(Purse(replace(LIMITS, effort=effort)))
    if found.schedule is None:
        return found.end, None
    assert not breaches(problem, found.schedule)
    return found.end, loading_end(problem.jobs[0], found.schedule)


def test_a_stage_that_all_others_come_before_or_after_is_a_neck() -> None:
    first, second = phases_of(two_phases())

    assert (first.stages, first.before, first.neck) == ((0, 1, 2, 3), None, 3)
    assert (second.stages, second.before, second.neck) == ((4, 5, 6), 3, None)


def test_one_stage_beside_the_neck_leaves_one_phase() -> None:
    problem = two_phases()
    beside = replace(problem, edges=tuple(each for each in problem.edges if each.before != 2))

    assert len(phases_of(beside)) == 1


def test_a_neck_that_may_begin_before_others_are_over_is_none() -> None:
    problem = two_phases()
    edges = tuple(replace(each, least=-1) if each.before == 2 else each for each in problem.edges)

    assert len(phases_of(replace(problem, edges=edges))) == 1


def test_a_neck_right_behind_another_makes_no_phase() -> None:
    problem = of_stages(
        0, PIECE, PIECE, PIECE, edges=(Edge(before=0, after=1), Edge(before=1, after=2))
    )

    (only,) = phases_of(problem)
    assert only.stages == (0, 1, 2)
    assert only.neck is None


def test_what_loading_does_not_wait_for_is_in_no_phase() -> None:
    problem = two_phases()
    sooner = replace(problem, jobs=(JobAim(lasts=(3,), latest=0),))

    (only,) = phases_of(sooner)
    assert (only.stages, only.neck) == ((0, 1, 2, 3), None)
    assert asked(sooner) == (10, 10)


def test_each_phase_begins_where_the_one_before_is_proved_to_end() -> None:
    """8 for three pieces by two, 2 for the trial, 8 again: the chain says 10, work alone 15."""
    problem = two_phases()

    assert Ladder(problem).soonest_end(0) == 10
    assert Ladder(problem).by_counting((17,)) is None
    assert asked(problem) == (18, 18)
    proof = prove(Index(two_phases(10)), 0, LIMITS)
    assert proof is not None
    assert (proof.kind, proof.bound_steps) == ("solver", 8)
    assert prove(Index(two_phases(18)), 0, LIMITS) is None


def test_a_phase_waits_for_the_cure_of_its_neck() -> None:
    assert asked(two_phases(cure=Wait(least=5))) == (23, 23)
    answered = Wait(table=Table.of((12, 20), (60, 60)))
    assert asked(two_phases(cure=answered)) == (28, 28)


@pytest.mark.parametrize(("gate", "end"), [(11, 0), (20, 0), (21, 13), (30, 13), (31, 31)])
def test_the_gate_says_when_its_neck_is_over(gate: int, end: int) -> None:
    """By a table, ends up to 12 open at 20, up to 30 at 30, and later ones at once."""
    problem = two_phases(cure=Wait(table=Table.of((12, 20), (30, 30), (60, 31))))

    found = end_before(problem, 3, gate)

    assert found == end


def test_ends_no_sooner_than_so_leave_the_rest_as_it_was() -> None:
    problem = two_phases()
    assert with_ends(problem, {}) is problem
    assert with_ends(problem, {3: 12}).stages[3].ends == ((12, problem.horizon + 1),)
    stages = (*problem.stages[:3], replace(problem.stages[3], ends=((0, 5), (9, 20))))
    narrow = with_ends(replace(problem, stages=(*stages, *problem.stages[4:])), {3: 12})
    assert narrow.stages[3].ends == ((12, 20),)


def test_a_plan_that_breaks_a_limit_across_phases_is_placed_anew() -> None:
    """A stage of the first phase holds the only room for 10 steps more, past the trial."""
    problem = two_phases()
    held = Way(work=Fraction(4), needs=BY_ONE, uses=(Use(room=0, units=1, after=10),))
    stages = tuple(
        replace(stage, ways=(held,)) if number in (0, 4) else stage
        for number, stage in enumerate(problem.stages)
    )
    problem = replace(problem, stages=stages, rooms=(Room(capacity=1),))
    end, planned = asked(problem)

    assert end == 18
    assert planned is not None
    assert planned >= end


def test_what_is_decided_is_asked_once() -> None:
    phases = Phases(two_phases())
    first, again = Purse(LIMITS), Purse(LIMITS)

    assert phases.soonest(first).end == phases.soonest(again).end == 18
    assert first.spent > 0
    assert again.spent == 0


def test_without_effort_only_the_chains_of_the_phases_count() -> None:
    end, planned = asked(two_phases(), effort=0)

    assert 10 <= end <= 18
    assert planned is not None
    assert planned >= 18


def test_what_fits_nowhere_is_proved_to() -> None:
    """Nobody can do what the second phase asks."""
    problem = two_phases()
    lost = Way(work=Fraction(4), needs=(Need(skill=7, can=1),))
    stages = (*problem.stages[:4], replace(PIECE, ways=(lost,)), *problem.stages[5:])

    end, planned = asked(replace(problem, stages=stages))

    assert end > problem.horizon
    assert planned is None


@pytest.mark.parametrize("seed", range(60))
def test_no_phase_proves_more_than_trying_everything_finds(seed: int) -> None:
    problem = tiny_problem(seed)
    for job, aim in enumerate(problem.jobs):
        ends = [max(each.ends[last] for last in aim.lasts) for each in every_schedule(problem)]
        if not ends:
            continue
        part = Ladder(alone(problem, job)).problem
        found = Phases(part).soonest(Purse(LIMITS))
        assert found.end <= min(ends)
        for phase in phases_of(part):
            assert problem_of(part, phase, {}).jobs[0].lasts


def random_phases(seed: int) -> Problem:
    """Draw pieces before and behind a trial, with releases and a cure, for two workers."""
    draw = Random(f"{seed} phases")
    problem = two_phases(cure=Wait(least=draw.choice((0, 0, 3))))
    stages = [
        replace(
            stage,
            release=draw.choice((0, 0, 0, 2, 7)),
            ways=(replace(stage.ways[0], work=Fraction(draw.randint(1, 5))),),
        )
        for stage in problem.stages
    ]
    return replace(problem, stages=tuple(stages))


def end_of_order(problem: Problem, order: tuple[int, ...]) -> int | None:
    """Place stages one by one as soon as two workers allow; None where one comes too early."""
    ends: dict[int, int] = {}
    held: list[tuple[int, int]] = []
    for number in order:
        stage = problem.stages[number]
        work, start = int(stage.ways[0].work), stage.release
        for edge in problem.edges:
            if edge.after == number:
                if edge.before not in ends:
                    return None
                start = max(start, ends[edge.before] + problem.stages[edge.before].cure.least)
        if number != 3:
            while any(
                sum(first <= at < until for first, until in held) > 1
                for at in range(start, start + work)
            ):
                start += 1
            held.append((start, start + work))
        ends[number] = start + work
    return max(ends.values())


@pytest.mark.parametrize("seed", range(30))
def test_the_soonest_end_is_that_of_the_best_of_all_orders(seed: int) -> None:
    problem = random_phases(seed)
    assert len(phases_of(problem)) == 2
    orders = ((*one, 3, *two) for one in permutations((0, 1, 2)) for two in permutations((4, 5, 6)))
    ends = [end for end in (end_of_order(problem, each) for each in orders) if end is not None]

    assert asked(problem) == (min(ends), min(ends))


@pytest.mark.parametrize("seed", range(12))
def test_phases_agree_with_plans_of_workshops(seed: int) -> None:
    problem = random_problem(seed, jobs=2, segments=1 + seed % 3, workers=2 + seed % 3)
    plan = first_schedule(Index(problem), 1)
    assert not isinstance(plan, Unfit)
    for job, aim in enumerate(problem.jobs):
        part = Ladder(alone(problem, job)).problem
        found = Phases(part).soonest(Purse(replace(LIMITS, effort=100)))
        assert found.end <= loading_end(aim, plan)
        if found.schedule is not None:
            assert not breaches(part, found.schedule)
            assert found.end <= loading_end(part.jobs[0], found.schedule)
