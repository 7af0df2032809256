"""A program that breaks off: what was not saved is offered at the next start, and nothing is lost.

The window that breaks off is a real start in a process of its own (tests/journeys/driven.py).
"""

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.crash import REPORT, WHOLE
from app.paths import rescue_folder
from app.recovery import ENDING
from app.settings import Settings, write_settings
from shared.book import Book, Job
from shared.files.lock import Held, look
from shared.files.write import write_book
from tests.books.samples import small
from tests.house.tree import ROOT
from tests.journeys.driven import NAME
from tests.journeys.whole import Started, at, book, is_planned, key, on_disk, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
Start = Callable[..., Started]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "small.countback"
    found.write_bytes(write_book(small()))
    return found


@pytest.fixture
def broken_off(qtbot: QtBot, path: Path, data_folder: Path) -> Callable[[str], None]:
    """Starts the window on the book, changes something, and kills it once that is copied."""
    write_settings(data_folder, Settings(solve_seconds=2))

    def go(how: str) -> None:
        asked = [sys.executable, "-m", "tests.journeys.driven", how, str(path), str(data_folder)]
        environment = {**os.environ, "PYTHONPATH": str(ROOT)}
        with subprocess.Popen(asked, cwd=ROOT, env=environment, stderr=subprocess.DEVNULL) as child:
            try:
                qtbot.waitUntil(lambda: len(copies(data_folder)) == 1, timeout=60_000)
                if how == "fault":
                    report = data_folder / REPORT
                    qtbot.waitUntil(lambda: report.exists() and report.stat().st_size > 0)
                assert child.poll() is None
                assert isinstance(look(path), Held)
            finally:
                child.kill()

    return go


def private_words(of: Book) -> set[str]:
    """All that a book calls people, clients, jobs, pieces, places and steps, and its prices."""
    people = {person.name for person in of.people} | {place.name for place in of.places}
    jobs = {word for job in of.jobs for word in (job.name, job.client.name, *pieces(job))}
    money = {str(window.price) for job in of.jobs for window in job.windows if window.price}
    return {word for word in people | jobs | money | names(of) | {NAME} if len(word) > 3}


def pieces(job: Job) -> list[str]:
    return [segment.name for segment in job.segments]


def names(of: object) -> set[str]:
    jobs = of.jobs  # type: ignore[attr-defined]
    return {step.name for job in jobs for step in job.steps}


def copies(folder: Path) -> list[Path]:
    return sorted(rescue_folder(folder).glob(f"*{ENDING}"))


def test_killed_with_something_unsaved_it_is_offered_taken_and_saved(
    start: Start, path: Path, data_folder: Path, broken_off: Callable[[str], None]
) -> None:
    before = path.read_bytes()
    broken_off("edit")
    assert path.read_bytes() == before
    kept = copies(data_folder)
    assert len(kept) == 1

    started = start()
    window = started.window
    assert started.is_offered
    assert started.sentence.startswith("Countback stopped before “")
    assert path.read_bytes() == before
    key(at(), Key.Key_Escape)
    settle()
    assert started.sentence.startswith("Nothing on the wall yet.")
    assert copies(data_folder) == kept, "left, it is asked again"
    started.close()

    started = start(path)
    window = started.window
    assert [choice.key for choice in window.page.content.choices] == ["1", "2", "Esc"]
    key(at(), "1")
    started.planned()
    assert NAME in names(book(window))
    assert window.wall.isVisible()
    assert path.read_bytes() == before, "nothing is written before somebody saves"
    key(at(), Key.Key_Z, CTRL)
    settle()
    assert NAME not in names(book(window))
    key(at(), Key.Key_Y, CTRL)
    key(at(), Key.Key_S, CTRL)
    settle()
    assert path.read_bytes() == before, "the lock that was left is taken only on a word"
    assert started.sentence.endswith("and that program is gone.")
    key(at(), "1")
    settle()
    key(at(), Key.Key_S, CTRL)
    settle()
    assert NAME in names(on_disk(path))
    assert copies(data_folder) == []
    started.close()
    assert not start(path).is_offered


def test_a_fault_inside_leaves_a_report_and_what_was_not_saved(
    start: Start, path: Path, data_folder: Path, broken_off: Callable[[str], None]
) -> None:
    broken_off("fault")
    report = (data_folder / REPORT).read_text(encoding="utf-8")
    assert "builtins.LookupError" in report
    assert "the glue pot" in (data_folder / WHOLE).read_text(encoding="utf-8")
    assert not [word for word in private_words(small()) if word in report]
    assert str(path) not in report
    assert path.parent.name not in report

    path.write_bytes(write_book(replace(small(), name="Written by somebody else")))
    foreign = path.read_bytes()
    started = start(path)
    assert started.is_offered
    told = " ".join(text for text, _ in started.window.masthead.shown.next)
    assert "The file of the book was written by somebody else since." in told
    key(at(), "2")
    settle()
    assert copies(data_folder) == []
    assert book(started.window).name == "Written by somebody else"
    key(at(), Key.Key_C, CTRL | Qt.KeyboardModifier.ShiftModifier)
    settle()
    assert QApplication.clipboard().text() == report
    assert started.window.desk.note.startswith("The report is copied; nothing of the book")
    assert path.read_bytes() == foreign
    started.wait(lambda: is_planned(started.window))
    assert not start(path).is_offered
