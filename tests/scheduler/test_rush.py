"""An enquiry beside the book: whom it hurts, what it costs, and when it can be promised."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.chance import Chances, JobChance, chances_of
from scheduler.check import check
from scheduler.outcome import CheckResult, JobOutcome, Outcome, Verdict
from scheduler.price import Costs, Pricing
from scheduler.request import SolveRequest
from scheduler.rush import Rush, Side, Taking, more_dates, rush
from scheduler.rush.weighing import harms, lates, pricing, taking
from scheduler.solve import solve
from shared.book import Book, Job, Standing
from shared.edits import change_job
from shared.ids import JobId
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_plan,
    a_stage,
    a_way,
    a_window,
    some_hours,
)

SNAIL, OWL = JobId("snail"), JobId("owl")


def test_the_least_price_is_what_is_spent_for_it_and_what_being_late_costs() -> None:
    """Our own worked sum: 2150 material, 780 freight, 1368 overtime, 660 hired, 920 lateness."""
    costs = Costs(
        materials=Decimal(2150),
        besides=Decimal(780),
        levers=Decimal(1026 + 342 + 660),
        lateness=Decimal(840 + 80),
    )
    found = Pricing(costs=costs, missed=Decimal(5000) * 14 / 100, late_percent=14)

    assert costs.total == 5878
    assert found.least == 6578
    assert found.least_if_on_time == Decimal("7648.84")


def test_what_is_never_in_time_has_no_price_that_is_paid_only_then() -> None:
    costs = Costs(materials=Decimal(100))

    assert Pricing(costs=costs, missed=Decimal(0), late_percent=100).least_if_on_time is None
    assert Pricing(costs=costs, missed=Decimal(0), late_percent=91).least_if_on_time is None
    assert Pricing(costs=costs, missed=Decimal(0), late_percent=90).least_if_on_time is not None
    assert Pricing(costs=costs, missed=Decimal(0), late_percent=None).least_if_on_time is None


def a_side(*jobs: tuple[JobId, Verdict, int | None], threshold: int = 90, **more: Any) -> Side:
    outcome = Outcome(
        revision=1,
        now=NOW,
        plan=a_plan(),
        check=CheckResult(),
        verdict=Verdict.FITS,
        levels=more.get("levels", (0,) * 8),
        proved_levels=0,
        jobs=tuple(JobOutcome(id=job, name=job, verdict=verdict) for job, verdict, _ in jobs),
        stopped="effort",
    )
    chances = tuple(
        JobChance(
            id=job,
            name=job,
            chance=chance,
            at_usual_overrun=None,
            threshold=threshold,
            late_days=more.get("late_days", {}).get(job, Decimal(0)),
        )
        for job, _, chance in jobs
    )
    return Side(
        outcome=outcome,
        chances=Chances(
            jobs=chances,
            draws=2048,
            seed=1,
            finished_count=0,
            is_own_record=False,
            overrun_percent=25,
        ),
    )


FITS, MISSES = Verdict.FITS, Verdict.MISSES


@pytest.mark.parametrize(
    ("before", "after", "verdict", "is_harmed"),
    [
        (91, 69, FITS, True),
        (97, 91, FITS, False),
        (91, 90, FITS, False),
        (90, 89, FITS, True),
        (80, 70, FITS, True),
        (80, 79, FITS, False),
        (97, 97, MISSES, True),
        (None, None, FITS, False),
    ],
    ids=[
        *("falls below", "stays above", "just stays", "just falls", "was below and falls"),
        *("was below and is as it was", "loses its window", "nothing known"),
    ],
)
def test_a_job_is_harmed_where_it_falls_below_what_is_asked_for(
    before: int | None, after: int | None, verdict: Verdict, *, is_harmed: bool
) -> None:
    without = a_side((SNAIL, FITS, before))
    with_ = a_side((SNAIL, verdict, after), (OWL, FITS, 97))
    found = harms(OWL, without, with_)

    assert bool(found) is is_harmed
    assert taking(OWL, with_, found) is (Taking.AT_RISK if is_harmed else Taking.TAKE)
    if is_harmed and before is not None and after is not None:
        assert (found[0].late_before, found[0].late_after) == (100 - before, 100 - after)


@pytest.mark.parametrize("before", [97, 91, 90, 89, 80, 40])
@pytest.mark.parametrize("drop", [0, 1, 2, 3, 8])
def test_a_job_is_harmed_where_it_is_late_more_often_than_its_level(before: int, drop: int) -> None:
    without = a_side((SNAIL, FITS, before), (JobId("gone"), MISSES, 3))
    with_ = a_side((SNAIL, FITS, before - drop), (JobId("gone"), MISSES, 1), (OWL, FITS, 97))
    (found,) = lates(OWL, without, with_)
    harmed = any(each.job == SNAIL for each in harms(OWL, without, with_))

    assert (found.before, found.late) == (100 - before, 100 - before + drop)
    assert (found.late > found.level) is harmed


@pytest.mark.parametrize(
    ("verdict", "chance", "answer"),
    [
        (FITS, 97, Taking.TAKE),
        (FITS, 89, Taking.JUST),
        (Verdict.TIGHT, 97, Taking.JUST),
        (MISSES, 97, Taking.NOT),
        (Verdict.NOT_FOUND, None, Taking.NOT),
    ],
)
def test_it_can_be_taken_as_surely_as_it_is_kept(
    verdict: Verdict, chance: int | None, answer: Taking
) -> None:
    assert taking(OWL, a_side((OWL, verdict, chance)), ()) is answer


def test_costs_are_the_difference_of_both_sides() -> None:
    jobs = tuple(
        a_job(name, late_cost_per_day=Decimal(rate))
        for name, rate in (("snail", 500), ("owl", 200))
    )
    book = a_book(*jobs)
    without = a_side((SNAIL, FITS, 96), late_days={SNAIL: Decimal("0.5")})
    with_ = a_side(
        (SNAIL, FITS, 91),
        (OWL, FITS, 86),
        late_days={SNAIL: Decimal(2), OWL: Decimal("1.5")},
        levels=(0, 0, 0, 0, 0, 0, 12_345, 0),
    )
    found = pricing(book, OWL, without, with_, levers=Decimal(50))

    assert found.costs == Costs(
        besides=Decimal("123.45"), levers=Decimal(50), lateness=Decimal(750)
    )
    assert found.missed == 300
    assert found.late_percent == 14
    assert found.least == Decimal("1223.45")


def test_others_that_seem_sooner_for_it_make_it_no_cheaper() -> None:
    book = a_book(a_job("snail", late_cost_per_day=Decimal(500)), a_job("owl"))
    without = a_side((SNAIL, FITS, 90), late_days={SNAIL: Decimal(2)})
    with_ = a_side((SNAIL, FITS, 91), (OWL, FITS, 99), late_days={SNAIL: Decimal(1)})

    assert pricing(book, OWL, without, with_).costs.total == 0


def a_small_job(name: str, hours: int, days: int, **changes: Any) -> Job:
    """A job of some hours of carving, and a window of two days that opens so many days from now."""
    way = replace(a_way(), hours=some_hours(hours, hours, hours + hours // 2))
    opens = NOW + timedelta(days=days)
    window = replace(a_window(f"{name}-window"), start=opens, end=opens + timedelta(days=2))
    steps = (
        a_stage(f"{name}-carve", ways=(way,)),
        a_gate(f"{name}-loading"),
        a_journey(f"{name}-journey"),
    )
    return a_job(name, steps=steps, windows=(window,), **changes)


def an_enquiry(hours: int, days: int, **changes: Any) -> Job:
    return a_small_job(
        "owl", hours, days, standing=Standing.ENQUIRY, wished_buffer_days=Decimal(0), **changes
    )


class Ticks:
    """A clock that goes on a little each time it is asked."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        self.now += 0.01
        return self.now


