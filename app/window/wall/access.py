"""The wall for screen readers: wall, job, segment, then stages; gates and journey by the job."""

import shiboken6
from PySide6.QtCore import QObject, QPoint, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QWindow
from PySide6.QtWidgets import QAccessibleWidget

from app.window.guard import guarded
from app.window.wall.items import STOPS, Item, Role
from app.window.wall.view import WallView

_GROUPS = frozenset({Role.JOB, Role.SEGMENT})


class AccessibleWall(QAccessibleWidget):
    """The root of the tree. Nodes live as long as it does: Qt keeps bare pointers to them."""

    def __init__(self, view: WallView) -> None:
        super().__init__(view, QAccessible.Role.Tree, view.accessibleName())
        self.view = view
        self._nodes: dict[str, AccessibleItem] = {}

    def node(self, identity: str) -> "AccessibleItem":
        """Return the one interface of an item."""
        if identity not in self._nodes:
            made = AccessibleItem(self, identity)
            self._nodes[identity] = made
            QAccessible.registerAccessibleInterface(made)
        return self._nodes[identity]

    def children_of(self, item: Item | None) -> list[str]:
        """Return the ids of what lies below an item, or below the wall."""
        wall = self.view.wall
        if item is None:
            return [band.header.id for band in wall.bands]
        if item.role is Role.JOB:
            band = wall.bands[item.band]
            rows = wall.rows[band.first_row : band.first_row + band.row_count]
            seams = [seam.id for seam in (*band.seams, *band.legs)]
            return [f"segment {row.segment}" for row in rows] + seams
        if item.role is Role.SEGMENT:
            return [stop.id for stop in wall.rows[item.row].stops if stop.role is Role.BLOCK]
        return []

    def parent_of(self, item: Item) -> str | None:
        """Return the id of what an item lies below; None for the wall."""
        if item.role is Role.JOB:
            return None
        if item.role is Role.BLOCK:
            return f"segment {item.segment}"
        return self.view.wall.bands[item.band].header.id

    @guarded
    def childCount(self) -> int:
        return len(self.children_of(None))

    @guarded
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        ids = self.children_of(None)
        return self.node(ids[index]) if 0 <= index < len(ids) else None

    @guarded
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        ids = self.children_of(None)
        wanted = child.identity if isinstance(child, AccessibleItem) else ""
        return ids.index(wanted) if wanted in ids else -1

    @guarded
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        item = self.view.item_at(self.view.mapFromGlobal(QPoint(x, y)))
        return None if item is None else self.node(item.id)

    @guarded
    def focusChild(self) -> QAccessibleInterface | None:  # type: ignore[override]
        spot = self.view.spot
        return self.node(spot.item) if spot and self.view.hasFocus() else None

    @guarded
    def text(self, which: QAccessible.Text) -> str:
        if which == QAccessible.Text.Name:
            return self.view.accessibleName()
        return self.view.accessibleDescription() if which == QAccessible.Text.Description else ""


class AccessibleItem(QAccessibleInterface):
    """One item of the wall's list."""

    def __init__(self, root: AccessibleWall, identity: str) -> None:
        super().__init__()
        self._root = root
        self.identity = identity

    @property
    def item(self) -> Item | None:
        """The item, or None once it is no longer on the wall."""
        return self._root.view.wall.item(self.identity) if self._is_alive else None

    @property
    def _is_alive(self) -> bool:
        return shiboken6.isValid(self._root.view)

    @guarded
    def isValid(self) -> bool:
        return self.item is not None

    @guarded
    def object(self) -> QObject | None:  # type: ignore[override]
        return None

    @guarded
    def window(self) -> QWindow | None:  # type: ignore[override]
        return self._root.view.window().windowHandle() if self._is_alive else None

    @guarded
    def parent(self) -> QAccessibleInterface:
        above = self._root.parent_of(self.item) if self.item else None
        return self._root if above is None else self._root.node(above)

    def _children(self) -> list[str]:
        return self._root.children_of(self.item) if self.item else []

    @guarded
    def childCount(self) -> int:
        return len(self._children())

    @guarded
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        ids = self._children()
        return self._root.node(ids[index]) if 0 <= index < len(ids) else None

    @guarded
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        ids = self._children()
        wanted = child.identity if isinstance(child, AccessibleItem) else ""
        return ids.index(wanted) if wanted in ids else -1

    @guarded
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        return self._root.childAt(x, y)

    @guarded
    def focusChild(self) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @guarded
    def rect(self) -> QRect:
        item = self.item
        if item is None:
            return QRect()
        found = self._root.view.item_rect(item)
        return QRect(self._root.view.mapToGlobal(found.topLeft()), found.size())

    @guarded
    def role(self) -> QAccessible.Role:
        item = self.item
        if item is None or item.role in STOPS or item.role in _GROUPS:
            return QAccessible.Role.TreeItem
        return QAccessible.Role.StaticText

    @guarded
    def state(self) -> QAccessible.State:
        state = QAccessible.State()
        spot = self._root.view.spot if self._is_alive else None
        is_chosen = spot is not None and spot.item == self.identity
        state.focusable = True
        state.selectable = True
        state.selected = is_chosen
        state.focused = is_chosen and self._root.view.hasFocus()
        state.invisible = self.item is None
        return state

    @guarded
    def text(self, which: QAccessible.Text) -> str:
        item = self.item
        if item is None:
            return ""
        if which == QAccessible.Text.Name:
            return item.name
        return item.description if which == QAccessible.Text.Description else ""

    @guarded
    def setText(self, which: QAccessible.Text, text: str) -> None:
        """Take nothing: items are not written from here."""
