"""A command writes a book only if nobody else did meanwhile, and takes a lock only when told."""

import json
import os
from pathlib import Path

import pytest

from app.cli import floor
from app.cli.arguments import VERBS, WRITING, read_arguments
from shared.edits import Edited
from shared.files.lock import lock_path
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import a_book, a_job, a_stage

HELD = ("--because", "material", "--by", "Mara", "--now", "2026-01-05T12:00")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_book(a_job("fox", steps=(a_stage("first"), a_stage("second")))))


def left_by(path: Path, **fields: object) -> None:
    """Leave a lock as somebody took it."""
    told = {"host": os.uname().nodename, "pid": 1, "who": "Cy", "since": "2026-01-05T08:00:00Z"}
    lock_path(path).write_text(json.dumps({**told, "token": "theirs", **fields}))


def held(path: Path, *more: str) -> Said:
    return countback("held", path, "first", *HELD, *more)


def test_a_change_between_reading_and_writing_is_left_and_told(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    theirs = path.read_bytes() + b"\n"
    tell = floor._told

    def meanwhile(*told: object) -> tuple[Edited | None, list[str]]:
        path.write_bytes(theirs)
        return tell(*told)  # type: ignore[arg-type]

    monkeypatch.setattr(floor, "_told", meanwhile)
    said = held(path)

    assert said.code == 2
    assert said.err.replace("\n", " ").startswith(
        f"{path} was changed by somebody else meanwhile; it is left as it is"
    )
    assert path.read_bytes() == theirs
    assert not lock_path(path).exists()


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"started": "1"}, "and is gone; it is left as it is."),
        ({"host": "another-machine"}, "whether that program still runs can't be known from here."),
        ({"pid": "x"}, "can't be read."),
    ],
)
def test_a_lock_that_was_left_is_told_and_taken_only_on_a_persons_word(
    path: Path, fields: dict[str, object], told: str
) -> None:
    left_by(path, **fields)
    before = path.read_bytes()
    said = held(path)
    assert said.code == 2
    assert told in said.err.replace("\n", " ")
    assert "say --take-lock as well" in said.err.replace("\n", " ")
    assert path.read_bytes() == before
    assert lock_path(path).exists()

    assert held(path, "--take-lock").code == 0
    assert path.read_bytes() != before
    assert not lock_path(path).exists()


def test_a_lock_whose_program_lives_is_not_taken_on_any_word(path: Path) -> None:
    left_by(path, pid=os.getppid())
    said = held(path, "--take-lock")
    assert said.code == 2
    assert "has had" in said.err
    assert lock_path(path).exists()


def test_every_verb_that_writes_a_book_takes_the_word(path: Path) -> None:
    for verb in WRITING:
        asked = read_arguments([verb, *VERBS[verb].must, "--take-lock"])
        assert asked.takes_lock
    left_by(path, started="1")
    assert countback("undo", path).code == 2
    assert held(path, "--take-lock").code == 0
    left_by(path, started="1")
    assert countback("undo", path, "--take-lock").code == 0
