"""One painter for sheets on the screen, in a PDF and in a picture: black on the paper's colour."""

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.window import tokens
from app.window.fonts import paper_font
from app.window.sheets.layout import (
    LINE,
    Bar,
    Ear,
    Frame,
    Hatch,
    Mark,
    Page,
    Sketch,
    Strip,
    Swatch,
    Text,
    width_of,
)
from app.window.theme import theme
from app.window.wall import pens
from app.window.wall.paint_ribbons import paint_pattern
from app.window.wall.sketch import placed
from shared.book import Kind

BLACK, WHITE = QColor(0, 0, 0), QColor(255, 255, 255)
_STROKE, _SKETCH_STROKE = 2.5, 4
_PITCH = 8.5
_OF_THE_WALL = 2.5
"""A pixel of a printed wall in tenths of a millimetre; its patterns are counted in pixels."""
_HATCH = 8


class PagePainter:
    """Paints pages with a painter that is scaled to tenths of a millimetre."""

    def __init__(self, painter: QPainter, ink: QColor = BLACK, paper: QColor = WHITE) -> None:
        self._painter, self._ink, self._paper = painter, ink, paper
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing, True)

    def page(self, page: Page) -> None:
        """Paint a page, its ground first; nothing leaves it."""
        painter = self._painter
        painter.save()
        whole = QRectF(0, 0, page.wide, page.high)
        painter.setClipRect(whole, Qt.ClipOperation.IntersectClip)
        painter.fillRect(whole, self._paper)
        for each in page.blocks:
            painter.translate(0, each.y)
            for mark in each.block.marks:
                self._mark(mark)
            painter.translate(0, -each.y)
        painter.restore()

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Text):
            self._text(mark)
        elif isinstance(mark, Bar):
            self._bar(mark.x, mark.y, mark.w, mark.h)
        elif isinstance(mark, Frame):
            self._frame(mark)
        elif isinstance(mark, Swatch):
            self._swatch(mark)
        elif isinstance(mark, Sketch):
            self._sketch(mark)
        elif isinstance(mark, Ear):
            self._ear(mark)
        else:
            self._filled(mark)

    def _filled(self, mark: Strip | Hatch) -> None:
        """Fill a rectangle as on a printed wall."""
        painter, of = self._painter, theme(tokens.PAPER.name)
        painter.save()
        painter.translate(mark.x, mark.y)
        painter.scale(_OF_THE_WALL, _OF_THE_WALL)
        there = QRect(0, 0, round(mark.w / _OF_THE_WALL), round(mark.h / _OF_THE_WALL))
        if isinstance(mark, Strip):
            pens.flat_rects(painter, [there], of.fills[mark.kind])
            paint_pattern(painter, of, mark.kind, [there])
        else:
            lines = pens.hatch_lines(0, 0, there.width(), there.height(), _HATCH)
            pens.slanted(painter, lines, of.ink3)
        painter.restore()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)

    def _text(self, mark: Text) -> None:
        style = {"serif": mark.serif, "italic": mark.italic}
        painter = self._painter
        painter.setFont(paper_font(mark.size, mark.weight, **style))
        painter.setPen(self._paper if mark.is_turned else self._ink)
        x = mark.x
        if mark.is_right:
            x -= width_of(mark.text, mark.size, mark.weight, **style)
        painter.drawText(QPointF(x, mark.y), mark.text)

    def _bar(self, x: float, y: float, w: float, h: float) -> None:
        """Fill a rectangle on whole pixels, at least one of them thick."""
        painter = self._painter
        there = painter.transform().mapRect(QRectF(x, y, w, h))
        left, top = round(there.left()), round(there.top())
        wide, high = max(1, round(there.width())), max(1, round(there.height()))
        painter.save()
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(QRectF(left, top, wide, high), self._ink)
        painter.restore()

    def _frame(self, mark: Frame) -> None:
        x, y, w, h, line = mark.x, mark.y, mark.w, mark.h, mark.line
        self._bar(x, y, w, line)
        self._bar(x, y + h - line, w, line)
        self._bar(x, y, line, h)
        self._bar(x + w - line, y, line, h)
        if mark.is_ticked:
            points = [(0.2, 0.52), (0.42, 0.76), (0.82, 0.22)]
            path = QPainterPath(QPointF(x + points[0][0] * w, y + points[0][1] * h))
            for across, down in points[1:]:
                path.lineTo(x + across * w, y + down * h)
            self._painter.setPen(QPen(self._ink, 5, c=Qt.PenCapStyle.FlatCap))
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.drawPath(path)

    def _ear(self, mark: Ear) -> None:
        x, y, side = mark.x, mark.y, mark.side
        self._fill([QPointF(x - side, y), QPointF(x, y), QPointF(x, y + side)])

    def _sketch(self, mark: Sketch) -> None:
        painter = self._painter
        painter.setPen(QPen(self._ink, _SKETCH_STROKE, j=Qt.PenJoinStyle.RoundJoin))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for _, path in placed(mark.shapes, QRectF(mark.x, mark.y, mark.side, mark.side))[0]:
            painter.drawPath(path)

    def _fill(self, points: list[QPointF]) -> None:
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(self._ink)
        self._painter.drawPolygon(QPolygonF(points))

    # The kinds of work.

    def _swatch(self, mark: Swatch) -> None:
        inner = QRectF(mark.x + LINE, mark.y + LINE, mark.side - 2 * LINE, mark.side - 2 * LINE)
        if mark.is_road:
            self._bar(mark.x, mark.y, mark.side, mark.side)
            self._dashes(inner)
            return
        self._frame(Frame(mark.x, mark.y, mark.side, mark.side, LINE * 0.75))
        if mark.kind is Kind.FOAM:
            self._beads(inner)
        elif mark.kind is Kind.PAINT:
            self._bar(mark.x, mark.y, mark.side, mark.side)
        elif mark.kind is Kind.LACQUER:
            self._bar(mark.x, mark.y + mark.side * 0.36, mark.side, mark.side * 0.64)
        elif mark.kind is not None:
            self._strokes(_LINES[mark.kind](inner))

    def _dashes(self, inner: QRectF) -> None:
        """Paint the dashed middle of a road."""
        pen = QPen(self._paper, 4, c=Qt.PenCapStyle.FlatCap)
        self._painter.setPen(pen)
        y, third = inner.center().y(), inner.width() / 5
        for at in (0, 2, 4):
            x = inner.left() + at * third
            self._painter.drawLine(QLineF(x, y, x + third, y))

    def _beads(self, inner: QRectF) -> None:
        self._painter.setPen(QPen(self._ink, 5, c=Qt.PenCapStyle.RoundCap))
        step = inner.width() / 3
        for row in range(3):
            for column in range(3):
                if (row + column) % 2 == 0:
                    x = inner.left() + (column + 0.5) * step
                    self._painter.drawPoint(QPointF(x, inner.top() + (row + 0.5) * step))

    def _strokes(self, lines: list[QLineF]) -> None:
        self._painter.setPen(QPen(self._ink, _STROKE, c=Qt.PenCapStyle.FlatCap))
        self._painter.drawLines(lines)


