"""A book that somebody else writes: noticed, compared, taken in one step, never lost."""

import json
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.window.main import MainWindow
from shared.book import Book
from shared.edits import Changed, Edited, Label
from shared.files.disk import before, load
from shared.files.known import file_digest
from shared.files.lock import Held, Lock, lock_path, look, take
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.window.conftest import CLOCK, HandAsker
from tests.app.window.hands import key
from tests.app.window.scenes import planted

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "hall.countback"
    found.write_bytes(write_book(planted().book))
    return found


@pytest.fixture
def opened(bare_window: MainWindow, path: Path) -> Iterator[MainWindow]:
    bare_window.leaving.open_book(path)
    yield bare_window
    bare_window.desk.release()


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def on_disk(path: Path) -> Book:
    found = read_book(load(path)).book
    assert found is not None
    return found


def is_outside(window: MainWindow) -> bool:
    return window.desk.is_outside


def is_saved(window: MainWindow) -> bool:
    document = window.desk.document
    return document is not None and document.is_saved


def is_read_only(window: MainWindow) -> bool:
    document = window.desk.document
    return document is not None and document.read_only


def rename(window: MainWindow, name: str) -> None:
    """Change something of the first job here."""
    old = book(window)
    job = replace(old.jobs[0], name=name)
    new = replace(old, jobs=(job, *old.jobs[1:]), revision=old.revision + 1)
    window.desk.edit(
        Edited(book=new, changed=Changed(), label=Label(code="change_job", facts=(("name", name),)))
    )


def somebody_else(path: Path, *, gone: int = -1, name: str = "") -> Book:
    """Write the book as a program that knows no lock: a job less, or the first renamed."""
    old = on_disk(path)
    jobs = old.jobs[:gone] if not name else (replace(old.jobs[0], name=name), *old.jobs[1:])
    new = replace(old, jobs=jobs, revision=old.revision + 8)
    path.write_bytes(write_book(new))
    return new


def foot(window: MainWindow) -> str:
    return " ".join(text for text, _ in window.foot.parts)


def rows(window: MainWindow) -> list[str]:
    return [text.removeprefix("–  ") for _, text in window.page.content.rows if text]


def choices(window: MainWindow) -> list[str]:
    return [each.key for each in window.page.content.choices]


def beside(path: Path) -> list[Path]:
    return sorted(path.parent.glob("hall.found-*.countback"))


def test_a_sign_of_the_disk_is_told_in_the_foot_with_its_key_and_nothing_pops_up(
    opened: MainWindow, path: Path, qtbot: QtBot
) -> None:
    assert not is_outside(opened)
    somebody_else(path)
    with qtbot.waitSignal(opened.others.soon.timeout, timeout=20_000):
        pass
    assert is_outside(opened)
    assert "Changed on the disk by somebody else: F5 compares" in foot(opened)
    assert opened.page.isHidden()


def test_a_file_that_was_replaced_is_watched_on(opened: MainWindow, path: Path) -> None:
    assert opened.others.files.files() == [str(path)]
    new = path.with_name("new")
    new.write_bytes(path.read_bytes())
    new.replace(path)
    opened.others.look()
    assert not is_outside(opened), "the same bytes are no change"
    assert opened.others.files.files() == [str(path)]


def test_ones_own_save_is_no_change_from_outside(opened: MainWindow) -> None:
    rename(opened, "Vixen")
    opened.filing.save()
    assert opened.others.look() is None
    assert "Changed on the disk" not in foot(opened)


def test_what_they_changed_and_what_one_changed_stand_in_words(
    opened: MainWindow, path: Path
) -> None:
    gone = book(opened).jobs[-1].name
    rename(opened, "Vixen")
    somebody_else(path)
    opened.others.ask()
    assert (
        opened.page.content.title
        == f"“{book(opened).name}” was changed on the disk by somebody else."
    )
    assert rows(opened) == [
        "They have changed:",
        f"The job {gone} is gone.",
        "You have changed, and it is not saved:",
        "The job Vixen is changed.",
    ]
    assert choices(opened) == ["1", "2", "3", "Esc"]


def test_what_both_changed_is_named(opened: MainWindow, path: Path) -> None:
    rename(opened, "Vixen")
    somebody_else(path, name="Fox two")
    opened.others.ask()
    assert opened.page.content.next == "You and they have both changed Vixen."


