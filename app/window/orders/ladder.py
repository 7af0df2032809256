"""The ladder of orders as a drawn part: figure, mark, what, and its days at the right."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from app.window.bits import paint_key, wrapped
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.masthead import paint_swatch
from app.window.orders.derive import Line
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot, beside
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from shared.book import Kind, MaterialKind

FIGURE_RIGHT, MARK_LEFT, WHAT_LEFT = 56, 72, 100
COLUMN, MARGIN, GAP, MOST_WIDTH = 92, 16, 20, 1080
HEAD, TITLE_BASE, LINE, PADDING = 62, 19, 16, 11
KIND_OF: dict[MaterialKind, Kind] = {
    MaterialKind.FOAM: Kind.FOAM,
    MaterialKind.FOAM_GLUE: Kind.FOAM,
    MaterialKind.MAT: Kind.LAMINATE,
    MaterialKind.RESIN: Kind.LAMINATE,
    MaterialKind.PEROXIDE: Kind.LAMINATE,
    MaterialKind.HARD_COAT: Kind.COAT,
    MaterialKind.FILLER: Kind.FILL,
    MaterialKind.PAINT: Kind.PAINT,
    MaterialKind.SEALANT: Kind.PACK,
    MaterialKind.ADHESIVE: Kind.PACK,
}
"""Whose pattern a material is marked with; others get an empty box."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """The words of a ladder: heading, column heads (the figure's first), act, and if empty."""

    title: str
    heads: tuple[str, ...]
    act: str
    late: str
    empty: str = ""
    foot: str = ""
    enter: str = ""


class Ladder(Drawn):
    """Rows by their day. Enter, or a click on the word at a row's right end, marks it.

    act: what is done with a line then; begin: what 1 does with one that comes too late.
    """

    def __init__(
        self,
        act: Callable[[Line], object],
        begin: Callable[[Line], object],
        *,
        is_sheet: bool = False,
    ) -> None:
        super().__init__()
        self._act, self._begin, self._is_sheet = act, begin, is_sheet
        self.lines: tuple[Line, ...] = ()
        self.said = Said(title="", heads=(), act="", late="")

    def show_lines(self, lines: tuple[Line, ...], said: Said) -> None:
        """Show other rows."""
        self.lines, self.said = lines, said
        self.setAccessibleName(said.title)
        self.refresh()

    @property
    def line(self) -> Line | None:
        """The row that is chosen, whichever of its spots it is."""
        wanted = (self.at or "").removesuffix(" act").removesuffix(" begin")
        return next((line for line in self.lines if line.id == wanted), None)

    # Laying out.

    def _columns(self) -> list[tuple[int, int]]:
        """Return the columns in which anything stands, each with its width."""
        found = []
        for at, head in enumerate(self.said.heads[2:]):
            cells = [line.cells[at] for line in self.lines if line.cells[at]]
            if cells:
                widths = [text_width(cell, 13, 600) for cell in cells]
                widest = max(text_width(head, 12), *widths)
                found.append((at, max(px(COLUMN), round(widest) + GAP)))
        return found

    def _rights(self, width: int) -> dict[int, int]:
        """Return the right edge of each column."""
        found, right = {}, width - MARGIN
        for at, wide in reversed(self._columns()):
            found[at] = right
            right -= wide
        return found

    def _what_width(self, width: int) -> int:
        columns = sum(wide for _, wide in self._columns())
        return width - MARGIN - columns - px(WHAT_LEFT) - 8

    def _texts(self, line: Line, width: int) -> list[tuple[str, bool]]:
        """Return the small lines under a title, and whether each is of what is late."""
        room = self._what_width(width) if line.cells else width - px(WHAT_LEFT) - MARGIN
        found = [(text, False) for each in line.small for text in wrapped(each, room, 12)]
        found = found or [("", False)]
        for each in line.alarms:
            found += [
                (text, True) for text in wrapped(each, width - px(WHAT_LEFT) - MARGIN, 12, 600)
            ]
        return found

    def _cure_lines(self, line: Line, width: int) -> list[str]:
        return wrapped(line.cure, width - px(WHAT_LEFT) - MARGIN - 24, 12) if line.cure else []

    def _row_height(self, line: Line, width: int) -> int:
        count = len(self._texts(line, width)) + len(self._cure_lines(line, width))
        return px(TITLE_BASE) + px(6) + px(LINE) * count + px(PADDING)

    def _rows(self, width: int) -> list[tuple[Line, QRect]]:
        y, found = px(HEAD), []
        for line in self.lines:
            height = self._row_height(line, width)
            found.append((line, QRect(6, y, width - 12, height)))
            y += height
        return found

    def height_at(self, width: int) -> int:
        width = min(width, px(MOST_WIDTH))
        rows = self._rows(width)
        end = rows[-1][1].bottom() + 1 if rows else px(HEAD) + px(30)
        return end + px(LINE) * len(self._foot(width)) + 24

    def _foot(self, width: int) -> list[str]:
        return wrapped(self.said.foot, width - 2 * MARGIN, 12) if self.said.foot else []

    def _act_rect(self, rect: QRect) -> QRect:
        wide = round(text_width(self.said.act, 12)) + 6
        return QRect(rect.right() - wide - 8, rect.y() + px(TITLE_BASE) + 5, wide, px(LINE) + 2)

    def _begin_rect(self, line: Line, rect: QRect, width: int) -> QRect:
        """Return where the cure stands."""
        y = rect.y() + px(TITLE_BASE) + px(6) + px(LINE) * len(self._texts(line, width))
        return QRect(px(WHAT_LEFT) - 4, y - 1, width - px(WHAT_LEFT) - MARGIN, px(18))

    def spots_at(self, width: int) -> Sequence[Spot]:
        width = min(width, px(MOST_WIDTH))
        found = []
        for line, rect in self._rows(width):
            said = f"{line.description} {self.said.enter}".strip()
            found.append(Spot(id=line.id, rect=rect, name=line.name, description=said))
            found.append(
                Spot(
                    id=f"{line.id} act",
                    rect=self._act_rect(rect),
                    name=self.said.act,
                    description=line.name,
                    do=partial(self._act, line),
                    key="Enter",
                )
            )
            if line.begin:
                found.append(
                    Spot(
                        id=f"{line.id} begin",
                        rect=self._begin_rect(line, rect, width),
                        name=line.cure,
                        description=line.cure,
                        do=partial(self._begin, line),
                        key="1",
                    )
                )
        return found

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        ground = of.sheet if self._is_sheet else of.paper
        pens.flat_rect(painter, 0, 0, width, self.height(), ground)
        if self._is_sheet:
            pens.flat_rect(painter, 0, 0, 1, self.height(), of.line)
        width = min(width, px(MOST_WIDTH))
        pens.words(painter, MARGIN, px(27), self.said.title, of.ink, 17, 600, serif=True)
        self._paint_heads(painter, of, width)
        y = px(HEAD)
        for line, rect in self._rows(width):
            self._paint_row(painter, of, line, rect, width)
            y = rect.bottom() + 1
        if not self.lines:
            pens.words(painter, px(WHAT_LEFT), px(HEAD) + px(20), self.said.empty, of.ink2, 13)
            y += px(30)
        for text in self._foot(width):
            y += px(LINE)
            pens.words(painter, MARGIN, y + 4, text, of.ink2, 12)

    def _paint_heads(self, painter: QPainter, of: Theme, width: int) -> None:
        if self.lines and self.said.heads:
            first, what, *others = self.said.heads
            _right(painter, px(FIGURE_RIGHT), px(50), first, of)
            pens.words(painter, px(WHAT_LEFT), px(50), what, of.ink2, 12)
            for at, right in self._rights(width).items():
                _right(painter, right, px(50), others[at], of)
        pens.flat_rect(painter, MARGIN, px(HEAD) - 3, width - 2 * MARGIN, 1, of.line)

    def _paint_row(self, painter: QPainter, of: Theme, line: Line, rect: QRect, width: int) -> None:
        is_chosen = self.line is line
        if is_chosen:
            pens.flat_rect(painter, rect.x(), rect.y(), rect.width(), rect.height() - 1, of.sheet)
            pens.flat_rect(painter, rect.x(), rect.y(), 3, rect.height() - 1, of.ink)
        y = rect.y() + px(TITLE_BASE)
        self._paint_figure(painter, of, line, y)
        _mark(painter, of, QRect(px(MARK_LEFT), y - px(11), 16, 12), line)
        pens.words(painter, px(WHAT_LEFT), y, line.title, of.ink, 14, 600)
        for at, right in self._rights(width).items():
            self._paint_cell(painter, of, line, at, right, y)
        y += px(6)
        for text, is_alarm in self._texts(line, width):
            ink, weight = (of.miss, 600) if is_alarm else (of.ink2, 400)
            pens.words(painter, px(WHAT_LEFT), y + px(12), text, ink, 12, weight)
            y += px(LINE)
        self._paint_cure(painter, of, line, y, width)
        self._paint_act(painter, of, self._act_rect(rect), is_chosen=is_chosen)
        bottom = rect.bottom()
        pens.flat_rect(painter, MARGIN, bottom, width - 2 * MARGIN, 1, of.line)

    def _paint_cell(
        self, painter: QPainter, of: Theme, line: Line, at: int, right: int, y: int
    ) -> None:
        """Write a cell to its right edge; the first column is the answer."""
        text, weight = line.cells[at], 600 if at == 0 else 400
        ink = of.ink2 if at else of.miss if line.is_late else of.ink
        pens.words(painter, right - text_width(text, 13, weight), y, text, ink, 13, weight)

    def _paint_figure(self, painter: QPainter, of: Theme, line: Line, y: int) -> None:
        ink = of.miss if line.is_late else of.ink
        wide = text_width(line.figure, 22, 400, serif=True)
        pens.words(
            painter, px(FIGURE_RIGHT) - wide, y + px(3), line.figure, ink, 22, 400, serif=True
        )
        if line.is_late and line.figure:
            left = px(FIGURE_RIGHT) - text_width(self.said.late, 11)
            pens.words(painter, left, y + px(18), self.said.late, of.miss, 11)

    def _paint_cure(self, painter: QPainter, of: Theme, line: Line, y: int, width: int) -> None:
        for number, text in enumerate(self._cure_lines(line, width)):
            x: float = px(WHAT_LEFT)
            if line.begin and number == 0:
                x = paint_key(painter, of, x, y + px(12), "1") + 6
            elif line.begin:
                x += 23
            pens.words(painter, x, y + px(12), text, of.ink, 12)
            y += px(LINE)

    def _paint_act(self, painter: QPainter, of: Theme, rect: QRect, *, is_chosen: bool) -> None:
        x, base = rect.x() + 3, rect.y() + px(13)
        if is_chosen:
            paint_key(painter, of, x - text_width("Enter", 11, 600) - 16, base, "Enter")
        ink = of.ink if is_chosen else of.ink2
        end = pens.words(painter, x, base, self.said.act, ink, 12)
        pens.flat_rect(painter, x, base + 3, round(end - x), 1, ink if is_chosen else of.line)

    # Keys.

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        line = self.line
        if not event.modifiers() and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._walk(-1 if key is Qt.Key.Key_Up else 1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and line is not None:
            spot = self.spot(self.at)
            if spot is not None and spot.do:
                spot.do()
            else:
                self._act(line)
        else:
            super().keyPressEvent(event)

    def _walk(self, by: int) -> None:
        """Go to the next row; the words in a row are reached by left and right."""
        rows = tuple(spot for spot in self.spots if spot.do is None)
        line = self.line
        here = self.spot(line.id) if line else None
        found = rows[:1] if here is None else (beside(rows, here, 0, by),)
        for each in found:
            if each is not None:
                self.choose(each.id)


def _right(painter: QPainter, right: int, y: int, text: str, of: Theme) -> None:
    pens.words(painter, right - text_width(text, 12), y, text, of.ink2, 12)


def _mark(painter: QPainter, of: Theme, rect: QRect, line: Line) -> None:
    """Paint the mark of an order: its work's pattern, or an empty box with a level line."""
    kind = KIND_OF.get(line.kind) if line.kind else None
    if kind is not None:
        paint_swatch(painter, of, rect, kind)
        return
    pens.frame(painter, rect, of.ink2, 1)
    pens.flat_rect(painter, rect.x(), rect.y() + 5, rect.width(), 1, of.ink2)
