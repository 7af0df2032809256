"""Offers what was not saved when the program stopped: taken, thrown away, or left for later."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.document import Document
from app.recovery import Copied, drop_copy, left_behind
from app.window.page import Choice, Content
from app.words import Words
from app.words import recovery as say
from app.words.template import Template
from shared.edits import take_rescued
from shared.files.disk import real

if TYPE_CHECKING:
    from app.window.autosave import Autosave
    from app.window.main import MainWindow


class Offer:
    """Asks about copies that a program which is gone left behind, one after the other.

    folder: where copies are kept.
    """

    def __init__(self, window: "MainWindow", autosave: "Autosave", folder: Path) -> None:
        self._window, self._autosave, self._folder = window, autosave, folder
        self._left: list[Copied] = []
        window.book_shown.connect(self.of_open_book)

    def at_start(self) -> bool:
        """Offer every copy, those of the open book first; whether there was one."""
        every = left_behind(self._folder)
        return self._offer(sorted(every, key=lambda each: not self._is_open(each)))

    def of_open_book(self) -> bool:
        """Offer the copies of the book that was opened; whether there was one."""
        return self._offer([each for each in left_behind(self._folder) if self._is_open(each)])

    def _is_open(self, copied: Copied) -> bool:
        document = self._window.desk.document
        if document is None or document.path is None or copied.of is None:
            return False
        return real(document.path) == real(copied.of)

    def _offer(self, copies: list[Copied]) -> bool:
        self._left = copies
        if copies:
            self._window.show_page(self._page(copies[0]))
        return bool(copies)

    def _page(self, copied: Copied) -> Content:
        words = Words(book=copied.book)
        today = self._window.desk.now.date()
        return Content(
            title=words.say(
                say.OFFER, book=copied.book.name, moment=words.moment(copied.at, after=today)
            ),
            next=words.say(_caution(copied)),
            rows=(("", str(copied.of)),) if copied.of is not None else (),
            choices=(
                Choice(key="1", text=words.say(say.TAKE), do=partial(self._take, copied)),
                Choice(key="2", text=words.say(say.THROW_AWAY), do=partial(self._drop, copied)),
                Choice(key="Esc", text=words.say(say.LATER), do=self._window.close_page),
            ),
            is_sentence=True,
        )

    def _drop(self, copied: Copied) -> None:
        drop_copy(self._folder, copied.file.stem)
        if not self._offer(self._left[1:]):
            self._window.close_page()

    def _take(self, copied: Copied) -> None:
        """Put the copy in the place of its book, as one edit."""
        if self._is_open(copied):
            self._put(copied)
        else:
            self._window.leaving.before_other(partial(self._open_and_put, copied))

    def _open_and_put(self, copied: Copied) -> None:
        from app.window.startup import empty_book

        desk = self._window.desk
        opened = desk.open(copied.of) if copied.of is not None else None
        if opened is None or opened.document is None:
            desk.take(Document(empty_book(desk.words)))
        self._put(copied)

    def _put(self, copied: Copied) -> None:
        desk = self._window.desk
        assert desk.document is not None
        desk.edit(take_rescued(desk.document.book, copied.book))
        self._autosave.adopt(copied)
        self._window.show_work()
        desk.note = desk.words.say(say.TAKEN)
        self._window.refresh_state()


def _caution(copied: Copied) -> Template:
    if copied.of is None:
        return say.NEVER_SAVED
    if not copied.of.is_file():
        return say.GONE
    return say.BEHIND if copied.is_behind else say.UNTOUCHED
