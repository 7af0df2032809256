"""Every window without the enquiry and with it: two dots for each job beside the same posts."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QPointF, QRect, QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath

from app.window.bits import largest, wrapped
from app.window.enquiry.state import DotRow, span_of
from app.window.fonts import text_width
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.paint_marks import paint_verdict
from app.window.wall.sketch import paint_piece, placed
from app.words import Words
from app.words import enquiry_view as say
from shared.ids import JobId

LEFT, NAME, MARK = 16, 20, 206
"""Where the part begins, the names, and the verdicts' marks; all but the first before scaling."""
SKETCH, SKETCHED_FROM = 40, 540
"""How large a piece is drawn before the names, and how wide the part is for that."""
POSTS = 14
"""How far the two posts of a window stand apart."""
RADIUS = 5.5
_ROW_LEAST, _ROW_MOST = 31, 60
_TEXT_ROOM = 150
TITLE_SIZES = (17, 16, 15, 14, 13, 12)


class Dots(Drawn):
    """Rows of jobs by their windows; a job is chosen here for all views."""

    def __init__(self, choose_job: Callable[[JobId], object]) -> None:
        super().__init__()
        self._choose_job = choose_job
        self.words = Words()
        self.rows: tuple[DotRow, ...] = ()
        self.title = self.legend = ""
        self.room = self.margin = 0

    def show_rows(self, rows: tuple[DotRow, ...], title: str, legend: str, words: Words) -> None:
        """Show other rows; legend: what stands below them."""
        self.rows, self.title, self.legend, self.words = rows, title, legend, words
        self.setAccessibleName(title)
        self.refresh()

    # Layout.

    def _moved(self, width: int) -> int:
        """Return how far names and marks give way to the sketches."""
        has_any = any(row.shapes for row in self.rows)
        return px(SKETCH + 8) if has_any and width >= px(SKETCHED_FROM) else 0

    @property
    def _row_height(self) -> int:
        """The height of a row: as many as there are fill the room, within limits."""
        if not self.rows:
            return px(_ROW_MOST)
        fitting = (self.room - self._top - px(44)) // len(self.rows)
        return max(px(_ROW_LEAST), min(px(_ROW_MOST), fitting))

    @property
    def _top(self) -> int:
        return px(58)

    def height_at(self, width: int) -> int:
        """Return how high the title, the rows and the line below them are."""
        return self._top + len(self.rows) * self._row_height + px(44)

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return a spot for each job."""
        return [
            Spot(
                id=f"job {row.job}",
                rect=QRect(LEFT - 6, self._y(at), width - LEFT - 10, self._row_height - 1),
                name=row.name,
                description=row.line,
                do=partial(self._choose_job, row.job),
            )
            for at, row in enumerate(self.rows)
        ]

    def _y(self, at: int) -> int:
        return self._top + at * self._row_height

    def axis(self, width: int) -> tuple[float, float]:
        """Return where nothing to spare lies, and how many pixels a day is."""
        low, high = span_of(self.rows)
        left = self._moved(width) + px(MARK) + px(30) + POSTS
        room = max(80, width - left - px(_TEXT_ROOM))
        per_day = room / (high - low)
        return left + -low * per_day, per_day

    def x_of(self, days: float, width: int) -> float:
        """Return where so many days to spare lie: right of the posts, what is late left of them."""
        zero, per_day = self.axis(width)
        return zero + days * per_day - (POSTS if days < 0 else 0)

    # Painting.

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint title, axis, posts and rows."""
        room = width - LEFT - self.margin
        pixels = largest(self.title, room, TITLE_SIZES, 600, serif=True)
        pens.words(painter, LEFT, px(26), self.title, of.ink, pixels, 600, serif=True)
        if not self.rows:
            return
        bottom = self._y(len(self.rows))
        self._paint_rows(painter, of, width)
        self._paint_axis(painter, of, width, bottom)
        self._paint_posts(painter, of, width, bottom)
        for at, row in enumerate(self.rows):
            self._paint_dots(painter, of, width, row, at)
        for line, text_line in enumerate(wrapped(self.legend, width - LEFT - 16, 12)):
            pens.words(painter, LEFT, bottom + px(20 + 15 * line), text_line, of.ink2, 12)

    def _paint_rows(self, painter: QPainter, of: Theme, width: int) -> None:
        for at, row in enumerate(self.rows):
            y, height = self._y(at), self._row_height
            if row.is_enquiry:
                pens.flat_rect(painter, LEFT - 6, y, width - LEFT - 10, height, of.sheet)
            pens.flat_rect(painter, LEFT, y + height - 1, width - LEFT - 16, 1, of.line)
            middle, moved = y + height // 2, self._moved(width)
            if moved:
                side = min(px(SKETCH), height - 6)
                area = QRectF(LEFT + px(SKETCH) - side, middle - side / 2, side, side - 1)
                paint_piece(painter, of, placed(row.shapes, area)[0], None, _ground(of, row))
            name = _fitting(row.name, px(MARK) - px(NAME) - px(8), 14)
            pens.words(painter, moved + px(NAME), middle - px(2), name, of.ink, 14, 600)
            pens.words(painter, moved + px(NAME), middle + px(13), row.day, of.ink2, 12)
            paint_verdict(
                painter,
                of,
                moved + px(MARK),
                middle,
                px(6),
                row.verdict,
                is_enquiry=row.is_enquiry,
            )

    def _paint_axis(self, painter: QPainter, of: Theme, width: int, bottom: int) -> None:
        per_day = self.axis(width)[1]
        low, high = span_of(self.rows)
        step = _step(per_day)
        for day in range(-(-low // step) * step, high + 1, step):
            x = round(self.x_of(day, width))
            if day:
                pens.flat_rect(
                    painter, x, self._top - px(8), 1, bottom - self._top + px(8), of.line
                )
            text = str(abs(day))
            half = text_width(text, 12) / 2
            pens.words(painter, x - half, self._top - px(14), text, of.ink2, 12)
        text = self.words.say(say.SPARE_AXIS)
        pens.words(
            painter,
            self.x_of(high, width) + px(16),
            self._top - px(14),
            text,
            of.ink2,
            12,
        )
        if low < 0:
            text = self.words.say(say.LATE_AXIS)
            left = self.x_of(low, width) - text_width(text, 12) - px(12)
            pens.words(painter, left, self._top - px(14), text, of.ink2, 12)

    def _paint_posts(self, painter: QPainter, of: Theme, width: int, bottom: int) -> None:
        right = round(self.axis(width)[0])
        left, top = right - POSTS, self._top - px(6)
        pens.flat_rect(painter, left, top, POSTS, bottom - top, of.opening)
        pens.flat_rect(painter, left - 1, top, 3, bottom - top, of.post)
        pens.flat_rect(painter, right - 1, top, 3, bottom - top, of.post)
        pens.flat_rect(painter, left - 5, top - 1, POSTS + 11, 3, of.post)

    def _paint_dots(self, painter: QPainter, of: Theme, width: int, row: DotRow, at: int) -> None:
        y = self._y(at) + self._row_height // 2
        ink = of.miss if row.is_late else of.ink
        marks = [self.x_of(0, width) + RADIUS + 2]
        if row.before is not None and row.before != row.after:
            was = self.x_of(row.before, width)
            marks.append(was)
            if row.after is not None:
                now = self.x_of(row.after, width)
                start, end = sorted((was, now))
                pens.flat_rect(painter, start, y - 1, end - start, 2, ink)
            _dot(painter, of, was, y, ink, is_full=False)
        if row.after is not None:
            marks.append(self.x_of(row.after, width))
            _dot(painter, of, marks[-1], y, ink, is_full=True)
        self._paint_text(painter, of, row, max(marks) + px(14), y, width)

    def _paint_text(
        self, painter: QPainter, of: Theme, row: DotRow, x: float, y: int, width: int
    ) -> None:
        ink = of.miss if row.is_late else of.ink
        room = width - 12 - x
        widest = max(text_width(row.said, 13, 600), text_width(row.note, 12))
        if widest > room:
            x = width - 12 - widest
            pens.flat_rect(painter, x - 4, y - px(16), widest + 6, px(32), _ground(of, row))
        baseline = y - px(2) if row.note else y + px(5)
        pens.words(painter, x, baseline, row.said, ink, 13, 600)
        pens.words(painter, x, y + px(13), row.note, of.ink2, 12)


def _ground(of: Theme, row: DotRow) -> QColor:
    return of.sheet if row.is_enquiry else of.paper


def _dot(painter: QPainter, of: Theme, x: float, y: float, ink: QColor, *, is_full: bool) -> None:
    path = QPainterPath()
    path.addEllipse(QPointF(x, y + 0.5), RADIUS, RADIUS)
    pens.fill_path(painter, path, ink if is_full else of.paper)
    pens.outline_path(painter, path, ink, 1.6)


def _step(per_day: float) -> int:
    """Return the days from one line of the axis to the next, so that figures stand apart."""
    return next((days for days in (2, 4, 10, 20, 50) if days * per_day >= 40), 100)


def _fitting(text: str, room: float, pixels: int) -> str:
    """Return a name as far as it fits; the whole of it is told by its line."""
    if text_width(text, pixels, 600) <= room:
        return text
    while text and text_width(text + "…", pixels, 600) > room:
        text = text[:-1]
    return text.rstrip() + "…"
