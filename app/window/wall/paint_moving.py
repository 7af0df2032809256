"""A stage on its way: dotted where it was, framed where it lies, and what is said of it."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.window.bits import wrapped
from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.layout import Layout
from app.window.wall.mover import Moving
from app.window.wall.paint_ribbons import paint_pattern

if TYPE_CHECKING:
    from app.window.wall.telling import Line

WIDEST, PADDING = 380, 10


def paint_moving(painter: QPainter, layout: Layout, theme: Theme, moving: Moving) -> None:
    """Paint it over the wall as it stands."""
    axis = layout.sizes.axis
    item = moving.item
    high = min(layout.thickness(item.hands), layout.heights[item.row])
    top = axis + layout.row_middle(item.row) - high // 2
    was = _box(layout, item.start, item.end, top, high)
    here = _box(layout, moving.judged.start, moving.judged.end, top, high)
    pens.flat_rects(painter, [was.adjusted(-1, -1, 1, 1)], theme.paper)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    pen = QPen(theme.ink2, 1)
    pen.setDashPattern([1, 2])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(was.adjusted(0, 0, -1, -1))
    if item.kind is not None:
        pens.flat_rects(painter, [here], theme.outlines[item.kind])
        inner = here.adjusted(1, 1, -1, -1)
        pens.flat_rects(painter, [inner], theme.fills[item.kind])
        paint_pattern(painter, theme, item.kind, [inner])
        if text_width(item.label, 11, 500) + 8 <= here.width() and high >= px(10):
            plate = QRect(here.x() + 1, here.y() + 1, round(text_width(item.label, 11, 500)) + 7, 0)
            plate.setHeight(here.height() - 2)
            pens.flat_rects(painter, [plate], theme.fills[item.kind])
            base = here.y() + here.height() / 2 + px(4)
            pens.words(painter, here.x() + 4, base, item.label, theme.on_fill, 11, 500)
    pens.frame(painter, here.adjusted(-2, -2, 2, 2), theme.paper, 2)
    pens.frame(painter, here.adjusted(-4, -4, 4, 4), theme.ink, 2)
    if moving.lines:
        _lines(painter, layout, theme, moving, here)


def _box(layout: Layout, start: int, end: int, top: int, high: int) -> QRect:
    left = layout.scale.x(start)
    return QRect(left, top, max(3, layout.scale.x(end) - left), high)


def _lines(painter: QPainter, layout: Layout, theme: Theme, moving: Moving, here: QRect) -> None:
    """Paint the lines below what is moved, above it where there is no room."""
    rows: list[tuple[str, Line]] = []
    for line in moving.lines:
        weight = 600 if line.is_bold else 400
        rows += [(text, line) for text in wrapped(line.text, WIDEST, 13, weight)]
    width = max(text_width(text, 13, 600 if of.is_bold else 400) for text, of in rows)
    size = QRect(0, 0, round(width) + 2 * PADDING, px(19) * len(rows) + PADDING + 2)
    at = _corner(layout, moving, here, size)
    box = QRect(at.x(), at.y(), size.width(), size.height())
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(QPen(theme.ink, 1.5))
    painter.setBrush(theme.sheet)
    painter.drawRoundedRect(QRectF(box).adjusted(0.75, 0.75, -0.75, -0.75), 3, 3)
    y = box.y() + px(17)
    for text, of in rows:
        ink = theme.miss if of.is_alarm else theme.ink if of.is_bold else theme.ink2
        pens.words(painter, box.x() + PADDING, y, text, ink, 13, 600 if of.is_bold else 400)
        y += px(19)


def _corner(layout: Layout, moving: Moving, here: QRect, size: QRect) -> QPoint:
    x = here.x() if moving.at is None else moving.at.x() + 14
    x = max(layout.sizes.margin, min(x, layout.width - size.width() - 8))
    y = here.bottom() + 12
    if y + size.height() > layout.height + layout.sizes.axis:
        y = here.y() - size.height() - 12
    return QPoint(x, max(layout.sizes.axis, y))
