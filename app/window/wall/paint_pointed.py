"""What lies over the wall: what the people pointed at do besides, and what has changed since."""

from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QPainter

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import moves, pens
from app.window.wall.items import Item, Role, Wall
from app.window.wall.layout import Layout
from app.window.wall.paint_signs import paint_recoat

DASH, GAP, REACH = 4, 3, 4
SPAN_ALPHA = 40


def paint_pointed(
    painter: QPainter, wall: Wall, layout: Layout, theme: Theme, hovered: str | None
) -> None:
    """Frame what the people of a block do with it at the same time, and bracket its recoat time."""
    for item in moves.partners(wall, hovered):
        box = _block_box(layout, item)
        if box is not None:
            pens.frame(painter, box.adjusted(-3, -3, 3, 3), theme.ink, 1)
    paint_recoat(painter, theme, wall, layout, hovered)


def paint_span(
    painter: QPainter, layout: Layout, theme: Theme, span: tuple[float, float] | None
) -> None:
    """Mark a span along the axis, with a line down the wall at either end."""
    if span is None:
        return
    low, high = layout.sizes.margin, layout.width
    left, right = (min(max(layout.scale.x(minute), low), high) for minute in span)
    foot = layout.sizes.axis
    band = QRect(left, px(32), max(1, right - left), foot - px(32) - 1)
    marked = QColor(theme.ink)
    marked.setAlpha(SPAN_ALPHA)
    pens.flat_rects(painter, [band], marked)
    pens.flat_rects(painter, [QRect(left, foot - 4, right - left, 4)], theme.ink)
    ends = [QRect(x, px(32), 1, layout.height + foot - px(32)) for x in (left, right)]
    pens.flat_rects(painter, ends, theme.ink)


def paint_since(painter: QPainter, wall: Wall, layout: Layout, theme: Theme) -> None:
    """Frame in dashes what has changed since the plan on show, each with what it was."""
    written: list[QRect] = []
    for identity, text in wall.since:
        item = wall.item(identity)
        box = None if item is None else _box(layout, item)
        if box is None:
            continue
        frame = box.adjusted(-REACH, -REACH, REACH, REACH)
        dashed_frame(painter, theme, frame)
        width = round(text_width(text, 11, 600))
        room = QRect(frame.x(), frame.y() - px(14), width + 6, px(14))
        room.moveRight(min(room.right(), layout.names_x - 8))
        if not any(room.intersects(each) for each in written):
            written.append(room)
            pens.words_on_plate(
                painter, room.x() + 3, room.bottom() - 2, text, theme.ink, theme.paper, 11, 600
            )


def _box(layout: Layout, item: Item) -> QRect | None:
    if item.role is Role.BLOCK:
        return _block_box(layout, item)
    found = layout.rect(item)
    box = QRect(found.x, found.y, found.width, found.height)
    inside = layout.sizes.margin <= box.x() and box.right() <= layout.names_x - 6
    return box if inside and item.band not in layout.folded else None


def _block_box(layout: Layout, item: Item) -> QRect | None:
    """Return where a block lies, None where it is out of sight."""
    if item.band in layout.folded:
        return None
    middle = layout.row_middle(item.row)
    high = min(layout.thickness(item.hands), layout.heights[item.row])
    left, right = _cut(layout, *layout.span_x(item))
    if left >= right or not -high < middle < layout.height + high:
        return None
    return QRect(left, middle - high // 2, right - left, high)


def _cut(layout: Layout, left: int, right: int) -> tuple[int, int]:
    return max(left, layout.sizes.margin), min(right, layout.names_x - 6)


def dashed_frame(painter: QPainter, theme: Theme, box: QRect) -> None:
    """Draw a frame of dashes inside a rectangle."""
    step = DASH + GAP
    rects = []
    for x in range(box.x(), box.right(), step):
        wide = min(DASH, box.right() - x + 1)
        rects += [QRect(x, box.y(), wide, 2), QRect(x, box.bottom() - 1, wide, 2)]
    for y in range(box.y(), box.bottom(), step):
        high = min(DASH, box.bottom() - y + 1)
        rects += [QRect(box.x(), y, 2, high), QRect(box.right() - 1, y, 2, high)]
    pens.flat_rects(painter, rects, theme.ink)
