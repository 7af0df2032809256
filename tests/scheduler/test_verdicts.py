"""The verdict on a job: what is to spare, missed, proved; and by when each step must be done."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.outcome import Rung, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from scheduler.verdicts import worst
from shared.book import Book, FactKind, GateKind, Pin
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_stage,
    a_way,
    a_window,
    an_after,
    at,
)
from tests.scheduler.normals import job_of, of_steps, placed, solved

QUARTER = timedelta(minutes=15)


def a_carving(window_end: str, **changes: object) -> Book:
    """Give one job of carving that ends on Tuesday at 9:00 and is fetched by its client.

    Eight hours in one go do not fit a shift of eight with its break bridged, so they pause:
    8 h x 8 / 6.5 = 9.846 h, 40 quarters: 30 on Monday from 8:00, 10 on Tuesday to 10:00.
    """
    usual = a_job(
        steps=(a_stage("carve"), a_gate()),
        windows=(a_window(start="2026-01-05 00:00", end=window_end),),
    )
    return a_book(replace(usual, **changes))  # type: ignore[arg-type]


def test_the_carving_of_these_tests_ends_when_it_is_said_to() -> None:
    outcome = solved(a_carving("2026-01-30 18:00"))

    assert placed(outcome, "carve").start >= NOW
    by_pin = solved(of_steps(a_stage("carve", pin=Pin(start=NOW))))
    assert placed(by_pin, "carve").end == at("2026-01-06 10:00")


@pytest.mark.parametrize(
    ("window_end", "days", "verdict", "slack_minutes"),
    [
        ("2026-01-30 18:00", "2", Verdict.FITS, None),
        ("2026-01-06 10:00", "0", Verdict.FITS, 0),
        ("2026-01-06 10:00", "0.1", Verdict.TIGHT, 0),
        ("2026-01-06 12:07", "0.25", Verdict.FITS, 120),
        ("2026-01-06 12:07", "0.3", Verdict.TIGHT, 120),
        ("2026-01-06 22:00", "2", Verdict.TIGHT, 330),
    ],
)
def test_a_window_kept_with_less_than_the_wished_buffer_is_tight(
    window_end: str, days: str, verdict: Verdict, slack_minutes: int | None
) -> None:
    """A day of buffer is a normal shift of eight hours, counted in working time."""
    book = a_carving(window_end, wished_buffer_days=Decimal(days))
    job = job_of(solved(book), "heron")

    assert job.verdict is verdict
    assert job.wished_buffer_minutes == int(Decimal(days) * 480)
    if slack_minutes is not None:
        assert job.slack_minutes == slack_minutes


def test_a_chain_longer_than_the_time_there_is_cannot() -> None:
    outcome = solved(a_carving("2026-01-06 09:00"))
    job = job_of(outcome, "heron")

    assert job.verdict is outcome.verdict is Verdict.CANNOT
    assert (job.missed_by_minutes, job.bound_minutes) == (60, 60)
    assert job.missed_by_working_minutes == 60
    assert job.slack_minutes is None
    assert job.reasons[0].code == "chain_too_long"
    assert (job.rung, job.beside) == (Rung.CHAIN, ())
    assert outcome.levels[:3] == (1, 0, 4)
    assert outcome.proved_levels >= 3


def test_missed_by_over_night_is_elapsed_and_working() -> None:
    job = job_of(solved(a_carving("2026-01-05 20:00")), "heron")

    assert job.missed_by_minutes == 14 * 60
    assert job.missed_by_working_minutes == 150


def test_too_much_work_for_those_who_are_there_is_counted() -> None:
    """Two pieces, one bay, one person: the chain of each is short, both take twice as long."""
    stages = (a_stage("left", after=()), a_stage("right", after=()))
    book = a_carving("2026-01-06 12:00", steps=(*stages, a_gate()))
    job = job_of(solved(book, effort=400), "heron")

    assert job.verdict is Verdict.CANNOT
    (reason,) = job.reasons
    facts = dict(reason.facts)
    assert (reason.code, reason.kind) == ("too_much_work", "capacity")
    assert facts["others"] == "Ana"
    assert (facts["wanted"], facts["have"]) == (20, 12)
    assert (facts["first"], facts["until"]) == (
        "2026-01-05T08:00:00+00:00",
        "2026-01-06T12:00:00+00:00",
    )
    assert 0 < job.bound_minutes <= job.missed_by_minutes


def test_a_job_that_could_alone_misses_where_the_others_keep_theirs() -> None:
    """One person has two days; two jobs take ten quarters more than one of them each."""
    jobs = [
        a_job(
            name,
            steps=(a_stage(f"{name}.carve"), a_gate(f"{name}.load")),
            windows=(a_window(f"{name}.window", start="2026-01-05 00:00", end="2026-01-06 12:00"),),
        )
        for name in ("heron", "finch")
    ]
    outcome = solved(a_book(*jobs), effort=800)
    verdicts = sorted(job.verdict for job in outcome.jobs)
    (missed,) = [job for job in outcome.jobs if job.verdict is Verdict.MISSES]

    assert verdicts == ["misses", "tight"]
    assert 0 < missed.bound_minutes <= missed.missed_by_minutes
    assert missed.reasons[0].code == "together_too_much"
    assert (missed.rung, len(missed.beside)) == (Rung.FREE, 1)


def test_without_time_for_a_proof_it_is_not_found() -> None:
    jobs = [
        a_job(
            name,
            steps=(a_stage(f"{name}.carve"), a_gate(f"{name}.load")),
            windows=(a_window(f"{name}.window", start="2026-01-05 00:00", end="2026-01-06 12:00"),),
        )
        for name in ("heron", "finch")
    ]
    outcome = solve(SolveRequest(book=a_book(*jobs), now=NOW), cancel=lambda: True)
    missed = [job for job in outcome.jobs if job.missed_by_minutes]

    assert [job.verdict for job in missed] == [Verdict.NOT_FOUND]
    assert missed[0].bound_minutes == 0
    assert missed[0].reasons[0].code == "late"
    assert outcome.verdict is Verdict.NOT_FOUND


def test_the_books_verdict_is_its_worst_jobs() -> None:
    assert worst(()) is Verdict.FITS
    assert worst((Verdict.TIGHT, Verdict.FITS)) is Verdict.TIGHT
    assert worst((Verdict.MISSES, Verdict.CANNOT, Verdict.NOT_FOUND)) is Verdict.CANNOT
    assert worst((Verdict.MISSES, Verdict.NOT_FOUND)) is Verdict.NOT_FOUND


def chained() -> Book:
    stages = (
        a_stage("carve", hours=6),
        a_gate("approve", GateKind.ANSWER, answer_days=3),
        a_stage("skin", hours=5, cure_hours=30),
        a_stage("paint", hours=3, in_one_go=True, cure_hours=20),
    )
    return of_steps(*stages, windows=(a_window(start="2026-03-02 08:00"),))


def cannot(book: Book) -> bool:
    return solved(book, effort=1).verdict is Verdict.CANNOT


def test_the_latest_start_can_still_be_kept_and_a_quarter_later_cannot() -> None:
    latest = job_of(solved(chained()), "heron").latest_start
    assert latest is not None

    def starting(when: timedelta) -> Book:
        pin = Pin(not_before=latest + when)
        (job,) = chained().jobs
        carve = a_stage("carve", hours=6, pin=pin)
        return replace(chained(), jobs=(replace(job, steps=(carve, *job.steps[1:])),))

    assert not cannot(starting(timedelta()))
    assert cannot(starting(QUARTER))


def test_the_latest_loading_is_the_latest_departure() -> None:
    job = job_of(solved(chained()), "heron")

    # Two hours on the road and two on site before Friday 18:00.
    assert job.latest_loading == at("2026-03-06 14:00")


def test_the_latest_answer_is_the_latest_yes_from_which_the_rest_still_fits() -> None:
    latest = job_of(solved(chained()), "heron").latest_answer
    assert latest is not None

    def answered(when: timedelta) -> Book:
        facts = (
            a_fact("done", step="carve"),
            a_fact("yes", kind=FactKind.DONE, step="approve", at=latest + when),
        )
        return replace(chained(), facts=facts)

    assert not cannot(answered(timedelta()))
    assert cannot(answered(QUARTER))


def test_each_step_has_its_latest_start_and_end() -> None:
    steps = {times.step: times for times in job_of(solved(chained()), "heron").steps}

    assert list(steps) == ["carve", "approve", "skin", "paint", "loading"]
    starts = [times.latest_start for times in steps.values()]
    assert all(start is not None for start in starts)
    assert starts == sorted(starts, key=lambda start: start or NOW)
    paint = steps["paint"]  # type: ignore[index]
    assert paint.latest_end is not None
    assert paint.latest_end <= at("2026-03-06 14:00") - timedelta(hours=20)


def test_a_latest_start_that_is_past_is_not_named() -> None:
    job = job_of(solved(a_carving("2026-01-06 09:00")), "heron")

    assert job.latest_start is None


def test_a_lorry_that_left_in_time_fits_and_one_that_left_late_cannot() -> None:
    facts = (a_fact("c"), a_fact("l", step="heron-loading"))
    gone = a_fact("g", kind=FactKind.GONE, step="heron-journey", at=at("2026-03-06 14:00"))
    late = replace(gone, at=at("2026-03-06 14:15"))
    now = at("2026-03-06 15:00")

    in_time = solved(replace(a_book(), facts=(*facts, gone)), now=now)
    too_late = solved(replace(a_book(), facts=(*facts, late)), now=now)

    assert in_time.verdict is Verdict.FITS
    assert too_late.verdict is Verdict.CANNOT
    assert too_late.levels[0] == 1
    assert in_time.plan.trips[0].start == gone.at


def test_a_job_that_is_loaded_keeps_its_window_if_it_was_in_time() -> None:
    done = a_fact(step="loading", at=at("2026-01-05 07:00"))
    carved = a_fact("carved", step="carve", at=at("2026-01-05 06:00"))
    kept = replace(a_carving("2026-01-05 07:00"), facts=(carved, done))
    late = replace(a_carving("2026-01-05 06:45"), facts=(carved, done))

    assert job_of(solved(kept), "heron").verdict is Verdict.FITS
    assert job_of(solved(kept), "heron").loading_end == done.at
    assert job_of(solved(late), "heron").verdict is not Verdict.FITS


def test_of_a_job_without_steps_nothing_is_late() -> None:
    (told,) = solved(a_book(a_job(steps=()))).jobs

    assert (told.verdict, told.missed_by_minutes) == (Verdict.FITS, 0)


def test_a_dearer_way_is_taken_only_for_a_window() -> None:
    ways = (a_way("slow", hours=30), a_way("dear", hours=6, cost=Decimal(500)))
    stage = a_stage("carve", ways=ways)

    easy = solved(a_carving("2026-02-27 18:00", steps=(stage, a_gate())), effort=300)
    hard = solved(a_carving("2026-01-06 10:00", steps=(stage, a_gate())), effort=300)

    assert placed(easy, "carve").way == "slow"
    assert placed(hard, "carve").way == "dear"
    assert (easy.levels[6], hard.levels[6]) == (0, 50000)


def test_other_peoples_work_does_not_count_in_counting_back() -> None:
    steps = (a_stage("carve"), a_stage("wait", after=(an_after("carve"),)), a_gate(), a_journey())
    alone = a_book(a_job(steps=steps), people=(a_person(),))
    crowded = replace(alone, jobs=(*alone.jobs, a_job("finch")))

    assert (
        job_of(solved(alone), "heron").latest_start == job_of(solved(crowded), "heron").latest_start
    )
