"""Finds windows that a test leaves on the screen, without importing Qt for tests that don't."""

import gc
import sys
from collections.abc import Iterator


def visible_windows() -> list[str]:
    """Close every visible top-level widget; their class names and titles."""
    if "PySide6.QtWidgets" not in sys.modules:
        return []
    from PySide6.QtCore import QEvent
    from PySide6.QtWidgets import QApplication

    if QApplication.instance() is None:
        return []
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    left = [widget for widget in QApplication.topLevelWidgets() if widget.isVisible()]
    for widget in left:
        widget.close()
    return [f"{type(widget).__name__} {widget.windowTitle()!r}" for widget in left]


def check_no_windows_left() -> Iterator[None]:
    """Body of an autouse fixture: fails the test that leaves a window open."""
    yield
    left = visible_windows()
    assert not left, f"windows left open: {left}; give them to qtbot.addWidget or close them"
