"""The lock: one at a time, between real processes, taken over only on a person's word."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from shared.errors import DiskError
from shared.files.lock import Held, Lock, create_empty_first, lock_path, look, process_start, take
from tests.builders import NOW

_HOLD = """
import sys
from datetime import UTC, datetime
from shared.files.lock import Lock, take
taken = take(sys.argv[1], "Ben", datetime(2026, 1, 5, 8, tzinfo=UTC))
print(type(taken).__name__, flush=True)
sys.stdin.readline()
if isinstance(taken, Lock):
    taken.release()
"""


@contextmanager
def _another(book: Path) -> Iterator[subprocess.Popen[str]]:
    """Run a process that takes the lock and holds it until it is told to let go."""
    child = subprocess.Popen(
        [sys.executable, "-c", _HOLD, str(book)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    assert child.stdout.readline().strip() in ("Lock", "Held")
    try:
        yield child
    finally:
        child.communicate("go\n" if child.poll() is None else None)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return tmp_path / "hall.countback"


def _taken(book: Path, **words: bool) -> Lock:
    lock = take(book, "Ana", NOW, **words)
    assert isinstance(lock, Lock)
    return lock


def _held(book: Path, **words: bool) -> Held:
    held = take(book, "Ana", NOW, **words)
    assert isinstance(held, Held)
    return held


def _write_lock(book: Path, **fields: Any) -> None:
    told = {"host": os.uname().nodename, "pid": os.getpid(), "who": "Cy", "token": "theirs"}
    lock_path(book).write_text(json.dumps({**told, **fields}))


def test_a_lock_is_a_file_beside_the_book_and_is_gone_when_given_back(book: Path) -> None:
    assert look(book) is None
    with _taken(book) as lock:
        assert lock.path == book.parent / ".hall.countback.lock"
        told = json.loads(lock.path.read_text())
        assert (told["who"], told["pid"]) == ("Ana", os.getpid())
        assert told["since"] == "2026-01-05T08:00:00Z"
        assert [each.name for each in book.parent.iterdir()] == [lock.path.name]
    assert list(book.parent.iterdir()) == []


def test_one_process_does_not_take_its_own_lock_twice(book: Path) -> None:
    with _taken(book):
        held = _held(book, even_if_stale=True)
    assert (held.who, held.pid, held.since, held.stale) == ("Ana", os.getpid(), NOW, False)


def test_another_process_has_it_until_it_lets_go(book: Path) -> None:
    with _another(book) as child:
        held = _held(book, even_if_stale=True)
        assert (held.who, held.pid, held.stale, held.elsewhere) == ("Ben", child.pid, False, False)
        assert held.host == os.uname().nodename
        assert look(book) == held
    _taken(book).release()


def test_the_finding_says_who_has_it(book: Path) -> None:
    with _another(book) as child:
        finding = _held(book).as_finding()
    assert finding.code == "locked"
    assert dict(finding.facts) == {
        "who": "Ben",
        "host": os.uname().nodename,
        "pid": child.pid,
        "since": "2026-01-05T08:00:00Z",
        "stale": 0,
    }
    assert finding.stops


def test_a_lock_of_a_killed_process_is_told_and_taken_only_on_a_persons_word(book: Path) -> None:
    with _another(book) as child:
        child.send_signal(signal.SIGKILL)
        child.wait()
        held = _held(book)
        assert (held.who, held.stale) == ("Ben", True)
        assert _held(book) == held
        _taken(book, even_if_stale=True).release()
    assert look(book) is None


def test_a_later_process_with_the_same_number_is_not_the_one_that_took_it(book: Path) -> None:
    _write_lock(book, started="1")
    assert _held(book).stale
    _write_lock(book, started=None)
    assert not _held(book).stale


def test_a_process_that_is_gone_has_no_start() -> None:
    assert process_start(os.getpid()) is not None
    assert process_start(2**30) is None


def test_a_lock_of_another_machine_is_not_known_to_be_stale(book: Path) -> None:
    _write_lock(book, host="another-machine", pid=1)
    held = _held(book)
    assert (held.stale, held.elsewhere) == (False, True)
    assert isinstance(take(book, "Ana", NOW, even_if_stale=True), Lock)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\x00\xff",
        b"[" * 5000,
        b"[]",
        b"{}",
        b'{"host": 1, "pid": 2}',
        b'{"host": "x", "pid": true}',
        b'{"host": "x", "pid": -1}',
        b'{"host": "x", "pid": 99999999999999999999}',
        b'{"host": "x", "pid": 5' + b" " * 5000 + b"}",
    ],
)
def test_a_lock_that_can_not_be_read_is_stale(book: Path, data: bytes) -> None:
    lock_path(book).write_bytes(data)
    held = _held(book)
    assert (held.stale, held.who, held.since) == (True, "", None)
    held.as_finding()
    _taken(book, even_if_stale=True).release()


def test_odd_fields_of_a_lock_are_passed_over(book: Path) -> None:
    _write_lock(book, who=["x"], since="yesterday", started=5)
    assert (_held(book).who, _held(book).since) == ("", None)
    _write_lock(book, who="\ud800", since="2026-01-05T08:00:00")
    assert (_held(book).who, _held(book).since) == ("\\ud800", None)


def test_only_our_own_lock_is_given_back(book: Path) -> None:
    lock = _taken(book)
    _write_lock(book)
    lock.release()
    assert lock.path.exists()
    lock.path.unlink()
    lock.release()
    lock.path.mkdir()
    with pytest.raises(DiskError) as told:
        lock.release()
    assert told.value.code == "not_unlocked"


def test_since_is_told_in_utc(book: Path) -> None:
    moved = NOW.astimezone(timezone(timedelta(hours=5)))
    lock = take(book, "Ana", moved)
    assert isinstance(lock, Lock)
    assert json.loads(lock.path.read_text())["since"] == "2026-01-05T08:00:00Z"


def test_a_link_has_the_lock_of_the_file_it_leads_to(book: Path, tmp_path: Path) -> None:
    book.write_bytes(b"x")
    folder = tmp_path / "links"
    folder.mkdir()
    link = folder / "link"
    link.symlink_to(book)
    with _taken(link):
        assert isinstance(take(book, "Ben", NOW), Held)


def test_a_folder_that_is_not_there_is_a_typed_error(tmp_path: Path) -> None:
    with pytest.raises(DiskError) as told:
        take(tmp_path / "none" / "book", "Ana", NOW)
    assert told.value.code == "not_locked"


def test_what_stands_where_the_folder_should_be_is_a_typed_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    with pytest.raises(DiskError) as told:
        look(tmp_path / "file" / "book")
    assert told.value.code == "not_locked"


def test_without_links_a_lock_is_still_created_by_one_only(tmp_path: Path) -> None:
    assert create_empty_first(tmp_path / "lock", b"mine")
    assert not create_empty_first(tmp_path / "lock", b"theirs")
    assert (tmp_path / "lock").read_bytes() == b"mine"


_RACE = """
import sys
from datetime import UTC, datetime
from shared.files.lock import Lock, take
print("ready", flush=True)
sys.stdin.readline()
taken = take(sys.argv[1], "x", datetime(2026, 1, 5, tzinfo=UTC), even_if_stale=True)
print("Lock" if isinstance(taken, Lock) else f"Held {taken.stale}", flush=True)
sys.stdin.readline()
"""


@pytest.mark.parametrize("is_stale_at_first", [False, True])
def test_of_many_processes_that_want_it_at_once_one_gets_it(
    book: Path, is_stale_at_first: bool
) -> None:
    for _ in range(4):
        if is_stale_at_first:
            _write_lock(book, started="1")
        children = [
            subprocess.Popen(
                [sys.executable, "-c", _RACE, str(book)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
            )
            for _ in range(4)
        ]
        for child in children:
            assert child.stdout is not None
            child.stdout.readline()
        for child in children:
            assert child.stdin is not None
            child.stdin.write("go\n")
            child.stdin.flush()
        told = []
        for child in children:
            assert child.stdout is not None
            told.append(child.stdout.readline().split())
        for child in children:
            child.communicate("done\n")
        assert sorted(told) == [["Held", "False"]] * 3 + [["Lock"]]
        lock_path(book).unlink()
