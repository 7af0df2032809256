"""Countback in German: the command line and every view on a sample say no English word.

At 1366 x 768, the smallest screen it is made for, nothing is cut and no text lies on another.
"""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.settings import Settings, write_settings
from app.window.main import MainWindow
from app.window.startup import build, prepare
from app.window.views.view import Which
from app.words.brought import in_words
from app.words.voice import Voice
from shared.files.write import write_book
from tests.app.cli.shell import countback
from tests.books.samples import SAMPLES
from tests.german.english import english_in
from tests.german.painted import Painted, narrow, told
from tests.pictures.__main__ import planned, views, wait_until

pytestmark = pytest.mark.journey

SMALLEST = (1366, 768)
TYPED = {"carve"}
"""What the pictures have typed to find it."""
SCROLLED = {"weeks", "days"}
"""These show a part of the wall: its dates run out of sight at its ends."""
COMMANDS = (
    ("findings", "{book}"),
    ("plan", "{book}", "--seconds", "1"),
    ("loads", "{book}"),
    ("orders", "{book}", "--seconds", "1"),
    ("through", "{book}"),
    ("deliver", "{book}", "--seconds", "1"),
    ("chance", "{book}", "--seconds", "1"),
    ("morning", "{book}"),
    ("why", "{book}", "snail", "--seconds", "1"),
    ("levers", "{book}", "snail", "--seconds", "2"),
    ("away", "{book}", "edda", "2027-01-20", "2027-01-27", "--seconds", "1"),
    ("legs",),
    ("legs", "{book}", "snail"),
    ("routes",),
    ("estimate", "--size", "2.4x2.1x2.6", "--json"),
    ("ask", "eine Eule", "--size", "2x2x2", "--by", "2027-09-01", "--country", "Norwegen"),
    ("plan", "nichts.countback"),
    ("routes", "--of", "nichts"),
)


@pytest.fixture(autouse=True)
def german(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LANGUAGE", "de")


def test_the_command_line_says_no_english(tmp_path: Path) -> None:
    assert countback("sample", "tight", tmp_path).code == 0
    book, said = tmp_path / "tight.countback", []

    for command in COMMANDS:
        words = [word.format(book=book) for word in command]
        extra = ["--now", "2027-01-18T07:30"] if command[0] == "ask" else []
        answer = countback(*words, *extra)
        lines = (answer.out + answer.err).splitlines()
        said += [(command[0], line) for line in lines if not line.startswith("{")]

    assert len(said) > 200
    assert [line for line in said if english_in(line[1])] == []


@pytest.fixture(params=["tight", "rush", "crossing"])
def window(
    request: pytest.FixtureRequest,
    qtbot: QtBot,
    qapp: QApplication,
    data_folder: Path,
    tmp_path: Path,
) -> Iterator[MainWindow]:
    path = tmp_path / "sample.countback"
    path.write_bytes(write_book(in_words(Voice(), SAMPLES[request.param]())))
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=2))
    made = build(data_folder)
    qtbot.addWidget(made)
    made.resize(*SMALLEST)
    made.show_book(made.desk.open(path))
    with qtbot.waitExposed(made):
        made.show()
    wait_until(lambda: planned(made))
    yield made
    made._may_close = True
    made.close()


def all_views(window: MainWindow) -> dict[str, Callable[[], None]]:
    found = {**views(window), "keys": window.show_keys}
    found["people"] = lambda: window.shelf.show(Which.PEOPLE)
    return found


def test_every_view_speaks_german_and_has_the_room_for_it(
    window: MainWindow, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted, troubles = Painted(monkeypatch), []

    for name, go in all_views(window).items():
        go()
        for _ in range(10):
            qapp.processEvents()
        painted.texts.clear()
        window.grab()
        texts = [each.text for each in painted.texts]
        assert texts, name
        said = {*texts, *told(window)} - TYPED
        english = [text for text in said if english_in(text)]
        cut = [] if name in SCROLLED else painted.cut()
        found = {
            "English": english,
            "cut": cut,
            "over each other": painted.overlapping(),
            "narrow": narrow(window),
        }
        troubles += [(name, what, which) for what, which in found.items() if which]

    assert troubles == []
