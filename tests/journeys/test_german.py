"""Countback in German: the command line and every view on a sample say no English word.

At 1366 x 768, the smallest screen it is made for, nothing is cut and no text lies on another.
"""

from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import chain
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.settings import Settings, write_settings
from app.window.bits import KeyWord
from app.window.headline import Headline
from app.window.main import MainWindow
from app.window.people.view import PeopleView
from app.window.startup import build, empty_book, prepare
from app.window.views.view import Which
from app.window.workshop.view import WorkshopView
from app.words.brought import in_words
from app.words.voice import Voice
from shared.book import Leave, Stage, Step
from shared.edits import add_leave
from shared.files.write import write_book
from tests.app.cli.shell import countback
from tests.app.window import hands
from tests.books.samples import SAMPLES
from tests.german.english import english_in
from tests.german.painted import Painted, narrow, outside, told
from tests.pictures.__main__ import planned, views, wait_until

pytestmark = pytest.mark.journey

SMALLEST = (1366, 768)
TYPED = {"carve"}
"""What the pictures have typed to find it."""
SCROLLED = {"weeks", "days"}
"""These show a part of the wall: its dates run out of sight at its ends."""
COMMANDS = (
    ("findings", "{book}"),
    ("plan", "{book}", "--seconds", "1"),
    ("loads", "{book}"),
    ("orders", "{book}", "--seconds", "1"),
    ("through", "{book}"),
    ("deliver", "{book}", "--seconds", "1"),
    ("chance", "{book}", "--seconds", "1"),
    ("morning", "{book}"),
    ("why", "{book}", "snail", "--seconds", "1"),
    ("levers", "{book}", "snail", "--seconds", "2"),
    ("away", "{book}", "edda", "2027-01-20", "2027-01-27", "--seconds", "1"),
    ("legs",),
    ("legs", "{book}", "snail"),
    ("routes",),
    ("estimate", "--size", "2.4x2.1x2.6", "--json"),
    ("ask", "eine Eule", "--size", "2x2x2", "--by", "2027-09-01", "--country", "Norwegen"),
    ("plan", "nichts.countback"),
    ("routes", "--of", "nichts"),
)


