"""The last days as a drawn part: hours, nights, the window, and words that keep apart."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QPainter

from app.window.countback.journey import LastDays, Stretch
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme, over_opening
from app.window.tokens import px, text_percent
from app.window.wall import pens
from app.window.wall.paint_ribbons import paint_pattern
from app.words import Words
from app.words import countback_view as say
from shared.book import Kind, LegKind

MARGIN = 12
TITLE, AXIS, LANE, BAR = 30, 34, 30, 20
ABOVE, BELOW = 2, 2
GAP = 10
PERSON = 18
TOLD_FROM = 120
"""Rests of fewer minutes are shaded, and told only where they are pointed at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Where the words of a stretch stand: above (lane 1, 2 ...) or below the bar (-1, -2)."""

    stretch: Stretch
    x: float
    lane: int


def placed_labels(
    stretches: Sequence[Stretch], middles: Sequence[float], left: float, rights: Sequence[float]
) -> tuple[Label, ...]:
    """Give each stretch's words the nearest lane in which they touch no others, else none.

    rights: how far the words of each may reach.
    """
    ends: dict[int, float] = {}
    found = []
    for stretch, middle, right in zip(stretches, middles, rights, strict=True):
        width = label_width(stretch)
        x = min(max(left, middle - width / 2), right - width)
        free = [lane for lane in (1, -1, 2, -2) if ends.get(lane, left - GAP) + GAP <= x]
        if free:
            ends[free[0]] = x + width
            found.append(Label(stretch=stretch, x=x, lane=free[0]))
    return tuple(found)


def stem_x(label: Label, labels: Sequence[Label], rect: QRect) -> int | None:
    """Return where the line from a far lane to its bar runs past the words between, if it can."""
    if abs(label.lane) < 2:
        return None
    near = [each for each in labels if each.lane * label.lane > 0 and abs(each.lane) == 1]
    middle = rect.center().x()
    for x in sorted(range(rect.left(), rect.right() + 1), key=lambda at: abs(at - middle)):
        reaches = label.x - 2 <= x <= label.x + label_width(label.stretch) + 2
        if reaches and not any(
            each.x - 4 <= x <= each.x + label_width(each.stretch) + 4 for each in near
        ):
            return x
    return None


def label_width(stretch: Stretch) -> float:
    """Return how wide the words of a stretch are."""
    return max(text_width(stretch.name, 12, 600), text_width(stretch.span, 12))


class JourneyPart(Drawn):
    """From loading to the sign-off, by the site's clock."""

    def __init__(self) -> None:
        super().__init__()
        self._days: LastDays | None = None
        self._words: Words | None = None

    def show_days(self, days: LastDays | None, words: Words) -> None:
        """Show other last days."""
        self._days, self._words = days, words
        self.setAccessibleName(words.say(say.JOURNEY))
        self.refresh()

    @property
    def _bar(self) -> int:
        return _axis() + ABOVE * px(LANE) + 8

    def height_at(self, width: int) -> int:
        if self._days is None:
            return px(TITLE) + px(24)
        return self._persons_top + len(self._days.duties) * px(PERSON) + 24

    @property
    def _persons_top(self) -> int:
        return self._bar + px(BAR) + BELOW * px(LANE) + 4

    def _person_rect(self, width: int, at: int) -> QRect:
        top = self._persons_top + at * px(PERSON)
        return QRect(MARGIN, top, width - 2 * MARGIN, px(PERSON))

    def _x(self, width: int, minute: float) -> int:
        assert self._days is not None
        days = self._days
        return round(
            MARGIN + (minute - days.first) / (days.last - days.first) * (width - 2 * MARGIN)
        )

    def _window_x(self, width: int, window: tuple[int, int]) -> tuple[int, int]:
        """Return a window's posts, where they are in sight."""
        left, right = (self._x(width, each) for each in window)
        return max(MARGIN, left), min(width - MARGIN, right)

    def _rect(self, width: int, each: Stretch) -> QRect:
        left = max(MARGIN, self._x(width, each.start))
        right = min(max(self._x(width, each.end), left + 3), width - MARGIN)
        return QRect(left, self._bar, right - left, px(BAR))

    def spots_at(self, width: int) -> Sequence[Spot]:
        if self._days is None:
            return ()
        found = [
            Spot(id=each.id, rect=self._rect(width, each), name=each.name, description=each.text)
            for each in self._days.stretches
        ]
        found += [
            Spot(
                id=f"day {duty.person}",
                rect=self._person_rect(width, at),
                name=duty.name,
                description=duty.text,
            )
            for at, duty in enumerate(self._days.duties)
        ]
        return found

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        if self._words is None:
            return
        words, days = self._words, self._days
        title = words.say(say.JOURNEY)
        end = pens.words(painter, MARGIN, px(22), title, of.ink, 17, 600, serif=True)
        if days is None:
            text = words.say(say.NO_JOURNEY)
            pens.words(painter, MARGIN, px(TITLE) + px(14), text, of.ink2, 13)
            return
        x, y = (MARGIN, px(TITLE + 10)) if _is_apart() else (end + 12, px(22))
        pens.words(painter, x, y, days.zone_line, of.ink2, 12)
        self._paint_ground(painter, of, days, width)
        self._paint_ticks(painter, of, days, width)
        self._paint_window(painter, of, days, width)
        for each in days.stretches:
            self._paint_stretch(painter, of, each, width)
        self._paint_labels(painter, of, days, width)
        self._paint_duties(painter, of, days, width)

    def _paint_duties(self, painter: QPainter, of: Theme, days: LastDays, width: int) -> None:
        """Paint of each of the crew how long their days are, and the rests between them."""
        for at, duty in enumerate(days.duties):
            rect = self._person_rect(width, at)
            middle, base = rect.center().y(), rect.center().y() + px(4)
            for stint in duty.stints:
                left, right = self._window_x(width, (stint.start, stint.end))
                ink, weight = (of.ink2, 400) if stint.is_rest else (of.ink, 600)
                if not stint.is_rest:
                    pens.flat_rect(painter, left, middle, right - left, 2, of.ink2)
                    for end in (left, right - 1):
                        pens.flat_rect(painter, end, middle - 4, 1, 10, of.ink2)
                wide = text_width(stint.text, 12, weight)
                if wide + 8 < right - left:
                    x = (left + right - wide) / 2
                    plate = self._ground_at(of, days, (stint.start + stint.end) // 2)
                    pens.words_on_plate(painter, x, base, stint.text, ink, plate, 12, weight)
            pens.words_on_plate(painter, MARGIN, base, duty.name, of.ink, of.paper, 12, 600)

    def _ground_at(self, of: Theme, days: LastDays, minute: int) -> QColor:
        """Return what is under the rows of the crew at a moment."""
        is_night = any(a <= minute < b for a, b in days.nights)
        if days.window is not None and days.window[0] <= minute < days.window[1]:
            if not any(a <= minute < b for a, b in days.open):
                return of.off
            if days.open != (days.window,) or not is_night:
                return of.paper if of.is_dark else of.opening
        return of.off if is_night else of.paper

    def _paint_ground(self, painter: QPainter, of: Theme, days: LastDays, width: int) -> None:
        top, bottom = _axis(), self.height_at(width) - 8
        self._paint_nights(painter, of, days, width, (MARGIN, width - MARGIN))
        if days.window is not None:
            x, right = self._window_x(width, days.window)
            pens.flat_rect(painter, x, top, right - x, bottom - top, of.off)
            high, low = self._opening(of, width)
            for start, end in days.open:
                a, b = (min(max(self._x(width, at), x), right) for at in (start, end))
                pens.flat_rect(painter, a, top, b - a, bottom - top, of.paper)
                pens.flat_rect(painter, a, high, b - a, low - high, of.opening)
            if days.open == (days.window,):
                self._paint_nights(painter, of, days, width, (x, right))
        pens.flat_rect(painter, MARGIN, bottom, width - 2 * MARGIN, 1, of.ink3)

    def _opening(self, of: Theme, width: int) -> tuple[int, int]:
        """Return from where to where a window is white: all through, in the dark about the bar."""
        if of.is_dark:
            return self._bar - 5, self._bar + px(BAR) + 5
        return _axis(), self.height_at(width) - 8

    def _paint_nights(
        self, painter: QPainter, of: Theme, days: LastDays, width: int, span: tuple[int, int]
    ) -> None:
        top, bottom = _axis(), self.height_at(width) - 8
        for start, end in days.nights:
            a, b = (min(max(self._x(width, at), span[0]), span[1]) for at in (start, end))
            pens.flat_rect(painter, a, top, b - a, bottom - top, of.off)

    def _paint_ticks(self, painter: QPainter, of: Theme, days: LastDays, width: int) -> None:
        hour = (width - 2 * MARGIN) * 60 / (days.last - days.first)
        every = next((n for n in (1, 2, 3, 6, 12) if n * hour >= px(30)), 24)
        base, bottom = _axis(), self.height_at(width) - 8
        ends = 0.0
        for tick in days.ticks:
            x = self._x(width, tick.minute)
            if tick.day:
                pens.flat_rect(painter, x, base, 1, bottom - base, of.line)
                if x > ends:
                    ends = 8 + pens.words(painter, x + 3, base - px(20), tick.day, of.ink, 13, 600)
            if tick.hour % every == 0:
                pens.flat_rect(painter, x, base - px(8), 1, px(8), of.ink3)
                text = f"{tick.hour:02}"
                if x + 4 + text_width(text, 12) < width - MARGIN:
                    pens.words(painter, x + 3, base - 3, text, of.ink2, 12)

    def _paint_window(self, painter: QPainter, of: Theme, days: LastDays, width: int) -> None:
        if days.window is None or days.window[1] <= days.first:
            return
        top, bottom = _axis(), self.height_at(width) - 4
        x, right = self._window_x(width, days.window)
        for post in (x - 2, right):
            pens.flat_rect(painter, post, top, 2, bottom - top, of.post)
        pens.flat_rect(painter, x - 6, top - 2, right - x + 12, 3, of.post)

    def _paint_stretch(self, painter: QPainter, of: Theme, each: Stretch, width: int) -> None:
        rect = self._rect(width, each)
        if each.is_wait:
            half = rect.height() // 4
            middle = rect.y() + rect.height() // 2
            lines = [QRect(rect.x(), middle + dy, rect.width(), 1) for dy in (-half, half)]
            inks = over_opening(of.name) if self._is_open(each) else of
            pens.flat_rects(painter, lines, inks.ink2)
            return
        if each.is_rest:
            middle = rect.y() + rect.height() // 2 - 1
            pens.flat_rects(painter, [rect], of.off)
            pens.flat_rect(painter, rect.x(), middle, rect.width(), 2, of.ink2)
            return
        if each.leg is None:
            pens.flat_rects(painter, [rect], of.outlines[Kind.PACK])
            inner = rect.adjusted(1, 1, -1, -1)
            pens.flat_rects(painter, [inner], of.fills[Kind.PACK])
            paint_pattern(painter, of, Kind.PACK, [inner])
            return
        if each.is_late:
            pens.flat_rects(painter, [rect], of.missbg)
            hatch = pens.hatch_lines(rect.x(), rect.y(), rect.width(), rect.height(), 5)
            pens.slanted(painter, hatch, of.miss)
            pens.frame(painter, rect, of.miss)
            return
        edge, fill = _inks(of, each, is_open=self._is_open(each))
        pens.flat_rects(painter, [rect], edge)
        pens.flat_rects(painter, [rect.adjusted(1, 1, -1, -1)], fill)
        if each.leg is LegKind.DRIVE and rect.width() > 14:
            y = rect.y() + rect.height() // 2 - 1
            dashes = [QRect(x, y, 5, 2) for x in range(rect.x() + 4, rect.right() - 5, 10)]
            pens.flat_rects(painter, dashes, of.opening if self._is_open(each) else of.paper)

    def _is_open(self, each: Stretch) -> bool:
        days = self._days
        middle = (each.start + each.end) // 2
        return days is not None and any(a <= middle < b for a, b in days.open)

    def _paint_labels(self, painter: QPainter, of: Theme, days: LastDays, width: int) -> None:
        stretches = [
            each
            for each in days.stretches
            if self._x(width, each.start) < width
            and not (each.is_rest and each.end - each.start < TOLD_FROM)
        ]
        middles = [float(self._rect(width, each).center().x()) for each in stretches]
        post = width - MARGIN
        if days.window is not None:
            post = self._window_x(width, days.window)[1] - 4
        rights = [
            post if each.is_inside and not each.is_late else width - MARGIN for each in stretches
        ]
        labels = placed_labels(stretches, middles, MARGIN, rights)
        for label in labels:
            inks = of if of.is_dark or not self._is_open(label.stretch) else over_opening(of.name)
            rect = self._rect(width, label.stretch)
            bar, lane = self._bar, px(LANE)
            if label.lane > 0:
                top = bar - label.lane * lane - 4
                stem = (top + px(26), bar)
            else:
                top = bar + px(BAR) + (-label.lane - 1) * lane + 7
                stem = (bar + px(BAR), top + 2)
            x = stem_x(label, labels, rect)
            if x is not None:
                pens.flat_rect(painter, x, stem[0], 1, stem[1] - stem[0], inks.ink2)
            ink = of.miss if label.stretch.is_late else inks.ink
            pens.words(painter, label.x, top + px(11), label.stretch.name, ink, 12, 600)
            pens.words(painter, label.x, top + px(24), label.stretch.span, inks.ink2, 12)


def _is_apart() -> bool:
    """Whether whose clock it is stands below the title: in larger text it has no room beside."""
    return text_percent() > 100


def _axis() -> int:
    """Return where the axis ends and the days begin."""
    return px(TITLE + AXIS) + (px(18) if _is_apart() else 0)


def _inks(of: Theme, each: Stretch, *, is_open: bool) -> tuple[QColor, QColor]:
    """Return the outline and the fill of a leg."""
    inks = over_opening(of.name) if is_open else of
    if each.leg is LegKind.DRIVE:
        return inks.ink, inks.ink
    if each.leg in {LegKind.INSPECT, LegKind.SIGN_OFF}:
        return inks.ink, of.opening
    if each.leg in {LegKind.SAILING, LegKind.TRAIN, LegKind.BORDER, LegKind.WAIT}:
        return inks.ink2, inks.paper
    return inks.ink, inks.ink3
