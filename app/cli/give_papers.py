"""Paper among what `countback give` writes; Qt is begun only for that, and needs no display."""

from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.meant import job_meant
from shared.book import Book, Job, Standing

if TYPE_CHECKING:
    from app.exchange.files import Files
    from app.exchange.given import Given

OF_PAPER = {"for_job": "--for", "paper": "--paper"}
"""Options of papers, by the names that they are kept under."""


def check_paper(asked: Asked, book: Book) -> None:
    """Raise Usage if a job or a size of paper can't be meant."""
    from app.window.exchange.making import SIZES

    if asked.paper is not None and asked.paper.upper() not in SIZES:
        raise Usage("no_such_paper", word=asked.paper, known=", ".join(SIZES))
    job = _job(asked, book)
    if asked.words[1] != "letter":
        return
    if job is None:
        raise Usage("letter_to_whom", jobs=", ".join(each.id for each in book.jobs))
    if job.standing is Standing.ENQUIRY:
        raise Usage("letter_of_enquiry", job=job.name, id=job.id)


def _job(asked: Asked, book: Book) -> Job | None:
    return None if asked.for_job is None else job_meant(book, asked.for_job)


def papers(given: "Given", asked: Asked) -> "Files":
    """Return paper as the window gives it out."""
    from app.window.exchange import making
    from app.window.papers import out

    out.begun()
    job, size = _job(asked, given.book), (asked.paper or making.SIZES[0]).upper()
    asking = making.Asking(feed=None, job=job, size=size)
    try:
        return making.files(asked.words[1], given, asking, Path(asked.words[2]).suffix.casefold())
    except making.CantGive as trouble:
        raise Usage(trouble.code, **trouble.facts) from None
