"""From the wall to one job: what is opened there is counted back; only its key writes it."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.countback.view import CountbackView
from app.window.main import MainWindow
from app.window.views.view import Which
from app.window.wall import moves
from app.window.wall.items import Item, Role
from tests.app.window.hands import key


def last_block(window: MainWindow) -> Item:
    """Return a block of the last job, which is not the one with the least to spare alone."""
    wall = window.wall.wall
    row = wall.rows[wall.bands[-1].first_row]
    return next(each for each in reversed(row.blocks) if each.role is Role.BLOCK)


def open_it(window: MainWindow, item: Item, how: str) -> None:
    window.wall.choose(moves.at(window.wall.wall, item.id))
    if how == "enter":
        key(window.wall, Qt.Key.Key_Return)
    else:
        at = window.wall.item_rect(item).center()
        QTest.mouseDClick(window.wall, Qt.MouseButton.LeftButton, pos=at)
    QApplication.processEvents()


@pytest.mark.parametrize("how", ["enter", "double"])
def test_what_is_opened_on_the_wall_is_counted_back(window: MainWindow, how: str) -> None:
    item = last_block(window)
    open_it(window, item, how)
    view = window.shelf.view
    assert isinstance(view, CountbackView)
    assert window.sheet.isHidden()
    assert view.one is not None
    assert view.one.job.id == item.job
    assert view.strands.segment == item.segment
    chosen = view.one.wall.item(view.strands.at)
    assert chosen is not None
    assert chosen.step == item.step
    key(QApplication.focusWidget() or window, Qt.Key.Key_Escape)
    assert window.shelf.front is Which.WALL
    assert window.wall.spot is not None
    assert window.wall.spot.item == item.id


def test_only_e_writes(window: MainWindow) -> None:
    open_it(window, last_block(window), "enter")
    key(QApplication.focusWidget() or window, Qt.Key.Key_E)
    QApplication.processEvents()
    assert window.sheet.isVisible()
    assert window.sheet.job == last_block(window).job
