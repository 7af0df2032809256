"""A large wall is made between what hands and keys do; a change of the book takes its place."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from app.window import slices
from app.window.main import MainWindow
from app.window.wall.derive import derive, derive_in_slices
from app.words import Words
from shared.edits import change_job
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import outcome_for, planted, shown


def test_slices_come_to_the_same_wall() -> None:
    made = planted()
    told = shown(outcome=outcome_for(made))
    words = Words("en", book=made.book)
    parts = list(derive_in_slices(told, words))
    assert parts[-1] == derive(told, words)
    assert parts[:-1] == [None] * (len(made.book.jobs) + 1)


def test_a_large_plan_is_shown_once_its_wall_is_ready(
    qtbot: QtBot, window: MainWindow, engine: HandEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(slices, "SLICED_FROM", 1)
    before = window.wall.wall
    engine.answer(outcome_for(planted(), spare_days=5))
    assert window.maker.is_busy
    assert window.wall.wall is before
    qtbot.waitUntil(lambda: not window.maker.is_busy)
    assert window.wall.wall != before


def test_an_edit_takes_the_place_of_a_wall_that_is_not_ready(
    qtbot: QtBot, window: MainWindow, engine: HandEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(slices, "SLICED_FROM", 1)
    engine.answer(outcome_for(planted(), spare_days=5))
    document = window.desk.document
    assert document is not None
    job = replace(document.book.jobs[0], name="Bent heron")
    window.desk.edit(change_job(document.book, job))
    assert not window.maker.is_busy
    assert "Bent heron" in {band.name for band in window.wall.wall.bands}
