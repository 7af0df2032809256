"""Windows that are only tried: a book as if jobs had them."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from app.outcome_json import instant_text
from shared.book import Book, Job, Standing, Window
from shared.edits import change_job, fresh_id, move_window
from shared.ids import JobId, WindowId

_TRIED = "tried"


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedWindow:
    """A window that a job is tried with."""

    job: Job
    start: datetime
    end: datetime

    def as_object(self) -> dict[str, Any]:
        """Give it for programs."""
        start, end = instant_text(self.start), instant_text(self.end)
        return {"job": self.job.id, "start": start, "end": end}


def with_tried(book: Book, tried: tuple[TriedWindow, ...]) -> Book:
    """Give a book in which jobs hold the windows that they are tried with; its revision stays."""
    revision = book.revision
    for each in tried:
        job = next(job for job in book.jobs if job.id == each.job.id)
        if job.held_window is not None:
            book = move_window(book, job.id, each.start, each.end).book
        else:
            book = change_job(book, _with_window(job, each)).book
    return replace(book, revision=revision)


def _with_window(job: Job, tried: TriedWindow) -> Job:
    name = WindowId(fresh_id(_TRIED, (window.id for window in job.windows)))
    window = Window(id=name, start=tried.start, end=tried.end)
    return replace(job, windows=(*job.windows, window), window=name)


def enquiries_tried(tried: tuple[TriedWindow, ...]) -> tuple[JobId, ...]:
    """Give the enquiries among the jobs that are tried; they are planned beside the others."""
    return tuple(each.job.id for each in tried if each.job.standing is Standing.ENQUIRY)
