"""Keeps a copy of what is not saved, some seconds after it was changed."""

import os
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from app.document import Document
from app.paths import rescue_folder
from app.recovery import Copied, drop_copy, write_copy
from app.window.desk import Desk
from app.words import recovery as say
from shared.errors import DiskError

AFTER_MILLISECONDS = 3000
"""So long after a change it is copied, with all that came in between."""


class Autosave(QObject):
    """Copies the open book into the data folder while its file does not hold what is shown."""

    def __init__(self, desk: Desk, folder: Path) -> None:
        super().__init__(desk)
        self._desk, self._folder = desk, rescue_folder(folder)
        self._document: Document | None = None
        self._token = ""
        self._kept: int | None = None
        self._is_told = False
        self.timer = QTimer(self, singleShot=True, interval=AFTER_MILLISECONDS)
        self.timer.timeout.connect(self.keep)
        desk.state_changed.connect(self._look)
        desk.saved.connect(self.drop)

    def _look(self) -> None:
        """Copy soon what has changed; let the copy go when the file holds all again."""
        document = self._desk.document
        if document is not self._document:
            self._begin(document)
        if document is None:
            return
        if not document.unsaved_count:
            self.drop()
        elif document.book.revision != self._kept and not self.timer.isActive():
            self.timer.start()

    def _begin(self, document: Document | None) -> None:
        """Begin with another book; what was not saved of the one before stays as a copy."""
        self.timer.stop()
        self._document, self._kept = document, None
        self._token = os.urandom(8).hex()

    def keep(self) -> bool:
        """Copy what is not saved at once; whether it is kept, or there is nothing to keep."""
        self.timer.stop()
        document = self._document
        if document is None or not document.unsaved_count:
            return True
        self._kept = document.book.revision
        try:
            known = document.on_disk.known
            write_copy(self._folder, self._token, document.book, document.path, known)
        except DiskError as trouble:
            self._tell(trouble)
            return False
        self._is_told = False
        return True

    def _tell(self, trouble: DiskError) -> None:
        """Say once that nothing is copied, until something is again."""
        if self._is_told:
            return
        self._is_told = True
        reason = self._desk.words.trouble(trouble.code, **trouble.facts)
        self._desk.trouble = self._desk.words.say(say.NOT_KEPT, reason=reason)
        self._desk.state_changed.emit()

    def drop(self) -> None:
        """Let the copy go."""
        self.timer.stop()
        if self._kept is not None:
            drop_copy(self._folder, self._token)
        self._kept = None

    def adopt(self, copied: Copied) -> None:
        """Go on with a copy that was taken, in the place of a new one."""
        self._token = copied.file.stem
        self.keep()
