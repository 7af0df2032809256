"""Whose lock a file has decides what is written."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.window import session
from app.window.main import MainWindow
from shared.edits import Edited, remove_job
from shared.errors import DiskError
from shared.files.lock import Lock, look, take
from shared.files.write import write_book
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key
from tests.app.window.scenes import planted

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "a book.countback"
    found.write_bytes(write_book(planted().book))
    return found


def test_a_file_that_somebody_has_is_not_written_even_when_it_is_named(
    bare_window: MainWindow, path: Path, asker: HandAsker
) -> None:
    before = path.read_bytes()
    got = take(path, "Hilde", datetime(2027, 1, 18, 7, tzinfo=UTC))
    assert isinstance(got, Lock)
    bare_window.show_book(bare_window.desk.open(path))
    bare_window.desk.edit(an_edit(bare_window))
    asker.path = path
    bare_window.filing.save()
    assert bare_window.desk.trouble.startswith("Not saved. Hilde on ")
    assert path.read_bytes() == before
    got.release()
    bare_window.filing.save()
    assert bare_window.desk.trouble == ""
    assert path.read_bytes() != before
    assert not bare_window.desk.document.read_only  # type: ignore[union-attr]
    bare_window.desk.release()
    assert look(path) is None


def test_another_name_of_the_same_file_keeps_its_lock(
    bare_window: MainWindow, path: Path, asker: HandAsker
) -> None:
    bare_window.show_book(bare_window.desk.open(path))
    asker.path = path.with_name("same.countback")
    asker.path.symlink_to(path)
    bare_window.desk.edit(an_edit(bare_window))
    key(bare_window, Qt.Key.Key_S, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert bare_window.desk.trouble == ""
    assert look(path) is not None
    bare_window.desk.release()
    assert look(path) is None


def test_a_folder_in_which_nothing_can_be_locked_is_named(
    bare_window: MainWindow, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object, **__: object) -> Lock:
        raise DiskError("not_locked", path=str(path), reason="Read-only file system")

    monkeypatch.setattr(session, "take", refused)
    bare_window.show_book(bare_window.desk.open(path))
    assert bare_window.desk.state.looking_only == (
        f"{path} could not be locked against others: Read-only file system."
    )


def an_edit(window: MainWindow) -> Edited:
    assert window.desk.document is not None
    book = window.desk.document.book
    return remove_job(book, book.jobs[0].id)
