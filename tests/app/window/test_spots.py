"""Drawn parts: one list feeds pointing, arrows, Enter and the screen reader."""

from collections.abc import Sequence
from functools import partial

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.reader import READER
from app.window.spots.drawn import Drawn
from app.window.spots.spot import Spot, beside, spot_at
from app.window.theme import Theme
from tests.app.window.hands import click, key


class Squares(Drawn):
    """Four squares, two and two; each says its name when it is pressed."""

    def __init__(self) -> None:
        super().__init__("squares")
        self.pressed: list[str] = []
        self.names: tuple[str, ...] = ("nw", "ne", "sw", "se")

    def height_at(self, width: int) -> int:
        return 100

    def spots_at(self, width: int) -> Sequence[Spot]:
        return [
            Spot(
                id=name,
                rect=QRect(50 * (at % 2), 50 * (at // 2), 40, 40),
                name=name,
                description=f"the square {name}",
                do=partial(self.pressed.append, name),
            )
            for at, name in enumerate(self.names)
        ]

    def paint(self, painter: QPainter, of: Theme, width: int) -> None:
        for spot in self.spots:
            painter.fillRect(spot.rect, of.ink)


@pytest.fixture
def squares(qtbot: QtBot, prepared: QApplication) -> Squares:
    made = Squares()
    qtbot.addWidget(made)
    made.resize(100, 100)
    with qtbot.waitExposed(made):
        made.show()
    made.setFocus()
    return made


def test_arrows_go_to_the_nearest_and_enter_does_it(squares: Squares) -> None:
    key(squares, Qt.Key.Key_Right)
    assert squares.at == "nw"
    key(squares, Qt.Key.Key_Right)
    key(squares, Qt.Key.Key_Down)
    assert squares.at == "se"
    key(squares, Qt.Key.Key_Down)
    assert squares.at == "se"
    key(squares, Qt.Key.Key_Return)
    assert squares.pressed == ["se"]
    key(squares, Qt.Key.Key_Home)
    assert squares.at == "nw"


def test_a_click_chooses_and_does_it_and_beside_all_nothing_is_chosen(squares: Squares) -> None:
    click(squares, squares.spots[2].rect.center())
    assert (squares.at, squares.pressed) == ("sw", ["sw"])
    click(squares, QRect(45, 45, 2, 2).center())
    assert squares.at is None


def test_what_is_chosen_stays_over_a_new_layout_and_goes_with_its_spot(squares: Squares) -> None:
    squares.choose("se")
    squares.refresh()
    assert squares.at == "se"
    squares.names = ("nw", "ne")
    squares.refresh()
    assert squares.at is None


def test_a_screen_reader_hears_the_list_and_its_spots(squares: Squares) -> None:
    root = QAccessible.queryAccessibleInterface(squares)
    assert root is not None
    assert root.text(QAccessible.Text.Name) == "squares"
    assert root.childCount() == 4
    last = root.child(3)
    assert last is not None
    assert last.text(QAccessible.Text.Name) == "se"
    assert last.text(QAccessible.Text.Description) == "the square se"
    assert last.role() == QAccessible.Role.Button
    assert last.rect().size() == squares.spots[3].rect.size()
    squares.choose("se")
    assert READER.said[-1] == "the square se"
    assert last.state().selected


def test_of_several_spots_the_smallest_is_under_the_pointer() -> None:
    row = Spot(id="row", rect=QRect(0, 0, 100, 20), name="row")
    block = Spot(id="block", rect=QRect(10, 0, 20, 20), name="block")
    assert spot_at((block, row), QRect(15, 5, 1, 1).center()) is block
    assert spot_at((block, row), QRect(50, 5, 1, 1).center()) is row
    assert spot_at((block, row), QRect(50, 50, 1, 1).center()) is None


def test_an_arrow_prefers_what_lies_straight_ahead() -> None:
    here = Spot(id="here", rect=QRect(0, 0, 10, 10), name="")
    aside = Spot(id="aside", rect=QRect(20, 40, 10, 10), name="")
    ahead = Spot(id="ahead", rect=QRect(60, 0, 10, 10), name="")
    assert beside((here, aside, ahead), here, 1, 0) is ahead
    assert beside((here, aside), here, 1, 0) is aside
    assert beside((here,), here, 1, 0) is None
