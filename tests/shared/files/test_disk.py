"""Saving: the book on disk is the old one or the new one, whole, whatever happens."""

import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from shared.errors import DiskError
from shared.files.disk import before, load, put_new, save, save_private
from shared.files.json_text import LARGEST_BYTES

_OLD, _NEW = b"old\n" * 1000, b"new\n" * 300_000


def _names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "hall.countback"
    path.write_bytes(_OLD)
    return path


def test_a_saved_file_is_loaded_and_nothing_else_is_left(tmp_path: Path) -> None:
    path = tmp_path / "first.countback"
    save(path, b"one")
    assert load(path) == b"one"
    assert _names(tmp_path) == ["first.countback"]


def test_the_former_book_stays_under_the_whole_name_and_before(book: Path) -> None:
    save(book, _NEW)
    assert load(book) == _NEW
    assert load(str(book) + ".before") == _OLD
    assert _names(book.parent) == ["hall.countback", "hall.countback.before"]
    save(book, b"third")
    assert load(before(book)) == _NEW


def test_what_killed_saves_left_beside_goes_once_it_is_old_and_nothing_else(book: Path) -> None:
    old, young = book.with_name(".countback-ab12cd_9"), book.with_name(".countback-" + "0f" * 16)
    others = [book.with_name(name) for name in (".countback-notes.txt", "countback-ab12cd_9")]
    folder = book.with_name(".countback-ab12cd_8")
    folder.mkdir()
    for each in (old, young, *others):
        each.write_bytes(b"half")
    hour_ago = young.stat().st_mtime - 3700
    for each in (old, *others, folder):
        os.utime(each, (hour_ago, hour_ago))
    save(book, _NEW)
    kept = {young.name, folder.name, *(each.name for each in others)}
    assert set(_names(book.parent)) == {book.name, book.name + ".before", *kept}
    os.utime(young, (hour_ago, hour_ago))
    save_private(book.with_name("copy"), b"x")
    assert not young.exists()


def test_a_name_that_is_taken_is_left_and_a_new_one_is_never_half(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert put_new(book, _NEW) is False
    assert load(book) == _OLD
    found = book.with_name("hall.found.countback")

    def seen(number: int) -> None:
        assert not found.exists(), "the name comes after the bytes"

    monkeypatch.setattr(os, "fsync", seen)
    assert put_new(found, _NEW) is True
    assert load(found) == _NEW
    assert _names(book.parent) == ["hall.countback", "hall.found.countback"]


def test_permissions_are_kept_also_by_the_one_before(book: Path) -> None:
    book.chmod(0o640)
    save(book, _NEW)
    assert stat.S_IMODE(book.stat().st_mode) == 0o640
    assert stat.S_IMODE(before(book).stat().st_mode) == 0o640


def test_a_new_file_has_the_permissions_that_the_mask_allows(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        save(tmp_path / "new", b"x")
    finally:
        os.umask(mask)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o640


def test_a_link_is_followed_and_stays_a_link(book: Path, tmp_path: Path) -> None:
    folder = tmp_path / "links"
    folder.mkdir()
    link = folder / "link.countback"
    link.symlink_to(book)
    save(link, _NEW)
    assert link.is_symlink()
    assert load(book) == load(link) == _NEW
    assert before(link) == before(book)
    assert _names(folder) == ["link.countback"]


def test_a_long_name_can_be_saved(tmp_path: Path) -> None:
    path = tmp_path / ("ä" * 110 + ".countback")
    save(path, b"x")
    save(path, b"y")
    assert load(before(path)) == b"x"


def test_a_missing_file_or_folder_is_a_typed_error(tmp_path: Path) -> None:
    with pytest.raises(DiskError) as told:
        load(tmp_path / "none")
    assert told.value.code == "not_loaded"
    assert told.value.facts["path"] == str(tmp_path / "none")
    with pytest.raises(DiskError) as told:
        save(tmp_path / "none" / "book", b"x")
    assert told.value.code == "not_saved"


def test_what_is_no_file_is_not_opened(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (tmp_path, pipe, Path("/dev/zero")):
        with pytest.raises(DiskError) as told:
            load(path)
        assert told.value.code == "not_a_file"


def test_a_folder_in_the_books_place_is_a_typed_error_and_stays(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    with pytest.raises(DiskError):
        save(folder, b"x")
    assert _names(tmp_path) == ["folder"]


def test_of_a_huge_file_only_a_little_too_much_is_loaded(tmp_path: Path) -> None:
    path = tmp_path / "huge"
    with path.open("wb") as file:
        file.truncate(LARGEST_BYTES * 1000)
    assert len(load(path)) == LARGEST_BYTES + 1


_SAVE_LIMITED = """
import resource, signal, sys
from shared.errors import DiskError
from shared.files.disk import save
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
limit = int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    save(sys.argv[1], b"new\\n" * 300_000)
except DiskError as trouble:
    print(trouble.code)
"""


@pytest.mark.parametrize("limit", [0, 1, 3000, 4096, 100_000, 1_199_999])
def test_a_write_that_is_cut_off_leaves_everything_as_it_was(book: Path, limit: int) -> None:
    # The system itself refuses to let the file grow (RLIMIT_FSIZE, POSIX getrlimit).
    before(book).write_bytes(b"older")
    done = subprocess.run(
        [sys.executable, "-c", _SAVE_LIMITED, str(book), str(limit)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.strip() == "not_saved", done.stderr
    assert load(book) == _OLD
    assert load(before(book)) == b"older"
    assert _names(book.parent) == ["hall.countback", "hall.countback.before"]


_SAVE_FOR_EVER = """
import sys
from shared.files.disk import save
print("ready", flush=True)
number = 0
while True:
    number += 1
    save(sys.argv[1], b"%07d\\n" % number * 20_000)
"""


@pytest.mark.parametrize("pause", range(12))
def test_a_save_that_is_killed_leaves_a_whole_book(book: Path, pause: int) -> None:
    save(book, b"%07d\n" % 0 * 20_000)
    child = subprocess.Popen(
        [sys.executable, "-c", _SAVE_FOR_EVER, str(book)], stdout=subprocess.PIPE
    )
    assert child.stdout is not None
    child.stdout.readline()
    seen: set[bytes] = set()
    while len(seen) <= pause:
        seen.add(load(book))
        seen.add(load(before(book)))
    child.send_signal(signal.SIGKILL)
    child.wait()
    child.stdout.close()
    for data in (*seen, load(book), load(before(book))):
        lines = data.split(b"\n")
        assert lines == _OLD.split(b"\n") or (len(lines) == 20_001 and len(set(lines)) == 2)
    save(book, _NEW)
    assert load(book) == _NEW
