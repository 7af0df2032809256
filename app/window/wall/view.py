"""The wall as a widget: it paints the list, and hands and keys move about in it."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from app.window import tokens
from app.window.guard import guarded
from app.window.theme import Theme
from app.window.wall import moves
from app.window.wall.items import Item, Role, Wall
from app.window.wall.layer import Layer
from app.window.wall.layout import Layout, Scale, fitting, hit, lay_out, row_at, season
from app.window.wall.moves import Cursor
from app.window.wall.paint import paint_wall, picture
from app.window.wall.paint_moving import paint_moving
from app.window.wall.paint_pointed import paint_span
from app.window.wall.paint_work import Look
from app.window.wall.pointing import Pointing, span_line
from app.window.wall.sketch import free_corner
from app.words import Words
from app.words import window as say
from shared.ids import JobId

if TYPE_CHECKING:
    from app.window.wall.mover import Mover

ZOOM_STEP = 1.25
SEASON_MARGIN = 26
SHARP_MILLISECONDS = 60
PAST_DAYS_AT_HOME = 2
_ARROWS = {
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Right: "right",
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Down: "down",
}
_ENTERS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class WallView(QWidget):
    """Shows every window and the work that leads to it; the arrow keys go from stage to stage."""

    chosen = Signal(object)
    opened = Signal(object)
    hovered = Signal(object)
    told = Signal(str)

    def __init__(
        self, wall: Wall, words: Words, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.wall, self.words, self._theme = wall, words, theme
        self.spot: Cursor | None = None
        self.pointing = Pointing(ticks=monotonic)
        self._scroll = 0
        self._scale: Scale | None = None
        self._layout: Layout | None = None
        self.mover: Mover | None = None
        self.folded: frozenset[JobId] = frozenset()
        self._lit: frozenset[str] | None = None
        self._letters: tuple[tuple[str, str], ...] = ()
        self._layer = Layer()
        self._sharp = QTimer(self, singleShot=True, interval=SHARP_MILLISECONDS)
        self._sharp.timeout.connect(self._sharpen)
        self._still: QPixmap | None = None
        self._in_hand: tuple[Item, float] | None = None
        self._grabbed: QPointF | None = None
        self._was_dragged = False
        self._keys = self._key_table()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    # What is shown.

    def show_wall(self, wall: Wall, words: Words) -> None:
        """Show another state of the book; what was chosen stays chosen if it is still there."""
        was_bare = not self.wall.rows or self.wall.is_bare
        self.wall, self.words = wall, words
        self.setAccessibleName(words.say(say.VIEWS["wall"]))
        if self._scale is not None:
            if was_bare:
                self._scale = None
            else:
                self._scale = self._scale.counted_from(wall.first)
        if self.spot is not None:
            self.spot = moves.at(wall, self.spot.item, self.spot.row)
        self._layout = None
        self.update()

    def forget_layout(self) -> None:
        """Lay out anew: text is of another size."""
        self._layout = None
        self._layer.forget()
        self.update()

    def show_lit(
        self, lit: frozenset[str] | None, letters: tuple[tuple[str, str], ...] = ()
    ) -> None:
        """Veil all but these items; None veils nothing. letters: of waits, in rings."""
        if (lit, letters) != (self._lit, self._letters):
            self._lit, self._letters = lit, letters
            self.update()

    def fold(self, folded: frozenset[JobId]) -> None:
        """Let these jobs take one low row each."""
        self.folded = folded
        self.forget_layout()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of the other ground."""
        self._theme = theme
        self.update()

    @property
    def layout_(self) -> Layout:
        """Where everything lies at present."""
        if self._layout is None:
            height = max(40, self.height() - self.sizes.axis)
            if self._scale is None:
                self._scale = self._season_scale()
            self._layout = lay_out(
                self.wall,
                self.width(),
                height,
                self._scale,
                scroll=self._scroll,
                sizes=self.sizes,
                folded=self.folded,
            )
            self._scroll = self._layout.scroll
        return self._layout

    @property
    def is_in_hand(self) -> bool:
        """Whether a stage or the wall itself is held."""
        moving = self.mover.moving if self.mover else None
        return self._grabbed is not None or (moving is not None and not moving.is_dropped)

    @property
    def sizes(self) -> tokens.Sizes:
        """The sizes of the whole window, which the wall may share with a sheet."""
        return tokens.sizes_for(self.window().width())

    def _season_scale(self) -> Scale:
        sizes = self.sizes
        first, last = season(self.wall)
        right = self.width() - sizes.names - SEASON_MARGIN
        return fitting(first, last, sizes.margin, max(right, 200), self.wall.first)

    @property
    def look(self) -> Look:
        """What is chosen and under the pointer."""
        return Look(
            selected=self.spot.item if self.spot else None,
            row=self.spot.row if self.spot else None,
            hovered_row=self.pointing.row,
            hovered=self.pointing.item,
            has_focus=self.hasFocus(),
            lit=self._lit,
            letters=self._letters,
        )

    def item_rect(self, item: Item) -> QRect:
        """Return where an item lies in the widget."""
        found = self.layout_.rect(item)
        return QRect(found.x, found.y + self.layout_.sizes.axis, found.width, found.height)

    def item_at(self, point: QPoint) -> Item | None:
        """Return what lies under a point of the widget."""
        y = point.y() - self.layout_.sizes.axis
        found = hit(self.wall, self.layout_, point.x(), y) if y >= 0 else None
        return self.wall.item(found.owner) or found if found else None

    @property
    def free_corner(self) -> QSize:
        """Return the room right of the names of the uppermost jobs: where the slip may lie."""
        return QSize(*free_corner(self.wall, self.layout_))

    def picture(self, ratio: float) -> QImage:
        """Return what is shown as an image."""
        return picture(self.wall, self.layout_, self._theme, self.words, self.look, ratio=ratio)

    # Choosing.

    def choose(self, cursor: Cursor | None, *, reveal: bool = True) -> None:
        """Choose an item, bring it into sight and tell of it."""
        self.spot = cursor
        if cursor is not None and reveal:
            self._reveal(cursor)
        self.update()
        self.chosen.emit(self.wall.item(cursor.item) if cursor else None)

    def _reveal(self, cursor: Cursor) -> None:
        item = self.wall.item(cursor.item)
        if item is None:
            return
        layout = self.layout_
        left, right = layout.span_x(item)
        low, high = layout.sizes.margin + 8, layout.names_x - 24
        if item.role in {Role.JOB, Role.SEGMENT}:
            left = right = min(max(left, low), high)
        if right > high:
            self.scroll_time(min(right - high, left - low) if left > low else left - low)
        elif left < low:
            self.scroll_time(left - low)
        top = layout.row_middle(cursor.row) - layout.row if layout.row_tops else 0
        if top < 0:
            self.scroll_rows(top)
        elif top + 2 * layout.row > layout.height:
            self.scroll_rows(top + 2 * layout.row - layout.height)

    # Moving about.

    def scroll_time(self, pixels: int) -> None:
        """Move through time."""
        self._set_scale(self.layout_.scale.moved(pixels))

    def scroll_rows(self, pixels: int) -> None:
        """Move up and down, where not all jobs fit."""
        self._scroll = max(0, self._scroll + pixels)
        self._layout = None
        self.update()

    def zoom(self, factor: float, about: float | None = None) -> None:
        """Come nearer or go farther, about a point."""
        layout = self.layout_
        about = (layout.sizes.margin + layout.names_x) / 2 if about is None else about
        self._set_scale(layout.scale.zoomed(layout.scale.pixels_per_day * factor, about))

    def show_season(self) -> None:
        """Show all from two working days ago to the last window."""
        self._set_scale(self._season_scale())

    def show_today(self) -> None:
        """Bring today to the left, with two days before it."""
        scale = self.layout_.scale
        x = scale.x(self.wall.now) - self.layout_.sizes.margin
        self.scroll_time(round(x - PAST_DAYS_AT_HOME * scale.pixels_per_day))

    def _set_scale(self, scale: Scale) -> None:
        self._scale, self._layout = self._held(scale), None
        self.update()

    def _held(self, scale: Scale) -> Scale:
        """Keep the wall from being lost: some of it stays in sight."""
        low, high = scale.x(self.wall.first), scale.x(self.wall.last)
        middle = self.width() // 2
        if low > middle:
            return scale.moved(low - middle)
        return scale.moved(high - middle) if high < middle else scale

    # Qt's overrides.

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(*tokens.LEAST_WINDOW)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        try:
            moving = self.mover.moving if self.mover else None
            if moving is None:
                self._still = None
                paint_wall(
                    painter,
                    self.wall,
                    self.layout_,
                    self._theme,
                    self.words,
                    self.look,
                    self._layer,
                )
                paint_span(painter, self.layout_, self._theme, self.pointing.span)
                if self._layer.is_stretched:
                    is_on = self._layer.is_sharpening
                    self._sharp.start(0 if is_on else SHARP_MILLISECONDS)
            else:
                painter.drawPixmap(0, 0, self._still_picture())
                paint_moving(painter, self.layout_, self._theme, moving)
        finally:
            painter.end()

    def _sharpen(self) -> None:
        self._layer.sharpen(self.layout_)
        self.update()

    def _still_picture(self) -> QPixmap:
        """Return the wall as it stands while something is moved over it, painted once."""
        ratio = self.devicePixelRatioF()
        if self._still is None or self._still.deviceIndependentSize().toSize() != self.size():
            look = replace(self.look, selected=None, has_focus=False)
            image = picture(self.wall, self.layout_, self._theme, self.words, look, ratio=ratio)
            self._still = QPixmap.fromImage(image)
        return self._still

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        if event.oldSize().width() <= 0:
            self._scale = None
        self._layout = None

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        if self.spot is None and event.reason() in {
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
        }:
            self.choose(moves.first(self.wall), reveal=False)
        self.update()

    @guarded
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.pointing.stir()
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        shift = Qt.KeyboardModifier.ShiftModifier
        if self._nudged(Qt.Key(event.key()), plain):
            return
        if event.key() in _ENTERS and self.spot is None:
            event.ignore()  # the window hears it, for what is tried
            return
        key = Qt.Key(event.key())
        if key in _ARROWS and not plain:
            self._step(_ARROWS[key])
        elif key is Qt.Key.Key_J and plain in (shift, Qt.KeyboardModifier.NoModifier):
            self._go(moves.window_after(self.wall, self.spot, back=plain == shift))
        elif key in self._keys and plain in (shift, Qt.KeyboardModifier.NoModifier):
            self._keys[key]()
        else:
            event.ignore()

    def _nudged(self, key: Qt.Key, held: Qt.KeyboardModifier) -> bool:
        """Move the chosen stage by Alt and an arrow; whether that was pressed."""
        alt, shift = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
        if key not in (Qt.Key.Key_Left, Qt.Key.Key_Right) or self.mover is None:
            return False
        if held not in (alt, alt | shift):
            return False
        item = self.wall.item(self.spot.item) if self.spot else None
        if self.mover.moving is None and (item is None or not self.mover.begin(item)):
            return True
        stride = -1 if key is Qt.Key.Key_Left else 1
        if held == alt:
            self.mover.nudge(stride)
        else:
            self.mover.nudge_shift(stride)
        return True

    def _key_table(self) -> dict[Qt.Key, Callable[[], None]]:
        return {
            Qt.Key.Key_G: lambda: self._go(moves.gate_after(self.wall, self.spot)),
            Qt.Key.Key_Home: self.show_today,
            Qt.Key.Key_End: lambda: self._go(moves.job_window(self.wall, self.spot)),
            Qt.Key.Key_Plus: lambda: self.zoom(ZOOM_STEP),
            Qt.Key.Key_Equal: lambda: self.zoom(ZOOM_STEP),
            Qt.Key.Key_Minus: lambda: self.zoom(1 / ZOOM_STEP),
            Qt.Key.Key_0: self.show_season,
            Qt.Key.Key_PageUp: lambda: self._screen(-1),
            Qt.Key.Key_PageDown: lambda: self._screen(1),
            Qt.Key.Key_Return: self._open,
            Qt.Key.Key_Enter: self._open,
        }

    def _step(self, way: str) -> None:
        if self.spot is None:
            self._go(moves.first(self.wall))
        else:
            self._go(moves.beside(self.wall, self.spot, way))

    def _go(self, cursor: Cursor | None) -> None:
        if cursor is not None:
            self.choose(cursor)

    def _screen(self, screens: int) -> None:
        self.scroll_time(screens * round((self.layout_.names_x - 12) * 0.9))

    def _open(self) -> None:
        item = self.wall.item(self.spot.item) if self.spot else None
        if item is not None:
            self.opened.emit(item)

    @guarded
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._grabbed, self._was_dragged = event.position(), False
        point = event.position().toPoint()
        item = self.item_at(point)
        self._in_hand = None
        if point.y() < self.layout_.sizes.axis:
            self.pointing.begin_span(self.layout_.scale.minute(point.x()))
            self.update()
        if item is not None and item.role is Role.BLOCK and self.item_rect(item).contains(point):
            self._in_hand = (item, self.layout_.scale.minute(point.x()) - item.start)

    @guarded
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.pointing.stir()
        if self._grabbed is not None and event.buttons() & Qt.MouseButton.LeftButton:
            self._drag(event.position())
            return
        row = row_at(self.layout_, event.position().y() - self.layout_.sizes.axis)
        if row is not None and row >= len(self.wall.rows):
            row = None
        item = self.item_at(event.position().toPoint())
        if self.pointing.to(row, item):
            self.update()
        self.hovered.emit(item)

    def _drag(self, to: QPointF) -> None:
        assert self._grabbed is not None
        if self.pointing.draw_span(self.layout_.scale.minute(to.x())):
            self._was_dragged = True
            self.told.emit(span_line(self.wall, self.words, self.pointing.span or (0, 0)))
            self.update()
            return
        dx, dy = to.x() - self._grabbed.x(), to.y() - self._grabbed.y()
        if not self._was_dragged and abs(dx) + abs(dy) < 6:
            return
        is_first, self._was_dragged = not self._was_dragged, True
        if self._carried(to, is_first=is_first):
            return
        self.scroll_time(-round(dx))
        self.scroll_rows(-round(dy))
        self._grabbed = to

    def _carried(self, to: QPointF, *, is_first: bool) -> bool:
        """Move the stage that is in the hand, if one is."""
        if self._in_hand is None or self.mover is None:
            return False
        item, offset = self._in_hand
        if is_first and not self.mover.begin(item):
            self._in_hand = None
            return False
        self.mover.to(self.layout_.scale.minute(to.x()) - offset, to.toPoint())
        return True

    @guarded
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.pointing.end_span()
        if self._was_dragged and self._in_hand is not None and self.mover is not None:
            self.mover.drop()
        self._in_hand = None
        if self._grabbed is not None and not self._was_dragged:
            point = event.position().toPoint()
            item = self.item_at(point)
            row = row_at(self.layout_, point.y() - self.layout_.sizes.axis)
            self.choose(moves.at(self.wall, item.id, row) if item else None, reveal=False)
        self._grabbed = None

    @guarded
    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self._open()

    @guarded
    def leaveEvent(self, event: QEvent) -> None:
        self.pointing.to(None, None)
        self.hovered.emit(None)
        self.update()

    @guarded
    def enterEvent(self, event: QEnterEvent) -> None:
        self.update()

    @guarded
    def wheelEvent(self, event: QWheelEvent) -> None:
        self.pointing.stir()
        turn = event.angleDelta().y() or event.angleDelta().x()
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.zoom(1.0015**turn, event.position().x())
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier or not event.angleDelta().y():
            self.scroll_time(-turn)
        else:
            self.scroll_rows(-turn // 2)
        event.accept()
