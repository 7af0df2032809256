"""The week board: its cells against the plan one by one, its sizes, its pages."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from app.exchange.given import Given
from app.window.papers import jobs
from app.window.papers.board import Board, board
from app.window.papers.board_pages import board_pages
from app.window.sheets.layout import Bar, Ear, Frame, Page, Text, width_of
from app.window.sheets.rows import Day
from app.words import papers as say
from shared.book import Book, Person
from shared.ids import PersonId
from tests.app import pdf_read
from tests.app.exchange.scenes import a_book, give, told
from tests.app.window.papers.written import of_sample, pdf, replan, with_one_away

A3_ACROSS = (1191, 842)
"""ISO 216: 420 by 297 mm, in points."""
SEVEN_MM, QUARTER_MM = 70, 2.5
"""In tenths of a millimetre."""


@pytest.fixture(scope="module")
def full() -> Given:
    return of_sample("full")


def worked_on(given: Given, found: Board) -> Iterator[tuple[str, int, str, timedelta]]:
    """Everybody's work of the week by the plan: who, on which day, what, how long."""
    monday = given.plan.now.date() - timedelta(days=given.plan.now.weekday())
    for at in range(len(found.days)):
        day = Day(given.book, given.words, monday + timedelta(days=at))
        for person, stints in day.stints(given.plan).items():
            name = given.words.names.of("person", person)
            for stint in stints:
                yield name, at, stint.row.segment, stint.end - stint.start


def test_every_piece_of_work_stands_in_the_cell_of_its_person_and_day(full: Given) -> None:
    found = board(full)
    rows = {row.name: row for row in found.rows}
    wanted = list(worked_on(full, found))

    assert len(wanted) > 20
    for name, at, segment, long in wanted:
        told_of = " ".join(f"{e.stage} {e.what}" for e in rows[name].days[at])
        assert all(part in told_of for part in segment.split(", ")), (name, at, segment, long)
    planned = {(name, at) for name, at, _, _ in wanted}
    written = {
        (row.name, at)
        for row in found.rows
        for at, day in enumerate(row.days)
        for e in day
        if e.what
    }
    assert written == planned


def test_halves_are_joined_within_a_day_where_they_are_alike(full: Given) -> None:
    entries = [e for row in board(full).rows for day in row.days for e in day]

    assert any((e.first, e.last) == (0, 1) for e in entries)
    for row in board(full).rows:
        for day in row.days:
            halves = [e for e in day if e.first == e.last]
            alike = {(e.what, e.stage, e.kind) for e in halves if e.first == 0}
            assert (
                len(halves) != 2
                or halves[0].first == halves[1].first
                or alike != {(e.what, e.stage, e.kind) for e in halves if e.first == 1}
            )


def test_the_pdf_says_what_the_board_says(full: Given) -> None:
    found = board(full)
    data = pdf(jobs.board_job(full), "A3", is_across=True)
    texts = pdf_read.page_texts(data)

    assert pdf_read.sizes(data) == [A3_ACROSS] * len(texts)
    words = " ".join(texts)
    for row in found.rows:
        assert row.name in words
        for entry in (e for day in row.days for e in day):
            for word in f"{entry.what} {entry.stage}".split():
                assert word in words
    for text in texts:
        assert found.title in text
        assert all(mark in text for mark in found.marks)
    assert found.marks
    assert b"/Subtype /Image" not in data
    assert b"/PatternType" not in pdf_read.streams(data) + data


def text_marks(pages: tuple[Page, ...], block: str) -> list[Text]:
    return [
        mark
        for page in pages
        for placed in page.blocks
        if placed.block.id.startswith(block)
        for mark in placed.block.marks
        if isinstance(mark, Text)
    ]


def test_it_can_be_read_from_two_metres_and_nothing_is_thinner_than_a_quarter(full: Given) -> None:
    pages = board_pages(board(full), full.words)
    rows = text_marks(pages, "row ")

    assert rows
    assert all(mark.size >= SEVEN_MM for mark in rows if mark.weight == 600)
    lines = [m for page in pages for placed in page.blocks for m in placed.block.marks]
    assert min(min(m.w, m.h) for m in lines if isinstance(m, Bar)) >= QUARTER_MM
    assert min(m.line for m in lines if isinstance(m, Frame)) >= QUARTER_MM


