"""Proofs and bounds beside the search: what is asked, on which thread, and what comes of it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.aims import levels
from scheduler.bounding import Bounding
from scheduler.calendar import Index
from scheduler.countback import earliest
from scheduler.model.run import Limits
from scheduler.normalise import Normal
from scheduler.problem import JobAim, Need, Problem, Schedule, Stage, Way, Worker
from scheduler.proofs import Prover
from scheduler.shifts import first_schedule
from scheduler.stop import pause
from scheduler.sub_books import groups, partners
from shared.book import Book
from tests.builders import a_book, a_gate, a_job, a_stage, a_window
from tests.scheduler.normals import normal_of
from tests.scheduler.problems import random_problem

LIMITS = Limits(effort=400, workers=1)


def two_jobs() -> Book:
    """Give two jobs that one person could both do alone in two days, but not both."""
    return a_book(
        *(
            a_job(
                name,
                steps=(a_stage(f"{name}.carve"), a_gate(f"{name}.load")),
                windows=(
                    a_window(f"{name}.window", start="2026-01-05 00:00", end="2026-01-06 12:00"),
                ),
            )
            for name in ("heron", "finch")
        )
    )


def planned(book: Book) -> tuple[Normal, Index, Schedule]:
    normal = normal_of(book)
    index = Index(normal.problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    return normal, index, first


def test_with_an_effort_everything_is_asked_on_this_thread() -> None:
    normal, index, first = planned(two_jobs())
    prover = Prover(normal, index)
    (missed,) = prover.unproved(first)
    told: list[int] = []

    spent = Bounding(prover, first, LIMITS, on_proof=lambda: told.append(len(prover.known))).run()

    (proof,) = prover.known
    assert (proof.job, proof.beside) == (missed, (1 - missed,))
    assert told[0] == 0
    assert told[-1] == 1
    assert 0 <= spent <= LIMITS.effort  # type: ignore[operator]
    bounds, reached = prover.least_levels(), levels(normal.problem, first)
    assert bounds[0] == reached[0] == 1
    assert 0 < bounds[2] <= reached[2]
    assert 0 < bounds[7] <= reached[7]


def test_on_its_own_thread_it_asks_of_the_newest_schedule_until_it_is_stopped() -> None:
    normal, index, first = planned(two_jobs())
    prover = Prover(normal, index)
    bounding = Bounding(prover, first, Limits(seconds=600, workers=1))
    bounding.tell(first)
    bounding.start()
    for _ in range(3000):
        if prover.known:
            break
        pause(0.01)
    bounding.stop()

    assert prover.known


def test_what_goes_wrong_on_the_thread_is_raised_where_it_is_stopped() -> None:
    normal, index, first = planned(two_jobs())

    called: list[int] = []

    def wrong() -> None:
        called.append(1)
        raise LookupError("planted")

    bounding = Bounding(Prover(normal, index), first, Limits(seconds=600), on_proof=wrong)
    bounding.start()
    for _ in range(3000):
        if called:
            break
        pause(0.01)
    with pytest.raises(LookupError, match="planted"):
        bounding.stop()


def test_the_most_pressed_job_comes_first() -> None:
    """Both chains are as long; the latest of one comes a day sooner, or another has none."""
    normal, index, _ = planned(two_jobs())
    one, other = normal.problem.jobs
    assert one.latest is not None

    for sooner, order in (({"latest": one.latest - 96}, [1, 0]), ({"latest": None}, [0, 1])):
        aims = (one, replace(other, **sooner))
        pressed = replace(normal, problem=replace(normal.problem, jobs=aims))
        assert Prover(pressed, index).by_room([0, 1]) == order
    assert Prover(normal, index).by_room([1, 0]) == [0, 1]


def test_nothing_is_asked_once_somebody_has_had_enough() -> None:
    normal, index, first = planned(two_jobs())
    prover = Prover(normal, index)
    Bounding(prover, first, LIMITS, cancel=lambda: True).run()
    assert not prover.known


def test_a_proof_beside_others_counts_only_while_they_keep_their_windows() -> None:
    normal, index, first = planned(two_jobs())
    prover = Prover(normal, index)
    Bounding(prover, first, LIMITS).run()
    assert prover.proved(first)

    (missed,) = prover.missed(first)
    late = list(first.ends)
    for last in normal.problem.jobs[1 - missed].lasts:
        late[last] += 4000
    both_miss = replace(first, ends=tuple(late))
    assert not prover.proved(both_miss)
    assert sorted(prover.unproved(both_miss)) == [0, 1]


def test_jobs_that_share_nobody_and_no_place_are_no_partners() -> None:
    stages = tuple(
        Stage(ways=(Way(work=Fraction(4), needs=(Need(skill=skill, can=1),)),), job=job)
        for job, skill in enumerate((0, 1, 0))
    )
    problem = Problem(
        horizon=40,
        stages=stages,
        workers=tuple(
            Worker(calendar=None, can=frozenset({skill}), helps=frozenset({skill}))
            for skill in (0, 1)
        ),
        jobs=tuple(JobAim(lasts=(job,), latest=9) for job in range(3)),
    )
    index = Index(problem)
    assert partners(index, earliest(index), 0, (1, 2)) == [2]


def test_sub_books_are_pairs_then_threes_then_everybody() -> None:
    assert list(groups(0, [])) == []
    assert list(groups(0, [3])) == [(0, 3)]
    found = list(groups(0, [4, 2, 3, 1]))
    assert found[:4] == [(0, 4), (0, 2), (0, 3), (0, 1)]
    assert found[4:7] == [(0, 4, 2), (0, 4, 3), (0, 2, 3)]
    assert found[7:] == [(0, 1, 2, 3, 4)]


def test_most_shared_work_comes_first() -> None:
    problem = random_problem(3, jobs=4, segments=8, workers=4, spice=False)
    index = Index(problem)
    ranked = partners(index, earliest(index), 0, (1, 2, 3))
    assert sorted(ranked) == [1, 2, 3]
