"""Two jobs whose journeys need the same people or the same lorry: one window of the two is lost."""

from collections.abc import Iterable
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.colliding import Collision, collisions
from scheduler.normalise import normalise
from scheduler.outcome import JobOutcome, Verdict
from scheduler.problem import Going, JobAim, Problem, Room, Trip, Worker
from shared.book import Job
from tests.builders import NOW, a_book, a_gate, a_job, a_journey, a_person, a_stage, a_window
from tests.scheduler.goings import a_going
from tests.scheduler.normals import solved

VAN = 0
ANYBODY = Worker(calendar=None, can=frozenset(), helps=frozenset())
LATE = a_going(50, 60, 60, crew=(0,), in_time=False)
RESTED = Going(leaves=10, away=((0, 10, 20),), rests=((0, 20, 30),))


def colliding(*jobs: Iterable[Going], vans: int = 1) -> list[Collision]:
    """The collisions of jobs with these ways to leave; two workers, and so many vans."""
    problem = Problem(
        horizon=100,
        stages=(),
        workers=(ANYBODY, ANYBODY),
        rooms=(Room(capacity=vans),),
        jobs=tuple(
            JobAim(lasts=(), latest=10, trip=Trip(options=tuple(goings))) for goings in jobs
        ),
    )
    return collisions(problem, range(len(jobs)))


def test_both_need_the_same_person_at_once() -> None:
    jobs = [a_going(10, 20, 20, crew=(0,))], [a_going(19, 30, 30, crew=(1, 0)), LATE]
    assert colliding(*jobs) == [Collision(jobs=(0, 1), worker=0)]


def test_both_need_the_same_van_at_once() -> None:
    jobs = [
        [a_going(10, 20, 25, crew=(0,), rooms=((VAN, 1),))],
        [a_going(15, 30, 30, crew=(1,), rooms=((VAN, 1),))],
    ]
    assert colliding(*jobs) == [Collision(jobs=(0, 1), room=VAN)]
    assert colliding(*jobs, vans=2) == []


@pytest.mark.parametrize(
    "other",
    [
        [a_going(20, 30, 30, crew=(0,))],
        [a_going(10, 30, 30, crew=(1,))],
        [a_going(12, 30, 30, crew=(0,)), a_going(10, 30, 30, crew=(1,))],
        [LATE],
    ],
)
def test_one_of_them_can_go_another_way_or_at_another_time(other: list[Going]) -> None:
    assert colliding([a_going(10, 20, 20, crew=(0,)), LATE], other) == []


def test_rests_lie_over_one_another_and_over_no_journey() -> None:
    rest = Going(leaves=40, away=((0, 40, 50),), rests=((0, 25, 40),))
    away = a_going(25, 29, 29, crew=(0,))

    assert colliding([RESTED], [rest]) == []
    assert colliding([RESTED], [away]) == [Collision(jobs=(0, 1), worker=0)]
    assert colliding([away], [RESTED]) == [Collision(jobs=(0, 1), worker=0)]


def test_of_too_many_departures_nothing_is_said() -> None:
    many = [a_going(10, 20, 20, crew=(0,))] * 21
    assert colliding(many, many) == []
    assert colliding(many[:20], many[:20]) != []


goings = st.lists(
    st.builds(
        lambda leaves, takes, worker, van: a_going(
            leaves, leaves + takes, leaves + takes, crew=(worker,), rooms=((VAN, 1),) if van else ()
        ),
        st.integers(0, 12),
        st.integers(1, 6),
        st.integers(0, 1),
        st.booleans(),
    ),
    min_size=1,
    max_size=3,
)


@given(goings, goings)
def test_as_step_by_step_counting_says(ones: list[Going], others: list[Going]) -> None:
    def steps(going: Going) -> set[tuple[str, int, int]]:
        people = {("worker", who, t) for who, a, b in going.away for t in range(a, b)}
        return people | {("room", room, t) for room, a, b, _ in going.takes for t in range(a, b)}

    can_both = any(steps(one).isdisjoint(steps(other)) for one, other in product(ones, others))
    assert bool(colliding(ones, others)) != can_both


def put_up_on_friday(job: str, crew: str) -> Job:
    """Four hours' work weeks before, and putting up by the crew on the same day as all others."""
    return a_job(
        job,
        steps=(
            a_stage(f"{job}-carve", hours=4),
            a_gate(f"{job}-load"),
            a_journey(f"{job}-ship", crew=(crew,)),
        ),
        windows=(a_window(f"{job}-window", start="2026-01-23 09:00", end="2026-01-23 12:00"),),
    )


def told(*jobs: Job) -> list[JobOutcome]:
    people = (a_person("ana"), a_person("ben"))
    return sorted(solved(a_book(*jobs, people=people)).jobs, key=lambda job: job.verdict)


def test_the_one_that_stays_behind_is_told_who_is_away_for_the_other() -> None:
    kept, missed = told(put_up_on_friday("heron", "ana"), put_up_on_friday("otter", "ana"))

    assert (kept.verdict, missed.verdict) == (Verdict.FITS, Verdict.MISSES)
    (reason,) = missed.reasons
    assert (reason.code, reason.kind) == ("same_crew", "capacity")
    assert dict(reason.facts) == {"job": kept.id, "person": "ana"}
    assert missed.bound_minutes == 0


def test_with_a_crew_each_both_keep_their_windows() -> None:
    jobs = told(put_up_on_friday("heron", "ana"), put_up_on_friday("otter", "ben"))
    assert [job.verdict for job in jobs] == [Verdict.FITS, Verdict.FITS]


def test_a_book_knows_the_pair_and_counts_one_window_lost() -> None:
    jobs = (put_up_on_friday("heron", "ana"), put_up_on_friday("otter", "ana"))
    book = a_book(*jobs, people=(a_person("ana"), a_person("ben")))
    problem = normalise(book, NOW).problem

    assert [each.jobs for each in collisions(problem, range(2))] == [(0, 1)]
    assert solved(book).bounds[0] == 1
