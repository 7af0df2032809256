"""The piece of a job as a small sketch: segments to scale, each with the work it has reached."""

from collections.abc import Sequence
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QTransform

from app.window.countback.drawing import path_of
from app.window.countback.outline import NoDrawing
from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Band, Shape, Wall
from app.window.wall.layout import Layout
from app.window.wall.paint_names import names_width
from app.window.wall.paint_ribbons import paint_pattern
from shared.ids import SegmentId

PERSON_M = 1.7
APART = 3
LEAST, MOST = 34, 64
LEAST_CORNER = 420
LEFT_OF_SMALL, LEFT_OF_LARGE = 132, 160
CHOSEN, PLAIN = 3, 1.1
Placed = tuple[tuple[Shape, QPainterPath], ...]


def placed(shapes: Sequence[Shape], area: QRectF) -> tuple[Placed, float]:
    """Return the segments in an area, standing on its foot, and the pixels of a metre.

    Their own outlines if they have any, else boxes in as many rows as make them largest.
    """
    drawn = [(shape, path) for shape in shapes if (path := _outline(shape.outline)) is not None]
    if drawn:
        return _drawn(drawn, area)
    best: tuple[Placed, float] = ((), 0.0)
    for rows in range(1, min(3, len(shapes)) + 1):
        made = _in_rows(shapes, area, rows)
        if made[1] > best[1] * 1.15:
            best = made
    return best


@lru_cache(maxsize=256)
def _outline(data: str) -> QPainterPath | None:
    """Return an outline; what a book of other hands has and can't be read is left out."""
    try:
        return path_of(data) if data else None
    except NoDrawing:
        return None


def _drawn(drawn: list[tuple[Shape, QPainterPath]], area: QRectF) -> tuple[Placed, float]:
    bounds = QRectF()
    for _, path in drawn:
        bounds = bounds.united(path.boundingRect())
    scale = min(
        area.width() / max(bounds.width(), 1e-9), area.height() / max(bounds.height(), 1e-9)
    )
    shift = QTransform()
    left = area.x() + (area.width() - bounds.width() * scale) / 2
    shift.translate(left, area.bottom() - bounds.height() * scale)
    shift.scale(scale, scale)
    shift.translate(-bounds.x(), -bounds.y())
    shape, path = max(drawn, key=lambda pair: pair[0].high)
    metre = scale * path.boundingRect().height() / shape.high
    return tuple((shape, shift.map(path)) for shape, path in drawn), metre


def _in_rows(shapes: Sequence[Shape], area: QRectF, rows: int) -> tuple[Placed, float]:
    count = -(-len(shapes) // rows)
    lines = [shapes[at : at + count] for at in range(0, len(shapes), count)]
    widths = [sum(shape.wide for shape in line) for line in lines]
    heights = [max(shape.high for shape in line) for line in lines]
    across = min((area.width() - APART * len(ln)) / w for ln, w in zip(lines, widths, strict=True))
    scale = min(across, (area.height() - APART * len(lines)) / sum(heights))
    if scale <= 0:
        return (), 0.0
    found: list[tuple[Shape, QPainterPath]] = []
    foot = area.bottom()
    for line, wide, high in reversed(list(zip(lines, widths, heights, strict=True))):
        x = area.x() + (area.width() - wide * scale - APART * (len(line) - 1)) / 2
        for shape in line:
            box = QRectF(x, foot - shape.high * scale, shape.wide * scale, shape.high * scale)
            path = QPainterPath()
            round_by = min(box.width(), box.height()) / 8
            path.addRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), round_by, round_by)
            found.append((shape, path))
            x += box.width() + APART
        foot -= high * scale + APART
    return tuple(found), scale