def asked(book: Book, seconds: float = 10_000) -> Rush:
    request = SolveRequest(book=book, now=NOW, seconds=seconds, effort=4, workers=1)
    return rush(request, OWL, clock=Ticks())


def test_an_enquiry_with_room_can_be_taken_in_the_window_that_was_asked_for() -> None:
    book = a_book(a_small_job("snail", 16, 60), an_enquiry(16, 30, price=Decimal(900)))
    found = asked(book)

    assert found.wished.taking is Taking.TAKE
    assert found.honest is found.wished
    assert found.is_earliest
    assert {job.id for job in found.without.outcome.jobs} == {SNAIL}
    assert {job.id for job in found.with_.outcome.jobs} == {SNAIL, OWL}
    assert found.best_pricing == found.wished.pricing
    assert found.ways is None


def test_one_that_comes_too_soon_is_promised_no_sooner_than_a_checked_plan_holds() -> None:
    book = a_book(a_small_job("snail", 16, 60), an_enquiry(80, 4))
    found = asked(book)
    honest = found.honest

    assert found.wished.taking is Taking.NOT
    assert honest is not None
    assert honest.window.start > found.wished.window.start
    moved = change_job(
        book, replace(book.jobs[1], windows=(honest.window,), not_before=honest.not_before)
    ).book
    outcome = solve(SolveRequest(book=moved, now=NOW, asked=(OWL,), effort=4))
    told = {job.id: job for job in outcome.jobs}
    assert told[OWL].verdict is Verdict.FITS
    assert not check(moved, outcome.plan).breaches
    # A day sooner it is not as sure as asked for, or some other job is not.
    assert found.is_earliest
    before = replace(
        honest.window,
        start=honest.window.start - timedelta(days=1),
        end=honest.window.end - timedelta(days=1),
    )
    sooner = change_job(book, replace(book.jobs[1], windows=(before,))).book
    missed = solve(SolveRequest(book=sooner, now=NOW, asked=(OWL,), effort=4))
    (owl,) = (each for each in chances_of(sooner, missed.plan).jobs if each.id == OWL)
    assert owl.is_short or not check(sooner, missed.plan).sound


