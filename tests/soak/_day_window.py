"""The window of a long day as a start makes it, with its children, and a clock that is set."""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.jobs import Engine
from app.settings import Settings, write_settings
from app.window.keeper import Keeper
from app.window.startup import FileAsker, build, prepare
from app.window.views.view import Which
from shared.book import Book
from shared.files.disk import save
from shared.files.write import write_book
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key

CTRL = Qt.KeyboardModifier.ControlModifier
Key = Qt.Key
SOLVE_SECONDS = 1
WITHIN = 90.0
REST_SECONDS = CALM_SECONDS = 1.0
ESCAPES = 12
CHILD = (sys.executable, ["-m", "tests.soak._day_child"])


class Stuck(Exception):  # noqa: N818 - it says what happened
    """The window did not come to where a person would have brought it."""


class Clock:
    """Says what time it is, as it was told."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def move_on(self, minutes: int) -> None:
        self.now += timedelta(minutes=minutes)


class Day:
    """A window at work on a book in a folder of its own, with another book beside it.

    base: the book as the day begins with it. data: the folder of settings and copies. work: that
    of books and of all that is given out. temporary: what the system gives for passing files.
    """

    def __init__(self, folder: Path, books: tuple[Book, Book], now: datetime) -> None:
        app = QApplication.instance() or QApplication(["day"])
        assert isinstance(app, QApplication)
        prepare(app)
        self.data, self.work = folder / "data", folder / "work"
        self.temporary = folder / "temporary"
        for each in (self.data, self.work, self.temporary):
            each.mkdir()
        tempfile.tempdir = str(self.temporary)
        write_settings(self.data, Settings(solve_seconds=SOLVE_SECONDS))
        self.clock, self.asker = Clock(now), HandAsker()
        self.base, self.other = (write_book(book) for book in books)
        self.path, self.other_path = self.work / "day.countback", self.work / "other.countback"
        save(self.path, self.base)
        save(self.other_path, self.other)
        asker: FileAsker = self.asker  # type: ignore[assignment]
        self.window = build(self.data, engine=Engine(CHILD), asker=asker, ticking=self.clock)
        self.window.desk.counsel._child._command = CHILD
        self.keeper = Keeper(self.window, self.data)
        self.window.show_book(self.window.desk.open(self.path))
        self.window.resize(1366, 768)
        self.window.show()
        self.window.activateWindow()
        self.planned()

    # What there is.

    @property
    def book(self) -> Book:
        document = self.window.desk.document
        assert document is not None
        return document.book

    @property
    def at(self) -> QWidget:
        """What has the keyboard."""
        found = QApplication.focusWidget()
        if not isinstance(found, QWidget):
            self.window.activateWindow()
            self.window.setFocus()
            found = self.window
        return found

    @property
    def children(self) -> dict[str, int]:
        """The process ids of the children by name."""
        desk = self.window.desk
        return {"engine": desk.engine.process_id, "counsel": desk.counsel._child.process_id}

    @property
    def files(self) -> dict[str, int]:
        """How many files are in each folder, without the copy of what is not saved now.

        A folder that was given out counts as one: it has a file for each person, place and job.
        """
        token = self.keeper.autosave._token
        kept = [each for each in self.data.rglob("*") if each.is_file() and each.stem != token]
        return {
            "files kept": len(kept),
            "files given": sum(1 for _ in self.work.iterdir()),
            "files passing": sum(1 for _ in self.temporary.rglob("*")),
        }

    def minute(self) -> None:
        """Let a minute of the day pass, with what the window does in each."""
        self.clock.move_on(1)
        self.keeper.tidying.timeout.emit()

    # Hands.

    def press(self, which: Qt.Key | str, held: Qt.KeyboardModifier | None = None) -> None:
        """Press a key where the keyboard is, and let the window come to rest."""
        key(self.at, which, held or Qt.KeyboardModifier.NoModifier)
        self.settle()

    def settle(self) -> None:
        for _ in range(4):
            QApplication.processEvents()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)

    def soon(self, is_so: Callable[[], bool], seconds: float = WITHIN) -> bool:
        """Wait; whether it came to be so."""
        until = time.monotonic() + seconds
        while not is_so():
            if time.monotonic() > until:
                return False
            QTest.qWait(5)
        self.settle()
        return True

    def wait(self, is_so: Callable[[], bool], what: str) -> None:
        """Wait. Raises Stuck when it does not come to be so."""
        if not self.soon(is_so):
            raise Stuck(f"{what} after {WITHIN:.0f} s")

    def planned(self) -> None:
        """Wait for the plan of the book as it stands; ask again where one was called off."""
        if not self.soon(self._is_over, CALM_SECONDS) and not self.window.desk.engine.is_busy:
            self.press(Key.Key_Space)
        self.wait(self._is_over, "no plan came")

    def _is_over(self) -> bool:
        """Whether there is a plan of the book as it stands, or why there is none."""
        desk = self.window.desk
        is_of_book = desk.outcome is not None and desk.outcome.revision == self.book.revision
        is_quiet = not desk.engine.is_busy and not desk._quiet.isActive()
        return is_quiet and (is_of_book or bool(desk.stopping or desk.trouble))

    def rest(self) -> None:
        """Wait until nothing is asked any more, but not for long."""
        desk = self.window.desk
        self.soon(lambda: not desk.counsel.is_busy, REST_SECONDS)

    def let_end(self) -> None:
        """From now on start no counsel anew that still works on what nobody waits for."""
        self.window.desk.counsel._patience.setInterval(round(WITHIN * 1000))

    def answered(self) -> None:
        """Wait until the counsel has ended all it was asked, also what nobody waits for."""
        counsel = self.window.desk.counsel
        self.soon(lambda: not counsel.is_busy and not counsel._given_up)

    def home(self) -> None:
        """Put everything back, to the wall with nothing chosen. Raises Stuck where that fails."""
        window = self.window
        for _ in range(ESCAPES):
            if self._is_home():
                return
            self.press(Key.Key_Escape)
        if window.shelf.front is not Which.WALL:
            self.press(Key.Key_1, CTRL)
        if not self._is_home():
            raise Stuck(f"{ESCAPES} times Esc did not lead back to the wall")

    def _is_home(self) -> bool:
        window = self.window
        is_bare = window.page.isHidden() and window.sheet.isHidden() and window.wall.isVisible()
        is_free = window.desk.trial is None and window.hand.part is None
        return is_bare and is_free and window.hand.headline() is None and window.wall.spot is None

    def close(self) -> None:
        self.window._may_close = True
        self.window.close()
        self.window.deleteLater()
        self.settle()
        tempfile.tempdir = None
        for pid in self.children.values():
            if pid:
                with suppress(ProcessLookupError):
                    os.waitpid(pid, os.WNOHANG)