def paint_piece(
    painter: QPainter, of: Theme, at: Placed, chosen: SegmentId | None, ground: QColor
) -> None:
    """Paint segments: filled with the pattern that they have reached, else with the ground."""
    for shape, path in at:
        if shape.reached is None:
            pens.fill_path(painter, path, ground)
        else:
            pens.fill_path(painter, path, of.fills[shape.reached])
            painter.save()
            painter.setClipPath(path)
            inside = [path.boundingRect().toAlignedRect()]
            paint_pattern(painter, of, shape.reached, inside)
            painter.restore()
        width = CHOSEN if shape.segment == chosen else PLAIN
        pens.outline_path(painter, path, of.ink if shape.is_known else of.ink3, width)


def paint_person(painter: QPainter, of: Theme, left: float, ground: float, scale: float) -> float:
    """Paint somebody 1.7 m tall; return where that ends."""
    tall = PERSON_M * scale
    wide, head = tall * 0.24, tall * 0.075
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    path.addEllipse(QPointF(left + wide / 2, ground - tall + head), head, head)
    path.addRoundedRect(
        QRectF(left, ground - tall + head * 2.4, wide, tall * 0.45), wide / 4, wide / 4
    )
    for side in (0.12, 0.54):
        path.addRect(QRectF(left + wide * side, ground - tall * 0.45, wide * 0.34, tall * 0.45))
    pens.fill_path(painter, path, of.ink2)
    return left + wide


def paint_sketches(
    painter: QPainter, wall: Wall, layout: Layout, of: Theme, bands: Sequence[Band], *, kept: bool
) -> None:
    """Paint each job's piece beside its names, where there is room. kept: as a kept picture."""
    for band in bands:
        area = sketch_area(wall, layout, band)
        if area is None:
            continue
        if kept:
            ratio = painter.device().devicePixelRatioF()
            size = QSize(round(area.width()), round(area.height()))
            image = _picture(band.shapes, size.width(), size.height(), of, ratio)
            painter.drawImage(area.topLeft(), image)
        else:
            at = placed(band.shapes, area.adjusted(0.5, 0.5, -0.5, -0.5))[0]
            paint_piece(painter, of, at, None, of.paper)


@lru_cache(maxsize=64)
def _picture(shapes: tuple[Shape, ...], width: int, height: int, of: Theme, ratio: float) -> QImage:
    image = QImage(
        round(width * ratio), round(height * ratio), QImage.Format.Format_ARGB32_Premultiplied
    )
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    try:
        at = placed(shapes, QRectF(0.5, 0.5, width - 1, height - 1))[0]
        paint_piece(painter, of, at, None, of.paper)
    finally:
        painter.end()
    return image


def sketch_area(wall: Wall, layout: Layout, band: Band) -> QRectF | None:
    """Return where a job's piece lies: right of the segments' names, None where it has no room."""
    if not band.shapes or layout.is_folded(band):
        return None
    x = layout.names_left(band)
    rows = wall.rows[band.first_row : band.first_row + band.row_count]
    names = max(text_width(row.name, 13, 600) for row in rows) + px(15) + 10
    left = x + max(px(LEFT_OF_LARGE if layout.header >= px(24) else LEFT_OF_SMALL), names)
    top, bottom = layout.rows_top(band) + 1, layout.band_bottom(band)
    side = min(float(px(MOST)), bottom - top, layout.width - 8 - left)
    if side < px(LEAST):
        return None
    return QRectF(round(left), top, round(side), round(side))


def free_corner(wall: Wall, layout: Layout) -> tuple[int, int]:
    """Return how wide and high the room is right of the names and pieces of the uppermost jobs."""
    left, bottom = 0, layout.height - 8
    for band in wall.bands:
        edge = layout.names_left(band) + names_width(wall, band)
        sketch = sketch_area(wall, layout, band)
        if sketch is not None:
            edge = max(edge, round(sketch.right()) + 8)
        if max(left, edge) > layout.width - LEAST_CORNER:
            bottom = layout.band_top(band) - 6
            break
        left = max(left, edge)
    return layout.width - left - 12, max(0, bottom)
