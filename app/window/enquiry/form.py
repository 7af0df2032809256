"""The sentence of a new enquiry with its blanks; Enter in the last one lays it beside the book."""

from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.bits import theme_of
from app.window.enquiry import newly
from app.window.enquiry.newly import FIELDS, Asked
from app.window.guard import guarded
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import enquiry_view as say
from app.words import window as of_window
from app.words.template import Template
from shared.book import Book

if TYPE_CHECKING:
    from collections.abc import Callable

_PIXELS = 18
_SENTENCES: tuple[Template, ...] = (say.NEW_ASKED, say.NEW_PRICE)


class NewEnquiry(QWidget):
    """What, like which job, how much larger, where, when. wanted: all of it can be meant."""

    wanted = Signal(object)
    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.words = Words()
        self.book: Book | None = None
        self.asked = Asked()
        self.blanks: dict[str, Blank] = {}
        self._notes: dict[str, Note] = {}
        self._readers: dict[str, Callable[[str], object]] = {}
        self._column = QVBoxLayout(self)

    def begin(self, book: Book, words: Words, now: datetime) -> None:
        """Show an empty sentence."""
        self.book, self.words, self.asked = book, words, Asked()
        self._readers = dict(newly.readers(book, words, now))
        self.setAccessibleName(words.say(say.NEW_TITLE))
        self._clear()
        suggestions = {"past": newly.pasts_of(book), "site": newly.sites_of(book)}
        self.blanks = {
            name: Blank(
                words.say(say.BLANKS[name]),
                partial(self._read, name),
                partial(self._take, name),
                pixels=_PIXELS,
                serif=True,
                suggestions=suggestions.get(name, ()),
                hint=words.say(say.HINTS[name]),
            )
            for name in FIELDS
        }
        self._column.setContentsMargins(16, px(44), 16, 16)
        self._column.setSpacing(px(6))
        for template in _SENTENCES:
            self._add_sentence(template)
        self._column.addWidget(Note(words.say(say.NEW_ASSUMED), is_alarm=False))
        self._column.addWidget(Note(words.say(say.NEW_HELP), is_alarm=False))
        self._column.addStretch(1)

    def _clear(self) -> None:
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._notes = {}

    def _add_sentence(self, template: Template) -> None:
        holder, flow = QWidget(), Flow()
        holder.setLayout(flow)
        mine = []
        for piece in pieces(self.words, template, FIELDS):
            if piece.field:
                mine.append(piece.field)
                blank = self.blanks[piece.field]
                flow.addWidget(blank)
                blank.tell_refused(partial(self._refuse, piece.field))
                blank.entered.connect(partial(self._entered, piece.field))
            else:
                flow.addWidget(Fixed(piece.text, pixels=_PIXELS, serif=True))
        self._column.addWidget(holder)
        for field in mine:
            self._notes[field] = Note()
            self._column.addWidget(self._notes[field])

    # Typing.

    def _read(self, name: str) -> str:
        return str(getattr(self.asked, name))

    def _take(self, name: str, text: str) -> None:
        if text.strip():
            self._readers[name](text)
        self.asked = replace(self.asked, **{name: text})

    def _refuse(self, name: str, no: NotTaken | None) -> None:
        text = "" if no is None else of_window.not_taken(self.words, no.code, **no.facts)
        self._notes[name].say(text)

    def _entered(self, name: str) -> None:
        """Go on to the first blank that is still empty, or ask where none is."""
        if self.blanks[name].is_refused:
            return
        empty = self.asked.empty
        if empty is not None:
            self.blanks[empty].setFocus(Qt.FocusReason.TabFocusReason)
        elif not any(blank.is_refused for blank in self.blanks.values()):
            self.wanted.emit(self.asked)

    def note(self, name: str) -> str:
        """Return what is said at a blank."""
        return self._notes[name].text

    def refuse(self, name: str, no: NotTaken) -> None:
        """Say at a blank why the whole can't be meant."""
        self._refuse(name, no)
        self.blanks[name].setFocus()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            event.ignore()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        title = self.words.say(say.NEW_TITLE)
        pens.words(painter, 16, px(26), title, of.ink, 17, 600, serif=True)
        painter.end()
