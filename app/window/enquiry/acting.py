"""What can be done with an enquiry: book it, pencil it, let it go, see it on the wall. No Qt."""

from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from app.window.enquiry.state import Found
from app.window.trial import Trial
from app.words import Words
from app.words import enquiry_view as say
from scheduler.outcome import Outcome
from shared.book import Book, Job, Standing
from shared.edits import Edited, book_job, pencil_job
from shared.edits.windows import move_window
from shared.ids import JobId
from shared.plan import Plan

if TYPE_CHECKING:
    from datetime import datetime

    from scheduler.levers.values import WayOut
    from scheduler.rush.values import Promise, Rush

PENCIL_DAYS = 14
"""A place is held for so long where the quote names no day (common practice, no source)."""


def as_enquiry(book: Book, job_id: JobId) -> Book:
    """Return a book in which a pencilled job is an enquiry, as it is asked about."""
    jobs = tuple(
        replace(job, standing=Standing.ENQUIRY, pencilled_until=None) if job.id == job_id else job
        for job in book.jobs
    )
    return replace(book, jobs=jobs)


def booked(book: Book, job_id: JobId, promise: "Promise") -> Edited:
    """Return the edit that books an enquiry for a date that was tried."""
    return book_job(book, job_id, promise.window, promise.not_before)


def pencil_until(job: Job, today: date) -> date:
    """Return until when a job is pencilled: as long as its quote is good, else for a while."""
    good = job.quote_good_until
    return good if good is not None and good >= today else today + timedelta(days=PENCIL_DAYS)


def pencilled(book: Book, job_id: JobId, promise: "Promise", until: date) -> Edited:
    """Return the edit that holds an enquiry's place for a date that was tried."""
    return pencil_job(book, job_id, until, promise.window, promise.not_before)


def trial_of(
    book: Book, found: "Rush", promise: "Promise", plan: Plan, outcome: Outcome, words: Words
) -> Trial:
    """Return an enquiry as if it were booked for a date, for the wall."""
    edited = booked(book, found.job.id, promise)
    day = say.day_of(words, found, promise)
    return Trial(
        what=words.say(say.TRIED, job=found.job.name, day=day),
        label=edited.label,
        book=replace(edited.book, revision=book.revision),
        plan=plan,
        outcome=outcome,
    )


def wished_trial(book: Book, found: Found, words: Words) -> Trial:
    """Return the enquiry as it was asked, from the plan that the answer came with."""
    assert found.rush is not None
    outcome = found.with_
    return trial_of(book, found.rush, found.rush.wished, outcome.plan, outcome, words)


def way_trial(book: Book, found: Found, way: "WayOut", number: int, words: Words) -> Trial:
    """Return the enquiry booked as it was asked, with a way out taken."""
    assert found.rush is not None
    edited = book_job(way.book, found.rush.job.id)
    name = found.rush.job.name
    return Trial(
        what=words.say(say.TRIED_WAY, job=name, number=number),
        label=edited.label,
        book=replace(edited.book, revision=book.revision),
        plan=way.plan,
        outcome=replace(found.with_, plan=way.plan, jobs=way.jobs, check=way.check),
    )


def moved_to(book: Book, job_id: JobId, start: "datetime") -> Book:
    """Return a book in which the enquiry's window begins at another instant; its revision stays."""
    held = next(job for job in book.jobs if job.id == job_id).held_window
    assert held is not None, "what is laid beside a book holds a window"
    moved = move_window(book, job_id, start, start + (held.end - held.start)).book
    return replace(moved, revision=book.revision)


def with_more(found: "Rush", more: "Rush") -> "Rush":
    """Return an answer with another one's dates among its own; of one date the newer counts."""
    by_start = {each.window.start: each for each in (*found.promises, *more.promises)}
    wished = by_start[found.wished.window.start]
    promises = tuple(by_start[start] for start in sorted(by_start))
    honest = next((each for each in promises if each.is_honest), None)
    is_known = found.is_earliest and honest is not None and honest == found.honest
    return replace(found, wished=wished, promises=promises, honest=honest, is_earliest=is_known)
