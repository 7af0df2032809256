"""Lines to choose from: the enquiries of the book, and ways out of a miss."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import paint_key, wrapped
from app.window.enquiry.ways import Name, Way
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from shared.ids import JobId

LEFT, GAP = 16, 22
_LINE = 17


class Names(Drawn):
    """The enquiries of the book in a line; the one that is looked at is underlined."""

    def __init__(self, choose: Callable[[JobId], object]) -> None:
        super().__init__()
        self._choose = choose
        self.names: tuple[Name, ...] = ()
        self.looked_at: JobId | None = None

    def show_names(self, names: tuple[Name, ...], looked_at: JobId | None, title: str) -> None:
        """Show other names."""
        self.names, self.looked_at = names, looked_at
        self.setAccessibleName(title)
        self.refresh()

    def height_at(self, width: int) -> int:
        """Return the height of as many lines as the names take."""
        spots = self.spots_at(width)
        return (spots[-1].rect.bottom() + px(4)) if spots else 0

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each name, one after the other."""
        found, x, y = [], LEFT, px(8)
        for name in self.names:
            weight = 600 if name.job == self.looked_at else 400
            more = f"  {name.more}" if name.more else ""
            wide = round(text_width(name.name, 14, weight) + text_width(more, 12)) + 8
            if x > LEFT and x + wide > width - LEFT:
                x, y = LEFT, y + px(26)
            found.append(
                Spot(
                    id=f"enquiry {name.job}",
                    rect=QRect(x - 4, y, wide, px(24)),
                    name=name.name,
                    description=f"{name.name} {name.more}".strip(),
                    do=partial(self._choose, name.job),
                    is_chosen=name.job == self.looked_at,
                )
            )
            x += wide + GAP
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the names."""
        for name, spot in zip(self.names, self.spots, strict=True):
            is_front = name.job == self.looked_at
            x, y = spot.rect.x() + 4, spot.rect.y()
            weight, ink = (600, of.ink) if is_front else (400, of.ink2)
            end = pens.words(painter, x, y + px(16), name.name, ink, 14, weight)
            if is_front:
                pens.flat_rect(painter, x, y + px(20), round(end) - x, 2, of.ink)
            if name.more:
                pens.words(painter, end + 8, y + px(16), name.more, of.ink2, 12)


class Ways(Drawn):
    """Ways out of a miss, cheapest first; one is tried by its number."""

    def __init__(self, try_way: Callable[[int], object]) -> None:
        super().__init__()
        self._try_way = try_way
        self.ways: tuple[Way, ...] = ()
        self.title = self.empty = ""

    def show_ways(self, ways: tuple[Way, ...], title: str, empty: str) -> None:
        """Show other ways. empty: what is said where there are none."""
        self.ways, self.title, self.empty = ways, title, empty
        self.setAccessibleName(title)
        self.refresh()

    def _lines(self, way: Way, width: int) -> list[tuple[str, int]]:
        room = width - LEFT - px(50)
        head = [(line, 600) for line in wrapped(way.head, room, 13, 600)]
        return head + [(line, 400) for text in way.lines for line in wrapped(text, room, 13)]

    def height_at(self, width: int) -> int:
        """Return the height of the title and all ways."""
        if not self.title:
            return 0
        lines = sum(len(self._lines(way, width)) for way in self.ways)
        extra = 0 if self.ways else len(wrapped(self.empty, width - LEFT - 20, 13))
        return px(40) + px(_LINE) * (lines + extra) + px(8) * len(self.ways)

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each way."""
        found, y = [], px(36)
        for way in self.ways:
            height = px(_LINE) * len(self._lines(way, width))
            found.append(
                Spot(
                    id=f"way {way.number}",
                    rect=QRect(LEFT - 4, y - 2, width - LEFT - 12, height + 4),
                    name=way.head,
                    description=way.line,
                    do=partial(self._try_way, way.number),
                    key=str(way.number),
                )
            )
            y += height + px(8)
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the title, and each way with the key that tries it."""
        if not self.title:
            return
        pens.flat_rect(painter, LEFT, 0, width - 2 * LEFT, 1, of.line)
        pens.words(painter, LEFT, px(24), self.title, of.ink, 17, 600, serif=True)
        if not self.ways:
            for at, line in enumerate(wrapped(self.empty, width - LEFT - 20, 13)):
                pens.words(painter, LEFT, px(48 + _LINE * at), line, of.ink2, 13)
        for way, spot in zip(self.ways, self.spots, strict=True):
            y = spot.rect.y() + 2 + px(13)
            paint_key(painter, of, LEFT, y, str(way.number))
            for text, weight in self._lines(way, width):
                ink = of.ink if weight == 600 else of.ink2
                pens.words(painter, LEFT + px(26), y, text, ink, 13, weight)
                y += px(_LINE)
