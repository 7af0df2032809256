"""Names right of the windows: jobs with their verdicts, and segments; kept as they were written."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Band, Item, Role, Wall
from app.window.wall.layout import Layout
from app.window.wall.paint_marks import paint_verdict
from app.window.wall.paint_work import Look, ground_bottom

ABOVE = 12
"""How far letters may reach over a job's first line."""


def paint_names(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look,
    band: Band,
    plates: "Plates | None" = None,
) -> None:
    """Write a job's name and its segments' names right of its window.

    plates: keeps what was written, for all jobs but those that are chosen or veiled.
    """
    x, top = layout.names_left(band), layout.band_top(band)
    if x >= layout.names_x - 1:
        left, bottom = _sliver(layout, band), ground_bottom(wall, layout, band)
        pens.flat_rect(painter, left, top - 4, layout.width - left, bottom - top + 4, theme.paper)
    chosen = wall.item(look.selected)
    is_plain = look.lit is None and (chosen is None or chosen.band != band.header.band)
    if plates is None or not is_plain:
        _write(painter, wall, layout, theme, look, band, x)
    else:
        over = px(ABOVE)
        plate = plates.of(painter, wall, layout, theme, band, x)
        painter.drawImage(QPoint(x, top - over), plate)
    if layout.is_window_out_of_sight(band) and not layout.is_folded(band):
        for row in range(band.first_row, band.first_row + band.row_count):
            x, y = layout.names_x - 12, layout.row_middle(row)
            high = layout.row + 2
            pens.flat_rect(painter, x - 3, y - high // 2, 10, high, theme.paper)
            _chevron(painter, theme, x, y)


class Plates:
    """Names of jobs as they were written last."""

    def __init__(self) -> None:
        self._kept: dict[int, tuple[tuple[object, ...], QImage]] = {}
        self._wall: Wall | None = None

    def of(
        self, painter: QPainter, wall: Wall, layout: Layout, theme: Theme, band: Band, x: int
    ) -> QImage:
        """Return a job's names; x: where they would stand, which decides what there is room for."""
        ratio, index = painter.device().devicePixelRatioF(), band.header.band
        when = _when(layout, band, x)
        key = (theme, ratio, when, layout.row, layout.header, layout.is_folded(band))
        if self._wall is not wall:
            self._kept, self._wall = {}, wall
        kept = self._kept.get(index)
        if kept is not None and kept[0] == key:
            return kept[1]
        high = layout.band_bottom(band) - layout.band_top(band) + 2 * px(ABOVE)
        wide = names_width(wall, band)
        image = QImage(
            round(wide * ratio), round(high * ratio), QImage.Format.Format_ARGB32_Premultiplied
        )
        image.setDevicePixelRatio(ratio)
        image.fill(Qt.GlobalColor.transparent)
        plate = QPainter(image)
        try:
            plate.translate(-x, px(ABOVE) - layout.band_top(band))
            _write(plate, wall, layout, theme, Look(), band, x)
        finally:
            plate.end()
        self._kept[index] = key, image
        return image


def _write(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look,
    band: Band,
    x: int,
) -> None:
    baseline, is_folded = layout.header_baseline(band), layout.is_folded(band)
    middle, r = baseline - px(5) + 0.5, px(5) - 0.5
    paint_verdict(painter, theme, x + px(5), middle, r, band.verdict, is_enquiry=band.is_enquiry)
    size = _size(layout, band)
    end = pens.words(painter, x + px(15), baseline, band.name, theme.ink, size, 600)
    pens.words(painter, end + 8, baseline, _when(layout, band, x), theme.ink2, 12)
    chosen = wall.item(look.selected)
    for index in range(0 if is_folded else band.row_count):
        row = band.first_row + index
        ink, weight = _ink_of_name(wall, theme, look, row, _is_chosen(chosen, look, row))
        _paint_name(painter, wall, layout, row, x + px(15), ink, weight)


def _size(layout: Layout, band: Band) -> int:
    if layout.is_folded(band):
        return 12
    return 16 if layout.header >= px(24) else 14


def _when(layout: Layout, band: Band, x: int) -> str:
    """Return when a job's window is, as far as there is room for that."""
    is_away = layout.is_window_out_of_sight(band)
    when = band.window_text if is_away else _without_weekday(band.window_day)
    end = x + px(15) + text_width(band.name, _size(layout, band), 600)
    return when if end + 8 + text_width(when, 12) < layout.width else ""


def _sliver(layout: Layout, band: Band) -> int:
    """Return from where a job's ground is hidden: from the sliver of a window out of sight."""
    edge = layout.names_x - 6
    if band.window is None or not layout.is_window_out_of_sight(band):
        return edge
    return min(edge, layout.window_left_right(band)[0] - 6)


def names_width(wall: Wall, band: Band) -> int:
    """Return how far a job's names reach."""
    header = text_width(band.name, 16, 600) + text_width(band.window_text, 12) + 8
    rows = wall.rows[band.first_row : band.first_row + band.row_count]
    return round(max([header, *(text_width(row.name, 13, 600) for row in rows)])) + 27


def _is_chosen(chosen: Item | None, look: Look, row: int) -> bool:
    if chosen is None or chosen.role in {Role.JOB, Role.WINDOW}:
        return False
    return row == (chosen.row if look.row is None else look.row)


def _ink_of_name(
    wall: Wall, theme: Theme, look: Look, row: int, chosen: bool
) -> tuple[QColor, int]:
    """Return how a segment's name is written: bold when chosen, pale when nothing of it is lit."""
    if chosen:
        return theme.ink, 600
    lit = look.lit
    if lit is None or any(stop.id in lit for stop in wall.rows[row].stops):
        return theme.ink2, 400
    return pens.veiled(theme), 400


def _paint_name(
    painter: QPainter, wall: Wall, layout: Layout, row: int, x: int, ink: QColor, weight: int
) -> None:
    size = 13 if layout.row >= px(20) else 12 if layout.row > px(12) else 11
    baseline = layout.row_middle(row) + px(size) * 0.36
    pens.words(painter, x, baseline, wall.rows[row].name, ink, size, weight)


def _without_weekday(day: str) -> str:
    return day.partition(" ")[2] or day


def _chevron(painter: QPainter, theme: Theme, x: int, y: int) -> None:
    path = QPainterPath()
    path.moveTo(x, y - 3)
    path.lineTo(x + 4, y + 0.5)
    path.lineTo(x, y + 4)
    pens.outline_path(painter, path, theme.ink3, 1.1)
