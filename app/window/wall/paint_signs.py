"""Small signs on ribbons: how far work is, recoat times, abrading, letters of waits."""

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Wall
from app.window.wall.layout import Layout, visible

BOX = 7
RING = 8
_HALF = "running"


class Signs:
    """Collects the signs of what is in sight, then paints each sort of stroke in one call."""

    def __init__(self) -> None:
        self._boxes: dict[str, list[QRect]] = {"done": [], "running": [], "told": []}
        self._brackets: list[QRect] = []
        self._wedges: list[QPointF] = []
        self._figures: list[tuple[float, float, str]] = []

    def box(self, block: QRect, stands: str) -> None:
        """Put a box, as on the sheets, at the lower left of a block."""
        x = block.x() + 2 if block.width() >= BOX + 4 else block.x() + (block.width() - BOX) // 2
        self._boxes[stands].append(QRect(x, block.y() + block.height() - BOX + 2, BOX, BOX))

    def wedge(self, block: QRect) -> None:
        """Put a wedge above a block that abrades."""
        self._wedges.append(QPointF(block.x() + block.width() / 2, block.y() - 1))

    def bracket(self, left: int, right: int, y: int) -> None:
        """Put a bracket from a thin post to a thick one."""
        self._brackets += [
            QRect(left, y, right - left, 1),
            QRect(left, y - 3, 1, 7),
            QRect(right - 2, y - 3, 2, 7),
        ]

    def figure(self, block: QRect, after: float, text: str) -> None:
        """Write the hours that somebody gave behind the name in a block."""
        x = block.x() + after + 2
        if x + text_width(text, 11, serif=True, italic=True) + 3 <= block.x() + block.width():
            self._figures.append((x, block.y() + block.height() / 2 + px(4), text))

    def paint(self, painter: QPainter, theme: Theme) -> None:
        """Paint them all."""
        pens.flat_rects(painter, self._brackets, theme.ink)
        if self._wedges:
            pens.fill_path(painter, _wedges(self._wedges), theme.ink)
        paint_boxes(painter, theme, self._boxes)
        for x, y, text in self._figures:
            pens.words(painter, x, y, text, theme.on_fill, 11, serif=True, italic=True)


def paint_past_boxes(painter: QPainter, theme: Theme, wall: Wall, layout: Layout) -> None:
    """Paint the boxes of what is past once more over its veil: they ask for an answer."""
    signs, first = Signs(), layout.scale.minute(layout.sizes.margin)
    last = min(wall.now, layout.scale.minute(layout.names_x))
    for index, row in enumerate(wall.rows):
        middle = layout.row_middle(index)
        if row.band in layout.folded or not -layout.row < middle < layout.height + layout.row:
            continue
        for item in visible(row.blocks, first, last):
            if item.stands:
                high = layout.thickness(item.hands)
                left = layout.scale.x(item.start)
                right = layout.scale.x((item.rough or ((item.start, item.end),))[0][1])
                box = QRect(left, middle - high // 2, max(3, right - left), high)
                signs.box(box, item.stands)
    signs.paint(painter, theme)


def paint_recoat(
    painter: QPainter, theme: Theme, wall: Wall, layout: Layout, coat: str | None
) -> None:
    """Paint the recoat time of a coat, chosen or pointed at; of all coats only from near."""
    cure = wall.item(f"cure {coat}")
    if cure is None or cure.recoat is None or cure.band in layout.folded:
        return
    a, b = layout.scale.x(cure.recoat[0]), layout.scale.x(cure.recoat[1])
    left, right = max(a, layout.sizes.margin), min(b, layout.names_x - 6)
    if left < right:
        signs = Signs()
        signs.bracket(left, right, layout.row_middle(cure.row) + layout.row // 2 - 2)
        signs.paint(painter, theme)


def paint_boxes(painter: QPainter, theme: Theme, boxes: dict[str, list[QRect]]) -> None:
    """Paint boxes: filled when done, half when running, open when told and not confirmed."""
    every = [box for group in boxes.values() for box in group]
    pens.flat_rects(painter, every, theme.ink)
    bare = [box.adjusted(1, 1, -1, -1) for name in ("running", "told") for box in boxes[name]]
    pens.flat_rects(painter, bare, theme.paper)
    half = [QRect(b.x() + 1, b.y() + 1, b.width() // 2 - 1, b.height() - 2) for b in boxes[_HALF]]
    pens.flat_rects(painter, half, theme.ink)


def _wedges(points: list[QPointF]) -> QPainterPath:
    path = QPainterPath()
    for point in points:
        path.moveTo(point.x() - 4, point.y() - 5)
        path.lineTo(point.x() + 4, point.y() - 5)
        path.lineTo(point)
        path.closeSubpath()
    return path


def paint_letter(painter: QPainter, theme: Theme, x: float, y: float, letter: str) -> None:
    """Paint a letter in a ring about a point."""
    r = px(RING)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(theme.paper)
    painter.setPen(theme.ink)
    painter.drawEllipse(QRectF(x - r, y - r, 2 * r, 2 * r))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    width = text_width(letter, 11, 600)
    pens.words(painter, x - width / 2, y + px(4), letter, theme.ink, 11, 600)
