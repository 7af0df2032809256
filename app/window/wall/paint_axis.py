"""The axis over the wall: months, dates, working days left to the governing window, today."""

from calendar import monthrange
from collections.abc import Sequence

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QPainter

from app.window.fonts import text_width
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import DAY_MINUTES, Band, Day, Wall
from app.window.wall.layout import Layout, days_between
from app.words import Words
from app.words import calendar as say
from app.words import window as wording

EVERY_DATE_FROM = 24
WEEKDAYS_FROM = 60
HOURS_FROM = 240


def paint_axis(
    painter: QPainter,
    theme: Theme,
    wall: Wall,
    layout: Layout,
    words: Words,
    governing: Band | None,
) -> None:
    """Paint the axis of so many pixels' height, its foot line at the bottom."""
    height = layout.sizes.axis
    pens.flat_rect(painter, 0, 0, layout.width, height, theme.paper)
    painter.save()
    painter.setClipRect(QRect(layout.sizes.margin, 0, layout.width, height))
    low, high = layout.scale.minute(0), layout.scale.minute(layout.width)
    days = days_between(wall, low, high)
    _months(painter, theme, layout, words, days)
    _dates(painter, theme, layout, words, days, wall.now)
    if governing is not None and governing.window is not None:
        _days_left(painter, theme, wall, layout, words, governing, days)
    painter.restore()
    pens.flat_rect(painter, 0, height - 1, layout.width, 1, theme.ink)


def _months(
    painter: QPainter, theme: Theme, layout: Layout, words: Words, days: Sequence[Day]
) -> None:
    ends = layout.width
    for day in reversed(days):
        if day.date.day != 1:
            continue
        x = layout.scale.x(day.start)
        pens.flat_rect(painter, x, 2, 1, layout.sizes.axis - 2, theme.ink3)
        name = say.month(words, day.date, with_year=day.date.month == 1)
        if x + 5 + text_width(name, 14, 600, serif=True) < ends:
            pens.words(painter, x + 5, px(14), name, theme.ink, 14, 600, serif=True)
        ends = x
    if days and days[0].date.day != 1:
        name = say.month(words, days[0].date, with_year=True)
        x = layout.sizes.text_margin
        if x + text_width(name, 14, 600, serif=True) + 8 < ends:
            pens.words(painter, x, px(14), name, theme.ink, 14, 600, serif=True)


def _dates(
    painter: QPainter, theme: Theme, layout: Layout, words: Words, days: Sequence[Day], now: int
) -> None:
    per_day = layout.scale.pixels_per_day
    if per_day < EVERY_DATE_FROM:
        days = [day for day in days if day.date.weekday() == 0]
    for day in days:
        if day.start <= now < day.end and per_day < HOURS_FROM:
            continue
        x = layout.scale.x(day.start)
        text = str(day.date.day)
        ink = theme.ink3 if day.is_off else theme.ink2
        if per_day >= WEEKDAYS_FROM:
            text = say.weekday_and_day(words, day.date)
            width = text_width(text, 12, 600)
            ink = theme.ink2 if day.is_off else theme.ink
            if x + (per_day - width) / 2 > layout.sizes.margin:
                pens.words(painter, x + (per_day - width) / 2, px(29), text, ink, 12, 600)
        elif per_day >= EVERY_DATE_FROM:
            width = text_width(text, 12, 500)
            ink = theme.ink2
            weight = 400 if day.is_off else 600
            pens.words(painter, x + (per_day - width) / 2, px(29), text, ink, 12, weight)
        elif per_day >= 6 or day.date.day <= 7:
            width = text_width(text, 12, 500)
            at = _clear_of_month(layout, day, x + 2, width)
            if at + width > layout.width:
                continue
            pens.words(painter, at, px(29), text, theme.ink2, 12, 500)
        if per_day >= HOURS_FROM:
            _hours(painter, theme, layout, day)


