from pathlib import Path

import pytest

from app.cli.sample import SAMPLES
from shared.book import Book
from shared.files.disk import load, save
from shared.files.lock import Lock, lock_path, take
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.cli.shell import a_file, countback
from tests.builders import NOW, a_book


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_put_into_a_folder(tmp_path: Path, name: str) -> None:
    said = countback("sample", name, tmp_path / "new")
    path = tmp_path / "new" / f"{name}.countback"

    assert said.code == 0
    assert str(path) in said.out
    assert countback("findings", path).code == 0


def test_a_sample_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "small.countback"
    path.write_text("mine", encoding="utf-8")
    said = countback("sample", "small", tmp_path)

    assert (said.code, said.out) == (2, "")
    assert said.err == f"{path} is there already and is left as it is.\n"
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("where", ["file", "file/below"])
def test_a_sample_needs_a_folder(tmp_path: Path, where: str) -> None:
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    said = countback("sample", "small", tmp_path / where)

    assert said.code == 2
    assert len(said.err.splitlines()) == 1


def test_an_unknown_sample_is_told_the_known_ones(tmp_path: Path) -> None:
    said = countback("sample", "huge", tmp_path)

    assert said.code == 2
    assert "small, tight, full, impossible" in said.err
    assert not list(tmp_path.iterdir())


def test_undo_puts_back_and_a_second_undo_brings_the_later_again(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book(name="first", revision=4))
    save(path, write_book(a_book(name="second", revision=5)))

    assert countback("undo", path).code == 0
    assert (read(path).name, read(path).revision) == ("first", 6)
    said = countback("undo", path)
    assert said.code == 0
    assert "revision 7" in said.out
    assert (read(path).name, read(path).revision) == ("second", 7)
    assert not lock_path(path).exists()


def test_without_a_book_before_nothing_is_put_back(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    data = path.read_bytes()
    said = countback("undo", path)

    assert (said.code, said.out) == (2, "")
    assert "nothing to put back" in said.err
    assert path.read_bytes() == data
    assert not lock_path(path).exists()


def test_a_book_before_that_can_t_be_read_is_not_put_back(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    data = path.read_bytes()
    path.with_name(path.name + ".before").write_bytes(b"{")
    said = countback("undo", path)

    assert said.code == 2
    assert "Nothing is put back" in said.out
    assert path.read_bytes() == data


def test_undo_says_who_has_the_book_and_leaves_it(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book(name="first"))
    save(path, write_book(a_book(name="second", revision=2)))
    data = path.read_bytes()
    lock = take(path, "anna", NOW)
    assert isinstance(lock, Lock)

    with lock:
        said = countback("undo", path)

    assert (said.code, said.out) == (2, "")
    assert "anna" in said.err
    assert "Mon 5 Jan 2026 08:00 UTC" in said.err
    assert path.read_bytes() == data


def test_a_lock_that_can_t_be_read_is_named(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    lock_path(path).write_bytes(b"?")
    said = countback("undo", path)

    assert said.code == 2
    assert str(lock_path(path)) in said.err
    assert lock_path(path).read_bytes() == b"?"


def test_a_file_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    assert countback("undo", tmp_path / "nowhere").code == 2
    assert not list(tmp_path.iterdir())
