"""The strands as a drawn part, with an axis that counts the working days left."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.bits import wrapped
from app.window.countback.one_job import OneJob
from app.window.countback.quiet import Quiet
from app.window.countback.strands import LOWER, Latest, latest_of, strand_layout
from app.window.fonts import text_width
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Day, Item
from app.window.wall.layout import Layout
from app.window.wall.paint import paint_body
from app.window.wall.paint_work import Look
from app.words import Words
from app.words import countback_view as say
from app.words import window as wording
from shared.ids import SegmentId, StepId

LEFT_EVERY = 5
CAPTION_LINE = 18
LEAST_LATEST = 3
Strands = tuple[OneJob, dict[SegmentId, tuple[Latest, ...]], Words]


class StrandsPart(Quiet):
    """A job's segments, two strands each, up to its window."""

    def __init__(self, pick: Callable[[StepId], object]) -> None:
        super().__init__()
        self._pick = pick
        self._shown: Strands | None = None
        self.segment: SegmentId | None = None

    def show_job(self, one: OneJob, words: Words) -> None:
        """Show another state of a job."""
        self._shown = (one, latest_of(one, words), words)
        self.setAccessibleName(words.say(say.STRANDS))
        self.refresh()

    def show_step(self, step: StepId) -> None:
        """Choose the first block of a step, without telling anybody."""
        here = self._shown[0].wall.item(self.at) if self._shown else None
        if self._shown is None or (here is not None and here.step == step):
            return
        for row in self._shown[0].rows:
            found = next((item.id for item in row.blocks if item.step == step), None)
            if found is not None:
                self.reveal(found)
                return

    def _layout(self, width: int) -> Layout | None:
        if self._shown is None:
            return None
        one, latest, _ = self._shown
        return strand_layout(one, width, latest)

    def _caption(self, width: int) -> list[str]:
        if self._shown is None:
            return []
        return wrapped(self._shown[2].say(say.CAPTION), width - 24, 12)

    def height_at(self, width: int) -> int:
        layout = self._layout(width)
        if layout is None:
            return 1
        caption = px(CAPTION_LINE) * len(self._caption(width))
        return layout.sizes.axis + layout.total + caption + 8

    def spots_at(self, width: int) -> Sequence[Spot]:
        layout = self._layout(width)
        if layout is None or self._shown is None:
            return ()
        one, latest, _ = self._shown
        found: list[Spot] = []
        for index, row in enumerate(one.rows):
            found += [self._spot(layout, item, index) for item in row.blocks]
            found += [self._low_spot(layout, each, index) for each in latest.get(row.segment, ())]
        found += [self._spot(layout, seam, None) for seam in one.band.seams]
        if one.band.window is not None:
            found.append(self._spot(layout, one.band.window, None))
        return found

    def _spot(self, layout: Layout, item: Item, row: int | None) -> Spot:
        left, right = layout.span_x(item)
        if row is None:
            top, height = layout.tops[0] + 4, layout.total - layout.tops[0] - 8
        else:
            thick = layout.thickness(item.hands)
            top, height = layout.row_middle(row) - thick // 2, thick
        step = item.step
        return Spot(
            id=item.id,
            rect=QRect(left, layout.sizes.axis + top, max(3, right - left), height),
            name=item.name,
            description=item.description,
            do=None if step is None else lambda: self._pick(step),
        )

    def _low_spot(self, layout: Layout, each: Latest, row: int) -> Spot:
        rect = _low_rect(layout, each, row)
        return Spot(
            id=f"latest {each.step} @{each.segment}",
            rect=rect.translated(0, layout.sizes.axis),
            name=each.text,
            description=each.text,
            do=lambda: self._pick(each.step),
        )

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        layout = self._layout(width)
        if layout is None or self._shown is None:
            return
        one, latest, words = self._shown
        painter.save()
        painter.translate(0, layout.sizes.axis)
        painter.setClipRect(QRect(0, 0, width, layout.total))
        paint_body(painter, one.wall, layout, of, Look(selected=self._segment_item(one)))
        at = self.spot(self.at)
        if at is not None and not self.hasFocus():
            pens.frame(painter, at.rect.translated(0, -layout.sizes.axis), of.ink, 2)
        for index, row in enumerate(one.rows):
            _paint_latest(painter, of, layout, latest.get(row.segment, ()), index)
        painter.restore()
        _paint_axis(painter, of, layout, one, words)
        y = layout.sizes.axis + layout.total + px(10)
        for line in self._caption(width):
            pens.words(painter, 12, y, line, of.ink2, 12)
            y += px(CAPTION_LINE)

    def _segment_item(self, one: OneJob) -> str | None:
        return None if self.segment is None else f"segment {self.segment}"


