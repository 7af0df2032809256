import os

import pytest
from PySide6.QtGui import QColor, QGuiApplication
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

pytestmark = [pytest.mark.journey, pytest.mark.screen]


def test_a_window_shows_on_the_platform_that_was_asked_for(qtbot: QtBot) -> None:
    label = QLabel("Pier")
    label.setStyleSheet("background: #204060; color: #f0e0a0; font-size: 40px;")
    qtbot.addWidget(label)

    with qtbot.waitExposed(label):
        label.show()

    assert QGuiApplication.platformName() == os.environ["QT_QPA_PLATFORM"]
    image = label.grab().toImage()
    colours = {
        image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())
    }
    assert QColor("#204060").name() in colours
    assert len(colours) > 2, "the background was painted but no letters: no font?"