def _level(inner: QRectF) -> list[QLineF]:
    count = int(inner.height() // _PITCH)
    ys = [inner.top() + (at + 0.5) * inner.height() / count for at in range(count)]
    return [QLineF(inner.left(), y, inner.right(), y) for y in ys]


def _upright(inner: QRectF) -> list[QLineF]:
    xs = [inner.left() + at * inner.width() / 3 for at in (1, 2)]
    return [QLineF(x, inner.top(), x, inner.bottom()) for x in xs]


def _slanted(inner: QRectF) -> list[QLineF]:
    side = inner.width()
    found = []
    for at in range(1, 6):
        far = at * side / 3
        a, b = max(0.0, far - side), min(far, side)
        found.append(
            QLineF(inner.left() + a, inner.top() + far - a, inner.left() + b, inner.top() + far - b)
        )
    return found


def _woven(inner: QRectF) -> list[QLineF]:
    """Return short strokes that cross over and under."""
    step = inner.width() / 4
    found = []
    for row in range(4):
        for column in range(4):
            x, y = inner.left() + (column + 0.5) * step, inner.top() + (row + 0.5) * step
            reach = step * 0.55
            if (row + column) % 2:
                found.append(QLineF(x - reach, y, x + reach, y))
            else:
                found.append(QLineF(x, y - reach, x, y + reach))
    return found


_LINES = {
    Kind.LAMINATE: _woven,
    Kind.COAT: _level,
    Kind.FILL: _slanted,
    Kind.PACK: _upright,
}
