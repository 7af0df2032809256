"""What of a wall moves with time: ground, windows, ribbons, journeys, seams, the past's veil."""

from dataclasses import dataclass

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.window.theme import Theme, over_opening
from app.window.wall import pens
from app.window.wall.items import STOPS, Band, Role, Wall
from app.window.wall.layout import Layout
from app.window.wall.paint_ground import paint_grounds, paint_posts, paint_window, stripes
from app.window.wall.paint_marks import paint_bar, paint_journey, paint_late, paint_seams
from app.window.wall.paint_ribbons import Ribbons
from app.window.wall.paint_signs import paint_past_boxes, paint_recoat


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is chosen, what is under the pointer, and whether the keyboard is on the wall.

    hovered: id of what is under the pointer. lit: ids of what is not veiled, None where nothing
    is. letters: (id of a wait, its letter).
    """

    selected: str | None = None
    row: int | None = None
    hovered_row: int | None = None
    hovered: str | None = None
    has_focus: bool = False
    lit: frozenset[str] | None = None
    letters: tuple[tuple[str, str], ...] = ()


NOTHING_CHOSEN = Look()


def paint_work(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look = NOTHING_CHOSEN,
    *,
    out: int = 0,
) -> int:
    """Paint ground, window, chosen row, ribbons, journey, seams, veil; return how many blocks.

    out: see `Ribbons`.
    """
    pens.flat_rect(painter, 0, 0, layout.width, layout.height, theme.paper)
    seen = seen_bands(wall, layout)
    marks = stripes(wall, layout)
    grounds = [(band, ground_bottom(wall, layout, band)) for band in seen]
    paint_grounds(painter, theme, layout, grounds, marks)
    for band in seen:
        paint_window(painter, theme, layout, band)
        paint_late(painter, theme, layout, band)
    for row, is_chosen in laid_rows(wall, look):
        _lay_row(painter, wall, layout, row, theme.sheet, theme.ink if is_chosen else None)
    ribbons = Ribbons(wall, layout, out=out)
    ribbons.paint(painter, theme)
    paint_recoat(painter, theme, wall, layout, look.selected)
    for band in seen:
        _paint_road(painter, wall, layout, theme, band)
        paint_posts(painter, theme, layout, band)
        paint_seams(painter, theme, layout, band)
    _paint_veil(painter, wall, layout, theme, seen)
    if look.lit is None and not wall.is_stale:
        paint_past_boxes(painter, theme, wall, layout)
    return ribbons.block_count


def _paint_road(painter: QPainter, wall: Wall, layout: Layout, theme: Theme, band: Band) -> None:
    """Paint a job's loading bar and its road, over its window in the inks that are seen there."""
    rows = wall.rows[band.first_row : band.first_row + band.row_count]
    for clip, inks in _in_and_out(layout, theme, band):
        if not _reaches(layout, band, clip):
            continue
        painter.save()
        painter.setClipRect(clip, Qt.ClipOperation.IntersectClip)
        paint_journey(painter, inks, layout, band, rows)
        paint_bar(painter, inks, layout, band)
        painter.restore()


def seen_bands(wall: Wall, layout: Layout) -> list[Band]:
    """Return the jobs of which some row is in sight."""
    return [band for band in wall.bands if _is_seen(layout, band)]


def laid_rows(wall: Wall, look: Look) -> list[tuple[int, bool]]:
    """Return the row under the pointer and the chosen one, each with whether it is chosen."""
    chosen, found = wall.item(look.selected), list[tuple[int, bool]]()
    if look.hovered_row is not None and look.hovered_row < len(wall.rows):
        found.append((look.hovered_row, False))
    if chosen is not None and chosen.role in STOPS | {Role.SEGMENT}:
        row = chosen.row if look.row is None else look.row
        if chosen.row <= row <= chosen.last_row:
            found.append((row, True))
    return found


def _is_seen(layout: Layout, band: Band) -> bool:
    return layout.band_bottom(band) + layout.job_gap > 0 and layout.band_top(band) < layout.height


def _reaches(layout: Layout, band: Band, clip: QRect) -> bool:
    """Say whether a job's loading bar or its road reaches into a part of its row."""
    places = [] if band.bar is None else [layout.scale.x(band.bar)]
    if band.legs:
        places += [layout.fan(band)[0], layout.scale.x(max(leg.end for leg in band.legs))]
        if band.window is not None:
            places.append(layout.window_left_right(band)[0] - 4)
    return bool(places) and min(places) - 4 <= clip.right() and max(places) + 4 >= clip.left()


def _in_and_out(layout: Layout, theme: Theme, band: Band) -> list[tuple[QRect, Theme]]:
    """Return what lies beside a window and in it, each with the inks that are seen there."""
    edge = layout.sizes.margin
    top, height = layout.band_top(band), layout.band_bottom(band) + 8 - layout.band_top(band)
    if band.window is None or layout.is_window_out_of_sight(band):
        return [(QRect(edge, top, layout.names_x - 6 - edge, height), theme)]
    left, right = layout.window_left_right(band)
    return [
        (QRect(edge, top, left - edge, height), theme),
        (QRect(left, top, min(right, layout.names_x - 6) - left, height), over_opening(theme.name)),
        (QRect(right, top, layout.names_left(band) + 4 - right, height), theme),
    ]


def ground_bottom(wall: Wall, layout: Layout, band: Band) -> int:
    index = band.header.band + 1
    if index < len(wall.bands):
        return layout.band_top(wall.bands[index]) - 4
    return layout.band_bottom(band) + layout.job_gap


def _lay_row(
    painter: QPainter, wall: Wall, layout: Layout, row: int, fill: QColor, ink: QColor | None
) -> None:
    band = wall.bands[wall.rows[row].band]
    items = wall.rows[row].blocks
    left = layout.scale.x(items[0].start) - 5 if items else layout.sizes.margin
    left = max(layout.sizes.margin, left)
    right = layout.ground_right(band)
    if band.window is not None:
        right = min(right, layout.window_left_right(band)[0] - 2)
    high = layout.heights[row]
    top = layout.row_middle(row) - high // 2 - 2
    if right - left < 4:
        return
    box = QRectF(left, top, right - left, high + 4)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(fill)
    painter.setPen(Qt.PenStyle.NoPen if ink is None else QPen(ink, 1.5))
    painter.drawRoundedRect(box.adjusted(0.75, 0.75, -0.75, -0.75), 2.5, 2.5)


def _paint_veil(
    painter: QPainter, wall: Wall, layout: Layout, theme: Theme, seen: list[Band]
) -> None:
    """Veil what is past; all of it where the plan is an old one."""
    now = layout.scale.x(wall.now)
    for band in seen:
        top, bottom = layout.band_top(band) - 4, ground_bottom(wall, layout, band)
        right = layout.ground_right(band) if wall.is_stale else min(now, layout.ground_right(band))
        if right > layout.sizes.margin:
            width = right - layout.sizes.margin
            pens.flat_rect(painter, layout.sizes.margin, top, width, bottom - top, theme.veil)
