"""The chain of a job as one line in time with lettered waits, and its days, as drawn parts."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import QPointF, QRect
from PySide6.QtGui import QPainter, QPainterPath

from app.window.bits import paint_cure, wrapped
from app.window.countback.one_job import OneJob
from app.window.countback.why import Block, Cause, Gap, Told
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import DAY_MINUTES, instant_at
from app.window.wall.paint_marks import paint_teeth, torn
from app.window.wall.paint_ribbons import paint_pattern
from app.words import Words, calendar
from app.words import countback_view as say
from app.words import window as wording

MARGIN, LATE_ROOM = 16, 90
TITLE, AXIS, BODY, BAR, LINE = 32, 34, 118, 30, 17
COLUMN = 240


def month_names(words: Words, months: Sequence[tuple[int, date]]) -> list[tuple[int, str]]:
    """Return the months that have room before the next one; the first of them with its year."""
    found: list[tuple[int, str]] = []
    for at, (x, day) in enumerate(months):
        name = calendar.month(words, day, with_year=not found or day.month == 1)
        end = x + 13 + text_width(name, 14, 600, serif=True)
        if at + 1 == len(months) or end <= months[at + 1][0]:
            found.append((x, name))
    return found


class ChainPart(Drawn):
    """What decides the date."""

    def __init__(self) -> None:
        super().__init__()
        self._one: OneJob | None = None
        self._told: Told | None = None
        self._words: Words | None = None
        self._note = ""

    def show_chain(self, one: OneJob, told: Told | None, words: Words, note: str) -> None:
        """Show another chain; note: what to say while there is none."""
        self._one, self._told, self._words, self._note = one, told, words, note
        self.setAccessibleName(words.say(say.CHAIN_TITLE))
        self.refresh()

    # Where things lie.

    def _columns(self, width: int) -> int:
        count = len(self._told.causes) if self._told else 0
        return max(2, min(count, (width - 2 * MARGIN) // px(COLUMN)))

    def _cells(self, width: int) -> list[tuple[Cause, QRect, list[str]]]:
        if self._told is None:
            return []
        count = self._columns(width)
        cell = (width - 2 * MARGIN) // count
        top = px(TITLE + AXIS + BODY) + 8
        found: list[tuple[Cause, QRect, list[str]]] = []
        causes = self._told.causes
        for start in range(0, len(causes), count):
            row = causes[start : start + count]
            told = [wrapped(each.text, cell - px(44), 12) for each in row]
            height = px(LINE) * max(len(lines) for lines in told) + px(22)
            for at, (cause, lines) in enumerate(zip(row, told, strict=True)):
                rect = QRect(MARGIN + at * cell, top, cell - 8, height)
                found.append((cause, rect, lines))
            top += height
        return found

    def height_at(self, width: int) -> int:
        if self._told is None:
            return px(TITLE) + px(30)
        cells = self._cells(width)
        bottom = px(TITLE + AXIS + BODY) + 8
        if cells:
            bottom = max(rect.y() + rect.height() for _, rect, _ in cells)
        return bottom + px(LINE) * len(self._last_lines(width)) + 8

    def _last_lines(self, width: int) -> list[str]:
        if self._told is None:
            return []
        told = " ".join((*self._told.known, self._told.sum_line))
        return wrapped(told.strip(), width - 2 * MARGIN, 12)

    def _x(self, width: int, minute: float) -> int:
        assert self._told is not None
        told = self._told
        room = width - 2 * MARGIN - px(LATE_ROOM)
        return MARGIN + round((minute - told.first) / max(1, told.last - told.first) * room)

    def _rect(self, width: int, start: int, end: int) -> QRect:
        left, right = self._x(width, start), self._x(width, end)
        top = px(TITLE + AXIS) + (px(BODY) - px(BAR)) // 2
        return QRect(left, top, max(3, right - left), px(BAR))

    def spots_at(self, width: int) -> Sequence[Spot]:
        if self._told is None or self._words is None:
            return ()
        found = [
            Spot(
                id=f"block {at}",
                rect=self._rect(width, block.start, block.end),
                name=block.name,
                description=self._block_text(block),
            )
            for at, block in enumerate(self._told.blocks)
        ]
        for cause, rect, _ in self._cells(width):
            text = f"{cause.letter}: {cause.text}"
            name = f"{cause.letter}, {cause.amount}" if cause.amount else cause.letter
            found.append(Spot(id=f"cause {cause.letter}", rect=rect, name=name, description=text))
        return found

    def _block_text(self, block: Block) -> str:
        assert self._words is not None
        start, end = instant_at(block.start), instant_at(block.end)
        return f"{block.name}. {wording.short_span(self._words, start, end)}."

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        if self._words is None:
            return
        words, told = self._words, self._told
        title = words.say(say.CHAIN_TITLE)
        end = pens.words(painter, MARGIN, px(24), title, of.ink, 17, 600, serif=True)
        if told is None or self._one is None:
            pens.words(painter, MARGIN, px(TITLE) + px(16), self._note, of.ink2, 13)
            return
        pens.words(painter, end + 12, px(24), words.say(say.CHAIN_NOTE), of.ink2, 12)
        self._paint_ground(painter, of, width, self._one, words)
        self._paint_window(painter, of, width, self._one)
        for gap in told.gaps:
            self._paint_gap(painter, of, width, gap)
        for block in told.blocks:
            self._paint_block(painter, of, width, block)
        before = 0
        for cause in told.causes:
            before = max(before, self._x(width, cause.at))
            _letter(painter, of, before, self._middle, cause.letter)
            before += px(20)
        self._paint_causes(painter, of, width)

    @property
    def _middle(self) -> int:
        return px(TITLE + AXIS) + px(BODY) // 2

    def _paint_ground(
        self, painter: QPainter, of: Theme, width: int, one: OneJob, words: Words
    ) -> None:
        assert self._told is not None
        top, height = px(TITLE + AXIS), px(BODY)
        months: list[tuple[int, date]] = []
        for day in one.wall.days:
            if not self._told.first - DAY_MINUTES < day.start < self._told.last:
                continue
            x, right = self._x(width, day.start), self._x(width, day.end)
            if day.is_off:
                left = max(MARGIN, x)
                pens.flat_rect(painter, left, top, right - left, height, of.off)
            if day.date.weekday() == 0 and x >= MARGIN:
                pens.flat_rect(painter, x, top, 1, height, of.line)
                pens.words(painter, x + 3, top - 4, str(day.date.day), of.ink2, 12)
            if day.date.day == 1 or x <= MARGIN < right:
                months.append((max(x, MARGIN), day.date))
        for x, name in month_names(words, months):
            pens.words(painter, x + 3, top - px(19), name, of.ink, 14, 600, serif=True)
        pens.flat_rect(painter, MARGIN, top - 1, width - 2 * MARGIN, 1, of.ink)

    def _paint_gap(self, painter: QPainter, of: Theme, width: int, gap: Gap) -> None:
        a, b = self._x(width, gap.start), self._x(width, gap.end)
        if gap.kind is None:
            dots = [QRect(x, self._middle, 1, 1) for x in range(a + 3, b - 1, 4)]
            pens.flat_rects(painter, dots, of.ink2)
            return
        if b - a < 2:
            return
        paint_cure(painter, of, QRect(a, self._middle - px(5), b - a, px(10)), gap.kind)

    def _paint_block(self, painter: QPainter, of: Theme, width: int, block: Block) -> None:
        rect = self._rect(width, block.start, block.end)
        if block.is_trial_fit:
            paint_teeth(painter, of, rect.x(), rect.y() - 8, rect.bottom() + 8)
        if block.kind is None:
            lines = [QRect(rect.x() + dx, rect.y() - 6, 1, rect.height() + 12) for dx in (0, 4)]
            pens.flat_rects(painter, lines, of.ink)
            return
        inner = rect.adjusted(1, 1, -1, -1)
        if block.is_other:
            pens.flat_rects(painter, [rect], of.ink2)
            pens.flat_rects(painter, [inner], of.sheet)
        else:
            pens.flat_rects(painter, [rect], of.outlines[block.kind])
            pens.flat_rects(painter, [inner], of.fills[block.kind])
            paint_pattern(painter, of, block.kind, [inner])
        wide = text_width(block.label, 12, 500)
        if wide + 8 < rect.width():
            ink, plate = (
                (of.ink, of.sheet) if block.is_other else (of.on_fill, of.fills[block.kind])
            )
            y = rect.y() + rect.height() // 2 + px(4)
            pens.words_on_plate(painter, rect.x() + 5, y, block.label, ink, plate, 12, 500)

    def _paint_window(self, painter: QPainter, of: Theme, width: int, one: OneJob) -> None:
        window, late = one.band.window, one.band.late
        if window is None:
            return
        top, height = px(TITLE + AXIS) + 6, px(BODY) - 6
        left = self._x(width, window.start)
        right = max(left + 9, self._x(width, window.end))
        pens.flat_rect(painter, left, top, right - left, height, of.opening)
        pens.flat_rects(
            painter, [QRect(left - 2, top, 2, height), QRect(right, top, 2, height)], of.post
        )
        pens.flat_rect(painter, left - 6, top - 3, right - left + 12, 3, of.post)
        if late is not None:
            end = max(right + 24, self._x(width, late.end))
            low = top + height
            path = torn(right + 3, end, low - px(16), low)
            pens.fill_path(painter, path, of.missbg)
            pens.outline_path(painter, path, of.miss, 1)
            text = one.band.late_text
            pens.words(painter, end + 6, low - px(3), text, of.miss, 13, 600)

    def _paint_causes(self, painter: QPainter, of: Theme, width: int) -> None:
        for cause, rect, lines in self._cells(width):
            middle = rect.y() + px(13)
            _letter(painter, of, rect.x() + px(10), middle, cause.letter)
            x, y = rect.x() + px(28), middle + px(5)
            if cause.amount:
                pens.words(painter, x, y, cause.amount, of.ink, 13, 600)
                y += px(LINE)
            for line in lines:
                pens.words(painter, x, y, line, of.ink2, 12)
                y += px(LINE)
        y = self.height_at(width) - 8 - px(LINE) * len(self._last_lines(width)) + px(12)
        for line in self._last_lines(width):
            pens.words(painter, MARGIN, y, line, of.ink2, 12)
            y += px(LINE)


def _letter(painter: QPainter, of: Theme, x: int, y: int, letter: str) -> None:
    """Paint a letter in a ring about a point."""
    r = px(9)
    path = QPainterPath()
    path.addEllipse(QPointF(x, y), r, r)
    pens.fill_path(painter, path, of.paper)
    pens.outline_path(painter, path, of.ink, 1.3)
    pens.words(painter, x - text_width(letter, 12, 600) / 2, y + px(4), letter, of.ink, 12, 600)


class DaysPart(Drawn):
    """Where the days go, to one scale."""

    NAME, ROW = 150, 25

    def __init__(self) -> None:
        super().__init__()
        self._told: Told | None = None
        self._words: Words | None = None

    def show_days(self, told: Told | None, words: Words) -> None:
        """Show other days."""
        self._told, self._words = told, words
        self.setAccessibleName("" if told is None else words.say(say.DAYS_TITLE, total=told.total))
        self.refresh()

    def _rows(self, width: int) -> list[tuple[int, list[str]]]:
        """Return the top of each row and its name in lines."""
        found: list[tuple[int, list[str]]] = []
        top = px(TITLE) + 8
        for share in self._told.shares if self._told else ():
            lines = wrapped(share.name, px(self.NAME) - 12, 13)
            found.append((top, lines))
            top += max(px(self.ROW), px(LINE) * len(lines) + 6) + (px(14) if share.worth else 0)
        return found

    def height_at(self, width: int) -> int:
        if self._told is None:
            return 1
        rows = self._rows(width)
        return (rows[-1][0] + px(60)) if rows else px(TITLE)

    def spots_at(self, width: int) -> Sequence[Spot]:
        if self._told is None:
            return ()
        return [
            Spot(
                id=f"share {share.what.value}",
                rect=QRect(MARGIN, top, width - 2 * MARGIN, px(self.ROW) - 2),
                name=share.name,
                description=". ".join(t for t in (share.name, share.amount, share.worth) if t)
                + ".",
            )
            for share, (top, _) in zip(self._told.shares, self._rows(width), strict=True)
        ]

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        told, words = self._told, self._words
        if told is None or words is None or not told.shares:
            return
        title = words.say(say.DAYS_TITLE, total=told.total)
        pens.words(painter, MARGIN, px(24), title, of.ink, 17, 600, serif=True)
        most = max(share.minutes for share in told.shares)
        left = MARGIN + px(self.NAME)
        room = width - left - px(150)
        for share, (top, lines) in zip(told.shares, self._rows(width), strict=True):
            y = top + px(16)
            for line in lines:
                x = left - 10 - text_width(line, 13)
                pens.words(painter, x, y, line, of.ink, 13)
                y += px(LINE)
            long = max(2, round(share.minutes / most * room))
            _bar(painter, of, share.what.value, QRect(left, top + px(4), long, px(15)))
            end = pens.words(painter, left + long + 8, top + px(16), share.amount, of.ink, 13, 600)
            for letter in share.letters:
                _letter(painter, of, round(end + px(16)), top + px(11), letter)
                end += px(22)
            if share.worth:
                pens.words(painter, left, top + px(33), share.worth, of.ink2, 12)


def _bar(painter: QPainter, of: Theme, what: str, rect: QRect) -> None:
    """Paint a length of days: work full, cures hatched, waits dotted, all else hollow."""
    if what == "work":
        pens.flat_rects(painter, [rect], of.ink2)
    elif what == "journey":
        pens.flat_rects(painter, [rect], of.ink)
    elif what == "cure":
        lines = pens.hatch_lines(rect.x(), rect.y(), rect.width(), rect.height(), 5)
        pens.slanted(painter, lines, of.ink2)
        pens.frame(painter, rect, of.ink2)
    elif what in {"client", "people", "place", "outside", "weather", "recoat"}:
        y = rect.y() + rect.height() // 2
        dots = [QRect(x, y, 2, 2) for x in range(rect.x(), rect.right(), 6)]
        pens.flat_rects(painter, dots, of.ink)
    else:
        pens.flat_rects(painter, [rect], of.ink3)
        pens.flat_rects(painter, [rect.adjusted(1, 1, -1, -1)], of.off)
