"""From the first start to an answer, a change of hours and a saved book, by keys alone."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.settings import Settings, write_settings
from app.window.main import MainWindow
from app.window.startup import build, empty_book, prepare
from scheduler.outcome import Verdict
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key, keys

pytestmark = [pytest.mark.journey, pytest.mark.screen]

WITHIN = 180_000
NOW = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)
FIELDS = ("a garden snail", "2.4 x 1.2 x 1.8", "15 Apr", "England")


@pytest.fixture
def asker() -> HandAsker:
    return HandAsker()


@pytest.fixture
def window(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, asker: HandAsker
) -> Iterator[MainWindow]:
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made = build(data_folder, now=NOW, asker=asker)  # type: ignore[arg-type]
    qtbot.addWidget(made)
    made.desk.take(Document(empty_book(made.words)))
    made.show_work()
    with qtbot.waitExposed(made):
        made.show()
    made.activateWindow()
    yield made
    made._may_close = True
    made.close()


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def is_planned(window: MainWindow) -> bool:
    outcome, document = window.desk.outcome, window.desk.document
    assert document is not None
    return outcome is not None and outcome.revision == document.book.revision


def test_four_fields_answer_and_the_job_is_written_and_saved(
    qtbot: QtBot, window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    start = window.first.start
    assert start is not None
    qtbot.waitUntil(lambda: start.fields["what"].hasFocus(), timeout=WITHIN)
    for text in FIELDS[:-1]:
        keys(at(), text)
        key(at(), Qt.Key.Key_Tab)
    keys(at(), FIELDS[-1])
    key(at(), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
    assert window.desk.outcome is not None
    assert window.desk.outcome.verdict is Verdict.FITS
    assert window.masthead.shown.sentence.startswith("Garden snail fits, with ")

    key(window.wall, "e")
    hours = "hours likely"
    qtbot.waitUntil(lambda: hours in window.sheet.making.blanks, timeout=WITHIN)
    window.sheet.strip.setFocus()
    key(window.sheet.strip, "9")
    qtbot.waitUntil(lambda: window.sheet.blank(hours).hasFocus(), timeout=WITHIN)
    keys(at(), "9")
    key(at(), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.sheet.blank(hours).is_italic, timeout=WITHIN)
    qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
    key(window.sheet, Qt.Key.Key_Escape)
    assert window.wall.isVisible()

    asker.path = tmp_path / "snail"
    window.filing.save()
    kept = read_book(load(tmp_path / "snail.countback")).book
    assert window.desk.document is not None
    assert kept == window.desk.document.book
    assert window.ground.settings.recent == (str(tmp_path / "snail.countback"),)
