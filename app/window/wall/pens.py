"""Small strokes that all of the wall is drawn with, crisp at every device ratio."""

from collections.abc import Sequence

from PySide6.QtCore import QLine, QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from app.window.fonts import font, text_width
from app.window.theme import Theme
from app.window.tokens import px

_AA = QPainter.RenderHint.Antialiasing


def flat_rects(painter: QPainter, rects: Sequence[QRect], colour: QColor) -> None:
    """Fill rectangles on whole pixels: hairlines, bands, blocks."""
    if rects:
        painter.setRenderHint(_AA, False)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(colour))
        painter.drawRects(list(rects))


def flat_rect(painter: QPainter, x: float, y: float, w: float, h: float, colour: QColor) -> None:
    """Fill one rectangle without softened edges."""
    painter.setRenderHint(_AA, False)
    painter.fillRect(QRectF(x, y, w, h), colour)


def frame(painter: QPainter, rect: QRect, colour: QColor, width: int = 1) -> None:
    """Draw a frame inside a rectangle."""
    x, y, w, h = rect.x(), rect.y(), rect.width(), rect.height()
    sides = [
        QRect(x, y, w, width),
        QRect(x, y + h - width, w, width),
        QRect(x, y, width, h),
        QRect(x + w - width, y, width, h),
    ]
    flat_rects(painter, sides, colour)


def slanted(painter: QPainter, lines: Sequence[QLineF], colour: QColor, width: float = 1) -> None:
    """Draw slanting lines, softened."""
    if lines:
        painter.setRenderHint(_AA, True)
        painter.setPen(QPen(colour, width, c=Qt.PenCapStyle.FlatCap))
        painter.drawLines(list(lines))


def dotted(painter: QPainter, lines: Sequence[QLine], colour: QColor) -> None:
    """Draw level lines of single pixels, one on and three off, counted from each one's left."""
    if lines:
        painter.setRenderHint(_AA, False)
        pen = QPen(colour, 1, c=Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([1, 3])
        painter.setPen(pen)
        painter.drawLines(list(lines))


def beads(painter: QPainter, points: Sequence[QPointF], colour: QColor, radius: float) -> None:
    """Draw round beads."""
    if points:
        painter.setRenderHint(_AA, True)
        painter.setPen(QPen(colour, 2 * radius, c=Qt.PenCapStyle.RoundCap))
        painter.drawPoints(list(points))


def outline_path(painter: QPainter, path: QPainterPath, colour: QColor, width: float) -> None:
    """Draw a path's line."""
    painter.setRenderHint(_AA, True)
    painter.setPen(QPen(colour, width, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path)


def fill_path(painter: QPainter, path: QPainterPath, colour: QColor) -> None:
    """Fill a path."""
    painter.setRenderHint(_AA, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPath(path)


def veiled(theme: Theme) -> QColor:
    """Return the ink of words that lie under a veil."""
    pale = QColor(theme.ink2)
    pale.setAlpha(255 - theme.veil.alpha())
    return pale


def hatch_lines(
    x0: int, y0: int, width: int, height: int, pitch: int, origin: int | None = None
) -> list[QLineF]:
    """Return rising hatch lines clipped to a rectangle, counted from its left (or an origin)."""
    found = []
    start = x0 if origin is None else x0 - (x0 - origin) % pitch
    low = start - height - (start - height - start) % pitch
    right, bottom = x0 + width, y0 + height
    for foot in range(low, right, pitch):
        a, b = max(foot, x0), min(foot + height, right)
        if a < b:
            found.append(QLineF(a, bottom - (a - foot), b, bottom - (b - foot)))
    return found


def words(  # noqa: PLR0913 - where, what and how a text is written
    painter: QPainter,
    x: float,
    baseline: float,
    text: str,
    colour: QColor,
    pixels: int = 12,
    weight: int = 400,
    *,
    serif: bool = False,
    italic: bool = False,
) -> float:
    """Write a text from a point on its baseline; return where it ends."""
    painter.setFont(font(pixels, weight, serif=serif, italic=italic))
    painter.setPen(colour)
    painter.drawText(QPointF(x, baseline), text)
    return x + text_width(text, pixels, weight, serif=serif, italic=italic)


def words_on_plate(
    painter: QPainter,
    x: float,
    baseline: float,
    text: str,
    colour: QColor,
    plate: QColor,
    pixels: int = 11,
    weight: int = 500,
) -> None:
    """Write a text on a plate that hides what is under it."""
    width = text_width(text, pixels, weight)
    high = px(pixels)
    flat_rect(painter, round(x) - 3, round(baseline) - high + 1, round(width) + 6, high + 2, plate)
    words(painter, x, baseline, text, colour, pixels, weight)
