"""A window with an engine that answers when a test says so."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.jobs import Draft, Refusal
from app.settings import Settings
from app.window.desk import Desk
from app.window.main import MainWindow
from app.window.startup import prepare
from app.window.wall.access import READER
from shared.book import Book
from tests.app.window.scenes import outcome_for, planted

CLOCK = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)


class HandEngine(QObject):
    """Stands in for the child: keeps what is asked, answers by hand."""

    drafted = Signal(object)
    solved = Signal(object)
    refused = Signal(object)
    died = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[Book] = []
        self.seconds: list[int] = []
        self.is_busy = False
        self.is_closed = False

    def start(self) -> None: ...

    def ask(self, book: Book, now: datetime, *, seconds: int) -> None:
        self.asked.append(book)
        self.seconds.append(seconds)
        self.is_busy = True

    def cancel(self) -> None:
        self.is_busy = False

    def forget(self) -> None:
        self.is_busy = False

    def close(self) -> None:
        self.is_closed = True

    def answer(self, what: object) -> None:
        self.is_busy = False
        if isinstance(what, Refusal):
            self.refused.emit(what)
        elif isinstance(what, Draft):
            self.drafted.emit(what)
        else:
            self.solved.emit(what)


class HandAsker:
    """Answers questions for a file with what a test put there."""

    def __init__(self) -> None:
        self.path: Path | None = None

    def open(self, parent: object, title: str, kinds: str) -> Path | None:
        return self.path

    def save(self, parent: object, title: str, kinds: str) -> Path | None:
        return self.path


@pytest.fixture(scope="session")
def qapp_cls() -> type[QApplication]:
    return QApplication


@pytest.fixture
def prepared(qapp: QApplication) -> QApplication:
    prepare(qapp)
    return qapp


@pytest.fixture
def engine() -> HandEngine:
    return HandEngine()


@pytest.fixture
def asker() -> HandAsker:
    return HandAsker()


@pytest.fixture
def kept() -> list[Settings]:
    return []


@pytest.fixture
def bare_window(
    qtbot: QtBot,
    prepared: QApplication,
    engine: HandEngine,
    asker: HandAsker,
    kept: list[Settings],
) -> MainWindow:
    """An unopened window."""
    READER.said.clear()
    desk = Desk(engine, lambda: CLOCK, lambda: 0.0)  # type: ignore[arg-type]
    window = MainWindow(desk, asker, Settings(look="light"), kept.append)
    qtbot.addWidget(window, before_close_func=_let_go)
    return window


def _let_go(window: object) -> None:
    assert isinstance(window, MainWindow)
    window.desk.document = None


@pytest.fixture
def window(qtbot: QtBot, bare_window: MainWindow, engine: HandEngine) -> MainWindow:
    """A window on a planned book of three jobs."""
    made = planted()
    bare_window.desk.take(Document(made.book))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(outcome_for(made))
    bare_window.wall.setFocus()
    return bare_window
