"""Another language is chosen on the page of keys, kept, and spoken from the next start."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.settings import Settings, read_settings, write_settings
from app.window.main import MainWindow
from app.window.startup import build
from tests.app.window.conftest import HandEngine


@pytest.fixture(autouse=True)
def asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever a window sets is put back."""
    monkeypatch.setenv("LANGUAGE", "en")


@pytest.fixture
def chosen(request: pytest.FixtureRequest, data_folder: Path) -> str:
    language: str = request.param
    write_settings(data_folder, Settings(language=language))
    return language


@pytest.fixture
def window(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, chosen: str
) -> Iterator[MainWindow]:
    made = build(data_folder, engine=HandEngine())  # type: ignore[arg-type]
    qtbot.addWidget(made)
    yield made
    made._may_close = True
    made.close()


def rows(window: MainWindow) -> list[str]:
    window.show_keys()
    return [text for _, text in window.page.content.rows]


@pytest.mark.parametrize("chosen", ["system"], indirect=True)
def test_the_keys_page_goes_on_to_the_next_language_and_keeps_it(
    window: MainWindow, data_folder: Path
) -> None:
    assert "Language: as the system has it." in rows(window)

    said = []
    for _ in range(3):
        assert window.page.choose("1")
        said.append(read_settings(data_folder).language)

    assert said == ["en", "de", "system"]
    assert "Language: as the system has it." in rows(window)
    assert os.environ["LANGUAGE"] == "en"


@pytest.mark.parametrize("chosen", ["de"], indirect=True)
def test_a_window_speaks_the_language_that_was_chosen(window: MainWindow) -> None:
    found = rows(window)

    assert "Sprache: Deutsch." in found
    assert "sichern" in found
    assert window.page.content.title == "Tasten"
    assert ("Strg S", "sichern") in window.page.content.rows
    assert os.environ["LANGUAGE"] == "de"
