"""The list of the parts of the workshop's page, at its left."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import paint_key
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens

ROW, TOP = 46, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A part: its name, its title, and what is to be mended in it, "" for nothing."""

    name: str
    title: str
    mend: str = ""


class Contents(Drawn):
    """Parts with their numbers; go: shows one."""

    def __init__(self, go: Callable[[str], object]) -> None:
        super().__init__()
        self._go = go
        self.entries: tuple[Entry, ...] = ()
        self.front = ""

    def show_entries(self, entries: tuple[Entry, ...], front: str, name: str) -> None:
        """Show the parts, one of them in front."""
        self.entries, self.front = entries, front
        self.setAccessibleName(name)
        self.refresh()

    def height_at(self, width: int) -> int:
        return px(TOP) + px(ROW) * len(self.entries)

    def spots_at(self, width: int) -> Sequence[Spot]:
        return [
            Spot(
                id=entry.name,
                rect=QRect(6, px(TOP) + px(ROW) * at, width - 12, px(ROW) - 4),
                name=entry.title,
                description=f"{entry.title}. {entry.mend}".strip(". ") + ".",
                do=partial(self._go, entry.name),
                key=str(at + 1),
                is_chosen=entry.name == self.front,
            )
            for at, entry in enumerate(self.entries)
        ]

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        for at, entry in enumerate(self.entries):
            y = px(TOP) + px(ROW) * at
            is_front = entry.name == self.front
            if is_front:
                pens.flat_rect(painter, 6, y, width - 12, px(ROW) - 4, of.sheet)
                pens.flat_rect(painter, 6, y, 3, px(ROW) - 4, of.ink)
            x = paint_key(painter, of, 16, y + px(20), str(at + 1)) + 8
            ink, weight = (of.ink, 600) if is_front else (of.ink2, 400)
            pens.words(painter, x, y + px(20), entry.title, ink, 14, weight)
            if entry.mend:
                pens.words(painter, x, y + px(36), entry.mend, of.miss, 12, 600)
        pens.flat_rect(painter, width - 1, 0, 1, self.height(), of.line)
