"""The piece as a drawn part: boxes or a drawing, sizes, openings, cautions."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from PySide6.QtCore import QMimeData, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QImage,
    QPainter,
    QPainterPath,
    QTransform,
)

from app.window.bits import wrapped
from app.window.countback.piece import FIGURE_METRES, Box, PassRow, Piece, SizeRow
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_ribbons import paint_pattern
from app.words import Words
from app.words import cautions as cautioning
from app.words import countback_view as say
from app.words import window as wording
from app.words.template import Template
from shared.book import Kind
from shared.ids import SegmentId

MARGIN, GAP = 16, 10
DRAWING, TITLE, LINE, ROW = 200, 34, 16, 21
WIDE_FROM = 640
MOST_PER_METRE = 70
FIGURE_SHARE = Fraction(35, 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Where a segment stands in the drawing."""

    box: Box
    rect: QRect


def set_out(boxes: Sequence[Box], width: int, height: int) -> tuple[tuple[Cell, ...], float]:
    """Set boxes side by side to one scale, in as many rows as make them largest.

    Returns the cells and the pixels of a metre; the figure stands at the right of the last row.
    """
    best: tuple[tuple[Cell, ...], float] = ((), 0.0)
    for rows in range(1, min(4, len(boxes)) + 1):
        made = _in_rows(boxes, width, height, rows)
        if made[1] > best[1] * 1.15:
            best = made
    return best


