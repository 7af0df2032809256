"""Hands on the keyboard and the pointer (pytest-qt's own have no types)."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

_NONE = Qt.KeyboardModifier.NoModifier


def key(widget: QWidget, which: Qt.Key | str, held: Qt.KeyboardModifier = _NONE) -> None:
    """Press and let go of one key, or of that with a letter on it."""
    if isinstance(which, str):
        QTest.keyClicks(widget, which)
    else:
        QTest.keyClick(widget, which, held)


def keys(widget: QWidget, text: str) -> None:
    """Type a text."""
    QTest.keyClicks(widget, text)


def click(widget: QWidget, at: QPoint) -> None:
    """Click with the left button."""
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, _NONE, at)


def drag(widget: QWidget, start: QPoint, end: QPoint) -> None:
    """Press at one point, move to another, let go."""
    left = Qt.MouseButton.LeftButton
    QTest.mousePress(widget, left, _NONE, start)
    QTest.mouseMove(widget, end)
    QTest.mouseRelease(widget, left, _NONE, end)
