"""A page of lines as a drawn part: words, rows that do something, rows with something to choose."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter

from app.window.bits import KEY_PIXELS, paint_key, wrapped
from app.window.fonts import font, text_width
from app.window.guard import guarded
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words.keys import key_text

LEFT, TOP, GAP, PITCH, LINE = 24, 12, 14, 27, 18
NAME, VALUE, ARROW = 230, 250, 22
MOST_TEXT = 900
PIXELS = 13


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line.

    id: its own if it can be reached by keys, "" for words alone. key: what does it too. value:
    what is chosen on it, None where nothing is. cells: more of it, in columns. turn: takes the
    next (1) or the one before (-1) for what is chosen. is_head: it is a heading of cells.
    """

    text: str
    id: str = ""
    key: str = ""
    value: str | None = None
    cells: tuple[str, ...] = ()
    do: Callable[[], object] | None = None
    turn: Callable[[int], object] | None = None
    is_title: bool = False
    is_head: bool = False
    is_alarm: bool = False
    said: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    line: Line
    rect: QRect
    texts: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...] = ()


class Lines(Drawn):
    """Shows lines; ← and → choose on the line that is chosen, and so do the arrows drawn there."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: tuple[Line, ...] = ()
        self._laid: tuple[_Laid, ...] = ()
        self._laid_for: tuple[object, ...] = ()

    def show_lines(self, lines: Sequence[Line], name: str) -> None:
        """Show other lines. name: what a screen reader calls the page."""
        self.lines = tuple(lines)
        self._laid_for = ()
        self.setAccessibleName(name)
        self.refresh()

    # Laying out.

    def _lay(self, width: int) -> tuple[_Laid, ...]:
        wanted = (width, px(100), self.lines)
        if self._laid_for != wanted:
            found, y = [], TOP
            for line in self.lines:
                laid = self._lay_one(line, y, width)
                found.append(laid)
                y = laid.rect.bottom() + 1
            self._laid, self._laid_for = tuple(found), wanted
        return self._laid

    def _lay_one(self, line: Line, y: int, width: int) -> _Laid:
        room = min(px(MOST_TEXT), width - 2 * LEFT)
        if line.is_title:
            return _Laid(line=line, rect=QRect(LEFT, y, room, px(PITCH) + GAP), texts=(line.text,))
        weight = 600 if line.is_alarm or line.is_head else 400
        if line.value is None and not line.cells:
            aside = self._key_width(line)
            texts = tuple(wrapped(line.text, room - aside, PIXELS, weight)) or ("",)
            high = px(PITCH) + px(LINE) * (len(texts) - 1) - (0 if line.id else px(5))
            return _Laid(line=line, rect=QRect(LEFT, y, room, high), texts=texts)
        name, value = px(NAME), px(VALUE)
        texts = tuple(wrapped(line.text, name - 12, PIXELS, weight)) or ("",)
        wide = self._cell_width(line, width)
        whole = (line.value or "", *line.cells)
        rooms = (value - 2 * px(ARROW) - 8, *(wide - 12 for _ in line.cells))
        cells = tuple(
            tuple(_fitting(each, room, weight)) for each, room in zip(whole, rooms, strict=True)
        )
        count = max(len(texts), *(len(each) for each in cells))
        high = px(PITCH) + px(LINE) * (count - 1)
        right = LEFT + name + value + wide * len(line.cells)
        return _Laid(line=line, rect=QRect(LEFT, y, right - LEFT, high), texts=texts, cells=cells)

    def _cell_width(self, line: Line, width: int) -> int:
        left = width - 2 * LEFT - px(NAME) - px(VALUE)
        return max(60, left // max(1, len(line.cells)))

    def _key_width(self, line: Line) -> int:
        return round(text_width(key_text(line.key), KEY_PIXELS, 600)) + 20 if line.key else 0

    def height_at(self, width: int) -> int:
        laid = self._lay(width)
        return (laid[-1].rect.bottom() if laid else 0) + TOP

    def spots_at(self, width: int) -> Sequence[Spot]:
        return [
            Spot(
                id=each.line.id,
                rect=each.rect.adjusted(-6, 1, 0, -1),
                name=each.line.said or each.line.text,
                description=each.line.said or each.line.text,
                do=each.line.do,
                key=each.line.key,
            )
            for each in self._lay(width)
            if each.line.id
        ]

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        shown = self.visibleRegion().boundingRect()
        for each in self._lay(width):
            if each.rect.intersects(shown) or shown.isEmpty():
                self._paint_one(painter, of, each, width)

    def _paint_one(self, painter: QPainter, of: Theme, laid: _Laid, width: int) -> None:
        line, rect = laid.line, laid.rect
        baseline = rect.y() + px(18)
        if line.is_title:
            low = baseline + GAP
            pens.words(painter, LEFT, low, line.text, of.ink, 17, 600, serif=True)
            return
        if line.id and line.id == self.at:
            pens.flat_rect(painter, rect.x() - 6, rect.y() + 1, 3, rect.height() - 2, of.ink)
        x: float = LEFT
        if line.key:
            x = paint_key(painter, of, x, baseline, line.key) + 8
        ink = of.miss if line.is_alarm else of.ink if line.id else of.ink2
        weight = 600 if line.is_alarm or line.is_head else 400
        for number, text in enumerate(laid.texts):
            pens.words(painter, x, baseline + px(LINE) * number, text, ink, PIXELS, weight)
        if laid.cells:
            self._paint_cells(painter, of, laid, width)

    def _paint_cells(self, painter: QPainter, of: Theme, laid: _Laid, width: int) -> None:
        line, rect = laid.line, laid.rect
        baseline, x = rect.y() + px(18), LEFT + px(NAME)
        if line.turn is not None:
            near = of.ink if line.id == self.at else of.ink3
            pens.words(painter, x + 4, baseline, "←", near, PIXELS, 600)
            pens.words(painter, x + px(VALUE) - px(ARROW), baseline, "→", near, PIXELS, 600)
        starts = [x + px(ARROW)]
        wide = self._cell_width(line, width)
        starts += [x + px(VALUE) + wide * number for number in range(len(line.cells))]
        for number, (start, texts) in enumerate(zip(starts, laid.cells, strict=True)):
            is_value = number == 0
            weight = 600 if line.is_head or (is_value and line.turn is not None) else 400
            ink = of.ink if is_value and not line.is_head else of.ink2
            for row, text in enumerate(texts):
                pens.words(painter, start, baseline + px(LINE) * row, text, ink, PIXELS, weight)
        bottom = rect.bottom()
        pens.flat_rect(painter, LEFT, bottom, rect.width(), 1, of.line)

    # Choosing.

    def line(self, identity: str | None) -> Line | None:
        """Return a line by its id."""
        return next((each for each in self.lines if each.id and each.id == identity), None)

    def press(self, key: Qt.Key) -> bool:
        """Do what a key stands for on one of the lines; whether there is such a line."""
        for line in self.lines:
            if line.do is not None and _key_of(line.key) == key:
                line.do()
                return True
        return False

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        here = self.line(self.at)
        ways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        by = ways.get(Qt.Key(event.key()))
        if by is not None and here is not None and here.turn is not None:
            here.turn(by)
        elif by is not None:
            event.accept()
        else:
            super().keyPressEvent(event)

    @guarded
    def mousePressEvent(self, event: QMouseEvent) -> None:
        point = event.position().toPoint()
        laid = next((each for each in self._laid if each.rect.contains(point)), None)
        if laid is None or laid.line.turn is None:
            super().mousePressEvent(event)
            return
        self.choose(laid.line.id)
        value = LEFT + px(NAME)
        if value <= point.x() < value + px(VALUE):
            laid.line.turn(-1 if point.x() < value + px(ARROW) else 1)


def _key_of(text: str) -> int | None:
    """Return the key whose cap says so; Enter and Esc are heard elsewhere."""
    if text.isdigit():
        return Qt.Key.Key_0 + int(text)
    return {"+": Qt.Key.Key_Plus, "−": Qt.Key.Key_Minus}.get(text)


def _fitting(text: str, room: float, weight: int) -> list[str]:
    """Return a text in lines of a width; a word too long for it ends in an ellipsis."""
    metrics = QFontMetricsF(font(PIXELS, weight))
    lines = wrapped(text, room, PIXELS, weight) or [""]
    return [metrics.elidedText(each, Qt.TextElideMode.ElideRight, room) for each in lines]
