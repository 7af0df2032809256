"""Gates as seams, the journey as a road, what is past the window, and the verdicts' marks."""

from itertools import pairwise

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Band, Item, Role, Row
from app.window.wall.layout import Layout
from app.window.wall.seam_words import seam_words
from scheduler.outcome import Verdict
from shared.book import LegKind

TOOTH = 5
_ON_THE_ROAD = frozenset({LegKind.DRIVE, LegKind.SAILING, LegKind.BORDER, LegKind.WAIT})


def paint_seams(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Paint answers and trial fits across all segments."""
    is_folded = layout.is_folded(band)
    top = layout.rows_top(band) if is_folded else layout.band_top(band) + 6
    bottom = layout.band_bottom(band) + 3
    limit = layout.names_x - 6
    for seam in band.seams:
        if seam.role is Role.ANSWER:
            x = layout.scale.x(seam.end)
            if layout.sizes.margin < x < limit:
                paint_answer(painter, theme, x, top, bottom, seam.state)
            if not is_folded:
                _bracket(painter, theme, layout, band, seam)
        elif seam.role is Role.TRIAL_FIT:
            x = layout.scale.x(seam.start)
            if layout.sizes.margin < x < limit:
                paint_teeth(painter, theme, x, top, bottom)
        elif seam.role is Role.SITE_GATE:
            x = layout.scale.x(seam.start)
            if layout.sizes.margin < x < limit:
                pens.flat_rect(painter, x, top, 1, bottom - top, theme.ink)


def paint_answer(
    painter: QPainter, theme: Theme, x: int, top: int, bottom: int, state: str
) -> None:
    """Paint an answer: two lines, filled once it is given, in the colour of a miss when overdue."""
    ink = theme.miss if state == "late" else theme.ink
    height = bottom - top
    pens.flat_rect(painter, x - 2, top, 5, height, ink if state == "done" else theme.paper)
    pens.flat_rects(painter, [QRect(x - 2, top, 1, height), QRect(x + 2, top, 1, height)], ink)


def paint_teeth(painter: QPainter, theme: Theme, x: int, top: int, bottom: int) -> None:
    """Paint a toothed joint from top to bottom."""
    path = QPainterPath(QPointF(x - 2.5, top))
    y, side = float(top), -2.5
    while y < bottom:
        y = min(y + TOOTH, float(bottom))
        path.lineTo(x + side, y)
        if y < bottom:
            side = -side
            path.lineTo(x + side, y)
    pens.outline_path(painter, path, theme.ink, 1.3)


def _bracket(painter: QPainter, theme: Theme, layout: Layout, band: Band, seam: Item) -> None:
    """Paint the bracket from the pictures that go out to the answer, and when it is due."""
    left, right = layout.scale.x(seam.start), layout.scale.x(seam.end) - 3
    edge, limit = layout.sizes.margin, layout.names_x - 6
    y = layout.band_top(band) + layout.header // 2
    a, b = max(left, edge), min(right, limit)
    if b > a:
        pens.flat_rect(painter, a, y, b - a, 1, theme.ink2)
        if left >= edge:
            pens.flat_rect(painter, left, y - 3, 1, 7, theme.ink2)


def paint_dates(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Write when answers are due, in their brackets or right of them, and name trial fits."""
    if layout.is_folded(band):
        return
    top = layout.band_top(band)
    for seam, x, text in seam_words(layout, band):
        y = top + layout.header - 6
        if seam.role is Role.ANSWER:
            y = top + layout.header // 2 + px(4)
        pens.words_on_plate(painter, x, y, text, theme.ink2, theme.paper)


def paint_bar(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Paint by when loading must start; in the colour of a miss when it starts later."""
    if band.bar is None:
        return
    x = layout.scale.x(band.bar)
    if not layout.sizes.margin < x < layout.names_x - 6:
        return
    top, bottom = layout.rows_top(band) - 4, layout.band_bottom(band) + 3
    pens.flat_rect(painter, x - 1, top, 3, bottom - top, theme.miss if is_late(band) else theme.ink)


def is_late(band: Band) -> bool:
    """Say whether loading is planned later than it may be."""
    planned = [seam.start for seam in band.seams if seam.role is Role.LOADING]
    return band.bar is not None and bool(planned) and max(planned) > band.bar


def paint_number(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Write what is to spare over the tail, or how late it is, left of the loading bar."""
    if band.bar is None or layout.is_window_out_of_sight(band):
        return
    text, ink = band.spare_text, theme.ink
    if band.late_text:
        text, ink = band.late_text, theme.miss
    right = layout.scale.x(band.bar)
    if band.window is not None:
        right = min(right, layout.scale.x(band.window.start) - 2)
    x = right - 5 - text_width(text, 12, 600)
    if text and x > layout.sizes.margin:
        y = layout.header_baseline(band)
        pens.words_on_plate(painter, x, y, text, ink, theme.paper, 12, 600)


def paint_journey(
    painter: QPainter, theme: Theme, layout: Layout, band: Band, rows: tuple[Row, ...]
) -> None:
    """Paint how the segments' lines bend into one road, and the road to the site."""
    if not band.legs:
        return
    middle = (layout.rows_top(band) + layout.band_bottom(band)) // 2
    fan_from, start = layout.fan(band)
    middles = [layout.row_middle(band.first_row + index) for index in range(len(rows))]
    if band.window is not None:
        _tails_within(painter, theme, layout, band, rows)
    paint_fan(painter, theme, (fan_from, start), middles, middle)
    height = min(10, max(7, layout.row // 2)) if not layout.is_folded(band) else 6
    for leg in band.legs:
        a, b = layout.scale.x(leg.start), layout.scale.x(leg.end)
        box = QRect(a, middle - height // 2, max(2, b - a), height)
        if band.window is not None and leg.start >= band.window.end:
            _late_leg(painter, theme, box)
        else:
            paint_leg(painter, theme, leg.leg, box)


def _tails_within(
    painter: QPainter, theme: Theme, layout: Layout, band: Band, rows: tuple[Row, ...]
) -> None:
    """Lead the tails on through the window to where they bend, if that is inside it."""
    left, right = layout.window_left_right(band)[0] - 4, layout.fan(band)[0]
    half = max(3, round(layout.row * 0.18))
    lines = [
        QRect(left, layout.row_middle(band.first_row + index) + shift, right - left, 1)
        for index, row in enumerate(rows)
        for shift in (-half, half)
        if row.spare is not None and left < right
    ]
    pens.flat_rects(painter, lines, theme.ink3)


def paint_fan(
    painter: QPainter, theme: Theme, span: tuple[int, int], middles: list[int], middle: int
) -> None:
    """Bend lines at these heights into one."""
    x, reach = span[0], span[1] - span[0]
    path = QPainterPath()
    for y in middles:
        path.moveTo(x, y + 0.5)
        path.cubicTo(
            x + reach * 0.7, y + 0.5, x + reach * 0.3, middle + 0.5, x + reach, middle + 0.5
        )
    pens.outline_path(painter, path, theme.ink2, 1.1)


def paint_leg(painter: QPainter, theme: Theme, leg: LegKind | None, r: QRect) -> None:
    """Paint a part of a journey."""
    if leg is LegKind.SAILING:
        _sailing(painter, theme, r)
    elif leg is LegKind.BORDER:
        _border(painter, theme, r)
    elif leg is LegKind.WAIT:
        edges = [QRect(r.x(), r.y() + 1, r.width(), 1), QRect(r.x(), r.bottom() - 1, r.width(), 1)]
        pens.flat_rects(painter, edges, theme.ink2)
    elif leg is LegKind.DRIVE:
        _drive(painter, theme, r)
    else:
        is_white = leg in {LegKind.INSPECT, LegKind.SIGN_OFF}
        pens.flat_rects(painter, [r], theme.on_opening)
        fill = theme.opening if is_white else theme.on_opening2
        pens.flat_rects(painter, [r.adjusted(1, 1, -1, -1)], fill)


def _drive(painter: QPainter, theme: Theme, r: QRect) -> None:
    pens.flat_rects(painter, [r], theme.ink)
    if r.width() > 8:
        y = r.y() + r.height() // 2
        dashes = [QRect(x, y - 1, 4, 2) for x in range(r.x() + 2, r.right() - 4, 7)]
        pens.flat_rects(painter, dashes, theme.paper)


def _sailing(painter: QPainter, theme: Theme, r: QRect) -> None:
    y = r.y() + r.height() / 2
    path = QPainterPath(QPointF(r.x(), y))
    x = float(r.x())
    while x + 6 <= r.right() + 1:
        path.cubicTo(x + 2, y - 5, x + 4, y + 5, x + 6, y)
        x += 6
    pens.flat_rect(painter, r.x(), r.y(), r.width(), r.height(), theme.paper)
    pens.outline_path(painter, path, theme.ink, 1.6)


def _border(painter: QPainter, theme: Theme, r: QRect) -> None:
    pens.flat_rects(painter, [r], theme.paper)
    bars = [
        QRect(x, r.y(), min(4, r.right() + 1 - x), r.height()) for x in range(r.x(), r.right(), 8)
    ]
    pens.flat_rects(painter, bars, theme.ink)
    pens.frame(painter, r, theme.ink)


def _late_leg(painter: QPainter, theme: Theme, r: QRect) -> None:
    pens.flat_rects(painter, [r], theme.missbg)
    pens.slanted(painter, pens.hatch_lines(r.x(), r.y(), r.width(), r.height(), 5), theme.miss)
    pens.frame(painter, r, theme.miss)


def paint_late(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Paint what lies past the window: hatched, its right edge torn."""
    if band.late is None or layout.is_window_out_of_sight(band):
        return
    _, left = layout.window_left_right(band)
    left += 2
    if layout.scale.x(band.late.end) < layout.sizes.margin or left > layout.names_x:
        return
    right = max(layout.scale.x(band.late.end), left + 8)
    top, bottom = layout.rows_top(band), layout.band_bottom(band)
    path = torn(left, right, top, bottom)
    pens.fill_path(painter, path, theme.missbg)
    painter.save()
    painter.setClipPath(path)
    lines = pens.hatch_lines(left, top, right - left, bottom - top, 6)
    pens.slanted(painter, lines, theme.miss)
    painter.restore()
    pens.outline_path(painter, path, theme.miss, 1)


def torn(left: float, right: float, top: float, bottom: float) -> QPainterPath:
    """Return a shape whose right edge is torn."""
    path = QPainterPath(QPointF(left, top + 0.5))
    path.lineTo(right, top + 0.5)
    count = max(2, round((bottom - top) / 6))
    edges = [top + 0.5 + (bottom - top - 1) * index / count for index in range(count + 1)]
    for a, b in pairwise(edges):
        path.lineTo(right - 4, (a + b) / 2)
        path.lineTo(right, b)
    path.lineTo(left, bottom - 0.5)
    path.closeSubpath()
    return path


def paint_verdict(
    painter: QPainter,
    theme: Theme,
    x: float,
    y: float,
    r: float,
    verdict: Verdict | None,
    *,
    is_enquiry: bool = False,
) -> None:
    """Paint a verdict as a shape about a point."""
    if is_enquiry:
        _lozenge(painter, theme, x, y, r)
    elif verdict is Verdict.FITS:
        pens.fill_path(painter, _disc(x, y, r), theme.ink)
    elif verdict is Verdict.TIGHT:
        _half_disc(painter, theme, x, y, r)
    elif verdict is Verdict.MISSES:
        pens.fill_path(painter, _flag(x, y, r), theme.miss)
    elif verdict is Verdict.CANNOT:
        pens.flat_rect(painter, round(x - r), round(y - r), round(2 * r), round(2 * r), theme.miss)
        pens.flat_rect(painter, round(x - r) + 2, round(y) - 1, round(2 * r) - 4, 2, theme.paper)
    elif verdict is Verdict.NOT_FOUND:
        _dashed_ring(painter, theme, x, y, r)
    else:
        pens.outline_path(painter, _disc(x, y, r - 1), theme.ink3, 1)


def _disc(x: float, y: float, r: float) -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(x, y), r, r)
    return path


def _half_disc(painter: QPainter, theme: Theme, x: float, y: float, r: float) -> None:
    pens.fill_path(painter, _disc(x, y, r), theme.paper)
    half = QPainterPath(QPointF(x - r, y))
    half.arcTo(QRectF(x - r, y - r, 2 * r, 2 * r), 180, 180)
    half.closeSubpath()
    pens.fill_path(painter, half, theme.ink)
    pens.outline_path(painter, _disc(x, y, r - 0.7), theme.ink, 1.4)


def _flag(x: float, y: float, r: float) -> QPainterPath:
    path = QPainterPath(QPointF(x - r, y - r))
    for dx, dy in ((0.2, -1.0), (1.0, -0.33), (0.2, 0.33), (1.0, 1.0), (-1.0, 1.0)):
        path.lineTo(x + dx * r, y + dy * r)
    path.closeSubpath()
    return path


def _dashed_ring(painter: QPainter, theme: Theme, x: float, y: float, r: float) -> None:
    lines = []
    for index in range(8):
        path = QPainterPath()
        box = QRectF(x - r, y - r, 2 * r, 2 * r)
        path.arcMoveTo(box, index * 45)
        a = path.currentPosition()
        path.arcTo(box, index * 45, 24)
        lines.append(QLineF(a, path.currentPosition()))
    pens.slanted(painter, lines, theme.ink, 1.4)


def _lozenge(painter: QPainter, theme: Theme, x: float, y: float, r: float) -> None:
    path = QPainterPath(QPointF(x, y - r - 1))
    for dx, dy in ((r + 1, 0), (0, r + 1), (-r - 1, 0)):
        path.lineTo(x + dx, y + dy)
    path.closeSubpath()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    pens.outline_path(painter, path, theme.ink, 1.4)
