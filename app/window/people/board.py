"""The rows of people and places as a part that is drawn, pointed at, walked through and read."""

from collections.abc import Sequence

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.window.bits import theme_of
from app.window.guard import guarded
from app.window.people.items import Board, Line, Sort
from app.window.people.layout import LEFT, Chunk, Layout, Row, Sizes, lay_out, sizes_for
from app.window.people.paint import AXIS, paint_axis, paint_rows
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot, spot_at
from app.window.theme import Theme
from app.window.tokens import px
from app.window.wall import pens
from app.words import Words
from app.words import people_view as say

DRAG_FROM = 6
"""So many pixels from where it was pressed the hand drags."""
_HALF_HOUR = 30


class BoardPart(Drawn):
    """People above, places below; work is dragged to another row, an absence over days.

    given: a bar of one row was let go over another person's. away: a stretch was drawn in a row.
    beside: the work chosen goes to the next person below (1) or above (-1).
    over: a bar of one row is held over another person's. told: what letting go would do, "" for
    nothing. pressed: the hand let go where it pressed.
    """

    pressed = Signal()
    given = Signal(object, object, object)
    away = Signal(object, int, int)
    over = Signal(object, object, object)
    told = Signal(str)
    beside = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.board: Board | None = None
        self.words = Words()
        self.sizes: Sizes = sizes_for(1366)
        self.room = 560
        self.layout_: Layout | None = None
        self._pressed: QPoint | None = None
        self._held: Chunk | None = None
        self._at: QPoint | None = None
        self._over = ""

    def show_board(self, board: Board, words: Words, sizes: Sizes, room: int) -> None:
        """Show a board in a height that is there without scrolling."""
        self.board, self.words, self.sizes, self.room = board, words, sizes, room
        self.setAccessibleName(words.say(say.ROWS))
        self.refresh()

    def _laid(self, width: int) -> Layout | None:
        if self.board is None:
            return None
        return lay_out(self.board, self.sizes, width, self.room)

    # What a drawn part says.

    def height_at(self, width: int) -> int:
        """Return how high all rows are."""
        laid = self._laid(width)
        return 10 if laid is None else laid.height

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return for each row its name, then what stands in it."""
        self.layout_ = self._laid(width)
        if self.layout_ is None:
            return ()
        made: list[Spot] = []
        for row in self.layout_.rows:
            made.append(self._name(row))
            mine = [chunk for chunk in self.layout_.chunks if chunk.line is row.line]
            made += [
                Spot(id=c.id, rect=c.rect, name=c.bar.name, description=c.bar.description)
                for c in mine
            ]
        return made

    def _name(self, row: Row) -> Spot:
        assert self.layout_ is not None
        width = self.layout_.names
        rect = QRect(LEFT - 6, row.top + 1, width, row.height - 1)
        line = row.line
        return Spot(id=row_id(line), rect=rect, name=line.name, description=line.description)

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint ground, bars, names, and what is dragged."""
        if self.board is None or self.layout_ is None:
            return
        line = self.line_at(self.at)
        over = line.id if line else None
        paint_rows(painter, of, self.board, self.layout_, self.words, row_over=over)
        chunk = self.chunk(self.at)
        if chunk is not None:
            pens.frame(painter, chunk.rect.adjusted(-1, -1, 1, 1), of.ink, 2)
            self._frame_others(painter, of, chunk)
        self._paint_dragged(painter, of)

    def _frame_others(self, painter: QPainter, of: Theme, chosen: Chunk) -> None:
        """Frame the partners' and the place's bars of what is chosen."""
        assert self.layout_ is not None
        for chunk in self.layout_.chunks:
            is_same = chunk.bar.id == chosen.bar.id and chunk.number == chosen.number
            if is_same and chunk.line is not chosen.line and chosen.bar.step is not None:
                pens.frame(painter, chunk.rect.adjusted(-1, -1, 1, 1), of.ink, 1)

    def _paint_dragged(self, painter: QPainter, of: Theme) -> None:
        if not self.is_dragging or self._at is None or self._pressed is None:
            return
        assert self.layout_ is not None
        row = self._row_meant()
        if row is None:
            return
        if self._held is not None:
            there = QRect(self._held.rect)
            there.moveTop(row.top + 4)
            pens.frame(painter, there, of.ink, 2)
            return
        left, right = sorted((self._pressed.x(), self._at.x()))
        area = QRect(left, row.top + 4, max(2, right - left), row.height - 7)
        pens.slanted(
            painter,
            pens.hatch_lines(area.x(), area.y(), area.width(), area.height(), 5, area.x()),
            of.ink2,
        )
        pens.frame(painter, area, of.ink, 1)

    # What is chosen.

    def chunk(self, identity: str | None) -> Chunk | None:
        """Return what of a bar lies in a day, by its spot's id."""
        if self.layout_ is None or identity is None:
            return None
        return next((chunk for chunk in self.layout_.chunks if chunk.id == identity), None)

    def line_at(self, identity: str | None) -> Line | None:
        """Return the row that a spot is in."""
        chunk = self.chunk(identity)
        if chunk is not None:
            return chunk.line
        if self.board is None or identity is None:
            return None
        return next((line for line in self.board.lines if row_id(line) == identity), None)

    # Hands.

    @property
    def is_dragging(self) -> bool:
        """Whether something is dragged."""
        if self._pressed is None or self._at is None:
            return False
        return (self._at - self._pressed).manhattanLength() >= DRAG_FROM

    @guarded
    def mousePressEvent(self, event: QMouseEvent) -> None:
        point = event.position().toPoint()
        spot = spot_at(self.spots, point)
        row = self.layout_.row_at(point.y()) if self.layout_ else None
        if spot is None and row is not None:
            self.choose(row_id(row.line))
        else:
            self.choose(spot.id if spot else None)
        chunk = self.chunk(spot.id if spot else None)
        can_be_given = chunk is not None and chunk.bar.sort is Sort.WORK
        is_ground = spot is None and row is not None and point.x() > LEFT + self.sizes.names
        if row is not None and not row.line.is_place and (can_be_given or is_ground):
            self._pressed, self._held, self._at = point, chunk, point

    @guarded
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None:
            super().mouseMoveEvent(event)
            return
        self._at = event.position().toPoint()
        if self.is_dragging:
            self._tell_drag()
            self.update()

    @guarded
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        was_dragging, row, held = self.is_dragging, self._row_meant(), self._held
        stretch = self._stretch()
        self._let_go()
        if not was_dragging:
            self.pressed.emit()
        if not was_dragging or row is None:
            return
        if held is not None:
            if row.line is not held.line:
                self.given.emit(held.bar, held.line, row.line)
        elif stretch is not None:
            self.away.emit(row.line, *stretch)

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.is_dragging:
            self._let_go()
            return
        strides = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.modifiers() == Qt.KeyboardModifier.AltModifier and event.key() in strides:
            self.beside.emit(strides[Qt.Key(event.key())])
            return
        super().keyPressEvent(event)

    def _let_go(self) -> None:
        self._pressed = self._held = self._at = None
        self._over = ""
        self.told.emit("")
        self.update()

    def _row_meant(self) -> Row | None:
        """Return the person's row under the hand; an absence stays in its own."""
        if self.layout_ is None or self._at is None or self._pressed is None:
            return None
        y = self._at.y() if self._held is not None else self._pressed.y()
        row = self.layout_.row_at(y)
        return row if row is not None and not row.line.is_place else None

    def _stretch(self) -> tuple[int, int] | None:
        """Return what was drawn, in minutes: half hours today, whole days after it."""
        if self.layout_ is None or self._at is None or self._pressed is None:
            return None
        left, right = sorted((self._pressed.x(), self._at.x()))
        tracks = self.layout_.tracks
        first = next((t for t in tracks if left <= t.right), tracks[-1])
        last = next((t for t in reversed(tracks) if right >= t.left), tracks[0])
        start, end = first.column.start, last.column.end
        if first is tracks[0]:
            start = first.minute(left) // _HALF_HOUR * _HALF_HOUR
        if last is tracks[0]:
            end = -(-last.minute(right) // _HALF_HOUR) * _HALF_HOUR
        return (start, end) if start < end else None

    def _tell_drag(self) -> None:
        """Tell what letting go here would do, once for each row that the hand comes over."""
        row, held = self._row_meant(), self._held
        if held is None:
            who = row.line.name if row is not None and self._stretch() else ""
            self.told.emit(self.words.say(say.DRAG_AWAY, who=who) if who else "")
        elif row is None or row.line is held.line:
            self._over = ""
            self.told.emit(self.words.say(say.DRAG_BACK))
        elif row.line.id != self._over:
            self._over = row.line.id
            self.over.emit(held.bar, held.line, row.line)


def row_id(line: Line) -> str:
    """Return the id of a row's spot."""
    return f"row {line.id}"


class Axis(QWidget):
    """Hours and days above the rows."""

    def __init__(self, part: BoardPart) -> None:
        super().__init__()
        self._part = part
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(200, px(AXIS))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of, painter = theme_of(self), QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        if self._part.board is not None and self._part.layout_ is not None:
            paint_axis(painter, of, self._part.board, self._part.layout_)
        painter.end()