def _in_rows(
    boxes: Sequence[Box], width: int, height: int, rows: int
) -> tuple[tuple[Cell, ...], float]:
    count = -(-len(boxes) // rows)
    lines = [boxes[at : at + count] for at in range(0, len(boxes), count)]
    figure = FIGURE_METRES * FIGURE_SHARE
    widths = [sum((box.width for box in line), Fraction()) for line in lines]
    widths[-1] += figure
    heights = [max(box.height for box in line) for line in lines]
    heights[-1] = max(heights[-1], FIGURE_METRES)
    across = (width - GAP * (count + 1)) / float(max(widths))
    up = (height - GAP * len(lines)) / float(sum(heights))
    scale = max(1.0, min(across, up, float(px(MOST_PER_METRE))))
    cells, y = [], 0.0
    for line, high in zip(lines, heights, strict=True):
        y += float(high) * scale
        x = 0.0
        for box in line:
            wide, tall = float(box.width) * scale, float(box.height) * scale
            rect = QRect(round(x), round(y - tall), max(3, round(wide)), max(3, round(tall)))
            cells.append(Cell(box=box, rect=rect))
            x += wide + GAP
        y += GAP
    return tuple(cells), scale


class PiecePart(Drawn):
    """A job's piece: what it looks like, what it weighs, what it must pass, what to mind."""

    dropped = Signal(QMimeData)

    def __init__(self, pick: Callable[[SegmentId], object]) -> None:
        super().__init__()
        self._pick = pick
        self.setAcceptDrops(True)
        self._piece: Piece | None = None
        self._words: Words | None = None
        self._in_full = False
        self.segment: SegmentId | None = None
        self.paths: dict[SegmentId, QPainterPath] = {}
        self.picture: QImage | None = None

    def show_piece(
        self,
        piece: Piece,
        words: Words,
        paths: dict[SegmentId, QPainterPath],
        picture: QImage | None = None,
    ) -> None:
        """Show another piece; paths: its drawing, none for boxes. picture: in their place."""
        self._piece, self._words, self.paths, self.picture = piece, words, paths, picture
        self.setAccessibleName(words.say(say.PIECE))
        self.refresh()

    def turn_cautions(self) -> None:
        """Show cautions in full, or in a few words each."""
        self._in_full = not self._in_full
        self.refresh()

    @guarded
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        data = event.mimeData()
        if data.hasUrls() or data.hasText() or data.hasImage():
            event.acceptProposedAction()

    @guarded
    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.dropped.emit(event.mimeData())

    # Where things lie.

    def _halves(self, width: int) -> tuple[QRect, QRect]:
        """Return the columns of drawing and sizes, and of openings and cautions."""
        if width < px(WIDE_FROM):
            full = QRect(MARGIN, 0, width - 2 * MARGIN, 0)
            return full, full
        half = (width - 3 * MARGIN) // 2
        return QRect(MARGIN, 0, half, 0), QRect(2 * MARGIN + half, 0, half, 0)

    def _tops(self, width: int) -> tuple[int, int, int, int, int]:
        """Return the tops of drawing, sizes, openings, cautions, and the bottom."""
        piece = self._piece
        assert piece is not None
        is_wide = width >= px(WIDE_FROM)
        sizes = px(DRAWING) + 8 + px(LINE) * len(self._hint(width))
        first = sizes + px(TITLE) + px(ROW) * len(piece.sizes) + 8
        openings = 8 if is_wide else first
        column = self._halves(width)[1]
        passes = sum(height for _, height in self._pass_rows(column.width()))
        margins = px(LINE) * len(wrapped(piece.margins, column.width(), 12))
        cautions = openings + px(TITLE) + passes + margins + 14
        lines = sum(len(wrapped(each, column.width(), 12)) for each in self._caution_lines())
        bottom = cautions + px(TITLE) + px(LINE) * lines + 10
        return 8, sizes, openings, cautions, max(bottom, first)

    def _hint(self, width: int) -> list[str]:
        """Return what can be done here, while there is no drawing."""
        if self.paths or self.picture is not None or self._words is None:
            return []
        return wrapped(self._words.say(say.DROP_PICTURE), self._halves(width)[0].width(), 12)

    def _pass_rows(self, width: int) -> list[tuple[PassRow, int]]:
        piece = self._piece
        assert piece is not None
        return [(row, px(ROW) + (px(LINE) if _is_long(row, width) else 0)) for row in piece.passes]

    def _caution_lines(self) -> list[str]:
        piece = self._piece
        assert piece is not None
        told = list(piece.cautions) if self._in_full else [piece.cautions_short]
        return [each for each in (*told, piece.defers) if each]

    def height_at(self, width: int) -> int:
        return 1 if self._piece is None else self._tops(width)[4]

    def cells_at(self, width: int) -> tuple[tuple[Cell, ...], float]:
        """Return where the boxes stand, and the pixels of a metre."""
        piece = self._piece
        assert piece is not None
        column = self._halves(width)[0]
        cells, scale = set_out(piece.boxes, column.width(), px(DRAWING) - 16)
        moved = (Cell(box=c.box, rect=c.rect.translated(column.x(), 12)) for c in cells)
        return tuple(moved), scale

    def _drawing_area(self, width: int) -> QRectF:
        """Return where a drawing stands; right of it the figure."""
        column = self._halves(width)[0]
        return QRectF(column.x(), 12, column.width() - px(60), px(DRAWING) - 24)

    def _cells_seen(self, width: int) -> tuple[Cell, ...]:
        """Return where each segment is seen, in the drawing or as a box."""
        if self.picture is not None:
            return ()
        cells = self.cells_at(width)[0]
        if not self.paths:
            return cells
        bounds, scale, area = self._fitted(width)
        return tuple(
            Cell(
                box=cell.box,
                rect=_moved(path, bounds, scale, area).boundingRect().toAlignedRect(),
            )
            for cell in cells
            if (path := self.paths.get(cell.box.segment)) is not None
        )

    def _fitted(self, width: int) -> tuple[QRectF, float, QRectF]:
        """Return the bounds of the drawing, how much it is enlarged, and where it stands."""
        bounds, area = QRectF(), self._drawing_area(width)
        for path in self.paths.values():
            bounds = bounds.united(path.boundingRect())
        if bounds.isEmpty():
            return bounds, 1.0, area
        scale = min(area.width() / bounds.width(), area.height() / bounds.height())
        return bounds, scale, area

    def spots_at(self, width: int) -> Sequence[Spot]:
        piece, words = self._piece, self._words
        if piece is None or words is None:
            return ()
        found = [self._box_spot(cell, words) for cell in self._cells_seen(width)]
        if self.picture is not None:
            rect = self._picture_rect(width, self.picture).toAlignedRect()
            found.append(Spot(id="picture", rect=rect, name=words.say(say.PICTURE)))
        _, sizes, openings, cautions, _ = self._tops(width)
        left, right = self._halves(width)
        y = sizes + px(TITLE)
        for row in piece.sizes:
            rect = QRect(left.x(), y, left.width(), px(ROW) - 1)
            found.append(self._size_spot(row, rect))
            y += px(ROW)
        y = openings + px(TITLE)
        for at, (passed, height) in enumerate(self._pass_rows(right.width())):
            rect = QRect(right.x(), y, right.width(), height - 1)
            found.append(self._pass_spot(passed, rect, at))
            y += height
        title = words.say(cautioning.TITLE)
        do = words.say(cautioning.DO_IN_SHORT if self._in_full else cautioning.DO_IN_FULL)
        found.append(
            Spot(
                id="cautions",
                rect=QRect(right.x(), cautions + 6, right.width(), px(TITLE) - 8),
                name=f"{title}, {do}",
                description=" ".join(self._caution_lines()),
                do=self.turn_cautions,
            )
        )
        return found

    def _box_spot(self, cell: Cell, words: Words) -> Spot:
        box = cell.box
        reached = words.say(say.NOT_BEGUN)
        if box.reached is not None:
            reached = words.say(say.REACHED, kind=wording.kind(words, box.reached))
        size = f"{float(box.width):g} × {float(box.height):g}"
        text = words.say(say.SEGMENT_BOX, segment=box.name, size=size, reached=reached)
        return Spot(
            id=f"box {box.segment}",
            rect=cell.rect,
            name=box.name,
            description=f"{text}.",
            do=lambda: self._pick(box.segment),
            is_chosen=box.segment == self.segment,
        )

    def _size_spot(self, row: SizeRow, rect: QRect) -> Spot:
        return Spot(
            id=f"size {row.segment}",
            rect=rect,
            name=row.name,
            description=f"{row.name}: {row.size} m, {row.mass} kg.",
            do=lambda: self._pick(row.segment),
            is_chosen=row.segment == self.segment,
        )

    def _pass_spot(self, row: PassRow, rect: QRect, at: int) -> Spot:
        return Spot(
            id=f"passes {at}",
            rect=rect,
            name=row.name,
            description=row.text,
            do=lambda: self._pick(row.segment),
        )

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        piece, words = self._piece, self._words
        if piece is None or words is None:
            return
        self._paint_drawing(painter, of, width, words)
        _, sizes, openings, cautions, _ = self._tops(width)
        left, right = self._halves(width)
        _title(painter, of, left, sizes, words, say.SEGMENTS, say.AS_MOVED)
        y = sizes + px(TITLE)
        for row in piece.sizes:
            self._paint_size(painter, of, row, left, y)
            y += px(ROW)
        _title(painter, of, right, openings, words, say.WILL_IT_PASS, None)
        self._paint_passes(painter, of, right, openings + px(TITLE), piece, words)
        do = cautioning.DO_IN_SHORT if self._in_full else cautioning.DO_IN_FULL
        _title(painter, of, right, cautions, words, cautioning.TITLE, do)
        y = cautions + px(TITLE) + px(8)
        for each in self._caution_lines():
            for line in wrapped(each, right.width(), 12):
                pens.words(painter, right.x(), y, line, of.ink2, 12)
                y += px(LINE)

    def _paint_size(self, painter: QPainter, of: Theme, row: SizeRow, left: QRect, y: int) -> None:
        pens.flat_rect(painter, left.x(), y - 3, left.width(), 1, of.line)
        base = y + px(12)
        weight = 600 if row.segment == self.segment else 500
        pens.words(painter, left.x(), base, row.name, of.ink, 13, weight)
        edge = left.x() + left.width()
        pens.words(painter, edge - text_width(row.mass, 13), base, row.mass, of.ink, 13)
        at = edge - px(78) - text_width(row.size, 13)
        pens.words(painter, at, base, row.size, of.ink2, 13)

    def _paint_passes(
        self, painter: QPainter, of: Theme, right: QRect, y: int, piece: Piece, words: Words
    ) -> None:
        edge = right.x() + right.width()
        for row, height in self._pass_rows(right.width()):
            pens.flat_rect(painter, right.x(), y - 3, right.width(), 1, of.line)
            base = y + px(12)
            end = pens.words(painter, right.x(), base, row.name, of.ink2, 13)
            pens.words(painter, end + 8, base, row.size, of.ink2, 13)
            ink = of.miss if row.is_bad else of.ink
            low = base + (px(LINE) if height > px(ROW) else 0)
            at = edge - text_width(row.short, 13, 600)
            pens.words(painter, at, low, row.short, ink, 13, 600)
            y += height
        if not piece.passes:
            text = words.say(say.NOTHING_TO_PASS)
            pens.words(painter, right.x(), y + px(8), text, of.ink2, 12)
        for line in wrapped(piece.margins, right.width(), 12):
            pens.words(painter, right.x(), y + px(12), line, of.ink2, 12)
            y += px(LINE)

    def _paint_drawing(self, painter: QPainter, of: Theme, width: int, words: Words) -> None:
        cells, scale = self.cells_at(width)
        ground = max((cell.rect.bottom() for cell in cells), default=px(DRAWING))
        column = self._halves(width)[0]
        if self.picture is not None:
            self._paint_picture(painter, width, self.picture)
            return
        if self.paths:
            scale = self._paint_paths(painter, of, width)
            ground = round(self._drawing_area(width).bottom())
        else:
            for cell in cells:
                self._paint_box(painter, of, cell)
        y = px(DRAWING) + px(12)
        for line in self._hint(width):
            pens.words(painter, column.x(), y, line, of.ink2, 12)
            y += px(LINE)
        right = column.x() + column.width() - px(10)
        _paint_figure(painter, of, right, ground, float(FIGURE_METRES) * scale, words)

    def _picture_rect(self, width: int, picture: QImage) -> QRectF:
        area, size = self._drawing_area(width), picture.size().toSizeF()
        size.scale(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        return QRectF(area.topLeft(), size)

    def _paint_picture(self, painter: QPainter, width: int, picture: QImage) -> None:
        """Paint a picture as large as it fits; nobody stands beside: its scale is not known."""
        rect = self._picture_rect(width, picture)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, True)
        painter.drawImage(rect, picture, QRectF(picture.rect()))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)

    def _paint_box(self, painter: QPainter, of: Theme, cell: Cell) -> None:
        kind, rect = cell.box.reached, cell.rect
        path = QPainterPath()
        round_by = min(rect.width(), rect.height()) / 8
        path.addRoundedRect(QRectF(rect).adjusted(0.5, 0.5, -0.5, -0.5), round_by, round_by)
        _fill(painter, of, path, kind)
        is_chosen = cell.box.segment == self.segment
        pens.outline_path(painter, path, of.ink, 3 if is_chosen else 1.2)
        if text_width(cell.box.name, 12, 500) + 6 < rect.width() and rect.height() > px(16):
            ink = of.ink if kind is None else of.on_fill
            x = rect.x() + (rect.width() - text_width(cell.box.name, 12, 500)) / 2
            y = rect.y() + rect.height() / 2 + px(4)
            plate = of.sheet if kind is None else of.fills[kind]
            pens.words_on_plate(painter, x, y, cell.box.name, ink, plate, 12, 500)

    def _paint_paths(self, painter: QPainter, of: Theme, width: int) -> float:
        """Paint the drawing as large as it fits; return the pixels of a metre by its height."""
        piece = self._piece
        assert piece is not None
        bounds, scale, area = self._fitted(width)
        reached = {box.segment: box.reached for box in piece.boxes}
        for segment, path in self.paths.items():
            at = _moved(path, bounds, scale, area)
            _fill(painter, of, at, reached.get(segment))
            pens.outline_path(painter, at, of.ink, 3 if segment == self.segment else 1.2)
        return self._metre(bounds, scale)

    def _metre(self, bounds: QRectF, scale: float) -> float:
        """Return the pixels of a metre, by the widest segment of which a size is written."""
        piece = self._piece
        assert piece is not None
        known = [box for box in piece.boxes if box.is_known and box.segment in self.paths]
        if not known:
            return scale * bounds.height() / float(FIGURE_METRES)
        box = max(known, key=lambda each: each.height)
        return scale * self.paths[box.segment].boundingRect().height() / float(box.height)


