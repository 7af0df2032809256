"""A save goes only over the bytes that are known, under a lock that is still ours."""

import errno
import os
from pathlib import Path

import pytest

from shared.errors import DiskError
from shared.files.disk import before
from shared.files.known import NO_FILE, bytes_digest, file_digest, put_beside, save_known
from shared.files.lock import Lock, lock_path, take
from tests.builders import NOW


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "hall.countback"
    path.write_bytes(b"one")
    return path


@pytest.fixture
def lock(path: Path) -> Lock:
    return _taken(path)


def _taken(path: Path) -> Lock:
    lock = take(path, "Ana", NOW, even_if_stale=True)
    assert isinstance(lock, Lock)
    return lock


def _refused(path: Path, lock: Lock, known: str) -> str:
    with pytest.raises(DiskError) as told:
        save_known(path, b"mine", lock, known)
    assert told.value.facts["path"] == str(path)
    return told.value.code


def test_what_is_known_is_written_over_and_stays_beside_it(path: Path, lock: Lock) -> None:
    known = save_known(path, b"two", lock, file_digest(path))

    assert (path.read_bytes(), before(path).read_bytes()) == (b"two", b"one")
    assert known == bytes_digest(b"two") == file_digest(path)


def test_what_others_wrote_stays_even_where_time_and_length_are_the_same(
    path: Path, lock: Lock
) -> None:
    known, stat = file_digest(path), path.stat()
    path.write_bytes(b"two")
    os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))

    assert _refused(path, lock, known) == "changed_outside"
    assert path.read_bytes() == b"two"
    assert not before(path).exists()


def test_the_same_bytes_written_anew_are_no_change(path: Path, lock: Lock) -> None:
    known = file_digest(path)
    path.unlink()
    path.write_bytes(b"one")

    save_known(path, b"mine", lock, known)
    assert path.read_bytes() == b"mine"


def test_a_file_that_came_where_none_was_stays(tmp_path: Path) -> None:
    path = tmp_path / "new.countback"
    lock = _taken(path)
    assert file_digest(path) == NO_FILE
    path.write_bytes(b"theirs")

    assert _refused(path, lock, NO_FILE) == "changed_outside"


def test_a_file_that_is_gone_is_written_anew(path: Path, lock: Lock) -> None:
    known = file_digest(path)
    path.unlink()
    save_known(path, b"mine", lock, known)
    assert path.read_bytes() == b"mine"


def test_whose_lock_was_taken_away_writes_nothing(path: Path, lock: Lock) -> None:
    known = file_digest(path)
    lock_path(path).unlink()
    assert _refused(path, lock, known) == "lock_lost"

    other = _taken(path)
    assert other.is_ours
    assert not lock.is_ours
    assert _refused(path, lock, known) == "lock_lost"
    lock.release()
    assert other.is_ours, "a lock that was lost is not given back"


def test_a_share_that_lets_nobody_wait_for_turns_is_written_all_the_same(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise OSError(errno.EBADF, "Bad file descriptor")

    monkeypatch.setattr("fcntl.flock", refused)
    lock = _taken(path)
    save_known(path, b"mine", lock, file_digest(path))
    lock.release()
    assert path.read_bytes() == b"mine"
    assert not lock_path(path).exists()


def test_what_is_put_beside_never_takes_a_name_that_is_taken(path: Path) -> None:
    first, second = put_beside(path, b"a", NOW), put_beside(path, b"b", NOW)

    assert [first.name, second.name] == [
        "hall.found-20260105-080000.countback",
        "hall.found-20260105-080000-2.countback",
    ]
    assert (first.read_bytes(), second.read_bytes()) == (b"a", b"b")


def test_where_nothing_can_be_put_beside_that_is_told(tmp_path: Path) -> None:
    with pytest.raises(DiskError) as told:
        put_beside(tmp_path / "no folder" / "hall.countback", b"a", NOW)
    assert told.value.code == "not_saved"
