"""A client's window moves: tried with its calls and dates, taken, saved; and in the editor."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.window.countback.view import CountbackView
from app.window.main import MainWindow
from scheduler.outcome import Verdict
from shared.book import Window
from shared.files.write import write_book
from tests.app.cli.test_move import a_moving_book
from tests.journeys.whole import Started, at, book, key, keys, on_disk, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
MET = {Verdict.FITS, Verdict.TIGHT}
NOW = datetime(2026, 2, 21, 10, tzinfo=UTC)
"""The day after the crane was free to change."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "heron.countback"
    found.write_bytes(write_book(replace(a_moving_book(), as_of=NOW)))
    return found


def held(window: MainWindow) -> Window:
    found = book(window).jobs[0].held_window
    assert found is not None
    return found


def fill(text: str) -> None:
    key(at(), Key.Key_A, CTRL)
    keys(at(), text)
    key(at(), Key.Key_Return)
    settle()


def test_another_date_is_tried_with_its_calls_taken_and_saved(
    start: Callable[..., Started], path: Path
) -> None:
    started = start(path).planned()
    window = started.window
    before = held(window)
    key(at(), "t")
    settle()
    view = window.shelf.view
    assert isinstance(view, CountbackView)
    fill("Mon 23 Mar 08:00")
    started.wait(lambda: window.desk.trial is not None)
    assert held(window) == before, "nothing is moved while it is tried"
    calls = view.calls.lines
    assert view.calls.isVisible()
    assert any("Lifters, 01 234." in line and "It costs 350" in line for line in calls)
    assert any(line.startswith("Give anew: ") for line in calls)
    assert any("gate two" in line for line in calls)
    assert any(", now " in line and "leaving" in line for line in calls), "the dates are told too"

    for is_there in (False, True):
        window.desk.hide_money()
        settle()
        assert any("EUR" in line for line in view.calls.lines) is is_there

    key(at(), Key.Key_Return)
    settle()
    started.planned()
    assert held(window).start == datetime(2026, 3, 23, 8, tzinfo=UTC)
    assert view.calls.isVisible(), "what is to be done stays in sight"
    assert view.calls.lines == calls
    assert started.job().verdict in MET
    given = [notice.done for notice in book(window).jobs[0].notices]
    assert given == [None], "what was given for the old date counts as not given"
    key(at(), Key.Key_S, CTRL)
    settle()
    assert on_disk(path) == book(window)
    key(at(), Key.Key_Escape)
    key(at(), Key.Key_Z, CTRL)
    settle()
    assert held(window) == before
    assert view.calls.isHidden()


def test_a_window_moved_in_the_editor_is_planned_anew(
    start: Callable[..., Started], path: Path
) -> None:
    started = start(path).planned()
    window = started.window
    key(at(), Key.Key_E)
    settle()
    started.wait(lambda: "window start" in window.sheet.writing.blanks)
    blank = window.sheet.blank("window start")
    blank.setFocus()
    fill("Mon 23 Mar 08:00")
    started.planned()
    assert held(window).start == datetime(2026, 3, 23, 8, tzinfo=UTC)
    key(at(), Key.Key_Escape)
    settle()
    assert started.job().verdict in MET
    assert started.sentence.startswith("Heron fits")
