"""What each date that was tried does to the other jobs, as steps; the level of harm dashed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby, takewhile

from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QPainter

from app.window.bits import wrapped
from app.window.enquiry.state import DateColumn
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import enquiry_view as say
from scheduler.enquiring import NOISE_POINTS

AXIS, COLUMN_MOST, RIGHT = 44, 220, 16
TOP, STEPS_LEAST, DAYS = 50, 60, 74
_NAMES_LINES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Columns beside each other that squeeze the same jobs."""

    first: int
    last: int
    text: str
    is_misses: bool


def runs(columns: Sequence[DateColumn]) -> tuple[Run, ...]:
    """Return the columns by whom they squeeze."""
    found = []
    for (text, is_misses), group in groupby(columns, lambda c: (c.squeezed, c.is_misses)):
        mine = list(group)
        found.append(Run(first=mine[0].at, last=mine[-1].at, text=text, is_misses=is_misses))
    return tuple(found)


def top_of(columns: Sequence[DateColumn]) -> int:
    """Return how many times in 100 the axis goes up to."""
    known = [each for c in columns for each in (c.late, c.level, c.today) if each is not None]
    most = max(known, default=0)
    return next((top for top in (20, 40, 60, 80) if most <= top - 2), 100)


def labels(columns: Sequence[DateColumn]) -> tuple[str, ...]:
    """Return what stands under each column: the day, its month where that changes."""
    found, month = [], ""
    for column in columns:
        found.append(column.label if column.month == month else column.dated)
        month = column.month
    return tuple(found)


