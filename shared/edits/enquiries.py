"""Edits of an enquiry: book it or pencil it for a window, or let it go."""

from dataclasses import replace
from datetime import date

from shared.book import Book, Job, Standing, Window
from shared.edits.edited import Edited, job_of, label, of_job, of_jobs
from shared.edits.windows import move_window
from shared.ids import JobId


def book_job(
    book: Book, job_id: JobId, window: Window | None = None, not_before: date | None = None
) -> Edited:
    """Make a job firm, for a window of its own that may stand on other days.

    not_before: nothing is begun for it before that day (None: as it was).
    """
    job = _held(book, job_id, window, not_before)
    made = replace(job, standing=Standing.FIRM, pencilled_until=None)
    return of_job(book, made, label("book_job", name=job.name))


def pencil_job(
    book: Book,
    job_id: JobId,
    until: date,
    window: Window | None = None,
    not_before: date | None = None,
) -> Edited:
    """Hold a job's place until a day, for a window as in `book_job`."""
    job = _held(book, job_id, window, not_before)
    made = replace(job, standing=Standing.PENCILLED, pencilled_until=until)
    return of_job(book, made, label("pencil_job", name=job.name))


def let_go(book: Book, job_id: JobId) -> Edited:
    """Take an enquiry or a pencilled job out of the book."""
    gone = job_of(book, job_id)
    jobs = tuple(job for job in book.jobs if job.id != job_id)
    steps = {step.id for step in gone.steps}
    kept = tuple(fact for fact in book.facts if fact.step not in steps)
    return of_jobs(replace(book, facts=kept), jobs, {job_id}, label("let_go", name=gone.name))


def _held(book: Book, job_id: JobId, window: Window | None, not_before: date | None) -> Job:
    """Return the job as it holds a window.

    Slots and other trades' stretches move with it, as where any window is moved.
    """
    job = job_of(book, job_id)
    if window is not None:
        job = replace(job, window=window.id)
        held = job.held_window
        if held is not None and (held.start, held.end) != (window.start, window.end):
            within = of_job(book, job, label("change_job", name=job.name)).book
            job = job_of(move_window(within, job_id, window.start, window.end).book, job_id)
    return job if not_before is None else replace(job, not_before=not_before)
