"""The one routine that paints the wall: on the screen, into a picture, later on paper."""

from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen

from app.window.fonts import text_width
from app.window.theme import Theme, over_opening
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import STOPS, Band, Item, Role, Wall
from app.window.wall.layer import Layer
from app.window.wall.layout import Layout
from app.window.wall.paint_axis import paint_axis, paint_today
from app.window.wall.paint_ground import paint_grounds, paint_posts, paint_window, stripes
from app.window.wall.paint_marks import (
    paint_bar,
    paint_journey,
    paint_late,
    paint_number,
    paint_seams,
    paint_verdict,
)
from app.window.wall.paint_ribbons import Ribbons
from app.window.wall.paint_signs import RING, Signs, paint_letter, paint_past_boxes
from app.words import Words

FOCUS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is chosen, what is under the pointer, and whether the keyboard is on the wall.

    lit: ids of what is not veiled, None where nothing is. letters: (id of a wait, its letter).
    """

    selected: str | None = None
    row: int | None = None
    hovered_row: int | None = None
    has_focus: bool = False
    lit: frozenset[str] | None = None
    letters: tuple[tuple[str, str], ...] = ()


def paint_wall(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    words: Words,
    look: Look,
    layer: Layer | None = None,
) -> None:
    """Paint axis and body; the body begins under the axis. layer: keeps ribbons on a screen."""
    axis = layout.sizes.axis
    chosen = wall.item(look.selected)
    governing = wall.band_of(chosen.job) if chosen else None
    governing = governing or next((b for b in wall.bands if b.job == wall.governing), None)
    painter.save()
    painter.translate(0, axis)
    painter.setClipRect(QRect(0, 0, layout.width, layout.height))
    paint_body(painter, wall, layout, theme, look, layer)
    painter.restore()
    paint_axis(painter, theme, wall, layout, words, governing)
    paint_today(painter, theme, wall, layout, words)


def paint_body(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look,
    layer: Layer | None = None,
) -> None:
    """Paint the jobs: ground, window, chosen row, ribbons, journey, seams, veil, words, names."""
    pens.flat_rect(painter, 0, 0, layout.width, layout.height, theme.paper)
    seen = [band for band in wall.bands if _is_seen(layout, band)]
    marks = stripes(wall, layout)
    grounds = [(band, _ground_bottom(wall, layout, band)) for band in seen]
    paint_grounds(painter, theme, layout, grounds, marks)
    for band in seen:
        paint_window(painter, theme, layout, band)
        paint_late(painter, theme, layout, band)
    _paint_rows(painter, wall, layout, theme, look)
    if layer is None:
        Ribbons(wall, layout).paint(painter, theme)
    else:
        layer.paint(painter, wall, layout, theme)
    _paint_recoat(painter, wall, layout, theme, look)
    for band in seen:
        rows = wall.rows[band.first_row : band.first_row + band.row_count]
        for clip, inks in _in_and_out(layout, theme, band):
            if not _reaches(layout, band, clip):
                continue
            painter.save()
            painter.setClipRect(clip, Qt.ClipOperation.IntersectClip)
            paint_journey(painter, inks, layout, band, rows)
            paint_bar(painter, inks, layout, band)
            painter.restore()
        paint_posts(painter, theme, layout, band)
        paint_seams(painter, theme, layout, band)
    _paint_veil(painter, wall, layout, theme, seen)
    if look.lit is None and not wall.is_stale:
        paint_past_boxes(painter, theme, wall, layout)
    if look.lit is not None:
        _paint_lit(painter, wall, layout, theme, look, look.lit, seen)
    for band in seen:
        paint_number(painter, theme, layout, band)
        _paint_names(painter, wall, layout, theme, look, band)
    _paint_focus(painter, wall, layout, theme, look)
    _paint_today_line(painter, wall, layout, theme, seen)


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


def _ground_bottom(wall: Wall, layout: Layout, band: Band) -> int:
    index = band.header.band + 1
    if index < len(wall.bands):
        return layout.band_top(wall.bands[index]) - 4
    return layout.band_bottom(band) + layout.job_gap


def _paint_rows(painter: QPainter, wall: Wall, layout: Layout, theme: Theme, look: Look) -> None:
    """Lay `sheet` under the row that is under the pointer, and frame the chosen one."""
    chosen = wall.item(look.selected)
    if look.hovered_row is not None and look.hovered_row < len(wall.rows):
        _lay_row(painter, wall, layout, look.hovered_row, theme.sheet, None)
    if chosen is not None and chosen.role in STOPS | {Role.SEGMENT}:
        row = chosen.row if look.row is None else look.row
        if chosen.row <= row <= chosen.last_row:
            _lay_row(painter, wall, layout, row, theme.sheet, theme.ink)


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
        top, bottom = layout.band_top(band) - 4, _ground_bottom(wall, layout, band)
        right = layout.ground_right(band) if wall.is_stale else min(now, layout.ground_right(band))
        if right > layout.sizes.margin:
            width = right - layout.sizes.margin
            pens.flat_rect(painter, layout.sizes.margin, top, width, bottom - top, theme.veil)


def _paint_lit(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look,
    lit: frozenset[str],
    seen: list[Band],
) -> None:
    """Veil everything, then paint what is looked for once more."""
    for band in seen:
        top, right = layout.band_top(band) - 4, layout.names_left(band) - 4
        height = _ground_bottom(wall, layout, band) - top
        pens.flat_rect(painter, 0, top, right, height, theme.veil)
    Ribbons(wall, layout, lit).paint(painter, theme)
    for band in seen:
        seams = tuple(seam for seam in band.seams if seam.id in lit)
        paint_seams(painter, theme, layout, replace(band, seams=seams))
        if band.window is not None and band.window.id in lit:
            paint_posts(painter, theme, layout, band)
    _paint_letters(painter, wall, layout, theme, look)


def _paint_recoat(painter: QPainter, wall: Wall, layout: Layout, theme: Theme, look: Look) -> None:
    """Paint the recoat time of the chosen coat, which is shown of all coats only from near."""
    cure = wall.item(f"cure {look.selected}")
    if cure is None or cure.recoat is None or cure.band in layout.folded:
        return
    a, b = layout.scale.x(cure.recoat[0]), layout.scale.x(cure.recoat[1])
    left, right = max(a, layout.sizes.margin), min(b, layout.names_x - 6)
    if left < right:
        signs = Signs()
        signs.bracket(left, right, layout.row_middle(cure.row) + layout.row // 2 - 2)
        signs.paint(painter, theme)


def _paint_letters(painter: QPainter, wall: Wall, layout: Layout, theme: Theme, look: Look) -> None:
    """Put the letters of waits on their dots, beside one another where they would meet."""
    apart, reached = 2 * px(RING) + 2, dict[int, float]()
    for identity, letter in look.letters:
        item = wall.item(identity)
        if item is None:
            continue
        x = (layout.scale.x(item.start) + layout.scale.x(item.end)) / 2
        x = max(x, reached.get(item.row, 0) + apart)
        if layout.sizes.margin < x < layout.names_x - 6:
            reached[item.row] = x
            paint_letter(painter, theme, x, layout.row_middle(item.row), letter)


def _paint_names(
    painter: QPainter, wall: Wall, layout: Layout, theme: Theme, look: Look, band: Band
) -> None:
    """Write a job's name and its segments' names right of its window."""
    x = layout.names_left(band)
    is_away = layout.is_window_out_of_sight(band)
    top = layout.band_top(band)
    if x >= layout.names_x - 1:
        bottom = _ground_bottom(wall, layout, band)
        pens.flat_rect(
            painter, layout.names_x - 6, top - 4, layout.width, bottom - top + 4, theme.paper
        )
    baseline = layout.header_baseline(band)
    is_folded = layout.is_folded(band)
    paint_verdict(
        painter,
        theme,
        x + px(5),
        baseline - px(5) + 0.5,
        px(5) - 0.5,
        band.verdict,
        is_enquiry=band.is_enquiry,
    )
    size = 12 if is_folded else 16 if layout.header >= px(24) else 14
    end = pens.words(painter, x + px(15), baseline, band.name, theme.ink, size, 600)
    when = band.window_text if is_away else _without_weekday(band.window_day)
    if end + 8 + text_width(when, 12) < layout.width:
        pens.words(painter, end + 8, baseline, when, theme.ink2, 12)
    chosen = wall.item(look.selected)
    for index in range(0 if is_folded else band.row_count):
        row = band.first_row + index
        ink, weight = _ink_of_name(wall, theme, look, row, _is_chosen(chosen, look, row))
        _paint_name(painter, wall, layout, row, x + px(15), ink, weight)
        if is_away:
            _chevron(painter, theme, layout.names_x - 12, layout.row_middle(row))


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
    pale = QColor(theme.ink2)
    pale.setAlpha(255 - theme.veil.alpha())
    return pale, 400


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


def _paint_focus(painter: QPainter, wall: Wall, layout: Layout, theme: Theme, look: Look) -> None:
    """Frame the chosen item twice, ink and paper, so that it is seen on every fill."""
    item = wall.item(look.selected)
    if item is None or item.role not in STOPS:
        return
    box = layout.rect(item)
    top, height = box.y, box.height
    if item.role is Role.BLOCK:
        thick = min(layout.thickness(item.hands), layout.heights[item.row])
        top, height = layout.row_middle(item.row) - thick // 2, thick
    elif item.role is Role.LEG:
        middle = box.y + box.height // 2
        top, height = middle - 6, 12
    rect = QRect(box.x, top, box.width, height)
    if rect.x() > layout.names_x or rect.right() < layout.sizes.margin:
        return
    pens.frame(painter, rect.adjusted(-2, -2, 2, 2), theme.paper, FOCUS)
    pens.frame(painter, rect.adjusted(-4, -4, 4, 4), theme.ink, FOCUS if look.has_focus else 1)


def _paint_today_line(
    painter: QPainter, wall: Wall, layout: Layout, theme: Theme, seen: list[Band]
) -> None:
    x = layout.scale.x(wall.now)
    if seen and layout.sizes.margin <= x < layout.names_x:
        bottom = _ground_bottom(wall, layout, seen[-1])
        pens.flat_rect(painter, x, 0, 2, bottom, theme.ink)


def picture(
    wall: Wall, layout: Layout, theme: Theme, words: Words, look: Look, *, ratio: float = 1.0
) -> QImage:
    """Return the wall as an image of so many device pixels to one of ours."""
    width, height = layout.width, layout.height + layout.sizes.axis
    image = QImage(round(width * ratio), round(height * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(theme.paper)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing, True)
    try:
        paint_wall(painter, wall, layout, theme, words, look)
    finally:
        painter.end()
    return image


def save_picture(image: QImage, path: Path) -> bool:
    """Write an image to a file whose ending says how; whether it could be."""
    return bool(image.save(str(path)))
