"""Drawn parts for screen readers: a list, and its spots in reading order."""

import shiboken6
from PySide6.QtCore import QObject, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QWindow
from PySide6.QtWidgets import QAccessibleWidget

from app.window.guard import guarded
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot


class AccessibleDrawn(QAccessibleWidget):
    """The list. Its nodes live as long as it does: Qt keeps bare pointers to them."""

    def __init__(self, drawn: Drawn) -> None:
        super().__init__(drawn, QAccessible.Role.List, drawn.accessibleName())
        self.drawn = drawn
        self._nodes: dict[str, AccessibleSpot] = {}

    def node(self, identity: str) -> "AccessibleSpot":
        """Return the one interface of a spot."""
        if identity not in self._nodes:
            made = AccessibleSpot(self, identity)
            self._nodes[identity] = made
            QAccessible.registerAccessibleInterface(made)
        return self._nodes[identity]

    @guarded
    def childCount(self) -> int:
        return len(self.drawn.spots)

    @guarded
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        spots = self.drawn.spots
        return self.node(spots[index].id) if 0 <= index < len(spots) else None

    @guarded
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        wanted = child.identity if isinstance(child, AccessibleSpot) else ""
        ids = [spot.id for spot in self.drawn.spots]
        return ids.index(wanted) if wanted in ids else -1

    @guarded
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        spot = self.drawn.spot_under(x, y)
        return None if spot is None else self.node(spot.id)

    @guarded
    def focusChild(self) -> QAccessibleInterface | None:  # type: ignore[override]
        at = self.drawn.at
        return self.node(at) if at is not None and self.drawn.hasFocus() else None

    @guarded
    def text(self, which: QAccessible.Text) -> str:
        return self.drawn.accessibleName() if which == QAccessible.Text.Name else ""


class AccessibleSpot(QAccessibleInterface):
    """One spot of the list."""

    def __init__(self, root: AccessibleDrawn, identity: str) -> None:
        super().__init__()
        self._root = root
        self.identity = identity

    @property
    def _is_alive(self) -> bool:
        return shiboken6.isValid(self._root.drawn)

    @property
    def spot(self) -> Spot | None:
        """The spot, or None once it is no longer there."""
        return self._root.drawn.spot(self.identity) if self._is_alive else None

    @guarded
    def isValid(self) -> bool:
        return self.spot is not None

    @guarded
    def object(self) -> QObject | None:  # type: ignore[override]
        return None

    @guarded
    def window(self) -> QWindow | None:  # type: ignore[override]
        return self._root.drawn.window().windowHandle() if self._is_alive else None

    @guarded
    def parent(self) -> QAccessibleInterface:
        return self._root

    @guarded
    def childCount(self) -> int:
        return 0

    @guarded
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @guarded
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        return -1

    @guarded
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @guarded
    def focusChild(self) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @guarded
    def rect(self) -> QRect:
        return self._root.drawn.spot_rect(self.identity) if self._is_alive else QRect()

    @guarded
    def role(self) -> QAccessible.Role:
        spot = self.spot
        if spot is not None and spot.do is not None:
            return QAccessible.Role.Button
        return QAccessible.Role.ListItem

    @guarded
    def state(self) -> QAccessible.State:
        state = QAccessible.State()
        is_at = self._is_alive and self._root.drawn.at == self.identity
        spot = self.spot
        state.focusable = True
        state.selectable = True
        state.selected = is_at or (spot is not None and spot.is_chosen)
        state.focused = is_at and self._root.drawn.hasFocus()
        state.invisible = spot is None
        return state

    @guarded
    def text(self, which: QAccessible.Text) -> str:
        spot = self.spot
        if spot is None:
            return ""
        if which == QAccessible.Text.Name:
            return spot.name
        return spot.description if which == QAccessible.Text.Description else ""

    @guarded
    def setText(self, which: QAccessible.Text, text: str) -> None:
        """Take nothing: spots are not written from here."""
