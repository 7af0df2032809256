"""How few actions and typed values the common things take, in the whole window with its engine.

An action is a click, a key chord, or a field filled: typed into and ended with Tab or Enter. All
begin at the Wall with nothing selected. A value is one thing typed: a field, or a cell of a pasted
table.

| what | at most |
|---|---|
| by when a job's client must answer | 1 |
| somebody away tomorrow, to a chosen answer | 3 |
| a stage given to somebody else | 3 |
| a stage marked finished | 2 |
| today's sheets | 2 |
| first start to first answer | 4 fields |
| an enquiry like a past job, half as large again, to verdict and price | 12 |
| that accepted | 1 |
| that undone | 1 |
| eight people and four running jobs of 20 segments in all | 120 values |
"""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.settings import Settings, write_settings
from app.window.enquiry.view import EnquiryView
from app.window.main import MainWindow
from app.window.people.view import PeopleView
from app.window.startup import build, empty_book, prepare
from app.window.workshop.parts import PARTS
from app.window.workshop.view import WorkshopView
from scheduler.outcome import Verdict
from shared.book import Book, FactKind, Job, Stage, Standing
from shared.examine import examine
from shared.ids import JobId
from tests.app.window import hands
from tests.app.window.conftest import HandAsker
from tests.books.samples import small

pytestmark = [pytest.mark.journey, pytest.mark.screen]

WITHIN = 180_000
NOW = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)
CTRL = Qt.KeyboardModifier.ControlModifier
Key = Qt.Key


def at() -> QWidget:
    """What has the keyboard."""
    found = QApplication.focusWidget()
    assert isinstance(found, QWidget)
    return found


def settle() -> None:
    for _ in range(4):
        QApplication.processEvents()


class Hands:
    """Drives a window and counts: actions, and values typed."""

    def __init__(self) -> None:
        self.actions = self.values = self.clicks = 0

    def click(self, widget: QWidget, point: QPoint) -> None:
        self.actions += 1
        self.clicks += 1
        hands.click(widget, point)
        settle()

    def drag(self, widget: QWidget, start: QPoint, end: QPoint) -> None:
        self.actions += 1
        hands.drag(widget, start, end)
        settle()

    def chord(self, key: Qt.Key | str, held: Qt.KeyboardModifier | None = None) -> None:
        self.actions += 1
        hands.key(at(), key, held or Qt.KeyboardModifier.NoModifier)
        settle()

    def fill(self, text: str, end: Qt.Key = Key.Key_Tab) -> None:
        """Type a text into the field that has the caret and leave it."""
        field = at()
        assert isinstance(field, QLineEdit), field
        if field.text() and field.selectedText() != field.text():
            self.chord(Key.Key_A, CTRL)
        self.actions += 1
        self.values += 1
        hands.keys(field, text)
        hands.key(field, end)
        settle()

    def paste(self, text: str) -> None:
        """Paste lines of cells; each cell is a value."""
        self.values += sum(len(line.split("\t")) for line in text.splitlines())
        QGuiApplication.clipboard().setText(text)
        self.chord(Key.Key_V, CTRL)

    def tab(self, count: int = 1) -> None:
        """Go on to a later field: nothing is typed there."""
        for _ in range(count):
            self.chord(Key.Key_Tab)


@pytest.fixture
def hand() -> Hands:
    return Hands()


@pytest.fixture
def asker() -> HandAsker:
    return HandAsker()


@pytest.fixture
def opened(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, asker: HandAsker
) -> Iterator[Callable[[Book | None], MainWindow]]:
    """Opens a window on a book, active, with the Wall in front and nothing selected."""
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made: list[MainWindow] = []

    def open_(book: Book | None) -> MainWindow:
        now = NOW if book is None else None
        window = build(data_folder, now=now, asker=asker)  # type: ignore[arg-type]
        made.append(window)
        qtbot.addWidget(window)
        window.resize(1366, 768)
        window.desk.take(Document(book or empty_book(window.words)))
        window.show_work()
        with qtbot.waitExposed(window):
            window.show()
        window.activateWindow()
        if book is not None:
            qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
            window.wall.setFocus()
            assert window.wall.spot is None
        settle()
        return window

    yield open_
    for window in made:
        window._may_close = True
        window.close()


@pytest.fixture
def window(opened: Callable[[Book | None], MainWindow]) -> MainWindow:
    return opened(small())


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def is_planned(window: MainWindow) -> bool:
    outcome = window.desk.outcome
    is_of_book = outcome is not None and outcome.revision == book(window).revision
    return is_of_book and not window.desk.engine.is_busy


# The common things.