@pytest.fixture(autouse=True)
def german(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LANGUAGE", "de")


def test_the_command_line_says_no_english(tmp_path: Path) -> None:
    assert countback("sample", "tight", tmp_path).code == 0
    book, said = tmp_path / "tight.countback", []

    for command in COMMANDS:
        words = [word.format(book=book) for word in command]
        extra = ["--now", "2027-01-18T07:30"] if command[0] == "ask" else []
        answer = countback(*words, *extra)
        lines = (answer.out + answer.err).splitlines()
        said += [(command[0], line) for line in lines if not line.startswith("{")]

    assert len(said) > 200
    assert [line for line in said if english_in(line[1])] == []


@pytest.fixture(params=["tight", "rush", "crossing", "impossible"])
def window(
    request: pytest.FixtureRequest,
    qtbot: QtBot,
    qapp: QApplication,
    data_folder: Path,
    tmp_path: Path,
) -> Iterator[MainWindow]:
    path = tmp_path / "sample.countback"
    path.write_bytes(write_book(in_words(Voice(), SAMPLES[request.param]())))
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made = build(data_folder)
    qtbot.addWidget(made)
    made.resize(*SMALLEST)
    made.show_book(made.desk.open(path))
    with qtbot.waitExposed(made):
        made.show()
    wait_until(lambda: planned(made))
    yield made
    made._may_close = True
    made.close()


def all_views(window: MainWindow) -> dict[str, Callable[[], None]]:
    found = {**views(window), "keys": window.show_keys}
    found["people"] = lambda: window.shelf.show(Which.PEOPLE)
    return found


Trouble = tuple[str, str, list[object]]


def troubles_of(window: MainWindow, painted: Painted, name: str) -> list[Trouble]:
    """Look at what is in front: English, what is cut, written over another, or too narrow."""
    for _ in range(10):
        QApplication.processEvents()
    painted.texts.clear()
    window.grab()
    texts = [each.text for each in painted.texts]
    assert texts, name
    said = {*texts, *told(window)} - TYPED
    found: dict[str, list[object]] = {
        "English": [text for text in said if english_in(text)],
        "cut": [] if name in SCROLLED else [*painted.cut()],
        "over each other": [*painted.overlapping()],
        "narrow": [*narrow(window)],
        "outside": [*outside(window)],
    }
    return [(name, what, which) for what, which in found.items() if which]


def test_every_view_speaks_german_and_has_the_room_for_it(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted, troubles = Painted(monkeypatch), []
    for name, go in all_views(window).items():
        go()
        troubles += troubles_of(window, painted, name)
    assert not troubles, "\n".join(map(str, troubles))


# Whatever else may stand in front.


def editor(window: MainWindow) -> Iterator[str]:
    """One step of each sort written out, then what is not understood."""
    document = window.desk.document
    assert document is not None
    window._write()
    job = document.book.jobs[0]
    sorts: dict[object, Step] = {}
    for step in job.steps:
        sorts.setdefault(getattr(step, "gate", None) or getattr(step, "kind", type(step)), step)
    for sort, step in sorts.items():
        over = step.segments[0] if isinstance(step, Stage) and step.segments else None
        segment = over or job.segments[0].id
        window.sheet.show_job(document.book, window.words, job.id, segment, step.id)
        yield f"editor {sort}"
    blank = window.sheet.blank("segment 1 length_m")
    blank.take("viel")
    yield "editor refused"
    window.close_sheet()


def days_and_people(window: MainWindow) -> Iterator[str]:
    """Countback with another date asked for, people later, sheets one by one, each person."""
    wall = window.wall
    for key, name in (("t", "another date"), ("l", "ways out")):
        hands.key(wall, key)
        yield name
        hands.key(QApplication.focusWidget() or window, Qt.Key.Key_Escape)
    window.shelf.show(Which.PEOPLE)
    people = window.shelf.view
    assert isinstance(people, PeopleView)
    for which in (Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_PageDown):
        hands.key(people.part, which)
        yield f"people {which.name}"
    window.shelf.show(Which.SHEETS)
    hands.key(QApplication.focusWidget() or window, "o")
    yield "sheets of each"
    hands.key(QApplication.focusWidget() or window, Qt.Key.Key_Right)
    yield "sheets of the next day"
    window.shelf.show(Which.WORKSHOP)
    page = window.shelf.view
    assert isinstance(page, WorkshopView)
    for person in page.book.people:
        page._open_person(person.id)
        yield f"workshop of {person.name}"


def states(window: MainWindow, folder: Path) -> Iterator[str]:
    """Change, trouble, closing, files that are damaged, newer or gone, the first start."""
    desk = window.desk
    assert desk.document is not None
    window.shelf.show(Which.WALL)
    book = desk.document.book
    leave = Leave(start=desk.now, end=desk.now + timedelta(days=9))
    desk.edit(add_leave(book, book.people[0].id, leave))
    yield "planning anew"
    desk.stop_looking()
    for which in (Which.WALL, Which.COUNTBACK, Which.PEOPLE, Which.ORDERS, Which.SHEETS):
        window.shelf.show(which)
        yield f"old plan in {which}"
    desk._on_died("")
    window.shelf.show(Which.WALL)
    yield "the planner stopped"
    window.close()
    yield "closing"
    window.page.choose("Esc")
    text = write_book(book).decode()
    for name, written in {
        "damaged": text.replace('"name": ', '"name": 7, "was": ', 1),
        "half": text[: len(text) // 2],
        "newer": text.replace('"format": 1', '"format": 9', 1),
    }.items():
        path = folder / f"{name}.countback"
        path.write_text(written, encoding="utf-8")
        window.show_book(desk.open(path))
        yield name
        window.page.choose("Esc")
    window.show_book(desk.open(folder / "nichts.countback"))
    yield "gone"
    window.page.choose("Esc")
    desk.take(Document(empty_book(window.words)))
    window.show_work()
    yield "first start"
    start = window.first.start
    assert start is not None
    start.fields["size"].take("groß")
    start.fields["country"].take("Nirgendwo")
    yield "first start refused"
    for which in Which:
        window.shelf.show(which)
        yield f"empty {which}"


@pytest.mark.parametrize("window", ["tight"], indirect=True)
def test_every_state_speaks_german_and_has_the_room_for_it(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    painted, troubles, seen = Painted(monkeypatch), [], 0
    parts = (editor(window), days_and_people(window), states(window, tmp_path))
    for name in chain(*parts):
        troubles += troubles_of(window, painted, name)
        seen += 1
    assert seen >= 40
    assert not troubles, "\n".join(map(str, troubles))


# What this looks for is found.


@pytest.mark.parametrize("window", ["small"], indirect=True)
def test_planted_faults_are_found(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    painted = Painted(monkeypatch)
    hands.key(window.wall, "w")
    page = window.shelf.view
    assert isinstance(page, WorkshopView)
    assert troubles_of(window, painted, "sound") == []

    def found() -> dict[str, list[object]]:
        return {what: which for _, what, which in troubles_of(window, painted, "planted")}

    blank = page.paper.blank("person name")
    usual = blank.width()
    blank.setFixedWidth(12)
    assert blank.text() in found()["narrow"]
    blank.setFixedWidth(usual)
    word = KeyWord("Verladung zurücknehmen", lambda: None)
    word.setParent(page)
    word.move(page.width() - 40, 300)
    word.show()
    assert found()["outside"] == ["Verladung zurücknehmen"]
    word.move(400, 300)
    word.setFixedWidth(30)
    assert "Verladung zurücknehmen" in found()["cut"]
    word.setFixedSize(word.sizeHint())
    word.setText("the workshop")
    assert "the workshop" in found()["English"]
    word.deleteLater()

    head = window.masthead
    head.show_headline(Headline(sentence="Auftrag " * 80), window.words)
    assert any(str(text).startswith("Auftrag") for text in found()["cut"])
