"""Copies of what is not saved: private, offered only of programs that are gone, never half."""

import json
import os
import stat
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from app.recovery import ABOUT, ENDING, digest_of, drop_copy, left_behind, write_copy
from shared.errors import DiskError
from shared.files.lock import host_name
from shared.files.write import write_book
from tests.builders import a_book

TOKEN = "0123456789abcdef"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "rescued"


def gone_pid() -> int:
    with subprocess.Popen([sys.executable, "-c", ""]) as child:
        child.wait()
    return child.pid


def is_behind(folder: Path) -> bool:
    (found,) = left_behind(folder)
    return found.is_behind


def orphaned(folder: Path, of: Path | None, token: str = TOKEN, **told: object) -> None:
    """Write a copy as a program wrote it that is gone by now."""
    write_copy(folder, token, a_book(), of, digest_of(of))
    about = folder / (token + ABOUT)
    found = json.loads(about.read_text(encoding="utf-8")) | {"pid": gone_pid()} | told
    about.write_text(json.dumps(found), encoding="utf-8")


def test_a_copy_is_for_its_owner_only(folder: Path) -> None:
    write_copy(folder, TOKEN, a_book(), None, "")

    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    for ending in (ENDING, ABOUT):
        assert stat.S_IMODE((folder / (TOKEN + ending)).stat().st_mode) == 0o600
    assert sorted(file.name for file in folder.iterdir()) == [TOKEN + ENDING, TOKEN + ABOUT]


def test_what_a_dead_program_left_is_found_with_what_it_is_a_copy_of(
    folder: Path, tmp_path: Path
) -> None:
    book = tmp_path / "owl.countback"
    book.write_bytes(write_book(replace(a_book(), name="Before")))
    orphaned(folder, book)

    (found,) = left_behind(folder)
    assert found.of == book
    assert found.book == a_book()
    assert not found.is_behind
    book.write_bytes(write_book(replace(a_book(), name="Somebody else's")))
    assert is_behind(folder)
    book.unlink()
    assert not is_behind(folder), "a file that is gone is not newer"


def test_the_copy_of_a_program_that_lives_is_left_alone(folder: Path) -> None:
    write_copy(folder, TOKEN, a_book(), None, "")

    assert left_behind(folder) == []
    orphaned(folder, None, started="1")
    assert len(left_behind(folder)) == 1
    orphaned(folder, None, pid=os.getpid(), started="1")
    assert len(left_behind(folder)) == 1, "another program has that number now"


def test_a_copy_of_another_machine_is_left_to_that_machine(folder: Path) -> None:
    orphaned(folder, None, host=host_name() + ".elsewhere")
    assert left_behind(folder) == []


def test_the_latest_comes_first(folder: Path) -> None:
    for token, at in (("aa", 100), ("bb", 300), ("cc", 200)):
        orphaned(folder, None, token)
        os.utime(folder / (token + ENDING), (at, at))
    assert [each.file.stem for each in left_behind(folder)] == ["bb", "cc", "aa"]


@pytest.mark.parametrize(
    "about",
    [
        "",
        "[]",
        "{}",
        '{"of": "", "base": "", "host": 1, "pid": "x", "started": null}',
        "\x00",
        '{"a":' * 100_000,
    ],
)
def test_a_note_that_is_none_is_passed_over(folder: Path, about: str) -> None:
    orphaned(folder, None)
    (folder / (TOKEN + ABOUT)).write_text(about, encoding="utf-8")
    assert left_behind(folder) == []


def test_a_copy_that_is_no_book_is_passed_over_and_stays(folder: Path) -> None:
    orphaned(folder, None)
    (folder / (TOKEN + ENDING)).write_bytes(b"{")
    assert left_behind(folder) == []
    assert (folder / (TOKEN + ENDING)).is_file()


def test_a_pid_beyond_all_bounds_is_passed_over(folder: Path) -> None:
    orphaned(folder, None, pid=2**80)
    assert left_behind(folder) == []


def test_no_folder_has_no_copies(folder: Path) -> None:
    assert left_behind(folder) == []
    drop_copy(folder, TOKEN)


def test_what_a_first_copy_left_that_was_never_finished_goes(folder: Path) -> None:
    orphaned(folder, None, "aa")
    (folder / ("aa" + ENDING)).unlink()
    write_copy(folder, "bb", a_book(), None, "")
    (folder / ("bb" + ENDING)).unlink()
    assert left_behind(folder) == []
    assert [each.name for each in folder.iterdir()] == ["bb" + ABOUT], "its program lives"


def test_a_copy_that_its_file_holds_by_now_is_not_offered_and_goes(
    folder: Path, tmp_path: Path
) -> None:
    """The program was killed after a save, before it let go of the copy."""
    book = tmp_path / "owl.countback"
    book.write_bytes(write_book(replace(a_book(), name="Before")))
    orphaned(folder, book)
    book.write_bytes(write_book(a_book()))
    assert left_behind(folder) == []
    assert list(folder.iterdir()) == []


def test_a_copy_is_dropped_whole(folder: Path) -> None:
    orphaned(folder, None)
    drop_copy(folder, TOKEN)
    assert list(folder.iterdir()) == []


def test_a_disk_that_refuses_is_a_typed_error(folder: Path) -> None:
    folder.write_text("a file where the folder should be", encoding="utf-8")
    with pytest.raises(DiskError) as refused:
        write_copy(folder, TOKEN, a_book(), None, "")
    assert refused.value.code == "not_saved"


def test_a_full_disk_leaves_the_former_copy(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    orphaned(folder, None)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(DiskError, match="not_saved"):
            write_copy(folder, TOKEN, replace(a_book(), name="Later"), None, "")
    (found,) = left_behind(folder)
    assert found.book == a_book()
    assert len(list(folder.iterdir())) == 2
