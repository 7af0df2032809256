"""The ghost of a wall: what will stand there, dotted, with a word at each thing."""

from collections.abc import Iterator
from datetime import date, timedelta

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import first as say

_AXIS = 46
ROWS = 4
WIDE = 1366
PAST_DAYS = 4
DAYS = 118
WINDOW_DAY = 71
WINDOW_DAYS = 4.3
BLOCKS = (
    *((3.5, 6.0, 0.8), (10.0, 4.0, 0.6), (15.5, 2.5, 1.0), (18.4, 4.6, 0.25)),
    *((23.3, 5.5, 0.8), (30.4, 1.9, 0.6), (32.6, 2.9, 0.25), (35.9, 2.2, 0.6)),
    (38.4, 3.5, 0.25),
)
"""Of each row: first day, days, part of the row's height; a quarter is a cure."""
ANSWER_DAY = 18.8
ROW_STEP_DAYS = 2.2
LEFT = 16


class Ghost:
    """Where things lie in a picture so wide and high; today is a Monday's neighbour or not."""

    def __init__(self, width: int, height: int, today: date, words: Words) -> None:
        self.width, self.height = width, height
        self.today, self.words = today, words
        self.per_day = (width - 2 * LEFT) / DAYS

    def x(self, days: float) -> float:
        """Return where a day from today lies."""
        return LEFT + (PAST_DAYS + days) * self.per_day

    @property
    def pitch(self) -> float:
        """How far rows lie apart."""
        return (self.height - px(_AXIS) - 44) / ROWS

    def row(self, number: int) -> float:
        """Return the middle of a row."""
        return px(_AXIS) + 58 + number * self.pitch


