"""Text from 90 to 175 %: everything drawn takes part, and it is kept."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.settings import TEXT_PERCENTS, Settings
from app.window.fonts import font, set_text_percent, text_width
from app.window.main import MainWindow
from app.window.tokens import px, sizes_for
from tests.app.window.hands import key

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture(autouse=True)
def usual_text_again() -> Iterator[None]:
    yield
    set_text_percent(100)


@pytest.mark.parametrize("percent", TEXT_PERCENTS)
def test_fonts_and_sizes_grow_alike(prepared: QApplication, percent: int) -> None:
    usual = text_width("Reading owl", 13)
    set_text_percent(percent)
    assert font(20).pixelSize() == round(20 * percent / 100) == px(20)
    assert text_width("Reading owl", 13) == pytest.approx(usual * percent / 100, rel=0.06)
    assert sizes_for(1366).axis == px(46)
    assert sizes_for(1366).margin == 12


def test_ctrl_plus_and_minus_go_through_all_sizes_and_keep_them(
    window: MainWindow, kept: list[Settings]
) -> None:
    rows = window.wall.layout_.row
    for _ in range(len(TEXT_PERCENTS)):
        key(window.wall, Qt.Key.Key_Plus, CTRL)
        QApplication.processEvents()
    assert kept[-1].text_percent == TEXT_PERCENTS[-1]
    assert window.masthead.height() == px(62) > 62
    assert window.wall.layout_.row >= px(12) > rows // 2
    assert "175 %" in "".join(text for text, _ in window.foot.parts)
    for _ in range(len(TEXT_PERCENTS)):
        key(window.wall, Qt.Key.Key_Minus, CTRL)
        QApplication.processEvents()
    assert kept[-1].text_percent == TEXT_PERCENTS[0]


def test_a_window_opens_in_the_size_that_was_kept(window: MainWindow) -> None:
    window.ground.settings = Settings(look="light", text_percent=150)
    window.ground.apply()
    assert font(12).pixelSize() == 18


def test_all_keys_are_reached_in_large_text_where_they_do_not_fit(window: MainWindow) -> None:
    window.resize(1366, 768)
    for _ in range(len(TEXT_PERCENTS)):
        key(window.wall, Qt.Key.Key_Plus, CTRL)
    window.show_keys()
    QApplication.processEvents()
    page = window.page
    last = page._words[-1]
    assert last.geometry().bottom() > page.height()
    key(page, Qt.Key.Key_PageDown)
    key(page, Qt.Key.Key_PageDown)
    assert last.geometry().bottom() <= page.height()
    key(page, Qt.Key.Key_PageUp)
    key(page, Qt.Key.Key_PageUp)
    assert last.geometry().bottom() > page.height()
