"""Ways out as a drawn part: keys to try them by, what they change, what they cost, what comes."""

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import paint_key, wrapped
from app.window.countback.ways import WayRow
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_verdict
from app.words import Words
from app.words import countback_view as say

MARGIN, TITLE, LINE = 16, 40, 17
PRICE, LANDS, MARGIN_COLUMN = 130, 150, 150
TRACK_FROM = 720
"""From so wide a list on it shows where each way lands."""


class WaysPart(Drawn):
    """What would let a job keep its window."""

    def __init__(self, take: Callable[[int], object]) -> None:
        super().__init__()
        self._try = take
        self._rows: tuple[WayRow, ...] = ()
        self._words: Words | None = None
        self._sentence = self._listed = ""
        self.tried: int | None = None

    def show_rows(self, rows: tuple[WayRow, ...], sentence: str, listed: str, words: Words) -> None:
        """Show another list."""
        self._rows, self._sentence, self._listed = rows, sentence, listed
        self._words = words
        self.setAccessibleName(words.say(say.WAYS_TITLE))
        self.refresh()

    def _lines(self, row: WayRow, width: int) -> tuple[list[str], list[str]]:
        """Return what it changes, and what else comes of it."""
        assert self._words is not None
        room = width - 2 * MARGIN - px(40) - px(PRICE) - _track(width) - px(MARGIN_COLUMN)
        changes = [line for each in row.changes for line in wrapped(each, room, 13, 600)]
        more = [] if row.is_enough else [self._words.say(say.NOT_ENOUGH)]
        more += row.beside
        if row.number == self.tried:
            more.insert(0, self._words.say(say.WAY_TRIED))
        return changes, [line for each in more for line in wrapped(each, room, 12)]

    def _places(self, width: int) -> list[tuple[WayRow, QRect]]:
        top, found = px(TITLE), []
        for row in self._rows:
            changes, more = self._lines(row, width)
            height = px(LINE) * (len(changes) + len(more)) + px(16)
            found.append((row, QRect(MARGIN - 8, top, width - 2 * MARGIN + 16, height)))
            top += height
        return found

    def _foot(self) -> list[str]:
        return [text for text in (self._sentence, self._listed) if text]

    def height_at(self, width: int) -> int:
        if self._words is None:
            return 1
        places = self._places(width)
        bottom = px(TITLE) if not places else places[-1][1].y() + places[-1][1].height()
        lines = sum(len(wrapped(each, width - 2 * MARGIN, 13)) for each in self._foot())
        return bottom + px(LINE) * lines + px(24)

    def spots_at(self, width: int) -> Sequence[Spot]:
        return [self._spot(row, rect) for row, rect in self._places(width)]

    def _spot(self, row: WayRow, rect: QRect) -> Spot:
        assert self._words is not None
        parts = [*row.changes, row.price, row.margin, *row.beside]
        text = " ".join(each if each.endswith(".") else f"{each}." for each in parts if each)
        return Spot(
            id=f"way {row.number}",
            rect=rect,
            name=f"{row.number}. {row.changes[0] if row.changes else row.price}",
            description=text,
            do=lambda: self._try(row.number),
            key=str(row.number),
            is_chosen=row.number == self.tried,
        )

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        words = self._words
        if words is None:
            return
        title = words.say(say.WAYS_TITLE)
        pens.words(painter, MARGIN, px(24), title, of.ink, 17, 600, serif=True)
        if _track(width) and self._span() is not None:
            text = words.say(say.LANDS)
            x = width - MARGIN - px(MARGIN_COLUMN) - _track(width) + px(36)
            pens.words(painter, x, px(24), text, of.ink2, 12)
        for row, rect in self._places(width):
            self._paint_row(painter, of, row, rect, width)
        places = self._places(width)
        y = px(TITLE) if not places else places[-1][1].y() + places[-1][1].height()
        y += px(18)
        for each in self._foot():
            for line in wrapped(each, width - 2 * MARGIN, 13):
                pens.words(painter, MARGIN, y, line, of.ink2, 13)
                y += px(LINE)

    def _span(self) -> tuple[float, float] | None:
        """Return the seconds that hold all landings, with a little room."""
        times = [each.timestamp() for row in self._rows for each in (row.lands, row.latest) if each]
        if not times:
            return None
        room = max(86400.0, (max(times) - min(times)) * 0.25)
        return min(times) - room, max(times) + room

    def _paint_lands(self, painter: QPainter, of: Theme, row: WayRow, y: int, width: int) -> None:
        """Paint when loading ends beside when it has to, all ways to one scale."""
        span, room = self._span(), _track(width) - px(36)
        if span is None or room <= 0 or row.lands is None or row.latest is None:
            return
        left = width - MARGIN - px(MARGIN_COLUMN) - room

        def at(when: datetime) -> int:
            return left + round((when.timestamp() - span[0]) / (span[1] - span[0]) * room)

        post, end = at(row.latest), at(row.lands)
        pens.flat_rect(painter, left, y, room, 1, of.line)
        pens.flat_rect(painter, post - 1, y - px(8), 3, px(16), of.post)
        ink = of.ink if row.is_enough else of.miss
        pens.flat_rect(painter, left, y - 1, max(2, end - left), 2, ink)
        paint_verdict(painter, of, end, y, px(5), row.verdict)

    def _paint_row(
        self, painter: QPainter, of: Theme, row: WayRow, rect: QRect, width: int
    ) -> None:
        if row.number == self.tried:
            pens.flat_rect(painter, rect.x(), rect.y(), rect.width(), rect.height(), of.sheet)
            pens.flat_rect(painter, rect.x(), rect.y(), 3, rect.height(), of.ink)
        pens.flat_rect(painter, MARGIN, rect.y(), width - 2 * MARGIN, 1, of.line)
        base = rect.y() + px(20)
        paint_key(painter, of, MARGIN, base, str(row.number))
        changes, more = self._lines(row, width)
        x, y = MARGIN + px(40), base
        for line in changes:
            pens.words(painter, x, y, line, of.ink, 13, 600)
            y += px(LINE)
        for line in more:
            pens.words(painter, x, y, line, of.ink2, 12)
            y += px(LINE)
        self._paint_lands(painter, of, row, base - px(5), width)
        price_right = width - MARGIN - px(MARGIN_COLUMN) - _track(width)
        left = price_right - text_width(row.price, 13, 600)
        pens.words(painter, left, base, row.price, of.ink, 13, 600)
        ink = of.ink if row.is_enough else of.miss
        left = width - MARGIN - text_width(row.margin, 13, 600)
        pens.words(painter, left, base, row.margin, ink, 13, 600)
        if not _track(width):
            paint_verdict(painter, of, left - px(14), base - px(5), px(5), row.verdict)


def _track(width: int) -> int:
    """Return how much room the landings have."""
    return px(LANDS) if width >= px(TRACK_FROM) else 0
