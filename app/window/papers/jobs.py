"""Which pages each sort of paper has, ready to be printed or written."""

from dataclasses import replace
from datetime import date
from functools import partial

from PySide6.QtCore import QDate, QLocale

from app.exchange.given import Given
from app.window.headline import Headline
from app.window.papers.board import board
from app.window.papers.board_pages import board_pages
from app.window.papers.letter import letter
from app.window.papers.loads import load_lists
from app.window.papers.owner import MOST, owner, shortened
from app.window.papers.text_pages import text_pages
from app.window.printing import Job, made_by, pdf_of, sheets_job, wall_pages
from app.window.sheets.paper import layout_of
from app.window.wall.derive import Shown, derive
from scheduler.check import check
from scheduler.outcome import Outcome
from scheduler.planned import outcome_of
from shared.book import Book
from shared.book import Job as Commission
from shared.ids import JobId


def board_of_view(given: Given, day: date) -> bytes:
    """Return the board of the week of a day as a PDF."""
    return pdf_of(board_job(given, day), layout_of("A3", is_across=True))


def board_job(given: Given, day: date | None = None) -> Job:
    """Return the week board; of the next day of work if no day is said."""
    found = board(given, day)
    return sheets_job(found.title, board_pages(found, given.words))


def wall_job(given: Given, job: JobId | None = None) -> Job:
    """Return the wall; of a job alone, its own piece of it."""
    words, book = given.words, given.book
    outcome = stands(given)
    if job is not None:
        book, outcome = _of_one(given, outcome, job)
    wall = derive(Shown(book=book, now=given.now, plan=outcome.plan, outcome=outcome), words)
    line = made_by(words, book, given.plan)
    said = Headline(
        sentence=words.book_line(outcome.jobs),
        next=((line, False), *((mark, True) for mark in given.marks)),
    )
    title = words.names.of("job", job) if job is not None else book.name
    return Job(title=title, pages=lambda size: wall_pages(size, wall, said, words, frozenset()))


def letter_job(given: Given, job: Commission) -> Job:
    """Return the letter to the client of a job."""
    country = job.client.country or given.book.workshop.country
    paper = letter(given, job, stands(given), partial(in_full, given.words.language, country))
    return sheets_job(paper.title, text_pages(paper, given.words))


def loads_job(given: Given, job: Commission | None) -> Job | None:
    """Return the load lists of all journeys, or of those of a job; None where nothing leaves."""
    lists = load_lists(given, stands(given), job)
    if not lists:
        return None
    pages = tuple(page for each in lists for page in text_pages(each, given.words))
    return sheets_job(lists[0].title if len(lists) == 1 else given.book.name, pages)


def owner_job(given: Given) -> Job:
    """Return the owner's page: as many lines as there is room for on one."""
    paper, words = owner(given, stands(given)), given.words
    for most in range(MOST, 0, -1):
        pages = text_pages(shortened(paper, most, words), words)
        if len(pages) == 1:
            break
    return sheets_job(paper.title, pages)


def in_full(language: str, country: str, day: date) -> str:
    """Return a date as it is written in full in a country (CLDR, as Qt has it)."""
    known = QLocale(QLocale.codeToLanguage(language), QLocale.codeToTerritory(country))
    return known.toString(QDate(day.year, day.month, day.day), QLocale.FormatType.LongFormat)


def stands(given: Given) -> Outcome:
    """Return how jobs stand in a plan."""
    if given.outcome is not None:
        return given.outcome
    return outcome_of(given.book, given.plan, check(given.book, given.plan))


def _of_one(given: Given, outcome: Outcome, job: JobId) -> tuple[Book, Outcome]:
    """Return a book with one job, and what of the answer is about it."""
    plan = given.plan
    own = replace(
        plan,
        jobs=(job,),
        placements=tuple(each for each in plan.placements if each.job == job),
        trips=tuple(each for each in plan.trips if each.job == job),
        unplaced=tuple(each for each in plan.unplaced if each.job == job),
    )
    book = replace(given.book, jobs=tuple(each for each in given.book.jobs if each.id == job))
    told = tuple(each for each in outcome.jobs if each.id == job)
    return book, replace(outcome, plan=own, jobs=told)
