"""What stands in a sentence of the sheet: words, and a blank that is written into."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import QCompleter, QLayout, QLayoutItem, QLineEdit, QWidget, QWidgetItem

from app.window.bits import theme_of, wrapped
from app.window.fonts import font, text_width
from app.window.guard import guarded
from app.window.sheet.typed import NotTaken
from app.window.tokens import px
from app.window.wall import pens
from app.words.fields import field_text

BLANK_MOST, HINT_MOST = 330, 460


class Blank(QLineEdit):
    """A blank in a sentence: underlined, boxed while the caret is in it.

    read: what stands in it. write: takes what was typed, or raises NotTaken. entered: Enter was
    pressed, and what was typed is taken or refused by now.
    """

    entered = Signal()
    has_line = True

    def __init__(
        self,
        label: str,
        read: Callable[[], str],
        write: Callable[[str], None],
        *,
        pixels: int = 15,
        weight: int = 600,
        serif: bool = False,
        suggestions: tuple[str, ...] = (),
        hint: str = "",
    ) -> None:
        super().__init__(read())
        self._hint = hint
        self._is_found = self._is_italic = False
        self._read, self._write = read, write
        self._shown = self.text()
        self._refused: Callable[[NotTaken | None], None] = lambda _: None
        self._pixels, self._weight, self._serif = pixels, weight, serif
        self.is_refused = False
        self.setFrame(False)
        self.setAccessibleName(field_text(label))
        self.setFont(QFont(font(pixels, weight, serif=serif)))
        self.setTextMargins(2, 0, 2, 0)
        bare = QPalette()
        bare.setColor(QPalette.ColorRole.Base, QColor(0, 0, 0, 0))
        self.setPalette(bare)
        if suggestions:
            completer = QCompleter(list(suggestions), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
            self.setCompleter(completer)
        self.setCursorPosition(0)
        self.editingFinished.connect(self._on_finished)
        self.textChanged.connect(lambda _: self._grow())
        self._grow()

    def tell_refused(self, told: Callable[[NotTaken | None], None]) -> None:
        """Call somebody when what was typed is not taken, and when it is again."""
        self._refused = told

    def refresh(self) -> None:
        """Show what the book holds now, unless somebody is writing here; at the size of text."""
        self.set_italic(self._is_italic)
        if not self.hasFocus() or not self.is_written:
            self._shown = self._read()
            if self._shown != self.text():
                self.setText(self._shown)
                self.setCursorPosition(0)
            self._set_refused(None)

    @property
    def is_written(self) -> bool:
        """Whether something stands here that the book was not given yet."""
        return self.text() != self._shown

    def _grow(self) -> None:
        width = text_width(self.text() or " ", self._pixels, self._weight, serif=self._serif)
        most = BLANK_MOST
        if self._hint and not self.text():
            width, most = (
                text_width(self._hint, self._pixels - 1, serif=True, italic=True),
                HINT_MOST,
            )
        self.setFixedSize(
            max(px(self._pixels) + 9, min(px(most), round(width) + 10)), px(self._pixels + 11)
        )
        if self.parentWidget() is not None:
            self.updateGeometry()

    def set_found(self, found: bool) -> None:
        """Underline it as what a finding is about, or no longer."""
        if found != self._is_found:
            self._is_found = found
            self.update()

    def set_italic(self, italic: bool) -> None:
        """Write it in italics: somebody's own figure."""
        weight = 400 if italic else self._weight
        serif = italic or self._serif
        self.setFont(QFont(font(self._pixels, weight, serif=serif, italic=italic)))
        self._is_italic = italic
        self._grow()

    @property
    def is_italic(self) -> bool:
        """Whether it is written in italics."""
        return self._is_italic

    @property
    def hint(self) -> str:
        """What an empty blank says is wanted."""
        return self._hint

    def take(self, text: str) -> None:
        """Write a text into it as if it had been typed."""
        self.setText(text)
        self._on_finished()

    def _on_finished(self) -> None:
        if not self.is_written:
            return
        try:
            self._write(self.text())
        except NotTaken as no:
            self._set_refused(no)
            return
        self._shown = self.text()
        self._set_refused(None)
        self.refresh()

    def _set_refused(self, no: NotTaken | None) -> None:
        if (no is not None) or self.is_refused:
            self.is_refused = no is not None
            self._refused(no)
            self.update()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.is_written:
            self._shown = self._read()
            self.setText(self._shown)
            self._set_refused(None)
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()
            self.entered.emit()

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.selectAll()
        self.update()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        if self.hasFocus():
            ground = QPainter(self)
            pens.flat_rect(ground, 0, 0, self.width(), self.height(), of.sheet)
            ground.end()
        super().paintEvent(event)
        painter = QPainter(self)
        if self._hint and not self.text():
            size = self._pixels - 1
            pens.words(painter, 5, px(size + 4), self._hint, of.ink2, size, serif=True, italic=True)
        is_wrong = self.is_refused or self._is_found
        ink = of.miss if is_wrong else of.ink
        if self.hasFocus():
            pens.frame(painter, self.rect(), ink, 2)
        elif is_wrong or self.has_line or self.underMouse():
            line = 2 if is_wrong else 1
            pens.flat_rect(painter, 2, self.height() - line - 1, self.width() - 4, line, ink)
        painter.end()


