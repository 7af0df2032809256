"""The soak of kills finds faults that are planted in how books are saved and copied."""

import json
import os
from pathlib import Path

import pytest

import shared.files.known as known
from app.window import session
from shared.files.disk import real
from tests.soak import _kill as child
from tests.soak import kill
from tests.soak.report import Report, Task

ROUNDS = 12


def killed(seed: int = 1) -> Report:
    return kill.run(Task(rounds=ROUNDS, seed=seed, until=float("inf"), say=lambda _: None))


def test_what_is_sound_passes_and_is_counted() -> None:
    report = killed()

    assert report.failed == ()
    assert report.rounds == ROUNDS
    found = json.loads(json.dumps(report.to_json("kill")))
    assert (found["lost"], found["broken"]) == (0, 0)
    assert sum(found[kind] for kind in kill.KINDS) == ROUNDS
    assert found["saved"] > 0


def test_saves_that_write_in_place_break_books(monkeypatch: pytest.MonkeyPatch) -> None:
    def in_place(path: str | os.PathLike[str], data: bytes) -> None:
        with Path(real(path)).open("wb", buffering=0) as file:
            file.write(data[: len(data) // 2])
            os.fsync(file.fileno())
            file.write(data[len(data) // 2 :])

    monkeypatch.setattr(known, "save", in_place)
    report = killed()
    assert report.facts["broken"] > 0  # type: ignore[operator]
    assert any("no whole book" in line and "seed 1, round " in line for line in report.failed)


def test_saves_that_write_nothing_lose_what_was_said_to_be_saved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(session, "save_known", lambda path, data, lock, known: known)
    assert killed().facts["lost"] > 0  # type: ignore[operator]


def test_copies_that_are_not_written_are_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(child, "write_copy", lambda *_: None)
    report = killed()
    assert any("is not offered" in line for line in report.failed)