def _clear_of_month(layout: Layout, day: Day, x: float, width: float) -> float:
    """Return where a date stands so that the line of the next month does not run through it."""
    days_left = monthrange(day.date.year, day.date.month)[1] - day.date.day + 1
    line = layout.scale.x(day.start + days_left * DAY_MINUTES)
    return min(x, line - width - 2)


def _hours(painter: QPainter, theme: Theme, layout: Layout, day: Day) -> None:
    step = 2 if layout.scale.pixels_per_day >= 480 else 6
    for hour in range(step, 24, step):
        x = layout.scale.x(day.start + 60 * hour)
        pens.flat_rect(painter, x, layout.sizes.axis - 6, 1, 5, theme.ink3)
        pens.words(painter, x + 2, px(41), f"{hour}", theme.ink2, 11)


def _days_left(
    painter: QPainter,
    theme: Theme,
    wall: Wall,
    layout: Layout,
    words: Words,
    band: Band,
    days: Sequence[Day],
) -> None:
    """Count down to the window of the job that governs, and say whose it is."""
    assert band.window is not None
    base = layout.sizes.axis - 5
    start, opens = wall.now, band.window.start
    a, b = layout.scale.x(start), layout.scale.x(opens)
    pens.flat_rect(painter, a, base + 2, max(0, min(b, layout.width) - a), 2, theme.ink)
    left = _left_by_day(wall, opens)
    step = 1 if layout.scale.pixels_per_day >= EVERY_DATE_FROM else 5
    label = wording.days_left(words, band.name)
    if b >= layout.width:
        label = f"{label} \N{SINGLE RIGHT-POINTING ANGLE QUOTATION MARK}"
    width = text_width(label, 12, serif=True, italic=True) + 8
    label_x = b + 12 if b < layout.width - width - 12 else layout.width - width - 16
    has_label = layout.scale.pixels_per_day < HOURS_FROM and label_x >= layout.sizes.margin
    until = min(b, label_x if has_label else layout.width)
    for day in days if layout.scale.pixels_per_day < HOURS_FROM else ():
        count = left.get(day.start)
        x = max(layout.scale.x(day.start), a)
        if count is None or count % step or not count or day.end <= start:
            continue
        text = str(count)
        wide = text_width(text, 11, serif=True, italic=True)
        if x + 7 + wide < until:
            pens.flat_rect(painter, x, base, 1, 4, theme.ink)
            pens.words(painter, x + 3, base, text, theme.ink2, 11, serif=True, italic=True)
    if b < layout.width:
        pens.flat_rect(painter, b, base - 9, 8, 13, theme.ink)
        pens.flat_rect(painter, b + 2, base - 7, 4, 11, theme.opening)
    if not has_label:
        return
    pens.flat_rect(painter, label_x - 2, base - px(10), width, px(13), theme.paper)
    pens.words(painter, label_x, base + 1, label, theme.ink2, 12, serif=True, italic=True)


def _left_by_day(wall: Wall, opens: int) -> dict[int, int]:
    """Return for each worked day before the window how many are left, itself counted."""
    days = days_between(wall, wall.now, opens)
    worked = [day.start for day in days if not day.is_off and day.end <= opens]
    return {start: len(worked) - index for index, start in enumerate(worked)}


def paint_today(painter: QPainter, theme: Theme, wall: Wall, layout: Layout, words: Words) -> None:
    """Paint today's date in a filled pill over the axis."""
    x = layout.scale.x(wall.now)
    if not layout.sizes.margin <= x <= layout.width - 12:
        return
    today = next((day.date for day in wall.days if day.start <= wall.now < day.end), None)
    if today is None:
        return
    text = str(today.day)
    if layout.scale.pixels_per_day >= WEEKDAYS_FROM:
        text = say.weekday_and_day(words, today)
    width = text_width(text, 12, 600) + 12
    left = max(2.0, x - width / 2)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.ink)
    painter.drawRoundedRect(QRectF(round(left), px(29) - px(12), round(width), px(15)), 3, 3)
    pens.words(painter, round(left) + 6, px(29), text, theme.paper, 12, 600)
    pens.flat_rect(painter, x, px(32), 2, layout.sizes.axis - px(32), theme.ink)
