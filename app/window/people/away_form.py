"""The sentence in which it is written who is away, from when, to when, and why."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise

from PySide6.QtCore import Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.bits import theme_of
from app.window.guard import guarded
from app.window.people import asked
from app.window.people.asked import Typed
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.wall import pens
from app.words import Words
from app.words import people_view as say
from app.words import window as said
from app.words.template import Template
from shared.book import Book


class AwayForm(QWidget):
    """Four blanks in a sentence; what is typed is told at once, Enter goes on to the answers.

    written: of a Typed. entered: Enter was pressed. resized: it is higher or lower than before.
    """

    written = Signal(object)
    entered = Signal()
    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.typed = Typed()
        self.blanks: dict[str, Blank] = {}
        self._note = Note()
        self._book: Book | None = None
        self._words = Words()
        self._now: datetime | None = None
        self._has_entered = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(16, 12, 12, 6)
        self._column.setSpacing(2)

    def open(self, typed: Typed, book: Book, words: Words, now: datetime) -> None:
        """Show what is known already."""
        self.typed, self._book, self._words, self._now = typed, book, words, now
        while self._column.count():
            item = self._column.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        self.blanks = {}
        self._make()

    @property
    def names(self) -> tuple[str, ...]:
        """The names that it knows."""
        return tuple(asked.known(self._book)) if self._book is not None else ()

    def in_tab_order(self, before: QWidget, after: QWidget) -> None:
        """Let Tab go from what stands before through the blanks to what stands after."""
        chain = [before, *self.blanks.values(), after]
        for one, other in pairwise(chain):
            QWidget.setTabOrder(one, other)

    def take_caret(self) -> None:
        """Put the caret into the first blank that asks for something."""
        self.blanks["end" if self.typed.id else "who"].setFocus()

    def _make(self) -> None:
        assert self._book is not None
        self._add("who", say.BLANK_WHO, self._who, self._write_who, self.names)
        self._add("start", say.BLANK_FROM, lambda: self._day(self.typed.start), self._write_start)
        self._add("end", say.BLANK_TO, lambda: self._day(self.typed.end), self._write_end)
        self._add("reason", say.BLANK_WHY, lambda: self.typed.reason, self._write_reason)
        self._sentence(say.AWAY_SENTENCE, ("who", "start", "end"))
        self._sentence(say.AWAY_WHY, ("reason",))
        self._note = Note()
        self._column.addWidget(self._note)
        self._column.addStretch(1)

    def _add(
        self,
        name: str,
        label: Template,
        read: Callable[[], str],
        write: Callable[[str], None],
        suggestions: tuple[str, ...] = (),
    ) -> None:
        made = Blank(self._words.say(label), read, write, pixels=14, suggestions=suggestions)
        made.tell_refused(self._refuse)
        made.returnPressed.connect(self._on_return)
        made.editingFinished.connect(self._on_finished)
        self.blanks[name] = made

    def _sentence(self, template: Template, names: tuple[str, ...]) -> None:
        holder, flow = QWidget(), Flow()
        holder.setLayout(flow)
        for piece in pieces(self._words, template, names):
            flow.addWidget(
                self.blanks[piece.field] if piece.field else Fixed(piece.text, pixels=14)
            )
        self._column.addWidget(holder)

    def _refuse(self, no: NotTaken | None) -> None:
        before = self._note.text
        self._note.say("" if no is None else said.not_taken(self._words, no.code, **no.facts))
        if self._note.text != before:
            self.resized.emit()

    def height_at(self, width: int) -> int:
        """Return how high all of it is."""
        room, high = width - 28, 20
        for at in range(self._column.count()):
            item = self._column.itemAt(at)
            part = item.widget() if item is not None else None
            if part is not None and not part.isHidden():
                high += max(part.heightForWidth(room), part.minimumHeight()) + 4
        return high

    # Reading and writing.

    def _who(self) -> str:
        assert self._book is not None
        wanted = (self.typed.kind, self.typed.id)
        return next((name for name, each in asked.known(self._book).items() if each == wanted), "")

    def _day(self, when: date | datetime | None) -> str:
        return asked.written(when, self._words)

    def _write_who(self, text: str) -> None:
        assert self._book is not None
        kind, identity = asked.who(text, self._book)
        self._tell(replace(self.typed, kind=kind, id=identity))

    def _write_start(self, text: str) -> None:
        start = self._when(text)
        end = self.typed.end
        if end is None or _day_of(end) < _day_of(start):
            end = start if not isinstance(start, datetime) else start.date()
        self._tell(replace(self.typed, start=start, end=end))

    def _write_end(self, text: str) -> None:
        self._tell(replace(self.typed, end=self._when(text)))

    def _write_reason(self, text: str) -> None:
        self._tell(replace(self.typed, reason=" ".join(text.split())))

    def _when(self, text: str) -> date | datetime:
        assert self._now is not None
        return asked.when(text, self._words, self._now)

    def _tell(self, typed: Typed) -> None:
        self.typed = typed
        for blank in self.blanks.values():
            if not blank.hasFocus():
                blank.refresh()
        self.written.emit(typed)

    def _on_return(self) -> None:
        self._has_entered = True

    def _on_finished(self) -> None:
        """Go on after Enter, once what was typed is taken."""
        has_entered, self._has_entered = self._has_entered, False
        is_whole = not any(blank.is_refused for blank in self.blanks.values())
        if has_entered and self.typed.id and is_whole:
            self.entered.emit()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of, painter = theme_of(self), QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.sheet)
        pens.flat_rect(painter, 0, 0, self.width(), 3, of.ink)
        painter.end()


def _day_of(when: date | datetime) -> date:
    return when.date() if isinstance(when, datetime) else when
