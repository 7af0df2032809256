"""What journeys through the whole window share: the window as a start makes it, and its waits."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.settings import Settings, write_settings
from app.window.keeper import Keeper
from app.window.main import MainWindow
from app.window.startup import build, empty_book, prepare
from scheduler.outcome import JobOutcome
from shared.book import Book
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key, keys

__all__ = ["WITHIN", "Started", "at", "book", "is_planned", "key", "keys", "on_disk", "settle"]

WITHIN = 120_000


def at() -> QWidget:
    """What has the keyboard."""
    found = QApplication.focusWidget()
    assert isinstance(found, QWidget)
    return found


def settle() -> None:
    for _ in range(4):
        QApplication.processEvents()


class Started:
    """A window on a book as a start makes it, with its keeper; closed when the test is over."""

    def __init__(
        self,
        qtbot: QtBot,
        qapp: QApplication,
        folder: Path,
        path: Path | None,
        now: datetime | None = None,
    ) -> None:
        prepare(qapp)
        write_settings(folder, Settings(solve_seconds=2))
        self._qtbot, self.asker = qtbot, HandAsker()
        self.window = build(folder, now=now, asker=self.asker)  # type: ignore[arg-type]
        self.keeper = Keeper(self.window, folder)
        qtbot.addWidget(self.window)
        if path is None:
            self.window.desk.take(Document(empty_book(self.window.words)))
            self.window.show_work()
        else:
            opened = self.window.desk.open(path)
            if opened.document is None:
                self.window.desk.take(Document(empty_book(self.window.words)))
            self.window.show_book(opened)
        self.is_offered = self.keeper.offer.at_start()
        self.window.resize(1366, 768)
        with qtbot.waitExposed(self.window):
            self.window.show()
        self._activate()
        settle()

    def _activate(self) -> None:
        """Wait for the keyboard: a window that is just gone may take it along on an X server."""

        def is_active() -> bool:
            if not self.window.isActiveWindow():
                self.window.activateWindow()
            return self.window.isActiveWindow()

        self._qtbot.waitUntil(is_active, timeout=WITHIN)

    def wait(self, is_so: Callable[[], bool]) -> None:
        self._qtbot.waitUntil(is_so, timeout=WITHIN)
        settle()

    def planned(self) -> "Started":
        """Wait for the plan of the book as it stands."""
        self.wait(lambda: is_planned(self.window))
        return self

    @property
    def sentence(self) -> str:
        """What the masthead says."""
        return self.window.masthead.shown.sentence

    def job(self, number: int = 0) -> JobOutcome:
        assert self.window.desk.outcome is not None
        return self.window.desk.outcome.jobs[number]

    def close(self) -> None:
        self.window._may_close = True
        self.window.close()


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def is_planned(window: MainWindow) -> bool:
    outcome = window.desk.outcome
    is_of_book = outcome is not None and outcome.revision == book(window).revision
    return is_of_book and not window.desk.engine.is_busy


def on_disk(path: Path) -> Book:
    """The book as its file has it."""
    found = read_book(load(path)).book
    assert found is not None
    return found
