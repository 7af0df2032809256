"""What moves with time on a wall, painted once and kept in strips while it is moved or pointed at.

A strip is as high as the rows and so many pixels wide; more are painted where the wall is moved to.
While a wall with very many blocks comes nearer or goes farther, kept strips are stretched; the next
ones are painted one by one beside it, so that no frame has to wait for all of them.
"""

from dataclasses import dataclass, field, replace

from PySide6.QtCore import QPoint, QRect, QRectF
from PySide6.QtGui import QImage, QPainter

from app.window.theme import Theme
from app.window.wall.items import Wall
from app.window.wall.layout import Layout, Scale
from app.window.wall.paint_names import Plates
from app.window.wall.paint_work import paint_work

STRETCHED_FROM = 250
"""So many pieces of work in sight are too many to be painted anew at each turn of a wheel."""
FARTHEST, NEAREST = 0.75, 1.8
"""Stretched by less or more, strips are painted anew beside the stretched ones."""
_FAR, _NEAR = 0.2, 5.0
BESIDE = 128
"""So much more is painted at once than what is in sight, and twice that on the right."""
_LEAST_STRIP, _MOST_STRIP, _BLOCKS_OF_STRIP = 32, 400, 60
_MOST_PIXELS = 16_000_000
_SCREENS_HIGH = 3
_OVER = 16
UNCUT = 2000
"""Pixels beyond a strip at which names and patterns are not cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """A painted stretch; x: of its left edge, counted from the wall's origin."""

    x: int
    width: int
    image: QImage
    block_count: int


