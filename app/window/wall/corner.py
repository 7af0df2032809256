"""What is typed beside the wall, in the slip's place: what to find, the hours left."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import QLineEdit, QWidget

from app.window.bits import paint_key, theme_of, wrapped
from app.window.fonts import font, text_width
from app.window.guard import guarded
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from shared.book import Kind

PADDING, FIELD, ROW = 16, 34, 26
ROWS_MOST = 7


class Line(QLineEdit):
    """The field; up, down, Enter and Esc are its owner's."""

    stepped = Signal(int)
    entered = Signal()
    left = Signal()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class Found:
    """A line of what was found: a swatch of its kind, its name, when, who."""

    __slots__ = ("kind", "name", "when", "who")

    def __init__(self, name: str, when: str = "", who: str = "", kind: Kind | None = None) -> None:
        self.name, self.when, self.who, self.kind = name, when, who, kind


class Typing(QWidget):
    """A title, a field, and under it either lines to choose from or a sentence."""

    typed = Signal(str)
    entered = Signal(int)
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.title = self.hint = ""
        self.is_refused = False
        self.keys: tuple[tuple[str, str], ...] = ()
        self.lines: tuple[Found, ...] = ()
        self.at = 0
        self.field = Line(self)
        self.field.setFrame(False)
        bare = QPalette()
        bare.setColor(QPalette.ColorRole.Base, QColor(0, 0, 0, 0))
        self.field.setPalette(bare)
        self.field.textEdited.connect(self.typed)
        self.field.entered.connect(lambda: self.entered.emit(self.at))
        self.field.left.connect(self.left)
        self.field.stepped.connect(self._step)
        self.setFocusProxy(self.field)

    def show_content(
        self,
        title: str,
        hint: str,
        lines: Sequence[Found] = (),
        keys: tuple[tuple[str, str], ...] = (),
        *,
        is_refused: bool = False,
    ) -> None:
        """Show another state; what was chosen stays where it was if there is still one there."""
        self.title, self.hint, self.lines, self.keys = title, hint, tuple(lines), keys
        self.is_refused = is_refused
        self.at = max(0, min(self.at, len(self.lines) - 1))
        self.field.setAccessibleName(title)
        self.field.setAccessibleDescription(self.told)
        self.update()

    @property
    def told(self) -> str:
        """The line that Enter would take, else the sentence under the field."""
        if not self.lines:
            return self.hint
        line = self.lines[self.at]
        return ", ".join(part for part in (line.name, line.when, line.who) if part)

    def begin(self, text: str = "") -> None:
        """Empty the field and take the keyboard."""
        self.at = 0
        self.field.setText(text)
        self.field.setFocus()

    def _step(self, stride: int) -> None:
        if self.lines:
            self.at = (self.at + stride) % len(self.lines)
            self.field.setAccessibleDescription(self.told)
            self.update()

    def height_for(self, width: int) -> int:
        """Return how high it is at a width."""
        hints = len(self._hints(width))
        rows = px(ROW) * min(ROWS_MOST, len(self.lines))
        title = len(self._titles(width)) * px(20)
        return 2 * PADDING + title + px(FIELD) + rows + hints * px(18) + px(34)

    def _titles(self, width: int) -> list[str]:
        return wrapped(self.title, width - 2 * PADDING, 14, 600)

    def _hints(self, width: int) -> list[str]:
        return wrapped(self.hint, width - 2 * PADDING, 12)

    @property
    def _box(self) -> QRect:
        top = PADDING + len(self._titles(self.width())) * px(20)
        return QRect(PADDING, top, self.width() - 2 * PADDING, px(FIELD) - 4)

    def _first(self) -> int:
        return max(0, self.at - ROWS_MOST + 1)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(420, self.height_for(420))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self._place()

    def _place(self) -> None:
        self.field.setFont(QFont(font(15, 600)))
        self.field.setGeometry(self._box.adjusted(6, 2, -6, -2))

    @guarded
    def mousePressEvent(self, event: QMouseEvent) -> None:
        row = self._row_at(event.position().toPoint())
        if row is not None:
            self.at = row
            self.entered.emit(row)

    def _row_at(self, point: QPoint) -> int | None:
        index = (point.y() - self._box.bottom() - 6) // px(ROW) + self._first()
        return index if 0 <= index < len(self.lines) and point.y() > self._box.bottom() else None

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        self._place()
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.sheet)
        pens.frame(painter, self.rect(), of.line, 1)
        pens.flat_rect(painter, 0, 0, self.width(), 3, of.ink)
        y = PADDING + px(12)
        for line in self._titles(self.width()):
            pens.words(painter, PADDING, y, line, of.ink, 14, 600)
            y += px(20)
        pens.frame(painter, self._box, of.miss if self.is_refused else of.ink, 2)
        y = self._box.bottom() + 6
        for index in range(self._first(), min(len(self.lines), self._first() + ROWS_MOST)):
            self._paint_line(painter, of, y, self.lines[index], is_at=index == self.at)
            y += px(ROW)
        y += px(16)
        for hint in self._hints(self.width()):
            pens.words(painter, PADDING, y, hint, of.miss if self.is_refused else of.ink2, 12)
            y += px(18)
        x: float = PADDING
        for key, text in self.keys:
            x = paint_key(painter, of, x, y + px(4), key) + 6
            x = pens.words(painter, x, y + px(4), text, of.ink2, 12) + 14
        painter.end()

    def _paint_line(
        self, painter: QPainter, of: Theme, y: int, line: Found, *, is_at: bool
    ) -> None:
        if is_at:
            pens.flat_rect(painter, 1, y, self.width() - 2, px(ROW), of.paper)
            pens.flat_rect(painter, 1, y, 3, px(ROW), of.ink)
        base, x = y + px(17), PADDING
        if line.kind is not None:
            box = QRect(x, y + px(6), 18, px(13))
            pens.flat_rects(painter, [box], of.outlines[line.kind])
            pens.flat_rects(painter, [box.adjusted(1, 1, -1, -1)], of.fills[line.kind])
        x += 26
        end = pens.words(painter, x, base, line.name, of.ink, 13, 600 if is_at else 500)
        right = self.width() - PADDING
        if line.who and end + text_width(line.who, 12) + 16 < right:
            right -= round(text_width(line.who, 12))
            pens.words(painter, right, base, line.who, of.ink2, 12)
        if line.when and end + text_width(line.when, 12) + 24 < right:
            right -= round(text_width(line.when, 12)) + 12
            pens.words(painter, right, base, line.when, of.ink2, 12)
