"""Where each segment stands as a drawn part: its steps in a row, the one reached is pressed."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter

from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_ribbons import paint_pattern
from app.window.workshop.standing import Running, Stop, Strip
from app.words import Words
from app.words import workshop_view as say
from shared.book import GateKind
from shared.ids import StepId

NAMES, JOB, BOX, GAP, LINE, PADDING = 134, 34, 22, 6, 28, 6
LABEL = 12


class Strips(Drawn):
    """Jobs, and under each its segments with their steps; reach: what pressing a step does."""

    def __init__(self, reach: Callable[[StepId, str], object]) -> None:
        super().__init__()
        self._reach = reach
        self.jobs: tuple[Running, ...] = ()
        self.words = Words()

    def show_jobs(self, jobs: tuple[Running, ...], words: Words) -> None:
        """Show other jobs."""
        self.jobs, self.words = jobs, words
        self.setAccessibleName(words.say(say.STANDING_NAME))
        self.refresh()

    # Laying out.

    def _boxes(self, strip: Strip, top: int, width: int) -> list[tuple[Stop, QRect]]:
        """Return the steps of a segment with their places, over as many lines as they take."""
        x, y, found = px(NAMES), top + px(PADDING), []
        for stop in strip.stops:
            wide = round(text_width(stop.label, LABEL, 600)) + 12
            if x + wide > width - 8 and x > px(NAMES):
                x, y = px(NAMES), y + px(LINE)
            found.append((stop, QRect(x, y, wide, px(BOX))))
            x += wide + GAP
        return found

    def _laid(self, width: int) -> Iterator[tuple[Running, Strip | None, int, int]]:
        """Give each job's heading and each segment, with its top and its height."""
        y = 4
        for job in self.jobs:
            yield job, None, y, px(JOB)
            y += px(JOB)
            for strip in job.strips:
                boxes = self._boxes(strip, y, width)
                end = boxes[-1][1].bottom() + 1 if boxes else y + px(LINE)
                height = end - y + px(PADDING)
                yield job, strip, y, height
                y += height
            y += 10

    def height_at(self, width: int) -> int:
        return max((top + height for _, _, top, height in self._laid(width)), default=0) + 16

    def spots_at(self, width: int) -> Sequence[Spot]:
        found = []
        for _, strip, top, _ in self._laid(width):
            for stop, rect in self._boxes(strip, top, width) if strip else ():
                said = self.words.say(
                    say.STEP_NAME,
                    segment=strip.name if strip else "",
                    step=stop.label,
                    state=self.words.say(say.STEP_STATES[stop.state]),
                )
                found.append(
                    Spot(
                        id=f"{strip.segment if strip else ''}|{stop.step}",
                        rect=rect,
                        name=said,
                        description=said,
                        do=partial(self._reach, stop.step, strip.name if strip else ""),
                        is_chosen=stop.state == "here",
                    )
                )
        return found

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        here = (self.at or "").split("|")[0]
        for job, strip, top, height in self._laid(width):
            if strip is None:
                end = pens.words(painter, 0, top + px(24), job.name, of.ink, 17, 600, serif=True)
                pens.words(painter, end + 12, top + px(24), job.window, of.ink2, 13)
                pens.flat_rect(painter, 0, top + height - 1, width - 8, 1, of.line)
                continue
            is_here = strip.segment == here
            if is_here:
                pens.flat_rect(painter, 0, top, width - 8, height - 1, of.sheet)
                pens.flat_rect(painter, 0, top, 3, height - 1, of.ink)
            weight = 600 if is_here else 400
            pens.words(painter, 8, top + px(PADDING) + px(15), strip.name, of.ink, 13, weight)
            self._paint_strip(painter, of, self._boxes(strip, top, width))
            pens.flat_rect(painter, 0, top + height - 1, width - 8, 1, of.line)

    def _paint_strip(self, painter: QPainter, of: Theme, boxes: list[tuple[Stop, QRect]]) -> None:
        before: QRect | None = None
        for stop, rect in boxes:
            if before is not None and before.top() == rect.top():
                ink = of.ink2 if stop.state != "ahead" else of.line
                middle = rect.center().y()
                pens.flat_rect(painter, before.right() + 1, middle, GAP, 2, ink)
            self._paint_stop(painter, of, stop, rect)
            before = rect

    def _paint_stop(self, painter: QPainter, of: Theme, stop: Stop, rect: QRect) -> None:
        inner = rect.adjusted(1, 1, -1, -1)
        ink, weight = (of.ink2, 400)
        if stop.state == "over" and stop.kind is not None:
            pens.flat_rects(painter, [rect], of.outlines[stop.kind])
            pens.flat_rects(painter, [inner], of.fills[stop.kind])
            paint_pattern(painter, of, stop.kind, [inner])
            wide = round(text_width(stop.label, LABEL))
            plate = QRect(rect.x() + 3, rect.y() + 3, wide + 6, px(BOX) - 6)
            pens.flat_rects(painter, [plate], of.fills[stop.kind])
            ink = of.on_fill
        elif stop.state == "over":
            pens.frame(painter, rect, of.ink2, 1)
            ink = of.ink
        elif stop.state == "here":
            pens.flat_rects(painter, [rect], of.sheet)
            pens.frame(painter, rect, of.ink, 2)
            ink, weight = of.ink, 600
        else:
            pens.frame(painter, rect, of.line, 1)
        self._paint_gate(painter, of, stop, rect)
        pens.words(painter, rect.x() + 6, rect.y() + px(15), stop.label, ink, LABEL, weight)

    def _paint_gate(self, painter: QPainter, of: Theme, stop: Stop, rect: QRect) -> None:
        """Mark an answer, a trial fit or the loading at its left edge as the wall does."""
        ink = of.ink if stop.state != "ahead" else of.ink3
        top, high = rect.y() - 3, rect.height() + 6
        if stop.gate is GateKind.ANSWER:
            for x in (rect.x() - 1, rect.x() + 2):
                pens.flat_rect(painter, x, top, 1, high, ink)
        elif stop.gate is GateKind.LOADING:
            pens.flat_rect(painter, rect.x() - 1, top, 3, high, ink)
        elif stop.gate is GateKind.TRIAL_FIT:
            for tooth in range(0, high, 6):
                pens.flat_rect(painter, rect.x() - (2 if tooth % 12 else 0), top + tooth, 2, 6, ink)
