"""Each rung of the ladder proves what the one below cannot, and none more than is true."""

from fractions import Fraction

import pytest

from scheduler.calendar import Index
from scheduler.model.alone import sub_book
from scheduler.model.run import Limits
from scheduler.problem import JobAim, Need, Problem, Schedule, Stage, Way
from scheduler.proof import COUNTED, RUNGS, Kind, Ladder, Refuted, prove
from scheduler.purse import Purse
from scheduler.shifts import first_schedule
from tests.scheduler.problems import random_problem
from tests.scheduler.rungs import LADDER, by_few, in_one_bay, of_stages
from tests.scheduler.tiny import every_schedule, tiny_problem

LIMITS = Limits(effort=500, workers=1)


def refuted(problem: Problem, due: int, kind: Kind) -> bool:
    """Whether one rung, and those below it as far as they come with it, says no."""
    ladder = Ladder(problem)
    if kind in COUNTED:
        found = ladder.by_counting((due,))
        return found is not None and RUNGS.index(found.kind) <= RUNGS.index(kind)
    return isinstance(ladder.by_solver((due,), Purse(LIMITS), kinds=(kind,)), Refuted)


@pytest.mark.parametrize("kind", RUNGS)
def test_a_rung_proves_what_those_below_cannot(kind: Kind) -> None:
    make, soonest = LADDER[kind]
    problem = make(soonest - 1)

    assert refuted(problem, soonest - 1, kind)
    assert not refuted(problem, soonest, kind)
    for lower in RUNGS[: RUNGS.index(kind)]:
        assert not refuted(problem, soonest - 1, lower)


@pytest.mark.parametrize("kind", RUNGS)
def test_a_proof_names_its_rung_and_goes_to_the_last_step(kind: Kind) -> None:
    make, soonest = LADDER[kind]

    proof = prove(Index(make(soonest - 3)), 0, LIMITS)

    assert proof is not None
    assert (proof.kind, proof.bound_steps) == (kind, 3)
    assert prove(Index(make(soonest)), 0, LIMITS) is None


def test_too_much_work_names_the_stretch_and_who_or_where_it_is() -> None:
    by_people = Ladder(by_few(5)).by_counting((5,))
    assert by_people is not None
    assert by_people.overload is not None
    assert (by_people.overload.workers, by_people.overload.room) == ((0, 1), None)
    assert (by_people.overload.needed, by_people.overload.there) == (12, 10)

    by_room = prove(Index(in_one_bay(11)), 0, LIMITS)
    assert by_room is not None
    assert by_room.overload is not None
    assert (by_room.overload.workers, by_room.overload.room) == ((), 0)
    assert (by_room.overload.start, by_room.overload.end) == (0, 11)
    assert (by_room.overload.needed, by_room.overload.there) == (12, 11)


def test_work_that_must_partly_lie_in_a_stretch_counts_in_part() -> None:
    """6 steps between 0 and 8 leave at least 4 inside [2, 8) or 2 inside [4, 6)."""
    by_all = (Need(skill=0, can=1),)
    long = Stage(ways=(Way(work=Fraction(6), needs=by_all),), job=0)
    short = Stage(ways=(Way(work=Fraction(3), needs=by_all),), job=0, release=3, start_by=3)
    worker = by_few(0).workers[:1]

    whole = of_stages(8, long, short, workers=worker)
    assert refuted(whole, 8, "energy")
    assert not refuted(whole, 9, "energy")


def test_several_jobs_are_asked_together() -> None:
    """One worker, two jobs of 4 steps: each alone by 4, both by 8 but not by 7."""
    stage = Stage(ways=(Way(work=Fraction(4), needs=(Need(skill=0, can=1),)),))
    stages = tuple(Stage(ways=stage.ways, job=job) for job in (0, 1))
    problem = Problem(
        horizon=40,
        stages=stages,
        workers=by_few(0).workers[:1],
        jobs=tuple(JobAim(lasts=(job,), latest=7) for job in (0, 1)),
    )
    ladder = Ladder(sub_book(problem, (1, 0)))

    assert ladder.by_counting((7, 7)) is not None
    assert ladder.by_counting((7, 8)) is None
    assert ladder.by_counting((7, None)) is None
    assert ladder.by_solver((7, 8), Purse(LIMITS)) is True


def test_what_passes_can_place_is_not_asked_of_the_solver() -> None:
    assert Ladder(by_few(8)).can_place((8,))
    assert not Ladder(by_few(7)).can_place((7,))


@pytest.mark.parametrize("seed", range(40))
def test_no_rung_says_no_to_what_trying_everything_finds(seed: int) -> None:
    problem = tiny_problem(seed)
    ladder = Ladder(sub_book(problem, (0, 1)))
    seen: set[tuple[int, ...]] = set()
    for schedule in every_schedule(problem):
        ends = tuple(max(schedule.ends[last] for last in job.lasts) for job in problem.jobs)
        seen.add(ends)
    for ends in sorted(seen)[:12]:
        assert ladder.by_counting(ends) is None
        assert not isinstance(ladder.by_solver(ends, Purse(LIMITS)), Refuted)


@pytest.mark.parametrize("seed", range(20))
def test_no_counting_says_no_to_a_plan_of_a_workshop(seed: int) -> None:
    problem = random_problem(seed, jobs=1 + seed % 3, segments=2 + seed % 3, workers=2 + seed % 3)
    first = first_schedule(Index(problem), 1)
    assert isinstance(first, Schedule)
    jobs = tuple(range(len(problem.jobs)))
    ends = tuple(max(first.ends[last] for last in job.lasts) for job in problem.jobs)

    assert Ladder(sub_book(problem, jobs)).by_counting(ends) is None
