"""Ribbons: blocks with their patterns and names, necks, cures, waits and tails; in batches."""

from collections import defaultdict
from itertools import pairwise

from PySide6.QtCore import QLine, QLineF, QPoint, QPointF, QRect
from PySide6.QtGui import QPainter, QPainterPath

from app.window import tokens
from app.window.fonts import font, text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import DAY_MINUTES, Item, Piece, Row, Wall
from app.window.wall.layout import STRAND, Layout, visible
from app.window.wall.paint_signs import BOX, Signs
from shared.book import Kind

PITCH = tokens.PATTERN_PITCH
BEAD_RADIUS = 1.15
NECKS_AT_NIGHT_FROM = 60
CURE_HEIGHT_PERCENT = 34
INITIALS_FROM = 240
"""From so many pixels a day on blocks say who works on them."""
LABEL_HEIGHT = 10
HELD_FROM = 24
RECOAT_FROM = 96
LEAST_BLOCK = 3
BEYOND = 2
"""How thick the line over overtime is."""
SMALL = 4
_WEAVE = ((0, 1, 3, 1), (4, 5, 3, 1), (5, 0, 1, 3), (1, 4, 1, 3))
_SLANTS = ((1, 4, 3, 2), (5, 8, 7, 6))
_BEADS = ((2, 2), (6, 6))


def cure_height(layout: Layout) -> int:
    """Return how high the strip of a cure is."""
    return max(5, round(layout.row * CURE_HEIGHT_PERCENT / 100))