def _is_long(row: PassRow, width: int) -> bool:
    head = text_width(row.name, 13) + text_width(row.size, 13) + 20
    return head + text_width(row.short, 13, 600) > width


def _title(
    painter: QPainter,
    of: Theme,
    column: QRect,
    top: int,
    words: Words,
    title: Template,
    note: Template | None,
) -> None:
    base = top + px(22)
    pens.words(painter, column.x(), base, words.say(title), of.ink, 17, 600, serif=True)
    if note is not None:
        text = words.say(note)
        x = column.x() + column.width() - text_width(text, 12)
        pens.words(painter, x, base, text, of.ink2, 12)


def _fill(painter: QPainter, of: Theme, path: QPainterPath, kind: Kind | None) -> None:
    """Fill a shape with the pattern of a kind of work; with none, leave it blank."""
    if kind is None:
        pens.fill_path(painter, path, of.sheet)
        return
    pens.fill_path(painter, path, of.fills[kind])
    painter.save()
    painter.setClipPath(path)
    paint_pattern(painter, of, kind, [path.boundingRect().toAlignedRect()])
    painter.restore()


def _moved(path: QPainterPath, bounds: QRectF, scale: float, area: QRectF) -> QPainterPath:
    shift = QTransform()
    left = area.x() + (area.width() - bounds.width() * scale) / 2
    shift.translate(left, area.bottom() - bounds.height() * scale)
    shift.scale(scale, scale)
    shift.translate(-bounds.x(), -bounds.y())
    return shift.map(path)


def _paint_figure(
    painter: QPainter, of: Theme, right: float, ground: float, height: float, words: Words
) -> None:
    """Paint somebody 1.7 m tall."""
    wide = height * float(FIGURE_SHARE)
    left, top, head = right - wide, ground - height, height * 0.075
    path = QPainterPath()
    path.addEllipse(QPointF(left + wide / 2, top + head), head, head)
    body = QRectF(left + wide * 0.12, top + head * 2.4, wide * 0.76, height * 0.45)
    path.addRoundedRect(body, wide * 0.2, wide * 0.2)
    for side in (0.2, 0.53):
        leg = QRectF(left + wide * side, top + height * 0.55, wide * 0.27, height * 0.45)
        path.addRoundedRect(leg, wide * 0.08, wide * 0.08)
    path.setFillRule(path.fillRule().WindingFill)
    pens.fill_path(painter, path, of.ink2)
    text = words.say(say.FIGURE)
    pens.words(painter, left - text_width(text, 11) - 4, top + px(10), text, of.ink2, 11)
