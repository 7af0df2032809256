"""How long cures last, written over what of them is in sight: never cut, so never kept."""

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter

from app.window.fonts import font, text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Item, Wall
from app.window.wall.layout import Layout, visible
from app.window.wall.paint_ribbons import cure_height

FROM_ROW, FROM_WIDTH = 18, 34
"""Rows so high and cures so wide have their hours over them."""


def cure_words(wall: Wall, layout: Layout) -> list[tuple[Item, float, int, str]]:
    """Return cures in sight, each with where its words begin, their baseline and what they are."""
    if layout.row < px(FROM_ROW):
        return []
    low, high = layout.sizes.margin, layout.names_x - 6
    first, last = layout.scale.minute(low), layout.scale.minute(high)
    found = []
    for index, row in enumerate(wall.rows):
        middle = layout.row_middle(index)
        if row.band in layout.folded or not -layout.row <= middle <= layout.height + layout.row:
            continue
        edge = min(high, layout.ground_right(wall.bands[row.band]))
        for cure in visible(row.cures, first, last):
            a = max(layout.scale.x(cure.start), low)
            b = min(layout.scale.x(cure.end), edge)
            text = cure.label if text_width(cure.label, 11, 500) <= b - a else cure.short
            width = text_width(text, 11, 500)
            if b - a >= FROM_WIDTH and width <= b - a:
                top = middle - cure_height(layout) // 2
                found.append((cure, (a + b - width) / 2, top - 2, text))
    return found


def paint_cure_words(
    painter: QPainter, wall: Wall, layout: Layout, theme: Theme, lit: frozenset[str] | None
) -> None:
    """Write them; pale where they lie under a veil."""
    written = cure_words(wall, layout)
    if not written:
        return
    pale = pens.veiled(theme)
    painter.setFont(font(11, 500))
    for cure, x, y, text in written:
        is_past = wall.is_stale or cure.end <= wall.now
        is_veiled = is_past if lit is None else cure.id not in lit
        painter.setPen(pale if is_veiled else theme.ink2)
        painter.drawText(QPointF(x, y), text)
