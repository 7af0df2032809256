"""Guards the pin of PySide6: 6.12.0 loses a reference to None with every plain call."""

import sys

from PySide6.QtCore import QObject, Signal
from pytestqt.qtbot import QtBot

from tests.qt_leaks import visible_windows


class _Source(QObject):
    moved = Signal(int)


def test_calls_and_signals_lose_no_reference_to_none(qtbot: QtBot) -> None:
    source = _Source()
    seen: list[int] = []
    source.moved.connect(seen.append)
    before = sys.getrefcount(None)

    for number in range(2_000):
        source.moved.emit(number)
        source.setObjectName("wall")

    assert len(seen) == 2_000
    assert sys.getrefcount(None) - before > -200


def test_a_window_left_open_is_found_and_closed(qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QLabel

    label = QLabel("left open")
    label.setWindowTitle("left open")
    label.show()

    assert visible_windows() == ["QLabel 'left open'"]
    assert visible_windows() == []
