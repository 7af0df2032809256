"""The ladder as a drawn part."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QPainter

from app.window.bits import wrapped
from app.window.countback.ladder import Mark, Rung, rung_text, spare_text
from app.window.countback.quiet import Quiet
from app.window.fonts import text_width
from app.window.masthead import paint_swatch
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_teeth
from app.words import Words
from app.words import countback_view as say
from shared.ids import StepId

HEAD = 62
LARGE_FROM = 440
LINE = 17


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Where the columns stand: left edges of mark and words, right edges of the figures."""

    left: int
    mark: int
    what: int
    latest: int
    planned: int | None
    spare: int


def columns_at(width: int, widest: int = 0) -> Columns:
    """Return the columns at a width; when it is planned is left out where there is no room.

    widest: how wide what is to spare is at most.
    """
    spare = width - 20
    is_large = width >= px(LARGE_FROM)
    planned = spare - max(px(48), widest + 10) if is_large else None
    latest = planned - px(76) if planned is not None else spare - max(px(66), widest + 10)
    return Columns(
        left=20 + px(34),
        mark=20 + px(46),
        what=20 + px(68),
        latest=latest,
        planned=planned,
        spare=spare,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    rung: Rung
    top: int
    height: int
    lines: tuple[str, ...]
    details: tuple[str, ...]


class LadderPart(Quiet):
    """A job counted back, rung by rung."""

    def __init__(self, pick: Callable[[StepId], object]) -> None:
        super().__init__()
        self._pick = pick
        self._rungs: tuple[Rung, ...] = ()
        self._words: Words | None = None

    def show_rungs(self, rungs: tuple[Rung, ...], words: Words) -> None:
        """Show another ladder."""
        self._rungs, self._words = rungs, words
        self.setAccessibleName(words.say(say.COUNTING_BACK))
        self.refresh()

    def show_step(self, step: StepId) -> None:
        """Choose the rung that a step stands on, without telling anybody."""
        found = next((r for r in self._rungs if step == r.step or step in r.alike), None)
        if found is not None and (self.at is None or found.id != self.at):
            self.reveal(found.id)

    def _columns(self, width: int) -> Columns:
        words = self._words
        spares = [spare_text(rung, words) for rung in self._rungs] if words is not None else []
        widest = max((text_width(text, 13, 600) for text in spares), default=0)
        return columns_at(width, round(widest))

    def _rows(self, width: int) -> list[_Row]:
        columns = self._columns(width)
        is_large = columns.planned is not None
        found, top = [], px(HEAD)
        for rung in self._rungs:
            room = columns.latest - columns.what - text_width(rung.latest, 13, 600) - 12
            lines = tuple(wrapped(rung.what, room, 13, 600))
            wide = columns.latest - columns.what
            details = tuple(wrapped(self._detail(rung), wide, 12))
            height = px(LINE) * (len(lines) + len(details)) + px(18 if is_large else 10)
            found.append(_Row(rung=rung, top=top, height=height, lines=lines, details=details))
            top += height
        return found

    def _detail(self, rung: Rung) -> str:
        """Return the second line; where no latest is known, also when it is planned."""
        if not rung.planned or rung.latest or self._words is None:
            return rung.detail
        planned = self._words.say(say.PLANNED_IN_LINE, moment=rung.planned)
        return f"{rung.detail}, {planned}" if rung.detail else planned

    def height_at(self, width: int) -> int:
        rows = self._rows(width)
        return rows[-1].top + rows[-1].height + 8 if rows else px(HEAD)

    def spots_at(self, width: int) -> Sequence[Spot]:
        if self._words is None:
            return ()
        return [self._spot(row, width, self._words) for row in self._rows(width)]

    def _spot(self, row: _Row, width: int, words: Words) -> Spot:
        step = row.rung.step
        return Spot(
            id=row.rung.id,
            rect=QRect(12, row.top, width - 24, row.height - 1),
            name=row.rung.what,
            description=rung_text(row.rung, words),
            do=None if step is None else lambda: self._pick(step),
        )

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        if self._words is None:
            return
        words, columns = self._words, self._columns(width)
        pens.flat_rect(painter, 0, 0, width, self.height(), of.sheet)
        pens.flat_rect(painter, 0, 0, 1, self.height(), of.line)
        pens.words(painter, 20, px(24), words.say(say.COUNTING_BACK), of.ink, 17, 600, serif=True)
        self._paint_heads(painter, of, columns, words)
        for row in self._rows(width):
            self._paint_row(painter, of, row, columns, words, width)

    def _paint_heads(self, painter: QPainter, of: Theme, columns: Columns, words: Words) -> None:
        y = px(48)
        pens.words(painter, 20, y, words.say(say.DAYS_LEFT), of.ink2, 12)
        pens.words(painter, columns.what, y, words.say(say.WHAT), of.ink2, 12)
        heads = [(columns.latest, say.AT_THE_LATEST), (columns.spare, say.TO_SPARE)]
        if columns.planned is not None:
            heads.append((columns.planned, say.PLANNED))
        for right, head in heads:
            _right(painter, right, y, words.say(head), of.ink2, 12)

    def _paint_row(
        self,
        painter: QPainter,
        of: Theme,
        row: _Row,
        columns: Columns,
        words: Words,
        width: int,
    ) -> None:
        rung = row.rung
        if self.at == rung.id:
            pens.flat_rect(painter, 12, row.top + 1, width - 24, row.height - 1, of.paper)
        pens.flat_rect(painter, 20, row.top, width - 40, 1, of.line)
        base = row.top + px(20 if columns.planned is not None else 17)
        if rung.days_left is not None:
            text = str(rung.days_left)
            x = columns.left - text_width(text, 22, 600, serif=True)
            pens.words(painter, x, base + px(4), text, of.ink, 22, 600, serif=True)
        _paint_mark(painter, of, rung, columns.mark, base - px(11))
        y = base
        for line in row.lines:
            pens.words(painter, columns.what, y, line, of.ink, 13, 600)
            y += px(LINE)
        for line in row.details:
            pens.words(painter, columns.what, y, line, of.ink2, 12)
            y += px(LINE)
        _right(painter, columns.latest, base, rung.latest, of.ink, 13, 600)
        if columns.planned is not None:
            _right(painter, columns.planned, base, rung.planned_day, of.ink2, 13)
        is_late = rung.spare_minutes is not None and rung.spare_minutes < 0
        ink = of.miss if is_late else of.ink
        _right(painter, columns.spare, base, spare_text(rung, words), ink, 13, 600)


def _right(
    painter: QPainter, right: int, y: int, text: str, ink: QColor, pixels: int, weight: int = 400
) -> None:
    x = right - text_width(text, pixels, weight)
    pens.words(painter, x, y, text, ink, pixels, weight)


def _paint_mark(painter: QPainter, of: Theme, rung: Rung, x: int, y: int) -> None:
    """Paint what a rung is, 12 pixels square."""
    if rung.kind is not None:
        paint_swatch(painter, of, QRect(x, y, 12, 12), rung.kind)
    elif rung.mark is Mark.WINDOW:
        pens.flat_rect(painter, x + 1, y, 10, 13, of.post)
        pens.flat_rect(painter, x + 3, y + 3, 6, 10, of.opening)
    elif rung.mark is Mark.LOADING:
        pens.flat_rect(painter, x + 5, y, 3, 12, of.ink)
    elif rung.mark is Mark.ANSWER:
        pens.flat_rects(painter, [QRect(x + 3, y, 1, 12), QRect(x + 7, y, 1, 12)], of.ink)
    elif rung.mark is Mark.TRIAL_FIT:
        paint_teeth(painter, of, x + 5, y - 1, y + 13)
    elif rung.mark is Mark.ORDER:
        pens.frame(painter, QRect(x, y + 1, 12, 10), of.ink2)
        pens.flat_rect(painter, x, y + 4, 12, 1, of.ink2)
    elif rung.mark is Mark.LEG:
        pens.flat_rect(painter, x, y + 4, 12, 5, of.ink2)
