"""What is asked before another book takes the place of this one, or the window closes."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from app.document import Document
from app.window.pages import closing_page
from app.words import recovery
from app.words import window as say
from app.words.template import Template
from shared.book import Book

if TYPE_CHECKING:
    from app.window.main import MainWindow

_CLOSING = (say.CLOSE_SAVE, say.CLOSE_DROP)
_OPENING = (recovery.LEAVE_SAVE, recovery.LEAVE_DROP)


class Leaving:
    """Asks once what is to be done with what is not saved, and then goes on."""

    def __init__(self, window: "MainWindow") -> None:
        self._window = window

    @property
    def is_unsaved(self) -> bool:
        """Whether something would be lost."""
        document = self._window.desk.document
        return document is not None and document.unsaved_count > 0

    def before_other(self, do: Callable[[], object]) -> None:
        """Go on to another book, at once where nothing would be lost."""
        if self.is_unsaved:
            self._ask(do, _OPENING)
        else:
            do()

    def open_book(self, path: Path) -> None:
        """Open another book."""
        window = self._window
        self.before_other(lambda: window.show_book(window.desk.open(path)))

    def take(self, book: Book) -> None:
        """Work on another book, which has no file yet."""

        def go_on() -> None:
            self._window.desk.take(Document(book))
            self._window.show_work()

        self.before_other(go_on)

    def before_close(self, close: Callable[[], object]) -> None:
        """Ask before the window closes."""
        self._ask(close, _CLOSING)

    def _ask(self, do: Callable[[], object], said: tuple[Template, Template]) -> None:
        window, words = self._window, self._window.words
        document = window.desk.document
        label = document.undo_label if document is not None else None
        last = window.desk.label_text(label) if label else ""

        def save() -> None:
            window.filing.save()
            if not self.is_unsaved:
                do()

        def drop() -> None:
            window.let_go.emit()
            do()

        texts = (words.say(said[0]), words.say(said[1]))
        window.show_page(closing_page(words, last, texts, (save, drop, window.close_page)))
