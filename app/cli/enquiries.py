"""Enquiries that are named on the command line, by id or by the beginning of a name."""

from collections.abc import Iterable

from app.cli.arguments import Usage
from shared.book import Book, Job, Standing
from shared.ids import JobId


def enquiries_asked(book: Book, words: Iterable[str]) -> tuple[JobId, ...]:
    """Give the ids of the enquiries meant, in the order of the book.

    Raises
    ------
    Usage
        If a word means none of them, or more than one.
    """
    wanted = {_meant(book, word) for word in words}
    return tuple(job.id for job in book.jobs if job.id in wanted)


def _meant(book: Book, word: str) -> JobId:
    known = [job for job in book.jobs if job.standing is Standing.ENQUIRY]
    found = _fitting(known, word)
    if len(found) == 1:
        return found[0].id
    names = ", ".join(job.name for job in (found or known))
    if found:
        raise Usage("several_enquiries", word=word, enquiries=names)
    others = _fitting([job for job in book.jobs if job not in known], word)
    if len(others) == 1:
        raise Usage("not_an_enquiry", name=others[0].name)
    raise Usage("unknown_enquiry" if known else "no_enquiries", word=word, enquiries=names)


def _fitting(jobs: list[Job], word: str) -> list[Job]:
    exact = [job for job in jobs if word in (job.id, job.name)]
    start = word.casefold()
    return exact or [job for job in jobs if job.name.casefold().startswith(start)]
