"""From an enquiry to a booked job in the whole window, with the real engine and by keys alone."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.settings import Settings, write_settings
from app.window.enquiry.view import EnquiryView
from app.window.main import MainWindow
from app.window.startup import build, prepare
from scheduler.outcome import Verdict
from shared.book import Job, Standing
from shared.files.write import write_book
from tests.app.window.hands import key, keys
from tests.books.samples import small

pytestmark = [pytest.mark.journey, pytest.mark.screen]

WITHIN = 180_000
ASKED = (
    ("what", "a market pear"),
    ("past", "Reading owl"),
    ("times", "1.5"),
    ("site", "Market hall, Norway"),
    ("day", "2027-10-12"),
)


@pytest.fixture
def window(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, tmp_path: Path
) -> Iterator[MainWindow]:
    path = tmp_path / "small.countback"
    path.write_bytes(write_book(small()))
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made = build(data_folder)
    qtbot.addWidget(made)
    made.show_book(made.desk.open(path))
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: made.desk.outcome is not None, timeout=WITHIN)
    yield made
    made._may_close = True
    made.close()


def pear(window: MainWindow) -> Job | None:
    assert window.desk.document is not None
    jobs = window.desk.document.book.jobs
    return next((job for job in jobs if job.name == "Market pear"), None)


def test_an_enquiry_is_written_answered_said_and_booked_and_taken_back(
    qtbot: QtBot, window: MainWindow
) -> None:
    key(window.wall, "q")
    view = window.shelf.view
    assert isinstance(view, EnquiryView)
    for name, text in ASKED:
        keys(view.form.blanks[name], text)
        key(view.form.blanks[name], Qt.Key.Key_Return)
    made = pear(window)
    assert made is not None
    assert made.standing is Standing.ENQUIRY

    qtbot.waitUntil(lambda: view.laid.found is not None, timeout=WITHIN)
    assert len(view.dots.rows) == 2
    qtbot.waitUntil(lambda: view.laid.rush is not None, timeout=WITHIN)
    rush, promise = view.laid.rush, view.laid.promise
    assert rush is not None
    assert promise is not None
    assert rush.without.outcome.check.sound
    assert rush.with_.outcome.check.sound
    assert promise.is_honest, "a pear for the autumn can be promised beside one owl"

    key(view.dates, "y")
    assert "Market pear" in QGuiApplication.clipboard().text()
    key(view.dates, "b")
    made = pear(window)
    assert made is not None
    assert made.standing is Standing.FIRM
    assert made.held_window is not None
    assert made.held_window.start == promise.window.start

    qtbot.waitUntil(lambda: _is_planned(window), timeout=WITHIN)
    assert window.desk.outcome is not None
    told = {job.name: job.verdict for job in window.desk.outcome.jobs}
    assert told["Market pear"] in {Verdict.FITS, Verdict.TIGHT}

    window.desk.undo()
    made = pear(window)
    assert made is not None
    assert made.standing is Standing.ENQUIRY
    window.desk.undo()
    assert pear(window) is None


def _is_planned(window: MainWindow) -> bool:
    desk = window.desk
    assert desk.document is not None
    outcome = desk.outcome
    return outcome is not None and outcome.revision == desk.document.book.revision
