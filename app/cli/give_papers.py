"""Paper among what `countback give` writes; Qt is begun only for that, and needs no display."""

from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.meant import job_meant
from shared.book import Book, Job, Standing

if TYPE_CHECKING:
    from app.exchange.given import Given
    from app.window.printing import Job as Paper

Files = dict[str, bytes]
"""By their names in the folder OUT; of a file OUT by what comes behind its stem, "" for itself."""
OF_PAPER = {"for_job": "--for", "paper": "--paper"}
"""Options of papers, by the names that they are kept under."""
SIZES = ("A3", "A4")


def check_paper(asked: Asked, book: Book) -> None:
    """Raise Usage if a job or a size of paper can't be meant."""
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


def board(given: "Given", asked: Asked) -> Files:
    """Return the week board, A3 across."""
    from app.window.papers import jobs, out

    out.begun()
    return _files(jobs.board_job(given), asked, "A3", is_across=True)


def wall(given: "Given", asked: Asked) -> Files:
    """Return the wall, or one job's piece of it, across."""
    from app.window.papers import jobs, out

    out.begun()
    job = _job(asked, given.book)
    paper = jobs.wall_job(given, None if job is None else job.id)
    return _files(paper, asked, (asked.paper or SIZES[0]).upper(), is_across=True)


def letter(given: "Given", asked: Asked) -> Files:
    """Return the letter to the client of a job."""
    from app.window.papers import jobs, out

    out.begun()
    job = _job(asked, given.book)
    assert job is not None
    return _files(jobs.letter_job(given, job), asked, "A4", is_across=False)


def loads(given: "Given", asked: Asked) -> Files:
    """Return the load lists of all journeys, or of those of a job."""
    from app.window.papers import jobs, out

    out.begun()
    paper = jobs.loads_job(given, _job(asked, given.book))
    if paper is None:
        raise Usage("nothing_leaves")
    return _files(paper, asked, "A4", is_across=False)


def owner(given: "Given", asked: Asked) -> Files:
    """Return the owner's page."""
    from app.window.papers import jobs, out

    out.begun()
    return _files(jobs.owner_job(given), asked, "A4", is_across=False)


def _files(paper: "Paper", asked: Asked, size: str, *, is_across: bool) -> Files:
    from app.window.papers import jobs, out

    layout = jobs.layout_of(size, is_across=is_across)
    return out.written(paper, layout, Path(asked.words[2]).suffix.casefold())