def paint_ghost(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    """Paint the axis, the ground, dotted work, one answer, one window, and what each is."""
    _paint_ground(painter, of, ghost)
    _paint_axis(painter, of, ghost)
    for number in range(ROWS):
        _paint_row(painter, of, ghost, number)
    _paint_answer(painter, of, ghost)
    _paint_window(painter, of, ghost)
    _paint_words(painter, of, ghost)


def _dates(ghost: Ghost) -> Iterator[tuple[int, date]]:
    for days in range(-PAST_DAYS, DAYS - PAST_DAYS):
        yield days, ghost.today + timedelta(days=days)


def _paint_ground(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    end = round(ghost.x(WINDOW_DAY))
    top, tall = px(_AXIS), ghost.height - px(_AXIS)
    offs, mondays = [], []
    for days, day in _dates(ghost):
        x = round(ghost.x(days))
        if x >= end:
            break
        if day.weekday() == 5:
            offs.append(QRect(x, top, min(round(2 * ghost.per_day), end - x), tall))
        elif day.weekday() == 0:
            mondays.append(QRect(x, top, 1, tall))
    pens.flat_rects(painter, offs, of.off)
    pens.flat_rects(painter, mondays, of.line)


def _paint_axis(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    words = ghost.words
    room = 0.0
    for days, day in _dates(ghost):
        x = round(ghost.x(days))
        month = words.day(day, after=day).split()[-1]
        if day.day == 1 or days == -PAST_DAYS:
            label = f"{month} {day.year}" if day.month == 1 or days == -PAST_DAYS else month
            if x >= room:
                room = pens.words(painter, x + 4, px(14), label, of.ink, 14, 600, serif=True) + 12
            if day.day == 1:
                pens.flat_rect(painter, x, 2, 1, px(_AXIS), of.ink3)
        if day.weekday() == 0:
            pens.words(painter, x + 3, px(32), str(day.day), of.ink2, 12)
    pens.flat_rect(painter, 0, px(_AXIS), ghost.width, 1, of.ink)


def _paint_row(painter: QPainter, of: Theme, ghost: Ghost, number: int) -> None:
    middle, off = ghost.row(number), number * ROW_STEP_DAYS
    tall = min(26.0, ghost.pitch * 0.5)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    pen = QPen(of.ink3, 1, c=Qt.PenCapStyle.FlatCap)
    pen.setDashPattern([1, 3])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    end = 0.0
    for first, days, thick in BLOCKS:
        high = max(5, round(tall * thick))
        x, end = round(ghost.x(first + off)), ghost.x(first + off + days)
        painter.drawRect(QRect(x, round(middle - high / 2), round(end) - x, high))
    stop = round(ghost.x(WINDOW_DAY - 2.6))
    pens.flat_rects(
        painter,
        [QRect(round(end) + 8, round(middle) + dy, stop - round(end) - 8, 1) for dy in (-4, 4)],
        of.line,
    )


def _paint_answer(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    x = round(ghost.x(ANSWER_DAY))
    top = round(ghost.row(0) - ghost.pitch * 0.4)
    tall = round(ghost.row(ROWS - 1) + ghost.pitch * 0.3) - top
    pens.flat_rects(painter, [QRect(x, top, 1, tall), QRect(x + 4, top, 1, tall)], of.ink3)


def _paint_window(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    left, wide = round(ghost.x(WINDOW_DAY)), round(WINDOW_DAYS * ghost.per_day)
    top = px(_AXIS) + 24
    pens.flat_rect(painter, left, top, wide, ghost.height - top, of.opening)
    if not of.is_dark:
        sides = [QRect(left + dx, top, 2, ghost.height - top) for dx in (0, wide - 2)]
        pens.flat_rects(painter, sides, of.post)
    pens.flat_rect(painter, left - 4, top - 3, wide + 8, 3, of.post)
    _paint_journey(painter, of, ghost, left)


def _paint_journey(painter: QPainter, of: Theme, ghost: Ghost, window: int) -> None:
    """Paint loading, and four lines of it that come together before the window."""
    bar = round(ghost.x(WINDOW_DAY - 2.6))
    first, last = ghost.row(0), ghost.row(ROWS - 1)
    pens.flat_rect(painter, bar, first - 16, 3, last - first + 32, of.ink3)
    middle = (first + last) / 2
    for number in range(ROWS):
        path = QPainterPath(QPointF(bar + 3, ghost.row(number)))
        near = window - 10
        path.cubicTo(
            QPointF(near, ghost.row(number)), QPointF(bar + 3, middle), QPointF(near, middle)
        )
        pens.outline_path(painter, path, of.ink3, 1)
    pens.flat_rect(painter, window - 10, middle - 5, 10, 10, of.ink)
    painter.setPen(of.paper)
    painter.drawLine(QLineF(window - 7, middle, window - 3, middle))


def _paint_words(painter: QPainter, of: Theme, ghost: Ghost) -> None:
    words = ghost.words
    x = round(ghost.x(0))
    pens.flat_rect(painter, x, px(_AXIS), 2, ghost.height - px(_AXIS), of.ink)
    _plated(painter, of, x + 8, px(_AXIS + 18), words.say(say.GHOST_TODAY), 600)
    _italic(painter, of, ghost.x(5), ghost.row(0) - 24, words.say(say.GHOST_WORK))
    _italic(painter, of, ghost.x(55), ghost.row(0) - 10, words.say(say.GHOST_SPARE))
    below = ghost.row(ROWS - 1) + ghost.pitch * 0.32
    _italic(painter, of, ghost.x(ANSWER_DAY) + 12, below, words.say(say.GHOST_ANSWER))
    left = ghost.x(WINDOW_DAY + WINDOW_DAYS) + 12
    pens.words(painter, left, px(_AXIS + 40), words.say(say.GHOST_WINDOW), of.ink, 15, 600)
    for number, line in enumerate(words.say(say.GHOST_WINDOW_NOTE).splitlines()):
        pens.words(painter, left, px(_AXIS + 60 + 17 * number), line, of.ink2, 13)


def _plated(painter: QPainter, of: Theme, x: float, y: float, text: str, weight: int = 400) -> None:
    width = text_width(text, 13, weight)
    painter.fillRect(QRectF(round(x) - 3, round(y) - px(13), round(width) + 6, px(17)), of.paper)
    pens.words(painter, x, y, text, of.ink, 13, weight)


def _italic(painter: QPainter, of: Theme, x: float, y: float, text: str) -> None:
    width = text_width(text, 14, serif=True, italic=True)
    painter.fillRect(QRectF(round(x) - 3, round(y) - px(13), round(width) + 6, px(18)), of.paper)
    pens.words(painter, x, y, text, of.ink2, 14, serif=True, italic=True)