@dataclass(slots=True, kw_only=True)
class _Strips:
    """Strips side by side of one wall under one scale. top: pixels scrolled down."""

    wall: Wall
    theme: Theme
    rows: tuple[object, ...]
    ratio: float
    layout: Layout
    top: int
    height: int
    strips: list[_Strip] = field(default_factory=list)

    @property
    def pixels_per_day(self) -> float:
        return self.layout.scale.pixels_per_day

    @property
    def low(self) -> int:
        return self.strips[0].x if self.strips else 0

    @property
    def high(self) -> int:
        return self.strips[-1].x + self.strips[-1].width if self.strips else 0

    @property
    def block_count(self) -> int:
        return sum(strip.block_count for strip in self.strips)

    def sight(self, layout: Layout) -> tuple[int, int]:
        """Return what a view shows, in pixels from the origin under the scale of these strips."""
        left, right = _edges(layout)
        factor = self.pixels_per_day / layout.scale.pixels_per_day
        if factor == 1:
            return left + layout.scale.offset, right + layout.scale.offset
        low = (left + layout.scale.offset) * factor
        return int(low), int((right + layout.scale.offset) * factor) + 1

    def covers(self, low: int, high: int) -> bool:
        return bool(self.strips) and self.low <= low and self.high >= high

    def cover(self, low: int, high: int) -> bool:
        """Paint what is missing of a stretch, all at once where nothing is; whether any was."""
        is_missing = not self.covers(low, high)
        if not self.strips or low > self.high or high < self.low:
            self.strips = [self._strip(low - BESIDE, high + 2 * BESIDE)]
        if self.low > low:
            self.strips.insert(0, self._strip(min(low, self.low - self._step(0)), self.low))
        if self.high < high:
            self.strips.append(self._strip(self.high, max(high, self.high + self._step(-1))))
        self._drop(low, high)
        return is_missing

    def one_more(self, low: int, high: int) -> None:
        """Paint one strip more of a stretch, from its middle outwards."""
        if not self.strips:
            middle = (low + high) // 2
            self.strips = [self._strip(middle, middle + _LEAST_STRIP)]
        elif self.high < high and self.high - high <= low - self.low:
            self.strips.append(self._strip(self.high, self.high + self._step(-1)))
        elif self.low > low:
            self.strips.insert(0, self._strip(self.low - self._step(0), self.low))

    def _step(self, at: int) -> int:
        """Return how wide the next strip at an end is: narrow where there is much work."""
        end = self.strips[at]
        wanted = _BLOCKS_OF_STRIP * end.width // max(1, end.block_count)
        return max(_LEAST_STRIP, min(_MOST_STRIP, wanted))

    def _drop(self, low: int, high: int) -> None:
        """Let go of strips far from what is in sight."""
        most = _MOST_PIXELS / (self.height * self.ratio * self.ratio)
        while len(self.strips) > 1 and self.high - self.low > most:
            is_left = low - self.low > self.high - high
            end = self.strips[0 if is_left else -1]
            if end.x < high and end.x + end.width > low:
                return
            self.strips.remove(end)

    def _strip(self, left: int, right: int) -> _Strip:
        width, ratio = right - left, self.ratio
        sizes = replace(self.layout.sizes, margin=-_OVER, names=0)
        layout = replace(
            self.layout,
            width=width + _OVER + 6,
            height=self.height,
            sizes=sizes,
            scale=replace(self.layout.scale, offset=left),
            scroll=self.top,
        )
        size = round(width * ratio), round(self.height * ratio)
        image = QImage(*size, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(ratio)
        painter = QPainter(image)
        try:
            count = paint_work(painter, self.wall, layout, self.theme, out=UNCUT)
        finally:
            painter.end()
        return _Strip(x=left, width=width, image=image, block_count=count)

    def paint(self, painter: QPainter, layout: Layout) -> None:
        """Paint the strips that are in sight."""
        low, high = self.sight(layout)
        factor = layout.scale.pixels_per_day / self.pixels_per_day
        down = self.top - layout.scroll
        for strip in self.strips:
            if strip.x >= high or strip.x + strip.width <= low:
                continue
            if factor == 1:
                painter.drawImage(QPoint(strip.x - layout.scale.offset, down), strip.image)
                continue
            left = round(strip.x * factor) - layout.scale.offset
            right = round((strip.x + strip.width) * factor) - layout.scale.offset
            whole = QRectF(strip.image.rect())
            painter.drawImage(QRectF(left, down, right - left, self.height), strip.image, whole)


class Layer:
    """Keeps what moves with time of one view."""

    def __init__(self) -> None:
        self._now: _Strips | None = None
        self._coming: _Strips | None = None
        self.is_stretched = False
        self.plates = Plates()

    @property
    def is_sharpening(self) -> bool:
        """Whether strips that are sharp are being painted, a few with each frame."""
        return self._coming is not None

    def forget(self) -> None:
        """Paint all anew the next time."""
        self._now = self._coming = None
        self.plates = Plates()

    def sharpen(self, layout: Layout) -> None:
        """Begin to paint sharp strips if those on show are stretched."""
        if self.is_stretched and self._now is not None and self._coming is None:
            self._coming = _like(self._now, layout.scale)

    def paint(self, painter: QPainter, wall: Wall, layout: Layout, theme: Theme) -> None:
        """Paint what is in sight, clipped to where work is drawn."""
        ratio, now = painter.device().devicePixelRatioF(), self._now
        if now is None or not _serves(now, wall, layout, theme, ratio):
            self._coming = None
            now = _strips_of(wall, layout, theme, ratio)
        if now.pixels_per_day != layout.scale.pixels_per_day:
            now = self._stretched(now, layout)
        else:
            now.cover(*now.sight(layout))
        self._now = now
        self.is_stretched = now.pixels_per_day != layout.scale.pixels_per_day
        left, right = _edges(layout)
        painter.save()
        painter.setClipRect(QRect(left, 0, right - left, layout.height))
        now.paint(painter, layout)
        painter.restore()

    def _stretched(self, now: _Strips, layout: Layout) -> _Strips:
        """Return the strips to be shown under another scale; go on with those that come."""
        factor = layout.scale.pixels_per_day / now.pixels_per_day
        if now.block_count < STRETCHED_FROM or not _FAR <= factor <= _NEAR:
            self._coming, now = None, _like(now, layout.scale)
            now.cover(*now.sight(layout))
            return now
        if now.cover(*now.sight(layout)):
            return now
        coming = self._coming
        if coming is None and not FARTHEST <= factor <= NEAREST:
            coming = self._coming = _like(now, layout.scale)
        if coming is None:
            return now
        if not _FAR <= layout.scale.pixels_per_day / coming.pixels_per_day <= _NEAR:
            coming = self._coming = _like(now, layout.scale)
        sight = coming.sight(layout)
        coming.one_more(*sight)
        if not coming.covers(*sight):
            return now
        self._coming = None
        return coming


def _edges(layout: Layout) -> tuple[int, int]:
    """Return from where to where work is drawn in a view."""
    return layout.sizes.margin, layout.names_x - 6


def _strips_of(wall: Wall, layout: Layout, theme: Theme, ratio: float) -> _Strips:
    is_whole = _is_whole(layout)
    return _Strips(
        wall=wall,
        theme=theme,
        rows=_rows(layout),
        ratio=ratio,
        layout=layout,
        top=0 if is_whole else layout.scroll,
        height=max(layout.height, layout.total) if is_whole else layout.height,
    )


def _like(strips: _Strips, scale: Scale) -> _Strips:
    """Return empty strips of the same wall under another scale."""
    return replace(strips, layout=replace(strips.layout, scale=scale), strips=[])


def _serves(strips: _Strips, wall: Wall, layout: Layout, theme: Theme, ratio: float) -> bool:
    """Say whether kept strips are of this wall, in these rows and colours."""
    same = strips.wall is wall and strips.theme is theme and strips.ratio == ratio
    same = same and strips.layout.scale.origin == layout.scale.origin
    return same and strips.rows == _rows(layout)


def _is_whole(layout: Layout) -> bool:
    return layout.total <= _SCREENS_HIGH * layout.height


def _rows(layout: Layout) -> tuple[object, ...]:
    scroll = 0 if _is_whole(layout) else layout.scroll
    return layout.row_tops, layout.heights, layout.tops, scroll, layout.height, layout.sizes
