"""A window with an engine that answers when a test says so."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.counsel.asking import Hear
from app.counsel.questions import Question
from app.document import Document
from app.jobs import Draft, Refusal
from app.settings import Settings
from app.window.countback import sure
from app.window.desk import Desk
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.startup import prepare
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


class HandCounsel(QObject):
    """Stands in for the counsel: keeps what is asked, answers by hand."""

    refused = Signal(object)
    busy_changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[Question] = []
        self.is_busy = False
        self._hear: Hear | None = None
        self._part: Hear | None = None

    def ask(self, question: Question, revision: int, hear: Hear, part: Hear) -> None:
        self.asked.append(question)
        self._hear, self._part = hear, part
        self.is_busy = True
        self.busy_changed.emit()

    def forget(self) -> None:
        self._hear = self._part = None
        self.is_busy = False

    def close(self) -> None: ...

    def tell(self, found: object) -> None:
        """Tell a part of the answer."""
        assert self._part is not None
        self._part(found)

    def answer(self, found: object) -> None:
        """Answer the last question."""
        hear, self._hear = self._hear, None
        self.is_busy = False
        assert hear is not None
        self.busy_changed.emit()
        hear(found)


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


@pytest.fixture(autouse=True)
def unhurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody asks how sure a plan is unless a test does."""
    monkeypatch.setattr(sure, "QUIET_MILLISECONDS", 24 * 60 * 60 * 1000)


@pytest.fixture
def engine() -> HandEngine:
    return HandEngine()


@pytest.fixture
def counsel() -> HandCounsel:
    return HandCounsel()


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
    counsel: HandCounsel,
    asker: HandAsker,
    kept: list[Settings],
) -> MainWindow:
    """An unopened window."""
    READER.said.clear()
    desk = Desk(engine, counsel, lambda: CLOCK, lambda: 0.0)  # type: ignore[arg-type]
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
