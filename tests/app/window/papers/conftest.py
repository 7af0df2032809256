"""Papers are laid out by Qt's fonts; there is one application for all tests."""

import pytest
from pytestqt.qtbot import QtBot

from app.window.papers import out


@pytest.fixture(autouse=True)
def _begun(qtbot: QtBot) -> None:
    out.begun()
