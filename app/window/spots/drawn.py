"""A drawn part of a view as a widget: hands and keys go from spot to spot."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QScrollArea,
    QScrollBar,
    QStyle,
    QStyleOptionSlider,
    QWidget,
)

from app.window.bits import theme_of
from app.window.guard import guarded
from app.window.reader import READER
from app.window.spots.spot import Spot, beside, spot_at
from app.window.theme import Theme
from app.window.wall import pens

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_SWITCHES = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Drawn(QWidget):
    """Whoever derives from it says how high it is, where its spots lie, and how it is painted.

    Tab stops once; inside the arrows go on. What is chosen keeps its id over a new layout.
    """

    chosen = Signal(object)
    hovered = Signal(object)

    def __init__(self, name: str = "") -> None:
        super().__init__()
        self.spots: tuple[Spot, ...] = ()
        self.at: str | None = None
        self._over: str | None = None
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)

    # What whoever derives from it says.

    def height_at(self, width: int) -> int:
        """Return how high all of it is at a width."""
        raise NotImplementedError

    def spots_at(self, width: int) -> Sequence[Spot]:
        """Return its spots at a width, in reading order."""
        raise NotImplementedError

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        """Paint it; the paper is there already, the frame of what is chosen comes after."""
        raise NotImplementedError

    # Showing.

    def refresh(self) -> None:
        """Lay it out anew."""
        width = max(1, self.width())
        self.spots = tuple(self.spots_at(width))
        self.setMinimumHeight(self.height_at(width))
        if self.at is not None and self.spot(self.at) is None:
            self.at = None
        self.update()

    def spot(self, identity: str | None) -> Spot | None:
        """Return the spot of that id."""
        return next((spot for spot in self.spots if spot.id == identity), None)

    def choose(self, identity: str | None, *, tell: bool = True) -> None:
        """Choose a spot and tell of it."""
        self.at = identity
        spot = self.spot(identity)
        if spot is not None:
            area = self._area()
            inside = area.widget() if area is not None else None
            if area is not None and inside is not None:
                middle = self.mapTo(inside, spot.rect.center())
                area.ensureVisible(middle.x(), middle.y(), 40, 40)
            READER.chosen(self, spot.id, spot.description or spot.name)
        self.update()
        if tell:
            self.chosen.emit(spot)

    def _area(self) -> QScrollArea | None:
        above = self.parent()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parent()
        return above

    # Qt's overrides.

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(self.width(), self.height_at(max(1, self.width())))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.refresh()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self.refresh()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        try:
            pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
            self.paint(painter, of, self.width())
            if self.hasFocus():
                spot = self.spot(self.at)
                if spot is not None:
                    paint_focus(painter, of, spot.rect)
                elif not self.spots:
                    paint_focus(painter, of, self.rect().adjusted(2, 2, -2, -2))
        finally:
            painter.end()

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        key = Qt.Key(event.key())
        if held:
            event.ignore()
        elif key in _ARROWS:
            self._step(*_ARROWS[key])
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End) and self.spots:
            self.choose(self.spots[0 if key is Qt.Key.Key_Home else -1].id)
        elif key in _SWITCHES and (spot := self.spot(self.at)) is not None and spot.do:
            spot.do()
        else:
            event.ignore()

    def _step(self, dx: int, dy: int) -> None:
        spot = self.spot(self.at)
        found = self.spots[:1] if spot is None else (beside(self.spots, spot, dx, dy),)
        for each in found:
            if each is not None:
                self.choose(each.id)

    @guarded
    def mousePressEvent(self, event: QMouseEvent) -> None:
        spot = spot_at(self.spots, event.position().toPoint())
        self.choose(spot.id if spot else None)
        if spot is not None and spot.do:
            spot.do()

    @guarded
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        spot = spot_at(self.spots, event.position().toPoint())
        over = spot.id if spot else None
        if over != self._over:
            self._over = over
            self.setCursor(
                Qt.CursorShape.PointingHandCursor
                if spot is not None and spot.do
                else Qt.CursorShape.ArrowCursor
            )
            self.hovered.emit(spot)

    @guarded
    def leaveEvent(self, event: QEvent) -> None:
        self._over = None
        self.hovered.emit(None)

    @guarded
    def focusInEvent(self, event: QFocusEvent) -> None:
        by_tab = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason)
        if self.at is None and event.reason() in by_tab and self.spots:
            self.choose(self.spots[0].id, tell=False)
        self.update()

    @guarded
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()

    def spot_rect(self, identity: str) -> QRect:
        """Return where a spot lies on the screen."""
        spot = self.spot(identity)
        if spot is None:
            return QRect()
        return QRect(self.mapToGlobal(spot.rect.topLeft()), spot.rect.size())

    def spot_under(self, x: int, y: int) -> Spot | None:
        """Return the spot under a point of the screen."""
        return spot_at(self.spots, self.mapFromGlobal(QPoint(x, y)))


def paint_focus(painter: QPainter, of: Theme, rect: QRect) -> None:
    """Paint the two frames by which what has the keyboard is seen on every ground."""
    pens.frame(painter, rect.adjusted(-2, -2, 2, 2), of.ink, 2)
    pens.frame(painter, rect, of.paper, 2)


_BAR = """
QScrollBar:vertical { width: 10px; margin: 0; border: none; }
QScrollBar::handle:vertical { min-height: 28px; }
QScrollBar::add-line:vertical, QScrollBar::sub-line:vertical { height: 0; }
"""


class ThinBar(QScrollBar):
    """Shows where one is in what scrolls, without arrows."""

    def __init__(self) -> None:
        super().__init__()
        self.setStyleSheet(_BAR)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of, option = theme_of(self), QStyleOptionSlider()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ScrollBarSlider
        rect = self.style().subControlRect(QStyle.ComplexControl.CC_ScrollBar, option, part, self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 3, rect.y(), self.width() - 6, rect.height(), of.ink3)
        painter.end()


def scrolled(part: QWidget) -> QScrollArea:
    """Return an area without a frame in which a part scrolls up and down."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setVerticalScrollBar(ThinBar())
    area.setWidget(part)
    return area
