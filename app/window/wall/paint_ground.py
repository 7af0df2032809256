"""What lies under a job's ribbons: days, nights, shut days, and its window."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRect
from PySide6.QtGui import QPainter

from app.window.theme import Theme
from app.window.wall import pens
from app.window.wall.items import Band, Wall
from app.window.wall.layout import Layout, days_between

NIGHTS_FROM = 60
HOURS_FROM = 240
WIDE_HATCH = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Stripes:
    """What of the calendar is in sight, in pixels: (left, right) or left."""

    off: tuple[tuple[int, int], ...]
    shut: tuple[tuple[int, int], ...]
    mondays: tuple[int, ...]
    months: tuple[int, ...]
    hours: tuple[int, ...]


def stripes(wall: Wall, layout: Layout) -> Stripes:
    """Return the stripes of the ground, for all jobs alike."""
    scale = layout.scale
    low, high = scale.minute(0), scale.minute(layout.width)
    days = days_between(wall, low, high)
    x = scale.x
    off = [(x(day.start), x(day.end)) for day in days if day.is_off and not day.is_shut]
    if scale.pixels_per_day >= NIGHTS_FROM:
        off = _nights(wall, layout, low, high)
    hours: list[int] = []
    if scale.pixels_per_day >= HOURS_FROM:
        hours = [x(day.start + 60 * hour) for day in days for hour in range(1, 24)]
    return Stripes(
        off=tuple(off),
        shut=tuple((x(day.start), x(day.end)) for day in days if day.is_shut),
        mondays=tuple(x(day.start) for day in days if day.date.weekday() == 0),
        months=tuple(x(day.start) for day in days if day.date.day == 1),
        hours=tuple(hours),
    )


def _nights(wall: Wall, layout: Layout, low: float, high: float) -> list[tuple[int, int]]:
    """Return what lies between the shifts."""
    found, free = [], low
    for start, end in wall.shift_hours:
        if end <= low:
            continue
        if start > free:
            found.append((layout.scale.x(free), layout.scale.x(min(start, high))))
        free = end
        if free >= high:
            return found
    return [*found, (layout.scale.x(free), layout.scale.x(high))]


def paint_grounds(
    painter: QPainter,
    theme: Theme,
    layout: Layout,
    bands: list[tuple[Band, int]],
    marks: Stripes,
) -> None:
    """Paint the ground of jobs, each to its bottom; it stops at the job's window."""
    off: list[QRect] = []
    shut: list[QRect] = []
    hatch: list[QLineF] = []
    lines: list[QRect] = []
    months: list[QRect] = []
    left = layout.sizes.margin
    for band, bottom in bands:
        right, top = layout.ground_right(band), layout.band_top(band) - 4
        height = bottom - top
        if right <= left or height <= 0:
            continue
        off += _stripes(marks.off, left, right, top, height)
        closed = _stripes(marks.shut, left, right, top, height)
        shut += closed
        for rect in closed:
            hatch += pens.hatch_lines(rect.x(), top, rect.width(), height, WIDE_HATCH)
        lines += _lines((*marks.hours, *marks.mondays), left, right, top, height)
        months += _lines(marks.months, left, right, top, height)
    pens.flat_rects(painter, off, theme.off)
    pens.flat_rects(painter, shut, theme.shut)
    pens.slanted(painter, hatch, theme.line)
    pens.flat_rects(painter, lines, theme.line)
    pens.flat_rects(painter, months, theme.ink3)


def _lines(places: tuple[int, ...], left: int, right: int, top: int, height: int) -> list[QRect]:
    return [QRect(x, top, 1, height) for x in places if left <= x < right]


def _stripes(
    spans: tuple[tuple[int, int], ...], left: int, right: int, top: int, height: int
) -> list[QRect]:
    cut = ((max(left, a), min(right, b)) for a, b in spans)
    return [QRect(a, top, b - a, height) for a, b in cut if a < b]


def paint_window(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Paint the opening: white all through, from near only in its access hours."""
    if band.window is None or layout.is_window_out_of_sight(band):
        return
    left, right = layout.window_left_right(band)
    right = min(right, layout.names_x - 6)
    top, bottom = layout.rows_top(band) - 4, layout.band_bottom(band) + 4
    if layout.scale.pixels_per_day < NIGHTS_FROM or not band.access:
        pens.flat_rect(painter, left, top, right - left, bottom - top, theme.opening)
        return
    pens.flat_rect(painter, left, top, right - left, bottom - top, theme.off)
    for start, end in band.access:
        a, b = layout.scale.x(start), min(layout.scale.x(end), right)
        if a < b:
            pens.flat_rect(painter, a, top, b - a, bottom - top, theme.opening)


def paint_posts(painter: QPainter, theme: Theme, layout: Layout, band: Band) -> None:
    """Paint a window's posts and its lintel."""
    if band.window is None or layout.is_window_out_of_sight(band):
        return
    left, right = layout.window_left_right(band)
    top, bottom = layout.rows_top(band) - 4, layout.band_bottom(band) + 4
    edge = layout.names_x - 6
    posts = (left - 2, right) if right <= edge else (left - 2,)
    if band.is_held:
        posts = (*posts, left - 6, *((right + 4,) if right <= edge else ()))
    for x in posts:
        pens.flat_rect(painter, x, top, 2, bottom - top, theme.post)
    lintel = min(right + 6, edge) - left + 6
    pens.flat_rect(painter, left - 6, top - 3, lintel, 3, theme.post)
