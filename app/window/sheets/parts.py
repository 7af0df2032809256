"""The pages as they are seen, and beside them what can be done with them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter

from app.window.bits import paint_key, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheets.layout import HIGH, WIDE, Page
from app.window.sheets.paint import PagePainter
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words.keys import key_text

GAP, PAGE_WIDTH = 20, 800
PAD, TEXT = 20, 13


class Pages(Drawn):
    """All pages, one under the other, in the colours of the window.

    turned: another day is wanted, 1 for the next, -1 for the one before. What scrolls the pages
    would keep these keys to itself.
    """

    turned = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.pages: tuple[Page, ...] = ()

    def page_width(self, width: int) -> int:
        """Return how wide a page is drawn."""
        return min(width - 2 * GAP, px(PAGE_WIDTH))

    def _place(self, index: int, width: int) -> QRect:
        wide = self.page_width(width)
        high = round(wide * HIGH / WIDE)
        return QRect((width - wide) // 2, GAP + index * (high + GAP), wide, high)

    def height_at(self, width: int) -> int:
        count = len(self.pages)
        return self._place(count, width).top() if count else GAP

    def spots_at(self, width: int) -> Sequence[Spot]:
        scale = self.page_width(width) / WIDE
        found = []
        for index, page in enumerate(self.pages):
            place = self._place(index, width)
            for placed in page.blocks:
                if not placed.block.told:
                    continue
                r = placed.rect
                rect = QRect(
                    round(place.x() + r.x() * scale),
                    round(place.y() + r.y() * scale),
                    round(r.width() * scale),
                    round(r.height() * scale),
                )
                told = placed.block.told
                name = told.partition(".")[0]
                identity = f"{index} {placed.block.id}"
                found.append(Spot(id=identity, rect=rect, name=name, description=told))
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        seen = self.visibleRegion().boundingRect()
        scale = self.page_width(width) / WIDE
        for index, page in enumerate(self.pages):
            place = self._place(index, width)
            if not seen.isEmpty() and not place.intersects(seen):
                continue
            painter.save()
            painter.translate(place.topLeft())
            painter.scale(scale, scale)
            PagePainter(painter, of.ink, of.sheet).page(page)
            painter.restore()
            pens.frame(painter, place.adjusted(-1, -1, 1, 1), of.line)

    def top_page(self) -> int:
        """Return which page is on top of what is seen."""
        seen = self.visibleRegion().boundingRect()
        width = max(1, self.width())
        places = [self._place(index, width) for index in range(len(self.pages))]
        shown = (at for at, place in enumerate(places) if place.center().y() >= seen.top())
        return next(shown, 0)

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        way = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()), 0)
        if way and not held:
            self.turned.emit(way)
        else:
            super().keyPressEvent(event)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A line of the side. do: what it does; key: what is pressed for the same."""

    text: str
    id: str = ""
    key: str = ""
    do: Callable[[], object] | None = None
    is_title: bool = False
    is_strong: bool = False
    is_alarm: bool = False
    is_apart: bool = False


class Side(Drawn):
    """What is to be said of the sheets and what can be done with them."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: tuple[Said, ...] = ()

    def show_lines(self, lines: tuple[Said, ...]) -> None:
        """Show other lines."""
        self.lines = lines
        self.refresh()

    def _laid(self, width: int) -> tuple[list[tuple[Said, int, list[str], int]], int]:
        """Return each line with its top, its texts and their left, and where all ends."""
        y, found = PAD, []
        keys = [text_width(key_text(line.key), 11, 600) for line in self.lines if line.key]
        indent = PAD + round(max(keys, default=0)) + 22
        for line in self.lines:
            x = indent if line.key else PAD
            size, weight = (17, 600) if line.is_title else (TEXT, 600 if line.is_strong else 400)
            texts = wrapped(line.text, width - x - PAD, size, weight, serif=line.is_title)
            y += px(12) if line.is_apart else 0
            found.append((line, y, texts, x))
            y += px(22 if line.is_title else 18) * len(texts) + px(6)
        return found, y

    def height_at(self, width: int) -> int:
        return self._laid(width)[1] + PAD

    def spots_at(self, width: int) -> Sequence[Spot]:
        found = []
        for at, (line, y, texts, _) in enumerate(self._laid(width)[0]):
            high = px(22 if line.is_title else 18) * len(texts) + px(4)
            rect = QRect(8, y - px(2), width - 16, high)
            identity = line.id or f"line {at}"
            found.append(
                Spot(
                    id=identity,
                    rect=rect,
                    name=line.text,
                    description=line.text,
                    do=line.do,
                    key=line.key,
                )
            )
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        pens.flat_rect(painter, 0, 0, 1, self.height(), of.line)
        for line, y, texts, x in self._laid(width)[0]:
            ink = of.miss if line.is_alarm else of.ink
            step = px(22 if line.is_title else 18)
            size, weight = (17, 600) if line.is_title else (TEXT, 600 if line.is_strong else 400)
            if line.key:
                paint_key(painter, of, PAD, y + px(14), line.key)
            for number, text in enumerate(texts):
                base = y + px(14) + number * step
                pens.words(painter, x, base, text, ink, size, weight, serif=line.is_title)
