"""Enquiries for tests: a planted book with one in it, and answers that say what a test wants."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from app.counsel.questions import AskRush, FirstLook
from scheduler.chance import Chances, JobChance
from scheduler.enquiring import Taking
from scheduler.levers.values import WayOut, WaysOut
from scheduler.outcome import CheckResult, JobOutcome, Outcome, Verdict
from scheduler.price import Costs, Pricing
from scheduler.rush.values import Harm, Late, Promise, Rush, Side
from shared.book import Book, Job, Standing
from tests.app.window.scenes import outcome_for, planted

PRICE = Decimal(11_500)
COSTS = Costs(materials=Decimal(3260), besides=Decimal(1450), lateness=Decimal(1720))
LEAST = "6430"
"""3260 + 1450 + 1720, worked by hand."""


def enquiry_of(book: Book) -> Job:
    return next(job for job in book.jobs if job.standing is not Standing.FIRM)


def the_book(standing: Standing = Standing.ENQUIRY) -> Book:
    """The planted book with its last job as an enquiry."""
    book = planted().book
    until = planted().now.date() + timedelta(days=20)
    is_pencilled = standing is Standing.PENCILLED
    last = replace(
        book.jobs[-1],
        standing=standing,
        price=PRICE,
        pencilled_until=until if is_pencilled else None,
    )
    return replace(book, jobs=(*book.jobs[:-1], last))


def a_side(outcome: Outcome, chance: int) -> Side:
    chances = tuple(
        JobChance(id=job.id, name=job.name, chance=chance, at_usual_overrun=None, threshold=90)
        for job in outcome.jobs
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


def without(book: Book) -> Outcome:
    outcome = outcome_for(planted())
    enquiry = enquiry_of(book).id
    return replace(outcome, jobs=tuple(job for job in outcome.jobs if job.id != enquiry))


def with_(book: Book, verdict: Verdict = Verdict.FITS, spare_days: int = 1) -> Outcome:
    """The other jobs keep less to spare than without it."""
    outcome = outcome_for(planted(), verdict, spare_days)
    enquiry = enquiry_of(book).id
    others = outcome_for(planted(), spare_days=spare_days).jobs
    own = {job.id: job for job in outcome.jobs}[enquiry]
    jobs = tuple(own if job.id == enquiry else job for job in others)
    return replace(outcome, jobs=jobs)


def a_promise(book: Book, days: int, taking: Taking, late: int = 9) -> Promise:
    job = enquiry_of(book)
    held = job.held_window
    assert held is not None
    shift = timedelta(days=days)
    other = book.jobs[0]
    harm = Harm(job=other.id, name=other.name, late_before=9, late_after=late)
    verdict = {Taking.NOT: Verdict.MISSES, Taking.JUST: Verdict.TIGHT}.get(taking, Verdict.FITS)
    return Promise(
        window=replace(held, start=held.start + shift, end=held.end + shift),
        verdict=verdict,
        chance={Taking.NOT: 2, Taking.JUST: 85}.get(taking, 95),
        pricing=Pricing(costs=COSTS, missed=Decimal(0), late_percent=5),
        taking=taking,
        harms=(harm,) if taking is Taking.AT_RISK else (),
        is_offered=days == 0,
        lates=(Late(job=other.id, name=other.name, before=9, late=late, level=10),),
        latest_answer=held.start - timedelta(days=30),
    )


def a_rush(book: Book, *promises: Promise, ways: bool = False) -> Rush:
    """Lay the enquiry beside the book; the first promise is the window asked for."""
    job = enquiry_of(book)
    wished = promises[0]
    verdict = Verdict.MISSES if wished.taking is Taking.NOT else Verdict.FITS
    side = a_side(with_(book, verdict), 95)
    found = sorted(promises, key=lambda each: each.window.start)
    honest = next((each for each in found if each.is_honest), None)
    return Rush(
        job=job,
        without=a_side(without(book), 91),
        with_=side,
        wished=wished,
        promises=tuple(found),
        honest=honest,
        is_earliest=True,
        ways=a_way_out(book, side.outcome) if ways else None,
    )


def a_way_out(book: Book, outcome: Outcome) -> WaysOut:
    way = WayOut(
        levers=(),
        price=Decimal(1570),
        proved_cheapest=False,
        keeps=True,
        book=book,
        plan=outcome.plan,
        check=CheckResult(),
        jobs=tuple(_met(job) for job in outcome.jobs),
    )
    return WaysOut(job=enquiry_of(book).id, base=outcome, levers=(), ways=(way,))


def _met(job: JobOutcome) -> JobOutcome:
    return replace(job, verdict=Verdict.TIGHT, missed_by_minutes=0, slack_minutes=60)


def first_look(book: Book) -> FirstLook:
    return FirstLook(without=without(book), with_=with_(book))


def rush_like(asked: AskRush) -> Rush:
    """An answer of the planted enquiry, told of the one that was asked about."""
    job = enquiry_of(asked.request.book)
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, Taking.TAKE))
    own = enquiry_of(book).id

    def told(outcome: Outcome) -> Outcome:
        return replace(
            outcome,
            jobs=tuple(
                replace(each, id=job.id, name=job.name) if each.id == own else each
                for each in outcome.jobs
            ),
        )

    return replace(rush, job=job, with_=replace(rush.with_, outcome=told(rush.with_.outcome)))