def test_nothing_leaves_the_page(full: Given) -> None:
    for page in board_pages(board(full), full.words):
        for placed in page.blocks:
            assert placed.y + placed.block.high <= page.high
            for mark in placed.block.marks:
                if isinstance(mark, Text) and not mark.is_right:
                    wide = width_of(mark.text, mark.size, mark.weight, serif=mark.serif)
                    assert mark.x + wide <= page.wide - 90, mark.text


def test_more_people_than_fit_go_on_without_cutting_one() -> None:
    book = a_book()
    crowd = tuple(Person(id=PersonId(f"p{n}"), name=f"Person{n:02}.") for n in range(40))
    made = replan(replace(book, people=(*book.people, *crowd)))
    given = give(made)
    pages = board_pages(board(given), given.words)
    on = [{t.text for t in text_marks((page,), "row ")} for page in pages]

    assert len(pages) > 2
    for person in made.people:
        assert sum(person.name in names for names in on) <= 1
    assert all(sum(p.name in names for names in on) == 1 for p in crowd)
    words = pdf_read.page_texts(pdf(jobs.board_job(given), "A3", is_across=True))
    assert all(f"{n} of {len(pages)}" in text for n, text in enumerate(words, start=1))


def test_somebody_away_is_said_to_be_and_until_when_never_why() -> None:
    given = give(with_one_away(a_book(), 3))
    row = next(each for each in board(given).rows if each.name == "Yan")
    said = [entry.away for day in row.days for entry in day if entry.away]
    data = pdf(jobs.board_job(given), "A3", is_across=True)

    # Monday 15 March 2027; the leave ends on Wednesday evening.
    assert said == ["away", "away", "away, back Thu"]
    words = " ".join(pdf_read.page_texts(data))
    assert "away, back Thu" in words
    assert b"4713" not in pdf_read.streams(data) + data + words.encode()


def test_what_is_otherwise_than_told_has_an_ear_and_the_key_says_so() -> None:
    book = told(a_book())
    same = give(book, book.told.plan if book.told else None)
    other = moved(book)

    assert not any(isinstance(m, Ear) for m in marks_of(same))
    assert any(isinstance(m, Ear) for m in marks_of(other))
    anew = board(other).changed
    assert anew
    assert any(isinstance(m, Text) and m.text == anew for m in marks_of(other))


def marks_of(given: Given) -> list[object]:
    pages = board_pages(board(given), given.words)
    return [m for page in pages for placed in page.blocks for m in placed.block.marks]


def moved(book: Book) -> Given:
    """A plan of which people were told something else for every day."""
    assert book.told is not None
    plan = book.told.plan
    later = tuple(
        replace(p, start=p.start + timedelta(days=7), end=p.end + timedelta(days=7))
        for p in plan.placements
    )
    told_otherwise = replace(book.told, plan=replace(plan, placements=later))
    given = give(book, plan)
    return replace(given, book=replace(book, told=told_otherwise), is_told=False)


def test_a_told_board_is_numbered_and_takes_the_place_of_the_one_before() -> None:
    book = told(told(a_book()))
    assert book.told is not None
    given = give(book, book.told.plan)
    number = book.told.sheet_number

    assert board(given).number_line.startswith(f"board {number}, as of")
    assert board(given).number_line.endswith(f"take board {number - 1} down")
    assert "draft" in board(give(a_book())).number_line


def test_a_week_without_people_says_so() -> None:
    empty = Board(
        title="W",
        shop="",
        number_line="",
        marks=(),
        is_old=False,
        days=("Mon 1",),
        rows=(),
        changed="",
        leave="",
        foot="",
    )
    words = give(a_book()).words
    assert words.say(say.NOBODY) in {t.text for t in text_marks(board_pages(empty, words), "row ")}