class Ribbons:
    """Collects what is in sight, then paints it in one call per kind and sort of mark.

    out: how far beyond what is in sight things are not cut, so that names and patterns lie alike
    on strips side by side.
    """

    def __init__(
        self,
        wall: Wall,
        layout: Layout,
        lit: frozenset[str] | None = None,
        *,
        out: int = 0,
    ) -> None:
        self.layout, self.lit = layout, lit
        scale = layout.scale
        self.is_near = scale.pixels_per_day >= NECKS_AT_NIGHT_FROM
        self.has_patterns = scale.pixels_per_day >= tokens.PATTERN_FROM_PIXELS_PER_DAY
        self.left, self.right = layout.sizes.margin, layout.names_x - 6
        self.low, self.high = self.left - out, self.right + out
        self.origin, self.offset = scale.origin, scale.offset
        self.per_minute = scale.pixels_per_day / DAY_MINUTES
        self.thick = {hands: layout.thickness(hands) for hands in (1, 2, 3)}
        self.blocks: dict[Kind, list[QRect]] = defaultdict(list)
        self.necks: dict[Kind, list[QRect]] = defaultdict(list)
        self.cures: dict[Kind, list[QRect]] = defaultdict(list)
        self.strands: dict[Kind, list[QRect]] = defaultdict(list)
        self.held: list[QRect] = []
        self.beyond: list[QRect] = []
        self.waits: list[QLine] = []
        self.tails: list[QRect] = []
        self.labels: list[tuple[QRect, str, Kind]] = []
        self.pins: list[QPoint] = []
        self.ears: list[QRect] = []
        self.signs = Signs()
        reach = 3 * tokens.BLOCK_LEAST_WIDTH
        self.first, self.last = scale.minute(self.left - reach), scale.minute(self.right)
        for index, row in enumerate(wall.rows):
            middle = layout.row_middle(index)
            if -layout.row <= middle <= layout.height + layout.row:
                if row.band in layout.folded:
                    self._strand(row, middle)
                else:
                    self._row(row, middle, layout.tail_right(wall.bands[row.band]))

    @property
    def block_count(self) -> int:
        """How many pieces of work are in sight."""
        return sum(len(rects) for rects in self.blocks.values())

    def _row(self, row: Row, middle: int, tail_right: int) -> None:
        for wait in self._seen(row.waits):
            self._wait(wait, middle)
        for cure in self._seen(row.cures):
            self._cure(cure, middle)
        for block in self._seen(row.blocks):
            self._block(block, middle)
        if row.spare is not None and (self.lit is None or row.spare.id in self.lit):
            self._tail(row.spare, middle, tail_right)

    def _seen(self, items: tuple[Item, ...]) -> tuple[Item, ...]:
        found = visible(items, self.first, self.last)
        lit = self.lit
        return found if lit is None else tuple(item for item in found if item.id in lit)

    def _strand(self, row: Row, middle: int) -> None:
        """Collect the row of a folded job: thin strands in the colour of the work."""
        for block in self._seen(row.blocks):
            if block.kind is not None:
                rects = self._pieces(((block.start, block.end),), middle - 1, STRAND)
                self.strands[block.kind] += rects

    def _wait(self, item: Item, middle: int) -> None:
        a, b = self.layout.scale.x(item.start) + 3, self.layout.scale.x(item.end) - 1
        first, last = _from(a, 4, max(0, self.left)), min(b, self.right)
        if first < last:
            self.waits.append(QLine(first, middle, last, middle))

    def _cure(self, item: Item, middle: int) -> None:
        a, b = self.layout.scale.x(item.start), self.layout.scale.x(item.end)
        if b - a < 2 or b <= self.left or a >= self.right or item.kind is None:
            return
        a, b = _from(a, tokens.HATCH_PITCH, self.low), min(b, self.high)
        height = cure_height(self.layout)
        top = middle - height // 2
        self.cures[item.kind].append(QRect(a, top, b - a, height))
        if item.recoat is not None and self.layout.scale.pixels_per_day >= RECOAT_FROM:
            self._recoat(item.recoat, top + height)
        if item.holds_place and self.layout.scale.pixels_per_day >= HELD_FROM:
            self.held.append(QRect(a, top + height + 1, b - a, 2))

    def _recoat(self, span: Piece, top: int) -> None:
        a, b = self.layout.scale.x(span[0]), self.layout.scale.x(span[1])
        if b > self.left and a < self.right:
            self.signs.bracket(max(a, self.low - 2), min(b, self.high + 4), top + 5)

    def _block(self, item: Item, middle: int) -> None:
        kind = item.kind
        if kind is None:
            return
        height = self.thick.get(item.hands) or self.layout.thickness(item.hands)
        top = middle - height // 2
        pieces: tuple[Piece, ...] = ((item.start, item.end),)
        if (item.end - item.start) * self.per_minute >= SMALL:
            pieces = item.fine if self.is_near else item.rough
        rects = self._pieces(pieces, top, height)
        if not rects:
            return
        self.blocks[kind] += [r for r in rects if r.right() >= self.left and r.x() < self.right]
        for (_, before), (after, _) in pairwise(pieces):
            self._neck(kind, before, after, middle)
        if (item.end - item.start) * self.per_minute >= SMALL:
            self._label(item, rects, height)
        if item.beyond:
            self.beyond += self._pieces(item.beyond, top, BEYOND)
        if item.is_pinned:
            self.pins.append(QPoint(rects[0].x() + 3, top))
        if item.is_anew:
            self.ears.append(rects[-1])
        if item.stands:
            self.signs.box(rects[0], item.stands)
        if item.part == "abrade":
            self.signs.wedge(rects[0])

    def _neck(self, kind: Kind, before: int, after: int, middle: int) -> None:
        a, b = self.layout.scale.x(before), self.layout.scale.x(after)
        if b > self.left and a < self.right:
            a, b = max(a, self.left), min(b, self.right)
            self.necks[kind].append(QRect(a, middle - 1, b - a, 2))

    def _label(self, item: Item, rects: list[QRect], height: int) -> None:
        widest = max(rects, key=QRect.width) if len(rects) > 1 else rects[0]
        width = text_width(item.label, 11, 500) + 8
        left = (BOX + 4) if item.stands and widest is rects[0] else 0
        if height >= px(LABEL_HEIGHT) and width + left <= widest.width():
            room = widest.adjusted(left, 0, 0, 0)
            self.labels.append((room, item.label, item.kind or Kind.FOAM))
            if item.remaining:
                self.signs.figure(room, width, item.remaining)
        if self.layout.scale.pixels_per_day >= INITIALS_FROM and item.initials:
            self._initials(item, rects[-1], height, width if rects[-1] is widest else 0)

    def _initials(self, item: Item, last: QRect, height: int, taken: float) -> None:
        """Say at the right end of a block who works on it, if its name leaves room."""
        wide = round(text_width(item.initials, 11, 500)) + 8
        if height >= px(LABEL_HEIGHT) and wide + taken <= last.width():
            room = QRect(last.x() + last.width() - wide, last.y(), wide, last.height())
            self.labels.append((room, item.initials, item.kind or Kind.FOAM))

    def _pieces(self, pieces: tuple[Piece, ...], top: int, height: int) -> list[QRect]:
        """Return the pieces, cut; the hottest loop, so the scale is written out in it."""
        low, high = self.low, self.high
        origin, factor, offset = self.origin, self.per_minute, self.offset
        found = []
        for start, end in pieces:
            a = int((start - origin) * factor + 0.5) - offset
            b = int((end - origin) * factor + 0.5) - offset
            if b < a + LEAST_BLOCK:
                b = a + LEAST_BLOCK
            if b > low and a < high:
                a, b = (a if a >= low else _from(a, PITCH, low)), (b if b < high else high)
                found.append(QRect(a, top, b - a, height))
        return found

    def _tail(self, item: Item, middle: int, tail_right: int) -> None:
        a, b = self.layout.scale.x(item.start) + 2, min(tail_right, self.right)
        a = max(a, self.left)
        if b - a > 3:
            half = max(3, round(self.layout.row * 0.18))
            self.tails += [QRect(a, middle - half, b - a, 1), QRect(a, middle + half, b - a, 1)]

    def paint(self, painter: QPainter, theme: Theme) -> None:
        """Paint all, waits first, names last."""
        pens.dotted(painter, self.waits, theme.ink3)
        pens.flat_rects(painter, self.tails, theme.ink3)
        for kind in Kind:
            self._paint_cures(painter, theme, kind)
            pens.flat_rects(painter, self.necks[kind], theme.lines[kind])
        pens.flat_rects(painter, self.held, theme.ink)
        for kind in Kind:
            self._paint_blocks(painter, theme, kind)
            pens.flat_rects(painter, self.strands[kind], theme.lines[kind])
        self._paint_labels(painter, theme)
        pens.flat_rects(painter, self.beyond, theme.ink)
        self.signs.paint(painter, theme)
        paint_pins(painter, theme, self.pins)
        paint_ears(painter, theme, self.ears)

    def _paint_cures(self, painter: QPainter, theme: Theme, kind: Kind) -> None:
        lines: list[QLineF] = []
        edges: list[QRect] = []
        for r in self.cures[kind]:
            x, y, w, h = r.x(), r.y(), r.width(), r.height()
            edges += [QRect(x, y, w, 1), QRect(x, y + h - 1, w, 1)]
            if self.has_patterns:
                lines += pens.hatch_lines(x, y, w, h, tokens.HATCH_PITCH)
        pens.slanted(painter, lines, theme.cures[kind])
        pens.flat_rects(painter, edges, theme.lines[kind])

    def _paint_blocks(self, painter: QPainter, theme: Theme, kind: Kind) -> None:
        rects = self.blocks[kind]
        if not rects:
            return
        pens.flat_rects(painter, rects, theme.outlines[kind])
        inner = [r.adjusted(1, 1, -1, -1) for r in rects]
        pens.flat_rects(painter, inner, theme.fills[kind])
        if self.has_patterns:
            paint_pattern(painter, theme, kind, [r for r in inner if r.width() > 2])

    def _paint_labels(self, painter: QPainter, theme: Theme) -> None:
        plates: dict[Kind, list[QRect]] = defaultdict(list)
        for rect, text, kind in self.labels:
            width = min(round(text_width(text, 11, 500)) + 7, rect.width() - 2)
            plates[kind].append(QRect(rect.x() + 1, rect.y() + 1, width, rect.height() - 2))
        for kind, rects in plates.items():
            pens.flat_rects(painter, rects, theme.fills[kind])
        painter.setFont(font(11, 500))
        painter.setPen(theme.on_fill)
        for rect, text, _ in self.labels:
            painter.drawText(rect.x() + 4, rect.y() + rect.height() // 2 + px(4), text)


def _from(a: int, pitch: int, edge: int) -> int:
    """Return where something is cut at the left so that its pattern lies as if it were not."""
    return a if a >= edge else a + -(-(edge - a) // pitch) * pitch


def paint_pattern(painter: QPainter, theme: Theme, kind: Kind, rects: list[QRect]) -> None:
    """Paint a kind's pattern into the insides of blocks, counted from each block's left."""
    ink = theme.patterns[kind]
    if kind is Kind.FOAM:
        points = [QPointF(x, y) for r in rects for x, y in _spread(r, _BEADS)]
        pens.beads(painter, points, ink, BEAD_RADIUS)
    elif kind is Kind.LAMINATE:
        pens.flat_rects(painter, [s for r in rects for s in _weave(r)], ink)
    elif kind is Kind.COAT:
        levels = [QRect(r.x(), y, r.width(), 1) for r in rects for y in _levels(r)]
        pens.flat_rects(painter, levels, ink)
    elif kind is Kind.FILL:
        pens.slanted(painter, [s for r in rects for s in _slants(r)], ink)
    elif kind is Kind.PACK:
        boards = [QRect(x, r.y(), 1, r.height()) for r in rects for x in _boards(r)]
        pens.flat_rects(painter, boards, ink)
    elif kind is Kind.LACQUER:
        shines = [QRect(r.x(), r.y() + 1, r.width(), 2) for r in rects if r.height() > 4]
        pens.flat_rects(painter, shines, theme.shine)


def _spread(r: QRect, at: tuple[tuple[int, int], ...]) -> list[tuple[int, int]]:
    right, bottom = r.x() + r.width(), r.y() + r.height()
    return [
        (x + dx, y + dy)
        for y in range(r.y(), bottom, PITCH)
        for x in range(r.x(), right, PITCH)
        for dx, dy in at
        if x + dx + 1 <= right and y + dy + 1 <= bottom
    ]


def _weave(r: QRect) -> list[QRect]:
    right, bottom = r.x() + r.width(), r.y() + r.height()
    return [
        QRect(x + dx, y + dy, min(w, right - x - dx), min(h, bottom - y - dy))
        for y in range(r.y(), bottom, PITCH)
        for x in range(r.x(), right, PITCH)
        for dx, dy, w, h in _WEAVE
        if x + dx < right and y + dy < bottom
    ]


def _levels(r: QRect) -> range:
    return range(r.y() + 2, r.y() + r.height(), PITCH // 2)


def _slants(r: QRect) -> list[QLineF]:
    right, bottom = r.x() + r.width(), r.y() + r.height()
    return [
        QLineF(x + x1, y + y1, x + x2, y + y2)
        for y in range(r.y(), bottom, PITCH)
        for x in range(r.x(), right, PITCH)
        for x1, y1, x2, y2 in _SLANTS
        if x + x2 <= right and y + y1 <= bottom
    ]


def _boards(r: QRect) -> range:
    return range(r.x() + 2, r.x() + r.width() - 1, PITCH)


def paint_pins(painter: QPainter, theme: Theme, points: list[QPoint]) -> None:
    """Paint a pin at the upper left of what is nailed down."""
    pens.flat_rects(painter, [QRect(p.x(), p.y() - 2, 1, 6) for p in points], theme.ink)
    heads = [QPointF(p.x() + 0.5, p.y() - 2.5) for p in points]
    pens.beads(painter, heads, theme.ink, 2.5)


def paint_ears(painter: QPainter, theme: Theme, rects: list[QRect]) -> None:
    """Paint a dog-ear at the upper right of what has changed since the sheets went out."""
    path = QPainterPath()
    for r in rects:
        size = min(7, r.height(), max(3, r.width()))
        right, top = r.x() + r.width(), r.y()
        path.moveTo(right - size, top)
        path.lineTo(right, top)
        path.lineTo(right, top + size)
        path.closeSubpath()
    if rects:
        pens.fill_path(painter, path, theme.ink)