def _low_rect(layout: Layout, each: Latest, row: int) -> QRect:
    top = layout.row_middle(row) + layout.row // 2 + 5
    left = layout.scale.x(each.start)
    return QRect(left, top, max(LEAST_LATEST, layout.scale.x(each.end) - left), px(LOWER))


def _paint_latest(
    painter: QPainter, of: Theme, layout: Layout, strand: tuple[Latest, ...], row: int
) -> None:
    """Paint hollow boxes on a dotted line, up to where names begin."""
    rects = [_low_rect(layout, each, row) for each in strand]
    limit = layout.names_x - 6
    rects = [rect for rect in rects if rect.right() >= layout.sizes.margin and rect.x() < limit]
    if not rects:
        return
    middle = rects[0].y() + rects[0].height() // 2
    ends = [rect.right() for rect in rects]
    starts = [rect.x() for rect in rects]
    dots = [
        QRect(x, middle, 1, 1)
        for end, start in zip(ends, starts[1:], strict=False)
        for x in range(end + 3, start - 1, 4)
    ]
    pens.flat_rects(painter, dots, of.ink3)
    pens.flat_rects(painter, rects, of.ink2)
    inner = [rect.adjusted(1, 1, -1, -1) for rect in rects if rect.width() > 2]
    pens.flat_rects(painter, inner, of.paper)


def _paint_axis(painter: QPainter, of: Theme, layout: Layout, one: OneJob, words: Words) -> None:
    height, low = layout.sizes.axis, layout.sizes.margin
    high = layout.names_x + 30
    pens.flat_rect(painter, 0, 0, layout.width, height, of.paper)
    days = [
        day
        for day in one.wall.days
        if low <= layout.scale.x(day.start) < high and day.end > one.wall.first
    ]
    _paint_dates(painter, of, layout, words, days)
    _paint_left(painter, of, layout, one, words, days)
    pens.flat_rect(painter, 0, height - 1, layout.names_x + 40, 1, of.ink)


def _paint_dates(
    painter: QPainter, of: Theme, layout: Layout, words: Words, days: Sequence[Day]
) -> None:
    base, ends = layout.sizes.axis - 7, 0.0
    for day in days:
        x = layout.scale.x(day.start)
        if day.date.weekday() == 0 and x + 3 > ends:
            pens.flat_rect(painter, x, base - px(10), 1, px(16), of.ink3)
            ends = 8 + pens.words(painter, x + 4, base, _bare(words, day), of.ink2, 12)


def _paint_left(
    painter: QPainter,
    of: Theme,
    layout: Layout,
    one: OneJob,
    words: Words,
    days: Sequence[Day],
) -> None:
    """Write every fifth count of working days left over its day."""
    ends = _paint_words_left(painter, of, layout, words)
    for day in days:
        count = None if day.is_off or day.end <= one.wall.now else one.days_left(day.date)
        if not count or count % LEFT_EVERY:
            continue
        x, text = layout.scale.x(day.start), str(count)
        if x - 2 > ends:
            ends = 10 + pens.words(painter, x, px(22), text, of.ink, 22, serif=True)


def _paint_words_left(painter: QPainter, of: Theme, layout: Layout, words: Words) -> float:
    lines = [words.say(each) for each in say.WORKING_DAYS_LEFT]
    width = max(text_width(line, 11) for line in lines)
    for at, line in enumerate(lines):
        pens.words(painter, layout.sizes.margin, px(12 + 13 * at), line, of.ink2, 11)
    return layout.sizes.margin + width + 6


def _bare(words: Words, day: Day) -> str:
    """Return a date without its weekday."""
    return wording.short_day(words, day.date).partition(" ")[2]
