"""The whole window with the real engine: open, change, solve, undo, save, reopen."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.settings import Settings, write_settings
from app.window.main import MainWindow
from app.window.startup import build, prepare
from app.window.wall import moves
from scheduler.outcome import JobOutcome, Verdict
from shared.book import Book, Stage
from shared.files.disk import load
from shared.files.lock import Held, look
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.window import hands
from tests.books.samples import small
from tests.house.tree import ROOT

pytestmark = [pytest.mark.journey, pytest.mark.screen]

PLANNED_WITHIN = 60_000


@pytest.fixture
def path(tmp_path: Path) -> Path:
    book = tmp_path / "small.countback"
    book.write_bytes(write_book(small()))
    return book


@pytest.fixture
def open_window(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, path: Path
) -> Iterator[Callable[[], MainWindow]]:
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made: list[MainWindow] = []

    def opened() -> MainWindow:
        window = build(data_folder)
        made.append(window)
        qtbot.addWidget(window)
        window.show_book(window.desk.open(path))
        with qtbot.waitExposed(window):
            window.show()
        wait_for_plan(qtbot, window)
        return window

    yield opened
    for window in made:
        window._may_close = True
        window.close()


def wait_for_plan(qtbot: QtBot, window: MainWindow) -> None:
    def is_planned() -> bool:
        outcome = window.desk.outcome
        return (
            outcome is not None
            and outcome.revision == book(window).revision
            and not window.desk.engine.is_busy
        )

    qtbot.waitUntil(is_planned, timeout=PLANNED_WITHIN)


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def owl(window: MainWindow) -> JobOutcome:
    assert window.desk.outcome is not None
    return window.desk.outcome.jobs[0]


def write(qtbot: QtBot, window: MainWindow, name: str, text: str) -> None:
    blank = window.sheet.blank(name)
    blank.setFocus()
    blank.selectAll()
    hands.keys(blank, text)
    hands.key(blank, Qt.Key.Key_Return)
    QApplication.processEvents()


def choose(window: MainWindow, step: str) -> None:
    item = next(i for i in window.wall.wall.items if i.step == step)
    window.wall.choose(moves.at(window.wall.wall, item.id))
    window._write()
    QApplication.processEvents()
    QApplication.processEvents()


def test_open_edit_undo_save_and_open_again(
    qtbot: QtBot, open_window: Callable[[], MainWindow], path: Path
) -> None:
    window = open_window()
    assert owl(window).verdict in {Verdict.FITS, Verdict.TIGHT}
    assert window.masthead.shown.sentence.startswith("Reading owl fits")
    assert not window.wall.wall.is_bare
    spare = owl(window).slack_minutes
    assert spare is not None

    choose(window, "owl.body.carve")
    write(qtbot, window, "hours likely", "200")
    wait_for_plan(qtbot, window)
    slower = owl(window).slack_minutes
    assert slower is None or slower < spare

    window.desk.undo()
    wait_for_plan(qtbot, window)
    again = owl(window).slack_minutes
    assert again is not None
    assert slower is None or again > slower

    window.desk.redo()
    window.filing.save()
    assert window.desk.document is not None
    assert window.desk.document.is_saved
    kept = read_book(load(path)).book
    assert kept is not None
    carve = next(s for s in kept.jobs[0].steps if s.id == "owl.body.carve")
    assert isinstance(carve, Stage)
    assert carve.ways[0].hours.likely == 200
    window.close()

    reopened = open_window()
    assert book(reopened) == kept
    later = owl(reopened).slack_minutes
    assert later is None or later < again


def test_pinning_everything_to_one_pair_of_hands_changes_the_verdict(
    qtbot: QtBot, open_window: Callable[[], MainWindow]
) -> None:
    window = open_window()
    before = owl(window).slack_minutes
    assert before is not None
    carvers = {p.id for p in book(window).people if any(s.skill == "foam" for s in p.skills)}
    person = next(p for p in book(window).people if p.id in carvers)
    choose(window, "owl.head.carve")
    for name in ("head", "body", "left-wing", "right-wing"):
        choose(window, f"owl.{name}.carve")
        write(qtbot, window, "people", person.name)
        write(qtbot, window, "hours likely", "130")
    wait_for_plan(qtbot, window)

    plan = window.desk.plan
    assert plan is not None
    carved = [p for p in plan.placements if p.step.endswith(".carve")]
    assert len(carved) == 4
    assert all(person.id in p.people for p in carved)
    after = owl(window)
    assert after.slack_minutes is None or after.slack_minutes < before
    assert after.verdict is not Verdict.FITS
    assert window.wall.wall.by_id["owl.head.carve @owl.head"].is_pinned


def test_a_child_killed_from_outside_is_told_of_and_the_next_solve_works(
    qtbot: QtBot, open_window: Callable[[], MainWindow]
) -> None:
    window = open_window()
    plan = window.desk.plan
    window.desk.look_longer()
    os.kill(window.desk.engine.process_id, signal.SIGKILL)
    qtbot.waitUntil(lambda: bool(window.desk.trouble), timeout=10_000)

    assert window.masthead.shown.sentence == (
        "The planner stopped unexpectedly. The last plan stays; another is looked for."
    )
    assert window.desk.plan is plan
    hands.key(window.wall, Qt.Key.Key_Space)
    wait_for_plan(qtbot, window)
    assert window.masthead.shown.sentence.startswith("Reading owl fits")


def test_the_command_opens_the_book_takes_its_lock_and_keeps_its_own_folder(
    qtbot: QtBot, path: Path, tmp_path: Path
) -> None:
    environment = {**os.environ, "XDG_DATA_HOME": str(tmp_path / "own"), "PYTHONPATH": str(ROOT)}
    asked = [sys.executable, "-m", "app", "open", str(path)]
    with subprocess.Popen(asked, cwd=tmp_path, env=environment) as opened:
        try:
            qtbot.waitUntil(lambda: isinstance(look(path), Held), timeout=30_000)
            assert opened.poll() is None
            assert (tmp_path / "own" / "countback" / "crash.log").is_file()
        finally:
            opened.terminate()

    held = look(path)
    assert held is not None
    assert held.stale, "a lock left by a program that is gone is known as such"
