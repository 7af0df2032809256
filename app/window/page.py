"""A page in the wall's place: what to do first, all keys, a damaged book, the closing question."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractSlider, QWidget

from app.window.bits import KEY_PIXELS, KeyWord, paint_key, theme_of, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.spots.drawn import ThinBar
from app.window.tokens import px
from app.window.wall import pens
from app.words.keys import key_text

LEFT, TOP, LINE, NARROW_LINE = 24, 30, 24, 22
KEY_COLUMN = 190
NARROW_KEYS = 124
TEXT_WIDTH = 760
MOST_COLUMNS = 3
BAR = 10
_SCROLL = {
    Qt.Key.Key_Down: QAbstractSlider.SliderAction.SliderSingleStepAdd,
    Qt.Key.Key_Up: QAbstractSlider.SliderAction.SliderSingleStepSub,
    Qt.Key.Key_PageDown: QAbstractSlider.SliderAction.SliderPageStepAdd,
    Qt.Key.Key_PageUp: QAbstractSlider.SliderAction.SliderPageStepSub,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Something to do: its key, its words."""

    key: str
    text: str
    do: Callable[[], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What a page says: a title, rows of (keys, text), and what can be done.

    is_sentence: the title stands in the masthead, not on the page. next: what stands under it
    there. body: a part that fills the page instead of rows and choices. has_ghost: the page goes
    once there is a job on the wall.
    """

    title: str
    rows: tuple[tuple[str, str], ...] = ()
    choices: tuple[Choice, ...] = ()
    has_ghost: bool = False
    is_sentence: bool = False
    next: str = ""
    body: QWidget | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Where a row of a page lies, and what stands in it."""

    x: int
    text_x: int
    y: int
    bottom: int
    keys: str
    lines: tuple[str, ...]


def _keys_width(keys: str) -> int:
    """Return how far the caps of keys reach, with a gap behind them."""
    caps = [text_width(key_text(key), KEY_PIXELS, 600) + 16 for key in keys.split(", ")]
    return round(sum(caps)) + 4


class Page(QWidget):
    """Read it, and press the key of what to do."""

    def __init__(self) -> None:
        super().__init__()
        self.content = Content(title="")
        self._words: list[KeyWord] = []
        self._bar = ThinBar()
        self._bar.setParent(self)
        self._bar.valueChanged.connect(self._scrolled)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)

    def show_content(self, content: Content) -> None:
        """Show another page."""
        for word in self._words:
            word.hide()
            word.deleteLater()
        if self.content.body is not None and self.content.body is not content.body:
            self.content.body.hide()
        self.content = content
        self._bar.setValue(0)
        if content.body is not None:
            content.body.setParent(self)
            content.body.setGeometry(self.rect())
            content.body.show()
            self.setFocusProxy(content.body)
        else:
            self.setFocusProxy(None)  # type: ignore[arg-type]
        self.setAccessibleName(content.title)
        told = " ".join(f"{keys} {text}".strip() for keys, text in content.rows)
        self.setAccessibleDescription(told)
        self._words = [KeyWord(c.text, c.do, c.key) for c in content.choices]
        for word in self._words:
            word.setParent(self)
            word.show()
        self._place_words()
        self.update()

    def choose(self, key: str) -> bool:
        """Do what a key stands for; whether there is such a thing."""
        for choice in self.content.choices:
            if choice.key.casefold() == key.casefold():
                choice.do()
                return True
        return False

    @property
    def _top(self) -> int:
        return px(TOP if self.content.is_sentence else TOP + 40)

    def _place_words(self) -> None:
        """Put what can be done under the rows."""
        laid = self._laid()
        y = max((row.bottom for row in laid), default=self._top - px(14)) + px(6)
        x, is_low = LEFT - 3, y + px(30) * len(self._words) > self.height()
        rows_high = px(30) * (1 if is_low else len(self._words))
        self._bar.setRange(0, max(0, y + rows_high - self.height()))
        self._bar.setPageStep(self.height())
        self._bar.setSingleStep(px(LINE))
        self._bar.setGeometry(self.width() - BAR, 1, BAR, self.height() - 1)
        self._bar.setVisible(self._bar.maximum() > 0 and self.content.body is None)
        y -= self._bar.value()
        for word in self._words:
            word.move(x, y)
            if is_low:
                x += word.width() + 24
            else:
                y += px(30)

    def _laid(self) -> list[Row]:
        """Return where each row lies: in one column if they fit, else in two or three."""
        room = self.height() - self._top - px(30) * len(self.content.choices) - px(20)
        found: list[Row] = []
        for columns in range(1, MOST_COLUMNS + 1):
            found = self._in_columns(columns)
            if max((row.bottom for row in found), default=0) <= self._top + room:
                break
        return found

    def _in_columns(self, columns: int) -> list[Row]:
        wide = (self.width() - 2 * LEFT) // columns if columns > 1 else px(TEXT_WIDTH)
        keys_wide = px(KEY_COLUMN if columns == 1 else NARROW_KEYS)
        asides = [max(keys_wide, _keys_width(keys)) if keys else 0 for keys, _ in self.content.rows]
        written = [
            wrapped(text, wide - aside - 12, 14) or [""]
            for aside, (_, text) in zip(asides, self.content.rows, strict=True)
        ]
        line = px(LINE if columns == 1 else NARROW_LINE)
        heights = [line + px(18) * (len(lines) - 1) for lines in written]
        whole, above, rows = max(1, sum(heights)), 0, list[Row]()
        starts: dict[int, int] = {}
        for (keys, _), aside, lines, height in zip(
            self.content.rows, asides, written, heights, strict=True
        ):
            column = min(columns - 1, (above + height // 2) * columns // whole)
            y = self._top + above - starts.setdefault(column, above)
            x = LEFT + column * wide
            row = Row(x=x, text_x=x + aside, y=y, bottom=y + height, keys=keys, lines=tuple(lines))
            rows.append(row)
            above += height
        return rows

    def _scrolled(self) -> None:
        self._place_words()
        self.update()

    @guarded
    def wheelEvent(self, event: QWheelEvent) -> None:
        self._bar.setValue(self._bar.value() - event.angleDelta().y() // 2)
        event.accept()

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        if self.content.body is not None:
            self.content.body.setGeometry(self.rect())
        self._place_words()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self._place_words()
            self.update()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _SCROLL and self._bar.maximum():
            self._bar.triggerAction(_SCROLL[Qt.Key(event.key())])
            return
        if event.modifiers() or not self.choose(event.text()):
            event.ignore()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        painter.translate(0, -self._bar.value())
        if not self.content.is_sentence:
            title = self.content.title
            pens.words(painter, LEFT, px(TOP + 4), title, of.ink, 17, 600, serif=True)
        for row in self._laid():
            x: float = row.x
            for key in row.keys.split(", ") if row.keys else ():
                x = paint_key(painter, of, x, row.y, key) + 6
            for number, line in enumerate(row.lines):
                pens.words(painter, row.text_x, row.y + px(18) * number, line, of.ink2, 14)
        painter.end()