def test_the_answer_date_of_a_job_takes_one(window: MainWindow, hand: Hands) -> None:
    header = window.wall.wall.bands[0].header
    hand.click(window.wall, window.wall.item_rect(header).center())
    assert window.slip.isVisible()
    assert "Its client must answer by Thu 25 Mar." in window.slip.accessibleDescription()
    assert hand.actions == 1


def test_today_s_sheets_take_two(
    window: MainWindow, hand: Hands, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "today"
    hand.chord("s")
    hand.chord(Key.Key_Return)
    assert (tmp_path / "today.pdf").read_bytes().startswith(b"%PDF-")
    assert hand.actions == 2


def test_a_stage_is_marked_finished_in_two(window: MainWindow, hand: Hands) -> None:
    block = window.wall.wall.rows[0].blocks[0]
    hand.click(window.wall, window.wall.item_rect(block).center())
    hand.chord("d")
    assert [(f.kind, f.step) for f in book(window).facts] == [(FactKind.DONE, block.step)]
    assert hand.actions == 2


def test_a_stage_is_given_to_somebody_else_in_three(
    qtbot: QtBot, window: MainWindow, hand: Hands
) -> None:
    hand.chord(Key.Key_3, CTRL)
    view = window.shelf.view
    assert isinstance(view, PeopleView)
    laid = view.part.layout_
    assert laid is not None
    chunk = next(c for c in laid.chunks if c.bar.step == "owl.head.glue" and c.line.id == "femi")
    row = next(row for row in laid.rows if row.line.id == "edda")
    start = chunk.rect.center()
    hand.drag(view.part, start, QPoint(start.x(), row.top + 12))
    qtbot.waitUntil(lambda: window.desk.trial is not None, timeout=WITHIN)
    hand.chord(Key.Key_Return)

    glue = next(s for s in book(window).jobs[0].steps if s.id == "owl.head.glue")
    assert isinstance(glue, Stage)
    assert glue.pin is not None
    assert glue.pin.people == ("edda",)
    assert hand.actions == 3


def test_away_tomorrow_to_a_chosen_answer_takes_three(
    qtbot: QtBot, window: MainWindow, hand: Hands
) -> None:
    person = book(window).people[0]
    hand.chord("a")
    hand.fill(person.name, Key.Key_Return)
    view = window.shelf.view
    assert isinstance(view, PeopleView)
    side = view.side
    qtbot.waitUntil(lambda: any(e.is_tried for e in side.panel.entries), timeout=WITHIN)
    hand.chord(Key.Key_Return)

    (leave,) = book(window).people[0].leave
    assert leave.start.date() == NOW.date() + timedelta(days=1)
    document = window.desk.document
    assert document is not None
    assert document.undo_label is not None
    assert document.undo_label.code == "take_answer"
    assert hand.actions == 3


def test_the_first_start_takes_four_fields_to_its_answer(
    qtbot: QtBot, opened: Callable[[Book | None], MainWindow], hand: Hands
) -> None:
    window = opened(None)
    for text in ("a garden snail", "2.4 x 1.2 x 1.8", "15 Apr"):
        hand.fill(text)
    hand.fill("England", Key.Key_Return)
    qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
    assert window.masthead.shown.sentence.startswith("Garden snail fits, with ")
    assert hand.actions == hand.values == 4


def test_an_enquiry_takes_twelve_to_verdict_and_price_its_yes_one_and_its_undo_one(
    qtbot: QtBot, window: MainWindow, hand: Hands
) -> None:
    def pear() -> Job | None:
        return next((job for job in book(window).jobs if job.name == "Market pear"), None)

    before = book(window)
    hand.chord("q")
    view = window.shelf.view
    assert isinstance(view, EnquiryView)
    for text in ("a market pear", "Reading owl", "1.5", "Market hall, Norway", "2027-10-12"):
        hand.fill(text)
    hand.fill("24500", Key.Key_Return)
    qtbot.waitUntil(lambda: view.laid.promise is not None, timeout=WITHIN)
    assert window.masthead.shown.sentence.startswith("We can take Market pear")
    assert "24,500" in view.saying.quote.text
    assert any(row.is_answer for row in view.table.rows)
    made = pear()
    assert made is not None
    assert made.standing is Standing.ENQUIRY
    assert hand.actions <= 12

    hand.actions = 0
    hand.chord("b")
    booked = pear()
    assert booked is not None
    assert booked.standing is Standing.FIRM
    assert hand.actions == 1

    hand.chord(Key.Key_Z, CTRL)
    assert pear() == made
    assert hand.actions == 2
    hand.chord(Key.Key_Z, CTRL)
    assert book(window).jobs == before.jobs


# A whole workshop.

PEOPLE = ("Edda", "Femi", "Goran", "Hilde", "Ivo", "Juno", "Kofi", "Lotte")
OWL = """\
Head\t1.1\t0.9\t0.9
Body\t1.5\t1.2\t1.2
Left wing\t1.6\t0.5\t0.9
Right wing\t1.6\t0.5\t0.9
Perch\t1.4\t1.2\t0.5"""
SNAIL = """\
Shell\t1.2\t0.8\t1.1
Foot\t1.8\t0.6\t0.5
Neck\t0.6\t0.5\t0.9
Left horn\t0.3\t0.3\t0.7
Right horn\t0.3\t0.3\t0.7"""
MOON = """\
Brow\t1.1\t0.6\t0.7
Nose\t0.7\t0.6\t0.6
Chin\t0.9\t0.6\t0.6
Crescent\t1.9\t0.7\t0.9
Stand\t1.2\t1.2\t0.4"""
JOBS = (
    ("a reading owl", "2.4 x 1.6 x 2.8", "1 Jul", OWL),
    ("a garden snail", "2.2 x 1.2 x 1.8", "2 Aug", SNAIL),
    ("a market pear", "1.6 x 1.6 x 2.2", "1 Sep", ""),
    ("a sleeping moon", "2.0 x 0.9 x 2.0", "1 Oct", MOON),
)
"""What, size, the last day, and the table of its segments; the pear is cut into equal ones."""


def test_eight_people_and_four_running_jobs_take_at_most_120_values(
    qtbot: QtBot, opened: Callable[[Book | None], MainWindow], hand: Hands
) -> None:
    """From an empty book; each click that ticks or says where a segment stands counts as well."""
    window = opened(None)
    for number, (what, size, by, _) in enumerate(JOBS):
        if number:
            hand.chord("n")
        for text in (what, size):
            hand.fill(text)
        if number:
            hand.fill(by, Key.Key_Return)
        else:
            hand.fill(by)
            hand.fill("England", Key.Key_Return)
    assert [job.standing for job in book(window).jobs] == [Standing.PENCILLED] * 4
    for job, (_, _, _, segments) in zip(book(window).jobs, JOBS, strict=True):
        write_segments(window, hand, job.id, segments)
    name_people(window, hand)
    say_where_they_stand(window, hand)
    qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
    made, outcome = book(window), window.desk.outcome

    assert [person.name for person in made.people] == list(PEOPLE)
    assert [len(job.segments) for job in made.jobs] == [5, 5, 5, 5]
    assert all(s.length_m and s.width_m and s.height_m for j in made.jobs for s in j.segments)
    assert not [found for found in examine(made) if found.stops]
    assert outcome is not None
    assert outcome.check.sound
    assert {job.verdict for job in outcome.jobs} <= {Verdict.FITS, Verdict.TIGHT}
    behind = {fact.step for fact in made.facts if fact.kind is FactKind.DONE}
    assert len(behind) >= 20
    assert outcome.plan is not None
    assert not behind & {placed.step for placed in outcome.plan.placements if placed.start > NOW}
    assert hand.values <= 120


def write_segments(window: MainWindow, hand: Hands, job: JobId, table: str) -> None:
    """Open a job and paste its segments with their sizes, or say into how many it is cut."""
    header = next(band.header for band in window.wall.wall.bands if band.job == job)
    hand.click(window.wall, window.wall.item_rect(header).center())
    hand.chord("e")
    if table:
        cell = window.sheet.blank("segment 1 name")
        hand.click(cell, cell.rect().center())
        hand.paste(table)
    else:
        count = window.sheet.blank("segment count")
        hand.click(count, count.rect().center())
        hand.fill("5")
    hand.chord(Key.Key_Escape)
    assert window.wall.isVisible()


def name_people(window: MainWindow, hand: Hands) -> None:
    """Paste eight names; take from each of four the skill in the last column."""
    hand.chord("w")
    page = window.shelf.view
    assert isinstance(page, WorkshopView)
    hand.tab()
    hand.paste("\n".join(PEOPLE))
    for person in page.ticks.people[:4]:
        spot = page.ticks.spot(f"{person.id}|{page.ticks.skills[-1]}")
        assert spot is not None
        hand.click(page.ticks, spot.rect.center())
        hand.values += 1


def say_where_they_stand(window: MainWindow, hand: Hands) -> None:
    """Press for each segment the stage that it has reached."""
    page = window.shelf.view
    assert isinstance(page, WorkshopView)
    hand.chord(Key.Key_Escape)
    hand.chord(str(PARTS.index("standing") + 1))
    for job in book(window).jobs:
        for segment in job.segments:
            strips = [strip for each in page.strips.jobs for strip in each.strips]
            strip = next(strip for strip in strips if strip.segment == segment.id)
            spot = page.strips.spot(f"{segment.id}|{strip.stops[3].step}")
            assert spot is not None
            hand.click(page.strips, spot.rect.center())
            hand.values += 1
