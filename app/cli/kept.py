"""The plan to speak of: the one that the book holds, where it is of its state, else a new one."""

from datetime import datetime
from typing import TYPE_CHECKING

from app.cli.arguments import Asked
from app.cli.console import Console
from app.words import Words
from shared.book import Book
from shared.plan import Plan

if TYPE_CHECKING:
    from scheduler.outcome import Outcome

USUAL_SECONDS = 3
USUAL_WORKERS = 2


def plan_for(
    asked: Asked, console: Console, words: Words, book: Book, now: datetime
) -> tuple[Plan, bool]:
    """Give a checked plan, and whether it is the one that the book holds."""
    plan, outcome = found_for(asked, console, words, book, now)
    return plan, outcome is None


def found_for(
    asked: Asked, console: Console, words: Words, book: Book, now: datetime
) -> "tuple[Plan, Outcome | None]":
    """Give a checked plan, and the engine's answer unless it is the one that the book holds."""
    kept = _kept(book)
    if kept is not None:
        return kept, None
    from app.cli.plan import solved
    from scheduler.request import SolveRequest

    request = SolveRequest(
        book=book,
        now=now,
        seconds=asked.number("seconds", USUAL_SECONDS),
        workers=asked.number("workers", USUAL_WORKERS),
    )
    outcome = solved(request, words, console, is_quiet=False)
    return outcome.plan, outcome


def _kept(book: Book) -> Plan | None:
    """Return the book's own plan, if it was made from the same state and stands up to the check."""
    from shared.files.write import digest

    if book.plan is None or book.plan.made_from.digest != digest(book):
        return None
    from scheduler.check import check

    return None if check(book, book.plan).breaches else book.plan