class Words(QWidget):
    """Fixed words of a sentence."""

    def __init__(
        self, text: str, *, pixels: int = 15, weight: int = 400, serif: bool = False
    ) -> None:
        super().__init__()
        self._text, self._pixels, self._weight, self._serif = text, pixels, weight, serif
        self.setFixedSize(self.sizeHint())

    @property
    def text(self) -> str:
        """What it says."""
        return self._text

    @property
    def is_punctuation(self) -> bool:
        """Whether it belongs close behind what stands before it."""
        return self._text[:1] in set(".,;:")

    @guarded
    def sizeHint(self) -> QSize:
        width = text_width(self._text, self._pixels, self._weight, serif=self._serif)
        return QSize(round(width) + 2, px(self._pixels + 11))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        ink = of.ink if self._weight >= 600 else of.ink2
        baseline = px(self._pixels + 4)
        pens.words(
            painter, 0, baseline, self._text, ink, self._pixels, self._weight, serif=self._serif
        )
        painter.end()


class Note(QWidget):
    """A line under what it is about: a finding or why something is not taken, with its cure."""

    def __init__(self, text: str = "", *, is_alarm: bool = True) -> None:
        super().__init__()
        self._text, self._is_alarm = text, is_alarm
        self.say(text)

    def say(self, text: str, *, is_alarm: bool | None = None) -> None:
        """Show another text; none hides the line. is_alarm: None means as it was."""
        self._text = text
        self._is_alarm = self._is_alarm if is_alarm is None else is_alarm
        self.setAccessibleName(text)
        self._show_if_said()
        self.setMinimumHeight(self._height())
        self.update()

    def _show_if_said(self) -> None:
        """Show it while it says something; without a parent it would open as a window."""
        if self.parentWidget() is not None:
            self.setVisible(bool(self._text))

    @property
    def text(self) -> str:
        """What it says."""
        return self._text

    def _height(self) -> int:
        return 6 + px(17) * len(wrapped(self._text, max(120, self.width() - 18), 13))

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(200, self._height())

    @guarded
    def hasHeightForWidth(self) -> bool:
        return True

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.ParentChange:
            self._show_if_said()

    @guarded
    def heightForWidth(self, width: int) -> int:
        return 6 + px(17) * len(wrapped(self._text, max(120, width - 18), 13))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.setMinimumHeight(self._height())

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        ink = of.miss if self._is_alarm else of.ink2
        y = px(15)
        if self._is_alarm:
            pens.flat_rect(painter, 0, 5, 9, 9, ink)
            pens.flat_rect(painter, 2, 9, 5, 1, of.paper)
        for line in wrapped(self._text, max(120, self.width() - 18), 13):
            pens.words(painter, 16 if self._is_alarm else 0, y, line, ink, 13)
            y += px(17)
        painter.end()


class Flow(QLayout):
    """Lays words and blanks out as a sentence that wraps."""

    def __init__(self, spacing: int = 3) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)

    @guarded
    def addWidget(self, widget: QWidget) -> None:
        """Put a widget behind the others; the item is ours, so that it goes when the layout does.

        One that Qt makes would never go: only a layout of its own clears it away.
        """
        self.addChildWidget(widget)
        self.addItem(QWidgetItem(widget))

    @guarded
    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    @guarded
    def count(self) -> int:
        return len(self._items)

    @guarded
    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    @guarded
    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    @guarded
    def hasHeightForWidth(self) -> bool:
        return True

    @guarded
    def heightForWidth(self, width: int) -> int:
        return self._place(QRect(0, 0, width, 0), move=False)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(200, self.heightForWidth(max(200, self.geometry().width())))

    @guarded
    def minimumSize(self) -> QSize:
        return QSize(60, 20)

    @guarded
    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, move=True)

    def _place(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint()
            widget = item.widget()
            if isinstance(widget, Words) and widget.is_punctuation:
                x -= self.spacing() + 1
            elif line and x + size.width() > rect.right() + 1:
                x, y, line = rect.x(), y + line + 2, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            line = max(line, size.height())
        return y + line - rect.y()
