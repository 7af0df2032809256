"""The way of making as a strip of the segment's own ribbon, with the figures under each step."""

from collections.abc import Sequence

from PySide6.QtCore import QLine, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter

from app.window.bits import paint_cure
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.masthead import paint_swatch
from app.window.sheet.made import Made
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_teeth
from app.window.wall.paint_ribbons import paint_pins
from shared.book import GateKind, Kind
from shared.ids import StepId

LEFT = 24
LEAST_PITCH = 78
GAP = 10
RIBBON, NAME, LINE = 46, 62, 16
ROWS = 4
_SHARES = {1: 60, 2: 80}
_DIGITS = "0123456789"


class Strip(Drawn):
    """Steps from left to right; arrows go along it, a digit types over the hours of the chosen.

    typed: a figure was begun with this character. pressed: a key that changes the steps.
    """

    typed = Signal(str)
    pressed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._made: tuple[Made, ...] = ()
        self._widths: tuple[int, ...] = ()

    def show_steps(self, made: tuple[Made, ...], chosen: StepId | None) -> None:
        """Show other steps."""
        self._made = made
        self._widths = tuple(_wide(each) for each in made)
        self.setMinimumWidth(LEFT + sum(self._widths))
        self.at = None if chosen is None else str(chosen)
        self.refresh()
        if self.at is not None and (spot := self.spot(self.at)) is not None:
            area = self._area()
            if area is not None:
                area.ensureVisible(spot.rect.center().x(), 10, spot.rect.width(), 0)

    @property
    def steps(self) -> tuple[Made, ...]:
        """What is shown."""
        return self._made

    @guarded
    def height_at(self, width: int) -> int:
        return px(NAME + LINE * ROWS + 8)

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each step."""
        tall = self.height_at(width) - 4
        return [
            Spot(id=str(each.step), rect=QRect(x, 2, wide - 4, tall), name=each.read)
            for each, x, wide in self._columns(width)
        ]

    def _columns(self, width: int) -> list[tuple[Made, int, int]]:
        spare = max(0, width - LEFT - sum(self._widths)) // max(1, len(self._made))
        x, found = LEFT - 8, []
        for each, wide in zip(self._made, self._widths, strict=True):
            wider = wide + min(spare, 40)
            found.append((each, x, wider))
            x += wider
        return found

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the ribbon, then what stands under it."""
        columns = self._columns(width)
        middle = px(RIBBON) // 2 + 4
        if columns:
            last = columns[-1]
            pens.flat_rect(painter, LEFT, middle, last[1] + last[2] - LEFT - 12, 1, of.line)
        for made, x, wide in columns:
            if str(made.step) == self.at:
                self._frame(painter, of, x, wide)
            self._mark(painter, of, made, x + 8, middle, wide - 16)
            self._figures(painter, of, made, x + 8)

    def _frame(self, painter: QPainter, of: Theme, x: int, wide: int) -> None:
        rect = QRect(x, 2, wide - 4, self.height_at(wide) - 4)
        pens.flat_rect(painter, rect.x(), rect.y(), rect.width(), rect.height(), of.sheet)
        if not self.hasFocus():
            pens.frame(painter, rect, of.ink, 2)

    def _mark(
        self, painter: QPainter, of: Theme, made: Made, x: int, middle: int, wide: int
    ) -> None:
        if made.kind is not None:
            self._block(painter, of, made, x, middle, wide)
        elif made.gate is GateKind.ANSWER:
            pens.dotted(painter, [QLine(x, middle, x + wide, middle)], of.ink3)
            bars = [QRect(x + 14 + dx, middle - px(22), 1, px(44)) for dx in (0, 4)]
            pens.flat_rects(painter, bars, of.ink)
        elif made.gate is GateKind.TRIAL_FIT:
            paint_teeth(painter, of, x + 14, middle - px(22), middle + px(22))
        elif made.gate is not None:
            pens.flat_rect(painter, x + 12, middle - px(18), 3, px(36), of.ink)
        else:
            pens.flat_rect(painter, x, middle - 4, 26, 8, of.ink)
            dashes = [QRect(each, middle - 1, 4, 2) for each in range(x + 3, x + 24, 7)]
            pens.flat_rects(painter, dashes, of.paper)

    def _block(
        self, painter: QPainter, of: Theme, made: Made, x: int, middle: int, wide: int
    ) -> None:
        kind = made.kind
        assert kind is not None
        tall = px(RIBBON - 14) * _SHARES.get(made.hands, 100) // 100
        block = 10 + round(min(made.length, 1) * (wide * 0.62 - 10))
        if made.cure:
            _cure(painter, of, kind, x + block, middle, 6 + round(made.cure * wide * 0.34))
        rect = QRect(x, middle - tall // 2, block, tall)
        paint_swatch(painter, of, rect, kind)
        if made.is_pinned:
            paint_pins(painter, of, [QPoint(x + 2, rect.y() - 1)])

    def _figures(self, painter: QPainter, of: Theme, made: Made, x: int) -> None:
        y = px(NAME)
        pens.words(painter, x, y, made.name, of.ink, 13, 600)
        for line in _lines(made):
            y += px(LINE)
            if line != made.hours:
                pens.words(painter, x, y, line, of.ink2, 12)
                continue
            if made.is_typed:
                end = pens.words(painter, x, y, line, of.ink, 13, serif=True, italic=True)
            else:
                end = pens.words(painter, x, y, line, of.ink, 13, 600)
            pens.words(painter, end + 5, y, made.range, of.ink2, 11)

    # Keys.

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = _key_name(event)
        if name:
            self.pressed.emit(name)
        elif event.text() and event.text() in _DIGITS:
            self.typed.emit(event.text())
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.typed.emit("")
        else:
            super().keyPressEvent(event)


_KEYS: dict[tuple[Qt.Key, Qt.KeyboardModifier], str] = {
    (Qt.Key.Key_Insert, Qt.KeyboardModifier.NoModifier): "stage",
    (Qt.Key.Key_Insert, Qt.KeyboardModifier.ShiftModifier): "answer",
    (Qt.Key.Key_Insert, Qt.KeyboardModifier.ControlModifier): "fit",
    (Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier): "remove",
    (Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier): "again",
    (Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier): "earlier",
    (Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier): "later",
}


def _key_name(event: QKeyEvent) -> str:
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    return _KEYS.get((Qt.Key(event.key()), held), "")


def _lines(made: Made) -> list[str]:
    return [line for line in (made.people, made.hours, made.waits, made.across) if line]


def _wide(made: Made) -> int:
    hours = text_width(made.hours, 13, 600) + 5 + text_width(made.range, 11)
    lines = [text_width(made.name, 13, 600), hours]
    lines += [text_width(line, 12) for line in (made.people, made.waits, made.across)]
    return max(LEAST_PITCH, round(max(lines)) + 16 + GAP)


def _cure(painter: QPainter, of: Theme, kind: Kind, x: int, middle: int, wide: int) -> None:
    tall = max(6, px(RIBBON - 14) * 34 // 100)
    paint_cure(painter, of, QRect(x, middle - tall // 2, wide, tall), kind)
