"""Blanks in sentences that stand above the side; a note below says what is not taken."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.bits import theme_of
from app.window.guard import guarded
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.wall import pens
from app.words import Words
from app.words import window as said
from app.words.template import Template


class BlankForm(QWidget):
    """Whoever derives from it makes the blanks and the sentences.

    entered: Enter was pressed, and all that was typed is taken. resized: it is higher or lower.
    tab_chain: what Tab leaves for it, its blanks, and where Tab goes behind them.
    """

    entered = Signal()
    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.blanks: dict[str, Blank] = {}
        self.tab_chain: tuple[QWidget, ...] = ()
        self._note = Note()
        self._words = Words()
        self._has_entered = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(16, 12, 12, 6)
        self._column.setSpacing(2)

    @property
    def note(self) -> str:
        """What stands below the sentences."""
        return self._note.text

    def in_tab_order(self, before: QWidget, after: QWidget) -> None:
        """Let Tab go from what stands before through the blanks to what stands after."""
        self.tab_chain = (before, *self.blanks.values(), after)

    def height_at(self, width: int) -> int:
        """Return how high all of it is."""
        room, high = width - 28, 20
        for at in range(self._column.count()):
            item = self._column.itemAt(at)
            part = item.widget() if item is not None else None
            if part is not None and not part.isHidden():
                high += max(part.heightForWidth(room), part.minimumHeight()) + 4
        return high

    # Making.

    def _clear(self, words: Words) -> None:
        """Take everything out of it."""
        self._words, self.blanks = words, {}
        while self._column.count():
            item = self._column.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()

    def _add(
        self,
        name: str,
        label: Template,
        read: Callable[[], str],
        write: Callable[[str], None],
        *,
        suggestions: tuple[str, ...] = (),
        hint: str = "",
    ) -> None:
        made = Blank(
            self._words.say(label), read, write, pixels=14, suggestions=suggestions, hint=hint
        )
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

    def _end(self) -> None:
        """Put the note below the sentences."""
        self._note = Note()
        self._column.addWidget(self._note)
        self._column.addStretch(1)

    # Hands.

    def _refuse(self, no: NotTaken | None) -> None:
        before = self._note.text
        self._note.say("" if no is None else said.not_taken(self._words, no.code, **no.facts))
        if self._note.text != before:
            self.resized.emit()

    def _on_return(self) -> None:
        self._has_entered = True

    def _on_finished(self) -> None:
        """Go on after Enter, once what was typed is taken."""
        has_entered, self._has_entered = self._has_entered, False
        is_whole = not any(blank.is_refused for blank in self.blanks.values())
        if has_entered and is_whole and self._is_enough():
            self.entered.emit()

    def _is_enough(self) -> bool:
        """Say whether enough is written to go on."""
        return True

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of, painter = theme_of(self), QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.sheet)
        pens.flat_rect(painter, 0, 0, self.width(), 3, of.ink)
        painter.end()
