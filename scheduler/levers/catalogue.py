"""The list of all levers that a book has for some of its jobs."""

from collections.abc import Collection
from datetime import datetime, timedelta

from scheduler.levers.of_jobs import of_bookings, of_jobs, settled
from scheduler.levers.of_offers import of_offers
from scheduler.levers.of_people import of_people
from shared.book import Book, Job
from shared.ids import JobId
from shared.levers import Lever

_SOON = timedelta(days=28)
"""So far ahead hours count of a job that has no window, or whose window is past."""


def levers_of(book: Book, now: datetime, jobs: Collection[JobId] = ()) -> tuple[Lever, ...]:
    """Return the levers of a book for some jobs (none named: all), in a fixed order.

    Only what may begin before the last of their windows ends, and what the law lets a person do.
    Ids tell levers apart; the same book has the same ids.
    """
    spoken = tuple(job for job in book.jobs if not jobs or job.id in jobs)
    ids = frozenset(job.id for job in spoken)
    until = max((_until(job, now) for job in spoken), default=now)
    done = settled(book, now)
    return (
        *of_people(book, now, until),
        *of_offers(book, now, until),
        *of_jobs(book, now, ids, done),
        *of_bookings(book, now, until),
    )


def _until(job: Job, now: datetime) -> datetime:
    held = job.held_window
    return held.end if held is not None and held.end > now else now + _SOON
