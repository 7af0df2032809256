"""The ribbons of a wall, painted once and kept while the wall is moved, pointed at or chosen in.

It reaches half a view farther than what is in sight on either side. While a wall with very many
blocks comes nearer or goes farther the kept picture is stretched; it is painted sharp at rest.
"""

from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter

from app.window.theme import Theme
from app.window.wall.items import DAY_MINUTES, Wall
from app.window.wall.layout import Layout, Scale
from app.window.wall.paint_ribbons import Ribbons

STRETCHED_FROM = 900
"""So many pieces of work in sight are too many to be painted anew at each turn of a wheel."""
MOST_STRETCHED = 4.0
_MOST_PIXELS = 30_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """What a kept picture was made of; scale: under which its left edge is x = 0."""

    wall: Wall
    theme: Theme
    rows: tuple[object, ...]
    ratio: float
    scale: Scale
    image: QImage
    block_count: int

    @property
    def width(self) -> float:
        """Return how wide it is, in pixels of the wall."""
        return self.image.width() / self.ratio


class Layer:
    """Keeps the ribbons of one view."""

    def __init__(self) -> None:
        self._made: _Made | None = None
        self.is_stretched = False

    def forget(self) -> None:
        """Paint them anew the next time."""
        self._made = None

    def sharpen(self) -> None:
        """Paint them anew if the last picture was a stretched one."""
        if self.is_stretched:
            self.forget()

    def paint(self, painter: QPainter, wall: Wall, layout: Layout, theme: Theme) -> None:
        """Paint the ribbons that are in sight, clipped to where work is drawn."""
        ratio = painter.device().devicePixelRatioF()
        made = self._made
        if made is None or not self._serves(made, wall, layout, theme, ratio):
            made = self._made = self._make(wall, layout, theme, ratio)
        self.is_stretched = made.scale.pixels_per_day != layout.scale.pixels_per_day
        left, right = layout.sizes.margin - 2, layout.names_x - 6
        factor = made.scale.pixels_per_day / layout.scale.pixels_per_day
        start = self._place(made, layout, left)
        target = QRectF(left, 0, right - left, layout.height)
        source = QRectF(start, 0, (right - left) * factor, layout.height)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
        scaled = QRectF(
            source.x() * ratio, source.y(), source.width() * ratio, source.height() * ratio
        )
        painter.drawImage(target, made.image, scaled)

    def _place(self, made: _Made, layout: Layout, x: int) -> float:
        """Return where a pixel of the view lies in the kept picture."""
        scale = layout.scale
        if scale.pixels_per_day == made.scale.pixels_per_day:
            return x + scale.offset - made.scale.offset
        minute = scale.minute(x) - made.scale.origin
        return minute * made.scale.pixels_per_day / DAY_MINUTES - made.scale.offset

    def _serves(self, made: _Made, wall: Wall, layout: Layout, theme: Theme, ratio: float) -> bool:
        """Say whether a kept picture still shows what is in sight."""
        same = made.wall is wall and made.theme is theme and made.ratio == ratio
        if not same or made.rows != _rows(layout) or made.scale.origin != layout.scale.origin:
            return False
        factor = made.scale.pixels_per_day / layout.scale.pixels_per_day
        is_same_scale = factor == 1
        if not is_same_scale and (
            made.block_count < STRETCHED_FROM or not 1 / MOST_STRETCHED <= factor <= MOST_STRETCHED
        ):
            return False
        left = self._place(made, layout, layout.sizes.margin - 2)
        right = left + (layout.names_x - layout.sizes.margin) * factor
        # Beyond the first and the last item there is nothing to be shown.
        low, high = made.scale.x(wall.first), made.scale.x(wall.last)
        slack = 0 if is_same_scale else layout.width // 4
        return (left >= -slack or low >= 0) and (right <= made.width + slack or high <= made.width)

    def _make(self, wall: Wall, layout: Layout, theme: Theme, ratio: float) -> _Made:
        seen = layout.names_x
        room = seen // 2
        while room and (seen + 2 * room) * layout.height * ratio * ratio > _MOST_PIXELS:
            room //= 2
        scale = layout.scale.moved(-room)
        wide = replace(layout, scale=scale, width=seen + 2 * room + layout.sizes.names)
        image = QImage(
            round((seen + 2 * room) * ratio),
            round(layout.height * ratio),
            QImage.Format.Format_ARGB32_Premultiplied,
        )
        image.setDevicePixelRatio(ratio)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        try:
            ribbons = Ribbons(wall, wide, left=0, right=seen + 2 * room)
            ribbons.paint(painter, theme)
        finally:
            painter.end()
        return _Made(
            wall=wall,
            theme=theme,
            rows=_rows(layout),
            ratio=ratio,
            scale=replace(scale),
            image=image,
            block_count=ribbons.block_count,
        )


def _rows(layout: Layout) -> tuple[object, ...]:
    return layout.row_tops, layout.heights, layout.scroll, layout.height, layout.names_x
