"""A start of the window in a process of its own, driven by keys from inside; then it breaks off.

python -m tests.journeys.driven HOW BOOK DATA_FOLDER

HOW: "edit" writes another name for a step and goes on running until it is killed; "fault" does
the same, then an override of Qt's functions fails.
"""

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.startup import run
from tests.app.window.hands import key, keys

NAME = "rough out by hand"


def window() -> MainWindow | None:
    found = [each for each in QApplication.topLevelWidgets() if isinstance(each, MainWindow)]
    return found[0] if found else None


def when(is_so: Callable[[], bool], do: Callable[[], object]) -> None:
    def look() -> None:
        if is_so():
            do()
        else:
            QTimer.singleShot(20, look)

    QTimer.singleShot(20, look)


def is_ready() -> bool:
    made = window()
    return made is not None and made.isVisible() and bool(made.wall.wall.items)


def begin() -> None:
    made = window()
    assert made is not None
    key(made.wall, Qt.Key.Key_E)
    when(lambda: "step name" in made.sheet.making.blanks, write)


def write() -> None:
    made = window()
    assert made is not None
    blank = made.sheet.blank("step name")
    blank.setFocus()
    blank.selectAll()
    keys(blank, NAME)
    key(blank, Qt.Key.Key_Return)
    if sys.argv[1] == "fault":
        MainWindow.keyPressEvent.__wrapped__.__code__ = fail.__code__  # type: ignore[attr-defined]
        key(made, "?")


def fail(self: MainWindow, event: QKeyEvent) -> None:
    book, path = self.desk.document.book, self.desk.document.path  # type: ignore[union-attr]
    raise LookupError(f"the glue pot of {book!r} in {path}")


if __name__ == "__main__":
    app = QApplication(sys.argv[:1])
    when(is_ready, begin)
    sys.exit(run(Path(sys.argv[2]), None, Path(sys.argv[3])))
