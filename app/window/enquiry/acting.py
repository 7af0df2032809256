"""What can be done with an enquiry: book it, pencil it, let it go, see it on the wall. No Qt."""

from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from app.window.enquiry.state import Found
from app.window.trial import Trial
from app.words import Words
from app.words import enquiry_view as say
from scheduler.enquiring import Taking
from scheduler.outcome import Outcome
from shared.book import Book, Job, Standing, Window
from shared.edits import Edited, book_job, pencil_job
from shared.ids import JobId
from shared.plan import Plan
from shared.worktime import local_instant
from shared.worktime.zones import local_date, zone_named

if TYPE_CHECKING:
    from collections.abc import Sequence

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


def window_on(job: Job, day: date) -> Window:
    """Return the window that an enquiry holds on another day, by the site's clock."""
    held = job.held_window
    assert held is not None, "what is laid beside a book holds a window"
    zone = job.site.zone
    first = held.start.astimezone(zone_named(zone))
    last = held.end.astimezone(zone_named(zone))
    final = day + (last.date() - first.date())
    return replace(
        held,
        start=local_instant(day, first.time(), zone, opening=True),
        end=local_instant(final, last.time(), zone, opening=False),
    )


def days_between(found: "Rush", most: int) -> tuple[date, ...]:
    """Return days to look at too: spread between the date asked for and the honest one.

    The latest first: one that holds is an honest date that is sooner.
    """
    if found.honest is None:
        return ()
    zone = found.job.site.zone
    tried = {local_date(each.window.start, zone) for each in found.promises}
    first = local_date(found.wished.window.start, zone)
    apart = (local_date(found.honest.window.start, zone) - first).days
    count = min(most, apart - 1)
    days = [first + timedelta(days=apart * at // (count + 1)) for at in range(count, 0, -1)]
    return tuple(day for day in dict.fromkeys(days) if day not in tried)


def with_more(found: "Rush", more: "Sequence[Promise]") -> "Rush":
    """Return an answer with more dates among its own; of one date the better plan counts."""
    by_start = {each.window.start: each for each in found.promises}
    order = tuple(Taking)
    for each in more:
        known = by_start.get(each.window.start)
        if known is None or order.index(each.taking) < order.index(known.taking):
            by_start[each.window.start] = each
    wished = by_start[found.wished.window.start]
    promises = tuple(by_start[start] for start in sorted(by_start))
    honest = next((each for each in promises if each.is_honest), None)
    is_known = found.is_earliest and honest is not None and honest == found.honest
    return replace(found, wished=wished, promises=promises, honest=honest, is_earliest=is_known)