def test_a_save_never_goes_over_what_somebody_else_wrote_and_asks(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    somebody_else(path)
    theirs = path.read_bytes()
    opened.filing.save()
    assert path.read_bytes() == theirs
    assert opened.desk.trouble.startswith("Not saved. ")
    assert not opened.page.isHidden()
    assert choices(opened) == ["1", "2", "3", "Esc"]
    key(opened.page, Key.Key_Escape)
    opened.filing.save()
    assert path.read_bytes() == theirs


def test_theirs_is_taken_in_one_step_that_undo_takes_back_and_then_it_is_asked_again(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    mine = book(opened)
    theirs = somebody_else(path)
    opened.others.ask()
    key(opened.page, "1")
    assert book(opened).jobs == theirs.jobs
    assert book(opened).revision > max(mine.revision, theirs.revision)
    assert is_saved(opened)
    assert not is_outside(opened)
    assert opened.page.isHidden()

    opened.desk.undo()
    assert book(opened).jobs == mine.jobs
    assert not is_saved(opened)
    opened.filing.save()
    assert on_disk(path) == theirs, "what was undone is not lost by a save"
    assert not opened.page.isHidden()
    key(opened.page, Key.Key_Escape)
    opened.desk.redo()
    assert is_saved(opened)
    assert opened.others.look() is None


def test_ones_own_is_kept_on_a_word_and_theirs_is_put_beside_it_first(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    somebody_else(path)
    theirs = path.read_bytes()
    opened.filing.save()
    key(opened.page, "2")
    assert on_disk(path).jobs == book(opened).jobs
    (kept,) = beside(path)
    assert kept.read_bytes() == theirs == before(path).read_bytes()
    assert opened.desk.note == f"Saved. What they had written lies beside it: {kept.name}"
    assert opened.desk.trouble == ""
    assert opened.others.look() is None


def test_what_was_written_over_once_more_is_asked_about_again(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    somebody_else(path)
    opened.others.ask()
    latest = somebody_else(path)
    key(opened.page, "2")
    assert on_disk(path) == latest
    assert not opened.page.isHidden()


def test_theirs_is_looked_at_on_the_wall_and_taken_by_enter_or_left(
    opened: MainWindow, path: Path
) -> None:
    mine, theirs = book(opened), somebody_else(path)
    opened.others.ask()
    key(opened.page, "3")
    assert opened.desk.shown.book.jobs == theirs.jobs
    assert opened.desk.shown.before == mine
    opened.desk.leave_trial()
    assert book(opened) == mine
    opened.others.ask()
    key(opened.page, "3")
    assert opened.desk.take_trial()
    assert book(opened).jobs == theirs.jobs
    assert is_saved(opened)
    assert opened.others.look() is None
    opened.desk.undo()
    assert book(opened).jobs == mine.jobs
    assert opened.others.look() is not None


def test_what_can_t_be_taken_as_a_book_is_never_taken_and_never_lost(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    path.write_bytes(b"{ half")
    opened.filing.save()
    assert opened.page.content.next == "What lies there now can’t be taken as a book."
    assert choices(opened) == ["2", "Esc"]
    key(opened.page, "2")
    assert [each.read_bytes() for each in beside(path)] == [b"{ half"]
    assert on_disk(path).jobs[0].name == "Vixen"


def test_a_file_that_is_gone_is_written_anew(opened: MainWindow, path: Path) -> None:
    rename(opened, "Vixen")
    path.unlink()
    assert opened.others.look() is None
    opened.filing.save()
    assert on_disk(path).jobs[0].name == "Vixen"


def test_coming_back_to_the_window_asks_once_for_each_thing_found(
    opened: MainWindow, path: Path
) -> None:
    opened.show()
    handle = opened.windowHandle()
    opened.others._on_focus(handle)
    assert opened.page.isHidden()
    somebody_else(path)
    opened.others._on_focus(None)
    assert opened.page.isHidden()
    opened.others._on_focus(handle)
    assert choices(opened) == ["1", "2", "3", "Esc"]
    key(opened.page, Key.Key_Escape)
    opened.others._on_focus(handle)
    assert opened.page.isHidden()


def test_a_key_compares_whenever_it_is_wanted(opened: MainWindow, path: Path, qtbot: QtBot) -> None:
    with qtbot.waitExposed(opened):
        opened.show()
    key(opened, Key.Key_F5)
    assert opened.page.isHidden()
    somebody_else(path)
    key(opened, Key.Key_F5)
    assert choices(opened) == ["1", "2", "3", "Esc"]


# The lock.


def left_by(path: Path, **fields: object) -> None:
    told = {"host": os.uname().nodename, "pid": 1, "who": "Cy", "since": "2027-01-05T08:00:00Z"}
    lock_path(path).write_text(json.dumps({**told, "token": "theirs", "started": "1", **fields}))


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        (
            {},
            f"Cy on {os.uname().nodename} took this book Tue 5 Jan 2027 08:00, and that program is "
            "gone.",
        ),
        (
            {"host": "hall-two"},
            "Cy on hall-two has had this book since Tue 5 Jan 2027 08:00. Whether that program "
            "still runs can’t be known from here.",
        ),
        (
            {"pid": "x"},
            "A file beside this book says that somebody has it, and can’t be read.",
        ),
    ],
)
def test_a_lock_that_was_left_is_told_and_taken_only_on_a_persons_word(
    bare_window: MainWindow, path: Path, fields: dict[str, object], told: str
) -> None:
    left_by(path, **fields)
    bare_window.leaving.open_book(path)
    assert is_read_only(bare_window)
    assert bare_window.page.content.title == told
    assert "Looking only" in foot(bare_window)
    assert json.loads(lock_path(path).read_text())["token"] == "theirs"
    key(bare_window.page, Key.Key_Escape)

    rename(bare_window, "Vixen")
    bare_window.filing.save()
    assert on_disk(path).jobs[0].name != "Vixen"
    assert choices(bare_window) == ["1", "Esc"], "saving asks for the word instead of a file"
    key(bare_window.page, "1")
    assert not is_read_only(bare_window)
    assert bare_window.desk.note == "The book is yours to write."
    bare_window.filing.save()
    assert on_disk(path).jobs[0].name == "Vixen"
    bare_window.desk.release()
    assert look(path) is None


def test_what_was_written_before_the_lock_was_taken_is_compared_at_once(
    bare_window: MainWindow, path: Path
) -> None:
    left_by(path, host="hall-two")
    bare_window.leaving.open_book(path)
    somebody_else(path)
    key(bare_window.page, "1")
    assert choices(bare_window) == ["1", "2", "3", "Esc"]
    bare_window.desk.release()


def test_a_lock_that_was_taken_away_leaves_the_book_to_look_at(
    opened: MainWindow, path: Path
) -> None:
    rename(opened, "Vixen")
    left_by(path, host="hall-two")
    digest = file_digest(path)
    opened.filing.save()
    assert file_digest(path) == digest
    assert opened.desk.document is not None
    assert opened.desk.document.read_only
    assert choices(opened) == ["1", "Esc"]
    opened.desk.release()
    assert lock_path(path).exists(), "the lock of another is not given back"


def test_who_has_the_book_is_named_with_since_when(bare_window: MainWindow, path: Path) -> None:
    got = take(path, "Hilde", CLOCK)
    assert isinstance(got, Lock)
    with got:
        bare_window.leaving.open_book(path)
        assert bare_window.desk.state.looking_only == (
            "Hilde has had this book open since Mon 18 Jan 2027 07:41. "
            "You can look and try, not save."
        )
        assert bare_window.page.isHidden()
        bare_window.others.ask()
        assert bare_window.page.isHidden(), "nobody's word takes the lock of a living program"
        left_by(path)
        bare_window.others.ask()
        assert choices(bare_window) == ["1", "Esc"], "whoever had it is gone meanwhile"
        key(bare_window.page, Key.Key_Escape)
        assert is_read_only(bare_window)
        lock_path(path).unlink()
        bare_window.others.ask()
        assert not is_read_only(bare_window), "it has come free"
        bare_window.desk.release()


def test_the_open_book_opened_once_more_keeps_its_lock(
    opened: MainWindow, path: Path, asker: HandAsker
) -> None:
    opened.leaving.open_book(path)
    assert opened.desk.document is not None
    assert not opened.desk.document.read_only
    assert isinstance(look(path), Held)
    good = path.read_bytes()
    path.write_bytes(b"{")
    opened.leaving.open_book(path)
    assert isinstance(look(path), Held), "the book on the wall stays ours"
    path.write_bytes(good)
    rename(opened, "Vixen")
    opened.filing.save()
    assert on_disk(path).jobs[0].name == "Vixen"