def test_one_that_takes_a_booked_job_below_what_is_asked_for_is_only_at_its_risk() -> None:
    """Both want the one carver, the enquiry first, and the snail has little to spare."""
    snail = a_small_job("snail", 44, 10, wished_buffer_days=Decimal(0))
    found = asked(a_book(snail, an_enquiry(12, 5)))
    (harm,) = found.wished.harms

    assert found.wished.taking is Taking.AT_RISK
    assert harm.job == SNAIL
    assert harm.late_before is not None
    assert harm.late_after is not None
    assert harm.late_after > harm.late_before
    assert found.honest is not None
    assert found.honest.window.start > found.wished.window.start
    assert not found.honest.harms


def test_an_enquiry_is_answered_the_same_again() -> None:
    book = a_book(a_small_job("snail", 16, 60), an_enquiry(80, 4))
    first, again = asked(book), asked(book)

    assert first.wished == again.wished
    assert first.honest == again.honest
    assert first.promises == again.promises


def test_when_time_is_over_an_earlier_date_may_hold_and_that_is_said() -> None:
    book = a_book(a_small_job("snail", 16, 60), an_enquiry(80, 4))
    found = asked(book, seconds=0.02)

    assert len(found.promises) <= 2
    assert not found.is_earliest
    assert found.ways is None


def test_more_dates_are_tried_beside_what_was_found_and_judged_alike() -> None:
    book = a_book(a_small_job("snail", 16, 60), an_enquiry(80, 4))
    found = asked(book)
    honest = found.honest
    assert honest is not None
    day = timedelta(days=1)
    later = replace(honest.window, start=honest.window.start + day, end=honest.window.end + day)
    windows = (honest.window, later)
    request = SolveRequest(book=book, now=NOW, seconds=60, effort=4, workers=1)
    again, next_day = more_dates(request, found, windows, clock=Ticks())

    assert again.taking is Taking.TAKE
    assert (again.window, next_day.window) == windows
    assert next_day.verdict is Verdict.FITS
    assert again.lates == honest.lates
    short = replace(request, seconds=0)
    assert len(more_dates(short, found, windows, clock=Ticks())) == 1
