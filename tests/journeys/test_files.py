"""Files that are not as they should be, in the whole window by keys: damaged, held, too new."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from shared.files.lock import Held, Lock, look, take
from shared.files.write import write_book
from tests.books.samples import small
from tests.journeys.whole import Started, at, book, key, keys, on_disk, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
Start = Callable[..., Started]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "small.countback"
    found.write_bytes(write_book(small()))
    return found


def tampered(path: Path, **changes: object) -> bytes:
    tree = json.loads(path.read_bytes())
    tree.update(changes)
    path.write_text(json.dumps(tree), encoding="utf-8")
    return path.read_bytes()


@contextmanager
def held(path: Path) -> Iterator[None]:
    got = take(path, "Hilde", datetime(2027, 1, 18, 7, tzinfo=UTC))
    assert isinstance(got, Lock)
    with got:
        yield


def rename_a_stage(started: Started, name: str) -> None:
    """Write another name for the first stage of the first row, from the wall."""
    window = started.window
    key(at(), Key.Key_E)
    started.wait(lambda: "step name" in window.sheet.making.blanks)
    blank = window.sheet.blank("step name")
    blank.setFocus()
    key(blank, Key.Key_A, CTRL)
    keys(blank, name)
    key(blank, Key.Key_Return)
    settle()
    key(at(), Key.Key_Escape)
    settle()


def step_names(started: Started) -> set[str]:
    return {step.name for job in book(started.window).jobs for step in job.steps}


def test_a_damaged_book_is_told_of_and_only_opened_in_part_when_asked(
    start: Start, path: Path, tmp_path: Path
) -> None:
    jobs = json.loads(path.read_bytes())["jobs"]
    broken = tampered(path, jobs=[*jobs, {"id": 7, "name": ["not", "a", "name"]}])
    started = start(path)
    window = started.window
    assert started.sentence == "This book is damaged. 1 of 2 jobs is whole."
    assert any("jobs" in text for _, text in window.page.content.rows), "it says where"
    key(at(), "1")
    settle()
    started.planned()
    assert started.sentence.startswith("Reading owl fits")
    key(at(), Key.Key_S, CTRL)
    assert path.read_bytes() == broken, "without a word of where, nothing is written"
    started.asker.path = tmp_path / "whole"
    key(at(), Key.Key_S, CTRL)
    settle()
    assert [job.name for job in on_disk(tmp_path / "whole.countback").jobs] == ["Reading owl"]
    assert path.read_bytes() == broken


def test_a_file_that_is_no_book_is_told_of_and_esc_leads_on(start: Start, path: Path) -> None:
    path.write_bytes(b"\x00\x01 not a book")
    started = start(path)
    assert started.sentence == "This book can’t be read as it stands. Nothing was changed."
    key(at(), Key.Key_Escape)
    settle()
    assert started.sentence.startswith("Nothing on the wall yet.")
    assert path.read_bytes() == b"\x00\x01 not a book"


def test_a_book_of_a_later_countback_is_left_alone(start: Start, path: Path) -> None:
    newer = tampered(path, countback={"kind": "book", "format": 99})
    started = start(path)
    assert started.sentence == ("This book was written by a later Countback. Nothing was changed.")
    assert [choice.key for choice in started.window.page.content.choices] == ["Esc"]
    key(at(), Key.Key_Escape)
    settle()
    assert started.sentence.startswith("Nothing on the wall yet.")
    assert path.read_bytes() == newer


def test_a_book_that_somebody_has_is_tried_on_and_not_saved(
    start: Start, path: Path, tmp_path: Path
) -> None:
    before = path.read_bytes()
    with held(path):
        started = start(path).planned()
        window = started.window
        foot = " ".join(text for text, _ in window.foot.parts)
        assert "Looking only" in foot
        assert "Hilde has had this book open since " in foot
        assert "You can look and try, not save." in foot
        rename_a_stage(started, "rough out")
        started.planned()
        assert "rough out" in step_names(started)
        key(at(), Key.Key_S, CTRL)
        settle()
        assert path.read_bytes() == before, "Ctrl S asks for another file, and none was named"

        started.asker.path = path
        key(at(), Key.Key_S, CTRL)
        settle()
        assert started.sentence.startswith("Not saved. Hilde on ")
        assert path.read_bytes() == before
        assert isinstance(look(path), Held)

        started.asker.path = tmp_path / "mine"
        key(at(), Key.Key_S, CTRL)
        settle()
        assert on_disk(tmp_path / "mine.countback") == book(window)
        assert path.read_bytes() == before
    assert look(path) is None
    assert look(tmp_path / "mine.countback") is not None, "the lock is that of the new file"
