"""Speaks to screen readers; keeps what was said, since Qt doesn't show it to tests."""

from collections import deque
from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QObject
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAccessibleEvent,
    QAccessibleInterface,
)
from PySide6.QtWidgets import QWidget

MOST_SAID = 1000


class Root(Protocol):
    """The interface of a drawn widget, with one below it for each thing in it."""

    def node(self, identity: str) -> QAccessibleInterface:
        """Return the interface of a thing."""


class Reader:
    """Hands out the interfaces of drawn widgets, and tells what is chosen and what changed."""

    def __init__(self) -> None:
        self.said: deque[str] = deque(maxlen=MOST_SAID)
        self._ways: list[tuple[type[QWidget], Callable[[QWidget], Root]]] = []
        self._roots: dict[int, tuple[QWidget, Root]] = {}

    def install(self, *ways: tuple[type[QWidget], Callable[[QWidget], Root]]) -> None:
        """Let Qt ask here. ways: kinds of widgets, each with what makes its interface."""
        self._ways = list(ways)
        QAccessible.installFactory(self.make)

    def make(self, key: str, thing: QObject | None) -> QAccessibleInterface | None:
        """Return the interface of a drawn widget; None for whatever else."""
        way = next((way for kind, way in self._ways if isinstance(thing, kind)), None)
        if way is None or not isinstance(thing, QWidget):
            return None
        found = self._roots.get(id(thing))
        if found is None or found[0] is not thing:
            found = self._roots[id(thing)] = (thing, way(thing))
        return found[1]  # type: ignore[return-value]

    def chosen(self, widget: QWidget, identity: str, sentence: str) -> None:
        """Tell that another thing in a widget was chosen."""
        self.said.append(sentence)
        found = self._roots.get(id(widget))
        if found is not None and QAccessible.isActive():
            event = QAccessibleEvent(found[1].node(identity), QAccessible.Event.Focus)
            QAccessible.updateAccessibility(event)

    def announce(self, widget: QWidget, sentence: str) -> None:
        """Say a sentence politely, once."""
        if self.said and self.said[-1] == sentence:
            return
        self.said.append(sentence)
        widget.setAccessibleName(sentence)
        event = QAccessibleAnnouncementEvent(widget, sentence)
        event.setPoliteness(QAccessible.AnnouncementPoliteness.Polite)
        QAccessible.updateAccessibility(event)


READER = Reader()
