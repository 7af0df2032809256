"""What is done with files: opening, saving, a picture."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from app.window import session
from app.window.desk import Desk
from app.window.wall.paint import save_picture
from app.words import window as say
from shared.errors import DiskError
from shared.files.disk import save_over


class Asker(Protocol):
    """Asks a person for a file; another one stands in for it in tests."""

    def open(self, parent: QWidget, title: str, kinds: str) -> Path | None:
        """Return a file to open."""

    def save(self, parent: QWidget, title: str, kinds: str) -> Path | None:
        """Return a file to write."""


class Filing:
    """Files of the open book, asked for with the window behind the question."""

    def __init__(self, window: QWidget, desk: Desk, asker: Asker) -> None:
        self._window, self._desk, self._asker = window, desk, asker

    def save(self) -> None:
        """Save the book where it lies."""
        document = self._desk.document
        if document is None:
            return
        if document.read_only and self._desk.may_take_lock:
            self._desk.crossed.emit()
        elif document.path is None or document.read_only:
            self.save_elsewhere()
        else:
            self._desk.save(document.path)

    def save_elsewhere(self) -> None:
        """Save the book to another file."""
        words = self._desk.words
        title, kinds = words.say(say.SAVE_AS), words.say(say.BOOK_FILES)
        path = self._asker.save(self._window, title, kinds) if self._desk.document else None
        if path is not None:
            self._desk.save(session.with_ending(path))

    def ask_which(self) -> Path | None:
        """Ask which other book is to be opened."""
        words = self._desk.words
        title, kinds = words.say(say.OPEN_BOOK), words.say(say.BOOK_FILES)
        return self._asker.open(self._window, title, kinds)

    def ask_file(self, title: str, kinds: str) -> Path | None:
        """Ask which file is to be looked at."""
        return self._asker.open(self._window, title, kinds)

    def ask_where(self, title: str, kinds: str) -> Path | None:
        """Ask where a file, or a folder of files, is to be written."""
        return self._asker.save(self._window, title, kinds)

    def save_paper(self, title: str, kinds: str, data: Callable[[], bytes]) -> Path | None:
        """Save a PDF where somebody says, whole or not at all; return where it is."""
        path = self._asker.save(self._window, title, kinds)
        if path is None:
            return None
        target = path.with_suffix(".pdf")
        try:
            save_over(target, data())
        except DiskError as trouble:
            self._desk.trouble = self._desk.words.trouble(trouble.code, **trouble.facts)
            self._desk.state_changed.emit()
            return None
        return target

    def save_picture(self, draw: Callable[[float], QImage]) -> None:
        """Save a picture of what is shown."""
        words = self._desk.words
        title, kinds = words.say(say.SAVE_PICTURE), words.say(say.PICTURE_FILES)
        path = self._asker.save(self._window, title, kinds)
        if path is None:
            return
        if save_picture(draw(2.0), path.with_suffix(".png")):
            self._desk.note = words.say(say.SAVED_PICTURE, path=path.with_suffix(".png"))
        else:
            self._desk.trouble = words.trouble("not_saved", path=path, reason="")
        self._desk.state_changed.emit()