class Dates(Drawn):
    """A column for each date; one of them is looked at."""

    def __init__(self, look_at: Callable[[int], object]) -> None:
        super().__init__()
        self._look_at = look_at
        self.words = Words()
        self.columns: tuple[DateColumn, ...] = ()
        self.looked_at = 0
        self.is_looking = False
        self.room, self.margin = 300, 0
        self.chosen.connect(self._on_chosen)

    def show_columns(
        self,
        columns: tuple[DateColumn, ...],
        looked_at: int,
        words: Words,
        *,
        is_looking: bool,
    ) -> None:
        """Show other dates. is_looking: more are on their way."""
        self.columns, self.looked_at, self.words = columns, looked_at, words
        self.is_looking = is_looking
        self.setAccessibleName(words.say(say.EACH_DATE))
        self.refresh()

    def _on_chosen(self, spot: Spot | None) -> None:
        if spot is not None:
            at = int(spot.id.removeprefix("date "))
            if at != self.looked_at:
                self._look_at(at)

    # Layout.

    def height_at(self, width: int) -> int:
        """Return how high it is: what the view gives it."""
        return self.room

    @property
    def least(self) -> int:
        """The height below which something of it is not seen."""
        return px(TOP) + px(STEPS_LEAST) + px(DAYS)

    @property
    def _top(self) -> int:
        return px(TOP)

    @property
    def _bottom(self) -> int:
        return max(self._top + px(STEPS_LEAST), self.room - px(DAYS))

    def _column_width(self, width: int) -> int:
        room = width - px(AXIS) - RIGHT
        return min(px(COLUMN_MOST), room // max(1, len(self.columns)))

    def _x(self, at: int, width: int) -> int:
        return px(AXIS) + at * self._column_width(width)

    def _y(self, late: int) -> int:
        return round(self._bottom - (self._bottom - self._top) * late / top_of(self.columns))

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each date."""
        wide = self._column_width(width)
        return [
            Spot(
                id=f"date {column.at}",
                rect=QRect(
                    self._x(column.at, width) + 2,
                    self._top,
                    wide - 3,
                    self._bottom + px(26) - self._top,
                ),
                name=labels(self.columns)[column.at],
                description=column.line,
                do=partial(self._look_at, column.at),
                is_chosen=column.at == self.looked_at,
            )
            for column in self.columns
        ]

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint the title, then the steps or why there are none."""
        title, more = self.words.say(say.EACH_DATE), self.words.say(say.EACH_DATE_MORE)
        x = pens.words(painter, 0, px(26), title, of.ink, 17, 600, serif=True)
        if not self.columns:
            if self.is_looking:
                text = self.words.say(say.LOOKING_AT_DATES)
                pens.words(painter, 0, px(56), text, of.ink2, 13)
            return
        if x + px(24) + text_width(more, 12) < width - self.margin:
            pens.words(painter, x + px(12), px(26), more, of.ink2, 12)
        self._paint_axis(painter, of, width)
        for column in self.columns:
            self._paint_ground(painter, of, column, width)
        self._paint_steps(painter, of, width)
        self._paint_levels(painter, of, width)
        before: int | None = None
        for column in self.columns:
            if column.late != before:
                self._paint_figure(painter, of, column, self._figure(column, width), width)
            before = column.late
        self._paint_days(painter, of, width)
        self._paint_runs(painter, of, width)
        if all(column.late is None for column in self.columns):
            text = self.words.say(say.NO_OTHER_JOB)
            pens.words_on_plate(
                painter, px(AXIS) + 12, self._bottom - px(12), text, of.ink2, of.paper, 12, 400
            )

    def _paint_axis(self, painter: QPainter, of: Theme, width: int) -> None:
        right = self._x(len(self.columns), width)
        for late in range(0, top_of(self.columns) + 1, 20):
            y = self._y(late)
            text = str(late)
            at = px(AXIS) - px(8) - text_width(text, 12)
            pens.words(painter, at, y + px(4), text, of.ink2, 12)
            pens.flat_rect(painter, px(AXIS), y, right - px(AXIS), 1, of.line if late else of.ink)

    def _paint_ground(self, painter: QPainter, of: Theme, column: DateColumn, width: int) -> None:
        x, wide = self._x(column.at, width), self._column_width(width)
        top = self._top if column.late is None or column.is_misses else self._y(column.late)
        ground = of.missbg if column.is_misses else of.off if column.is_squeezing else of.sheet
        if column.late is None and not column.is_misses:
            return
        pens.flat_rect(painter, x, top, wide, self._bottom - top, ground)
        if column.is_misses:
            lines = pens.hatch_lines(x, top, wide, self._bottom - top, 6, px(AXIS))
            pens.slanted(painter, lines, of.miss, 0.6)

    def _paint_steps(self, painter: QPainter, of: Theme, width: int) -> None:
        wide, before = self._column_width(width), None
        for column in self.columns:
            if column.late is None:
                before = None
                continue
            x, y = self._x(column.at, width), self._y(column.late)
            pens.flat_rect(painter, x, y - 1, wide, 2, of.ink)
            if before is not None:
                low, high = sorted((before, y))
                pens.flat_rect(painter, x - 1, low - 1, 2, high - low + 2, of.ink)
            before = y

    def _paint_levels(self, painter: QPainter, of: Theme, width: int) -> None:
        """Dash the level above which a date harms the job that it hits hardest."""
        wide = self._column_width(width)
        for (level, who), group in groupby(self.columns, lambda c: (c.level, c.who)):
            mine = list(group)
            if level is None:
                continue
            x, y = self._x(mine[0].at, width), self._y(level)
            right = x + wide * len(mine)
            rects = [QRect(at, y, min(4, right - at), 1) for at in range(x, right, 7)]
            pens.flat_rects(painter, rects, of.ink)
            text = self.words.say(say.SQUEEZED_ABOVE, job=who, level=level)
            self._paint_level_words(painter, of, text, (x, right, y), mine)

    def _paint_level_words(
        self,
        painter: QPainter,
        of: Theme,
        text: str,
        place: tuple[int, int, int],
        mine: Sequence[DateColumn],
    ) -> None:
        x, right, y = place
        wide = text_width(text, 12, 600)
        if wide + 20 > right - x:
            return
        covered = (right - wide - 10 - self._x(0, self.width())) // self._column_width(self.width())
        under = [column for column in mine if column.at >= covered]
        lates = [self._y(column.late) for column in under if column.late is not None]
        baseline = min([y, *(late for late in lates if late > y - px(24))]) - px(5)
        is_close_under = any(y - px(40) < late < y for late in lates)
        if baseline - px(12) < self._top or is_close_under:
            baseline = max([y, *(late for late in lates if late < y + px(24))]) + px(16)
            figure = self._figure(mine[-1], self.width()) if len(mine) == 1 else ""
            if wide + text_width(figure, 13, 600) + 24 > right - x:
                return
        ground = _ground(of, mine[-1]) if mine[-1].is_misses else of.paper
        pens.words_on_plate(painter, right - wide - 6, baseline, text, of.ink, ground, 12, 600)

    def _figure(self, column: DateColumn, width: int) -> str:
        """Return what stands at a step; what differs no more than two replays do is as today."""
        if column.late is None or column.today is None:
            return ""
        bare = str(column.late)
        template = say.TODAY
        if abs(column.late - column.today) < NOISE_POINTS:
            template = say.AS_TODAY
        text = self.words.say(template, late=column.late, before=column.today)
        alike = list(takewhile(lambda c: c.late == column.late, self.columns[column.at :]))
        room = self._column_width(width) * len(alike)
        return text if text_width(text, 13, 600) + 12 <= room else bare

    def _paint_figure(
        self, painter: QPainter, of: Theme, column: DateColumn, text: str, width: int
    ) -> None:
        if column.late is None:
            return
        x, y = self._x(column.at, width), self._y(column.late)
        baseline = y + px(16) if y + px(20) < self._bottom else y - px(6)
        ground = _ground(of, column)
        pens.words_on_plate(painter, x + 6, baseline, text, of.ink, ground, 13, 600)

    def _paint_days(self, painter: QPainter, of: Theme, width: int) -> None:
        wide = self._column_width(width)
        for column, text in zip(self.columns, labels(self.columns), strict=True):
            middle = self._x(column.at, width) + wide / 2
            half = text_width(text, 12, 600) / 2
            box = QRect(
                round(middle - half) - px(8), self._bottom + px(6), round(2 * half) + px(16), px(18)
            )
            ink = of.ink
            if column.at == self.looked_at:
                pens.flat_rects(painter, [box], of.ink)
                ink = of.paper
            elif column.is_wished:
                pens.frame(painter, box, of.ink, 1)
            pens.words(painter, middle - half, self._bottom + px(19), text, ink, 12, 600)

    def _paint_runs(self, painter: QPainter, of: Theme, width: int) -> None:
        wide = self._column_width(width)
        y = self._bottom + px(30)
        head = self.words.say(say.SQUEEZED)
        if text_width(head, 12) < px(AXIS):
            pens.words(painter, 0, y + px(15), head, of.ink2, 12)
        for run in runs(self.columns):
            x = self._x(run.first, width)
            room = wide * (run.last - run.first + 1)
            ink = of.miss if run.is_misses else of.ink
            pens.flat_rect(painter, x + 3, y, room - 6, 2, of.ink3)
            lines = wrapped(run.text, room - 4, 12, 600)
            for number, line in enumerate(lines[:_NAMES_LINES]):
                at = x + (room - text_width(line, 12, 600)) / 2
                pens.words(painter, at, y + px(15 + 14 * number), line, ink, 12, 600)


def _ground(of: Theme, column: DateColumn) -> QColor:
    if column.is_misses:
        return of.missbg
    return of.off if column.is_squeezing else of.sheet
