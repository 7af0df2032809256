"""What is not saved is copied, offered after a stop, taken as one edit or let go."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.crash import REPORT, WHOLE
from app.document import Document
from app.paths import rescue_folder
from app.recovery import ABOUT, ENDING, digest_of, write_copy
from app.window.keeper import Keeper
from app.window.main import MainWindow
from app.window.session import look_outside, take_outside
from shared.book import Book
from shared.edits import Changed, Edited, Label
from shared.files.disk import load
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.test_recovery import gone_pid
from tests.app.window.conftest import CLOCK, HandAsker
from tests.app.window.hands import key
from tests.app.window.scenes import planted

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "a book.countback"
    found.write_bytes(write_book(planted().book))
    return found


@pytest.fixture
def keeper(bare_window: MainWindow, data_folder: Path) -> Iterator[Keeper]:
    yield Keeper(bare_window, data_folder)
    bare_window.desk.release()


@pytest.fixture
def opened(bare_window: MainWindow, keeper: Keeper, path: Path) -> MainWindow:
    bare_window.leaving.open_book(path)
    bare_window.show()
    assert not list_of(keeper)
    return bare_window


def test_a_window_that_stays_open_gives_free_memory_back(
    bare_window: MainWindow, data_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[bool] = []
    monkeypatch.setattr(
        "app.window.keeper.give_back", lambda *, of_all_ages: given.append(of_all_ages)
    )
    tidying = Keeper(bare_window, data_folder).tidying
    assert tidying.isActive()
    tidying.timeout.emit()
    assert given == [False]


def list_of(keeper: Keeper) -> list[Path]:
    folder = rescue_folder(keeper.autosave._folder.parent)
    return sorted(folder.glob("*")) if folder.is_dir() else []


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def rename(window: MainWindow, name: str) -> None:
    old = book(window)
    new = replace(old, name=name, revision=old.revision + 1)
    window.desk.edit(Edited(book=new, changed=Changed(), label=Label(code="change_workshop")))


def copied_name(keeper: Keeper) -> str:
    (file,) = [each for each in list_of(keeper) if each.suffix == ENDING]
    found = read_book(load(file)).book
    assert found is not None
    return found.name


def leave_behind(folder: Path, of: Path | None, name: str, *, base: str | None = None) -> Path:
    """Write what a program left that was killed."""
    kept = replace(planted().book, name=name)
    where = rescue_folder(folder)
    write_copy(where, name, kept, of, digest_of(of) if base is None else base)
    about = where / (name + ABOUT)
    told = json.loads(about.read_text(encoding="utf-8")) | {"pid": gone_pid()}
    about.write_text(json.dumps(told), encoding="utf-8")
    return where / (name + ENDING)


# Copying.


def test_some_seconds_after_a_change_it_is_copied_and_the_book_is_not_touched(
    opened: MainWindow, keeper: Keeper, path: Path
) -> None:
    before = path.read_bytes()
    rename(opened, "One")
    assert keeper.autosave.timer.isActive()
    left = keeper.autosave.timer.remainingTime()
    rename(opened, "Two")
    assert keeper.autosave.timer.remainingTime() <= left, "typing on does not put it off"
    keeper.autosave.timer.timeout.emit()

    assert copied_name(keeper) == "Two"
    assert not keeper.autosave.timer.isActive()
    assert path.read_bytes() == before


@pytest.mark.parametrize("how", ["save", "undo", "close"])
def test_a_copy_goes_when_the_file_holds_all_or_the_book_is_closed(
    opened: MainWindow, keeper: Keeper, how: str
) -> None:
    rename(opened, "One")
    keeper.autosave.keep()
    assert list_of(keeper)
    if how == "save":
        opened.filing.save()
    elif how == "undo":
        opened.desk.undo()
    else:
        opened.close()
        key(opened.page, "2")
    assert not list_of(keeper)


def test_undo_past_what_was_saved_is_copied_too(opened: MainWindow, keeper: Keeper) -> None:
    first = book(opened).name
    rename(opened, "One")
    opened.filing.save()
    opened.desk.undo()
    assert keeper.autosave.timer.isActive()
    keeper.autosave.keep()
    assert copied_name(keeper) == first


def test_a_disk_that_refuses_is_told_of_once_and_nothing_else_happens(
    opened: MainWindow, keeper: Keeper
) -> None:
    blocked = rescue_folder(keeper.autosave._folder.parent)
    blocked.write_text("a file where the folder should be", encoding="utf-8")
    rename(opened, "One")
    assert keeper.autosave.keep() is False
    assert opened.masthead.shown.sentence.startswith("What is not saved can’t be copied")
    assert str(blocked) in opened.masthead.shown.sentence

    rename(opened, "Two")
    assert opened.desk.trouble == ""
    assert keeper.autosave.keep() is False
    assert opened.desk.trouble == "", "it is said once"
    blocked.unlink()
    rename(opened, "Three")
    assert keeper.autosave.keep() is True
    assert copied_name(keeper) == "Three"


# Another book in the place of one that is not saved.


def test_opening_another_book_asks_first(
    opened: MainWindow, keeper: Keeper, asker: HandAsker, tmp_path: Path, path: Path
) -> None:
    other = tmp_path / "other.countback"
    other.write_bytes(write_book(replace(planted().book, name="Other")))
    asker.path = other
    rename(opened, "One")
    keeper.autosave.keep()
    opened.ask_and_open()
    assert opened.masthead.shown.sentence.startswith("Not saved yet; the last change: ")
    key(opened.page, Key.Key_Escape)
    assert book(opened).name == "One"
    assert list_of(keeper)

    opened.ask_and_open()
    key(opened.page, "1")
    assert book(opened).name == "Other"
    assert read_book(load(path)).book is not None
    assert read_book(load(path)).book.name == "One"  # type: ignore[union-attr]
    assert not list_of(keeper)

    rename(opened, "Two")
    keeper.autosave.keep()
    asker.path = path
    opened.ask_and_open()
    key(opened.page, "2")
    assert book(opened).name == "One"
    assert not list_of(keeper)


# The offer.


def test_a_start_without_copies_offers_nothing(opened: MainWindow, keeper: Keeper) -> None:
    assert keeper.offer.at_start() is False
    assert opened.page.isHidden()


def test_what_was_left_of_a_book_is_offered_when_it_is_opened_and_taken_as_one_edit(
    bare_window: MainWindow, keeper: Keeper, path: Path, data_folder: Path
) -> None:
    file = leave_behind(data_folder, path, "Kept")
    before = path.read_bytes()
    first = planted().book.name
    bare_window.leaving.open_book(path)
    shown = bare_window.masthead.shown
    assert shown.sentence.startswith("Countback stopped before “Kept” was saved. What was written ")
    assert shown.next[0][0] == "Taking it changes nothing on the disk before you save."
    assert path.read_bytes() == before
    assert book(bare_window).name == first

    key(bare_window.page, "1")
    assert book(bare_window).name == "Kept"
    assert bare_window.page.isHidden()
    assert path.read_bytes() == before, "taking it writes nothing"
    assert bare_window.windowTitle().startswith("Kept •")
    assert file.is_file(), "until it is saved the copy stays"

    bare_window.desk.undo()
    assert book(bare_window).name == first
    assert not file.exists()
    bare_window.desk.redo()
    bare_window.filing.save()
    kept = read_book(load(path)).book
    assert kept is not None
    assert kept.name == "Kept"
    assert not list_of(keeper)


def test_esc_leaves_it_and_it_is_asked_again_and_two_throws_it_away(
    bare_window: MainWindow, keeper: Keeper, path: Path, data_folder: Path
) -> None:
    file = leave_behind(data_folder, path, "Kept")
    bare_window.leaving.open_book(path)
    key(bare_window.page, Key.Key_Escape)
    assert bare_window.page.isHidden()
    assert file.is_file()
    bare_window.leaving.open_book(path)
    key(bare_window.page, "2")
    assert bare_window.page.isHidden()
    assert not list_of(keeper)
    assert book(bare_window).name == planted().book.name


def test_a_start_offers_one_after_the_other_those_of_the_open_book_first(
    bare_window: MainWindow, keeper: Keeper, path: Path, data_folder: Path, tmp_path: Path
) -> None:
    leave_behind(data_folder, path, "Mine")
    leave_behind(data_folder, tmp_path / "gone.countback", "Gone", base="")
    leave_behind(data_folder, None, "Fresh")
    bare_window.leaving.open_book(path)
    assert keeper.offer.at_start() is True
    assert "“Mine”" in bare_window.masthead.shown.sentence
    key(bare_window.page, "2")
    assert "“Fresh”" in bare_window.masthead.shown.sentence
    assert bare_window.masthead.shown.next[0][0].startswith("It never had a file")
    key(bare_window.page, "2")
    assert "“Gone”" in bare_window.masthead.shown.sentence
    assert "can’t be opened any more" in bare_window.masthead.shown.next[0][0]

    key(bare_window.page, "1")
    document = bare_window.desk.document
    assert document is not None
    assert document.path is None
    assert document.unsaved_count == 1
    assert document.book.name == "Gone"


def test_a_file_that_somebody_wrote_since_is_told_of(
    bare_window: MainWindow, keeper: Keeper, path: Path, data_folder: Path
) -> None:
    leave_behind(data_folder, path, "Kept")
    path.write_bytes(write_book(replace(planted().book, name="By somebody else")))
    bare_window.leaving.open_book(path)
    assert bare_window.masthead.shown.next[0][0].startswith(
        "The file of the book was written by somebody else since."
    )
    key(bare_window.page, "1")
    bare_window.desk.undo()
    assert book(bare_window).name == "By somebody else"


def test_what_somebody_wrote_and_was_taken_is_no_news_beside_a_copy(
    opened: MainWindow, keeper: Keeper, path: Path
) -> None:
    path.write_bytes(write_book(replace(planted().book, name="By somebody else")))
    document = opened.desk.document
    assert document is not None
    found = look_outside(document)
    assert found is not None
    take_outside(document, found)
    rename(opened, "One")
    keeper.autosave.keep()
    (about,) = [each for each in list_of(keeper) if each.suffix == ABOUT]
    assert json.loads(about.read_text(encoding="utf-8"))["base"] == digest_of(path)


def test_what_was_left_can_be_taken_at_a_start_on_an_empty_wall(
    bare_window: MainWindow, keeper: Keeper, path: Path, data_folder: Path
) -> None:
    leave_behind(data_folder, path, "Kept")
    bare_window.desk.take(Document(replace(planted().book, jobs=(), plan=None)))
    bare_window.show_work()
    assert keeper.offer.at_start() is True
    bare_window.show()
    key(bare_window.page, Key.Key_Escape)
    assert bare_window.masthead.shown.sentence.startswith("Nothing on the wall yet.")

    assert keeper.offer.at_start() is True
    key(bare_window.page, "1")
    document = bare_window.desk.document
    assert document is not None
    assert document.path == path
    assert document.book.name == "Kept"
    assert bare_window.page.isHidden()


def test_an_error_inside_copies_at_once_and_says_so(opened: MainWindow, keeper: Keeper) -> None:
    rename(opened, "One")
    assert keeper.autosave.keep()
    keeper.tell_crash(keeper.autosave._folder, True)
    assert opened.masthead.shown.sentence.startswith(
        "Something went wrong inside Countback. What is not saved is copied;"
    )
    keeper.tell_crash(keeper.autosave._folder, False)
    assert "can’t be copied: save the book" in opened.masthead.shown.sentence


def test_a_key_copies_the_report_and_says_what_is_not_in_it(
    opened: MainWindow, keeper: Keeper, data_folder: Path
) -> None:
    shift = CTRL | Qt.KeyboardModifier.ShiftModifier
    QApplication.clipboard().clear()
    key(opened.wall, Key.Key_C, shift)
    assert opened.desk.note == "Nothing went wrong inside, so there is no report."
    assert QApplication.clipboard().text() == ""

    (data_folder / REPORT).write_text("what was told", encoding="utf-8")
    keeper.tell_crash(data_folder, True)
    assert "Ctrl Shift C copies a report" in opened.masthead.shown.sentence
    key(opened.wall, Key.Key_C, shift)
    assert QApplication.clipboard().text() == "what was told"
    assert opened.desk.trouble == ""
    assert opened.desk.note == "The report is copied; nothing of the book and no name is in it."
    (data_folder / WHOLE).touch()
    key(opened.wall, Key.Key_C, shift)
    assert str(data_folder / WHOLE) in opened.desk.note


def test_the_end_of_a_former_run_is_told_in_the_foot(opened: MainWindow, keeper: Keeper) -> None:
    keeper.tell_former_crash()
    QApplication.processEvents()
    assert "stopped in the middle last time" in opened.desk.note
    assert CLOCK
