"""Windows that are only tried, as they are typed."""

from app.cli.arguments import Asked, Usage
from app.cli.meant import job_meant
from app.cli.moments import instant_typed
from app.tried import TriedWindow
from shared.book import Book


def tried_windows(asked: Asked, book: Book) -> tuple[TriedWindow, ...]:
    """Give the windows typed as JOB=START/END, by the site's clock without a distance from UTC.

    Raises
    ------
    Usage
        If one is not typed so, means no job or ends before it starts; or a plan is to be kept.
    """
    if asked.tries and asked.out is not None:
        raise Usage("try_and_out")
    return tuple(_typed(book, word) for word in asked.tries)


def _typed(book: Book, word: str) -> TriedWindow:
    name, equals, window = word.rpartition("=")
    first, slash, last = window.partition("/")
    if not (equals and slash and name and first and last):
        raise Usage("bad_try", word=word)
    job = job_meant(book, name)
    start, end = (instant_typed(each, job.site.zone) for each in (first, last))
    if start >= end:
        raise Usage("bad_try", word=word)
    return TriedWindow(job=job, start=start, end=end)
