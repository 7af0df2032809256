"""The money of an enquiry as a table, for the owner's eyes; hidden with all other money."""

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import largest, wrapped
from app.window.enquiry.dots import TITLE_SIZES
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import enquiry_view as say
from app.words.owner_enquiry import MoneyRow

_TOP, _ROW, _LINE = 40, 21, 15


class Table(Drawn):
    """What an enquiry costs for the date that is looked at, line by line."""

    def __init__(self) -> None:
        super().__init__()
        self.words = Words()
        self.rows: tuple[MoneyRow, ...] = ()
        self.title = self.note = ""
        self.is_hidden = False

    def show_rows(
        self, rows: tuple[MoneyRow, ...], title: str, note: str, words: Words, *, is_hidden: bool
    ) -> None:
        """Show other sums. is_hidden: none of them is seen or read out."""
        self.rows = () if is_hidden else rows
        self.title, self.note = title, note
        self.words, self.is_hidden = words, is_hidden
        self.setAccessibleName(title)
        self.refresh()

    def height_at(self, width: int) -> int:
        """Return how high title, rows and the note are."""
        notes = 0 if not self.rows else len(self._notes(width))
        return self._tops(width)[-1] + (0 if self.rows else px(_ROW)) + px(16) * notes + px(8)

    def _lines(self, row: MoneyRow, width: int) -> list[str]:
        """Return what a sum is for, in as many lines as it needs left of the sum."""
        weight = 600 if row.is_answer else 400
        return wrapped(row.what, width - 20 - text_width(row.amount, 13, 600), 13, weight)

    def _tops(self, width: int) -> list[int]:
        """Return where each row begins, and where the last ends."""
        tops = [px(_TOP)]
        for row in self.rows:
            more = max(0, len(self._lines(row, width)) - 1)
            tops.append(tops[-1] + px(_ROW) + more * px(_LINE))
        return tops

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each line."""
        tops = self._tops(width)
        return [
            Spot(
                id=f"money {at}",
                rect=QRect(0, top - px(8), width - 8, end - top - 1),
                name=row.what,
                description=row.line,
            )
            for at, (row, (top, end)) in enumerate(zip(self.rows, pairwise(tops), strict=True))
        ]

    def _notes(self, width: int) -> list[str]:
        return wrapped(self.note, width - 8, 12)

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the title, and the lines unless they are hidden."""
        size = largest(self.title, width - 8, TITLE_SIZES, 600, serif=True)
        pens.words(painter, 0, px(22), self.title, of.ink, size, 600, serif=True)
        if self.is_hidden:
            pens.words(painter, 0, px(_TOP + 6), self.words.say(say.MONEY_HIDDEN), of.ink2, 13)
            return
        tops = self._tops(width)
        for row, (top, end) in zip(self.rows, pairwise(tops), strict=True):
            self._paint_row(painter, of, row, top, width)
            pens.flat_rect(painter, 0, end - px(9), width - 8, 1, of.line)
        for number, line in enumerate(self._notes(width) if self.rows else ()):
            pens.words(painter, 0, tops[-1] + px(6 + 16 * number), line, of.ink2, 12)

    def _paint_row(self, painter: QPainter, of: Theme, row: MoneyRow, top: int, width: int) -> None:
        baseline = top + px(6)
        ink = of.miss if row.is_short else of.ink
        weight = 600 if row.is_answer else 400
        first = of.ink if row.is_answer else of.ink2
        for number, line in enumerate(self._lines(row, width)):
            pens.words(painter, 0, baseline + number * px(_LINE), line, first, 13, weight)
        at = width - 8 - text_width(row.amount, 13, 600)
        pens.words(painter, at, baseline, row.amount, ink, 13, 600)
