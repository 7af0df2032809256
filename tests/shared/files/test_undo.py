"""Undo on disk: the former book comes back, and a second undo brings the later one again."""

from dataclasses import replace
from pathlib import Path

import pytest

from shared.book import Book
from shared.errors import DiskError
from shared.files.disk import before, load, save
from shared.files.lock import Lock, take
from shared.files.read import read_book
from shared.files.undo import Undone
from shared.files.undo import undo_file as undo_under
from shared.files.write import write_book
from tests.builders import NOW, a_book, a_job

FORMER = a_book(a_job("heron"), revision=4)
LATER = a_book(a_job("heron"), a_job("otter"), revision=9)


def undo_file(path: Path) -> Undone:
    lock = take(path, "Ana", NOW)
    assert isinstance(lock, Lock)
    with lock:
        return undo_under(path, lock)


def _on_disk(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "hall.countback"
    save(path, write_book(FORMER))
    save(path, write_book(LATER))
    return path


def test_the_former_book_comes_back_one_revision_above_both(path: Path) -> None:
    undone = undo_file(path)
    assert undone.book == replace(FORMER, revision=10)
    assert _on_disk(path) == undone.book
    assert _on_disk(before(path)) == LATER


def test_a_second_undo_brings_the_later_one_again_and_a_third_the_former(path: Path) -> None:
    undo_file(path)
    assert undo_file(path).book == replace(LATER, revision=11)
    assert undo_file(path).book == replace(FORMER, revision=12)
    assert _on_disk(path) == replace(FORMER, revision=12)


def test_without_a_former_book_nothing_is_undone(tmp_path: Path) -> None:
    path = tmp_path / "new.countback"
    save(path, write_book(FORMER))
    with pytest.raises(DiskError) as told:
        undo_file(path)
    assert told.value.code == "nothing_before"
    assert _on_disk(path) == FORMER


def test_a_former_book_that_is_broken_is_not_brought_back(path: Path) -> None:
    before(path).write_bytes(b"{")
    undone = undo_file(path)
    assert undone.book is None
    assert [finding.code for finding in undone.findings] == ["not_json"]
    assert _on_disk(path) == LATER
    assert before(path).read_bytes() == b"{"


def test_a_book_that_broke_is_replaced_by_the_former_and_kept(path: Path) -> None:
    path.write_bytes(b"broken")
    assert undo_file(path).book == replace(FORMER, revision=5)
    assert before(path).read_bytes() == b"broken"


def test_a_book_that_is_gone_comes_back(path: Path) -> None:
    path.unlink()
    assert undo_file(path).book == replace(FORMER, revision=5)
    assert _on_disk(path) == replace(FORMER, revision=5)
