"""Papers of made-up plans as files, as the command line writes them."""

from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path

from app.cli.books import load_book
from app.exchange.given import Given
from app.window.papers import out
from app.window.printing import Job
from app.window.sheets.paper import layout_of
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Leave, Person
from shared.files.write import digest
from shared.ids import PersonId
from shared.plan import MadeFrom
from tests.app.exchange.scenes import give


@cache
def sample(name: str) -> Book:
    """A sample book that holds a plan of its own state."""
    book = load_book(Path(f"sample_jobs/{name}.countback")).book
    assert book is not None
    assert book.as_of is not None
    found = solve(SolveRequest(book=book, now=book.as_of, effort=0, workers=1))
    return replace(book, plan=replace(found.plan, made_from=made_from(book)))


def made_from(book: Book) -> MadeFrom:
    return MadeFrom(revision=book.revision, digest=digest(book))


def replan(book: Book) -> Book:
    """The book with its plan as one that was made from this very state."""
    assert book.plan is not None
    return replace(book, plan=replace(book.plan, made_from=made_from(book)))


def of_sample(name: str, language: str = "en") -> Given:
    return give(sample(name), language=language)


def with_one_away(book: Book, days: int) -> Book:
    """The book with one person more, away from now on for a reason that is nobody's business."""
    assert book.plan is not None
    start = book.plan.now - timedelta(hours=12)
    leave = Leave(start=start, end=start + timedelta(days=days), reason="broken-leg-4713")
    one = Person(id=PersonId("yan"), name="Yan", leave=(leave,))
    return replan(replace(book, people=(*book.people, one)))


def pdf(job: Job, paper: str, *, is_across: bool) -> bytes:
    out.begun()
    return out.written(job, layout_of(paper, is_across=is_across), ".pdf")[""]


def svgs(job: Job, paper: str, *, is_across: bool) -> list[bytes]:
    out.begun()
    return list(out.written(job, layout_of(paper, is_across=is_across), ".svg").values())
