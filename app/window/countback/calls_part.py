"""The calls and dates that a moved window makes necessary, in lines above the strands."""

from collections.abc import Sequence

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import wrapped
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens

LEFT, TITLE_PIXELS, TEXT_PIXELS, LINE = 24, 15, 13, 19
_TOP = 34


class CallsPart(Drawn):
    """Reads out what is to be done once the window moves; hidden while none does."""

    def __init__(self) -> None:
        super().__init__()
        self.title = ""
        self.lines: tuple[str, ...] = ()
        self.hide()

    def show_lines(self, title: str, lines: tuple[str, ...]) -> None:
        """Show other lines; none hide it."""
        self.title, self.lines = title, lines
        self.setAccessibleName(title)
        self.setVisible(bool(lines))
        self.refresh()

    def _laid(self, width: int) -> list[list[str]]:
        room = max(px(120), width - 2 * LEFT)
        return [wrapped(line, room, TEXT_PIXELS) for line in self.lines]

    def height_at(self, width: int) -> int:
        return px(_TOP) + px(LINE) * sum(len(each) for each in self._laid(width)) + px(10)

    def spots_at(self, width: int) -> Sequence[Spot]:
        found, top = [], px(_TOP)
        for number, (line, parts) in enumerate(zip(self.lines, self._laid(width), strict=True)):
            rect = QRect(LEFT - 6, top, width - 2 * LEFT + 12, px(LINE) * len(parts))
            found.append(Spot(id=f"call {number}", rect=rect, name=line))
            top += rect.height()
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        pens.words(painter, LEFT, px(24), self.title, of.ink, TITLE_PIXELS, 600, serif=True)
        parts = (part for each in self._laid(width) for part in each)
        for number, part in enumerate(parts):
            y = px(_TOP) + px(LINE) * number + px(12)
            pens.words(painter, LEFT, y, part, of.ink2, TEXT_PIXELS)
