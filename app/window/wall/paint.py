"""The one routine that paints the wall: on the screen, into a picture, later on paper."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage, QPainter

from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.cure_words import paint_cure_words
from app.window.wall.items import STOPS, Band, Role, Wall
from app.window.wall.layer import UNCUT, Layer
from app.window.wall.layout import Layout
from app.window.wall.paint_axis import paint_axis, paint_today
from app.window.wall.paint_ground import paint_posts
from app.window.wall.paint_marks import paint_dates, paint_number, paint_seams
from app.window.wall.paint_names import paint_names
from app.window.wall.paint_pointed import paint_pointed, paint_since
from app.window.wall.paint_ribbons import Ribbons
from app.window.wall.paint_signs import RING, paint_letter
from app.window.wall.paint_work import Look, ground_bottom, laid_rows, paint_work, seen_bands
from app.window.wall.sketch import paint_sketches
from app.words import Words

FOCUS, OVER_ROW = 2, 3


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
    """Paint the jobs: what moves with time, then words, names and what is chosen over it."""
    if layer is None:
        paint_work(painter, wall, layout, theme, look)
    else:
        _paint_kept(painter, wall, layout, theme, look, layer)
    seen = seen_bands(wall, layout)
    paint_cure_words(painter, wall, layout, theme, look.lit)
    for band in seen:
        paint_dates(painter, theme, layout, band)
    if look.lit is not None:
        _paint_lit(painter, wall, layout, theme, look, look.lit, seen)
    for band in seen:
        paint_number(painter, theme, layout, band)
        paint_names(painter, wall, layout, theme, look, band, layer.plates if layer else None)
    paint_sketches(painter, wall, layout, theme, seen, kept=layer is not None)
    paint_pointed(painter, wall, layout, theme, look.hovered)
    _paint_focus(painter, wall, layout, theme, look)
    _paint_today_line(painter, wall, layout, theme, seen)
    paint_since(painter, wall, layout, theme)


def _paint_kept(
    painter: QPainter,
    wall: Wall,
    layout: Layout,
    theme: Theme,
    look: Look,
    layer: Layer,
) -> None:
    """Paint kept strips, and anew the rows that are chosen or under the pointer."""
    left, right = layout.sizes.margin, layout.names_x - 6
    pens.flat_rect(painter, 0, 0, left, layout.height, theme.paper)
    pens.flat_rect(painter, right, 0, layout.width - right, layout.height, theme.paper)
    layer.paint(painter, wall, layout, theme)
    for row in {row for row, _ in laid_rows(wall, look)}:
        top = layout.row_middle(row) - layout.heights[row] // 2 - OVER_ROW
        high = layout.heights[row] + 2 * OVER_ROW
        strip = replace(layout, scroll=layout.scroll + top, height=high)
        painter.save()
        painter.translate(0, top)
        painter.setClipRect(QRect(left, 0, right - left, high), Qt.ClipOperation.IntersectClip)
        paint_work(painter, wall, strip, theme, look, out=UNCUT)
        painter.restore()


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
        height = ground_bottom(wall, layout, band) - top
        pens.flat_rect(painter, 0, top, right, height, theme.veil)
    Ribbons(wall, layout, lit).paint(painter, theme)
    for band in seen:
        seams = tuple(seam for seam in band.seams if seam.id in lit)
        paint_seams(painter, theme, layout, replace(band, seams=seams))
        if band.window is not None and band.window.id in lit:
            paint_posts(painter, theme, layout, band)
    _paint_letters(painter, wall, layout, theme, look)


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
        bottom = ground_bottom(wall, layout, seen[-1])
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
