"""No journey may leave a window open; what is started is closed."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.journeys.whole import Started
from tests.qt_leaks import check_no_windows_left

_no_windows_left = pytest.fixture(autouse=True)(check_no_windows_left)

Start = Callable[..., Started]


@pytest.fixture
def start(qtbot: QtBot, qapp: QApplication, data_folder: Path) -> Iterator[Start]:
    """Starts the window on a book, or on an empty wall."""
    made: list[Started] = []

    def started(path: Path | None = None, now: datetime | None = None) -> Started:
        made.append(Started(qtbot, qapp, data_folder, path, now))
        return made[-1]

    yield started
    for each in made:
        each.close()
