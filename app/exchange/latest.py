"""By when the steps of a book must begin and end, counted back from its windows. No Qt."""

from datetime import datetime

from app.window.sheets.under import Latest
from shared.book import Book
from shared.ids import JobId


def latest_times(book: Book, now: datetime, jobs: tuple[JobId, ...]) -> Latest:
    """Return the latest times of the steps of jobs that are still to come.

    jobs: those of a plan; enquiries among them are asked for.
    """
    from scheduler.calendar import Index
    from scheduler.deadlines import Deadlines
    from scheduler.normalise import normalise

    normal = normalise(book, now, jobs)
    deadlines = Deadlines(normal, Index(normal.problem))
    return tuple((name.job.name, deadlines.steps(name.job)) for name in normal.jobs)
