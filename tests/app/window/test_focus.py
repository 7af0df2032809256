"""Where Tab goes and that it is seen: in every view each stop has a name and a frame of its own."""

import gc
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QColor, QImage
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from shiboken6 import isValid

from app.document import Document
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.spots.drawn import Drawn
from app.window.startup import empty_book
from app.window.theme import theme
from app.window.views.view import Which
from app.window.workshop.parts import PARTS
from tests.app.window.colour import contrast
from tests.app.window.conftest import HandEngine
from tests.app.window.hands import click, key
from tests.app.window.scenes import outcome_for, planted

Key = Qt.Key
MOST = 400
"""A round of Tab that is longer than this never ends."""


def settle() -> None:
    for _ in range(4):
        QApplication.processEvents()


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert isinstance(found, QWidget)
    return found


def go(window: MainWindow, place: str) -> None:
    """Bring a view, a part of the workshop, the editor, keys or the first start to the front."""
    if place == "first start":
        window.desk.take(Document(empty_book(window.words)))
        window.show_work()
    elif place == "editor":
        key(window.wall, "e")
    elif place == "keys":
        window.show_keys()
    elif place == "new job":
        key(window.wall, "n")
    elif place in PARTS:
        key(window.wall, "w")
        key(at(), str(PARTS.index(place) + 1))
    else:
        window.shelf.show(Which(place))
    window.activateWindow()
    settle()


def round_of(window: MainWindow, look: Callable[[QWidget], object] = lambda _: None) -> list[str]:
    """Press Tab from the sentence until it comes round; give the names of what had the keyboard.

    look: is shown each of them while it has it.
    """
    first = window.tabbing.sentence
    first.setFocus(Qt.FocusReason.TabFocusReason)
    found: list[str] = []
    while not found or at() is not first:
        look(at())
        found.append(name_of(at()))
        assert len(found) < MOST, found
        key(at(), Key.Key_Tab)
        settle()
    return found


def name_of(widget: QWidget) -> str:
    """What a screen reader calls it."""
    interface = QAccessible.queryAccessibleInterface(widget)
    assert interface is not None
    return interface.text(QAccessible.Text.Name)


def test_tab_goes_from_the_sentence_over_the_wall_to_the_foot_and_back(window: MainWindow) -> None:
    item = window.wall.wall.rows[0].blocks[1]
    click(window.wall, window.wall.item_rect(item).center())
    stops, wall = window.tabbing, window.wall
    expected = [
        stops.sentence, stops.next, *window.shelf.words, stops.find, wall, window.slip, window.foot
    ]  # fmt: skip
    seen: list[QWidget] = []
    assert round_of(window, seen.append)[0].startswith("All three jobs fit their windows")
    assert seen == expected

    back = [at()]
    for _ in expected[1:]:
        key(at(), Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
        back.append(at())
    assert back == [expected[0], *reversed(expected[1:])]


def test_arrows_stay_in_the_wall(window: MainWindow) -> None:
    key(window.wall, Key.Key_Down)
    for which in (Key.Key_Right, Key.Key_Down, Key.Key_Left, Key.Key_Up):
        key(at(), which)
        assert at() is window.wall


def test_find_is_a_stop_that_enter_opens(window: MainWindow) -> None:
    window.tabbing.find.setFocus()
    assert window.tabbing.find.accessibleName() == "Find a segment, person or day, F"
    key(at(), Key.Key_Return)
    assert window.hand.find_part.isVisible()
    assert isinstance(at(), QLineEdit)


PLACES = [*(each.value for each in Which), *PARTS, "editor", "keys", "new job", "first start"]


@pytest.mark.parametrize("place", PLACES)
def test_every_stop_of_every_view_is_named_and_seen(window: MainWindow, place: str) -> None:
    go(window, place)
    unseen: list[str] = []

    def look(widget: QWidget) -> None:
        if not is_seen(window, widget):
            unseen.append(name_of(widget) or type(widget).__name__)

    names = round_of(window, look)
    assert not [place for place, name in enumerate(names) if not name], names[-9:]
    assert not unseen
    assert names[0] == window.masthead.shown.sentence
    assert {name_of(word) for word in window.shelf.words} <= set(names)
    assert len(names) > len(window.shelf.words) + 1, "something of the view itself"


@pytest.mark.parametrize("place", PLACES)
def test_every_spot_of_every_view_is_told_in_words(window: MainWindow, place: str) -> None:
    go(window, place)
    for drawn in window.findChildren(Drawn):
        if not drawn.isVisible():
            continue
        root = QAccessible.queryAccessibleInterface(drawn)
        assert root is not None
        assert root.childCount() == len(drawn.spots)
        for index in range(root.childCount()):
            spot = root.child(index)
            assert spot.text(QAccessible.Text.Name).strip(), (place, drawn.accessibleName(), index)
            assert spot.state().focusable


def is_seen(window: MainWindow, widget: QWidget) -> bool:
    """Say whether a stop looks otherwise with the keyboard than without, in ink or paper."""
    there = shot(window, widget)
    widget.clearFocus()
    gone = shot(window, widget)
    widget.setFocus(Qt.FocusReason.TabFocusReason)
    changed = differing(there, gone)
    return sum(contrast(one, other) >= 3 for one, other in changed) >= 20


def shot(window: MainWindow, widget: QWidget) -> QImage:
    corner = widget.mapTo(window, QPoint())
    return window.grab(QRect(corner, widget.size())).toImage()


def differing(one: QImage, other: QImage) -> list[tuple[str, str]]:
    assert one.size() == other.size()
    found = []
    for y in range(one.height()):
        if one.constScanLine(y) != other.constScanLine(y):
            for x in range(one.width()):
                a, b = one.pixel(x, y), other.pixel(x, y)
                if a != b:
                    found.append((QColor(a).name(), QColor(b).name()))
                    if len(found) > 4000:
                        return found
    return found


def test_going_round_keeps_nothing_of_what_is_put_away(window: MainWindow) -> None:
    def unusable() -> int:
        gc.collect()
        return sum(isinstance(each, QWidget) and not isValid(each) for each in gc.get_objects())

    def to_and_fro() -> None:
        for item in window.wall.wall.rows[0].blocks[1:4]:
            click(window.wall, window.wall.item_rect(item).center())
            for which in ("b", Key.Key_Tab, Key.Key_Escape, "e", Key.Key_Tab, Key.Key_Escape):
                key(at(), which)
                settle()

    to_and_fro()
    before = unusable()
    to_and_fro()
    assert unusable() == before


# The frames, and what is said.


@pytest.mark.parametrize("ground", ["light", "dark"])
def test_a_spot_is_framed_in_ink_and_in_paper(window: MainWindow, ground: str) -> None:
    """Two pixels of each, so that one of them is seen whatever it lies on."""
    window.ground.set_look(ground)
    go(window, "people")
    part = at()
    assert isinstance(part, Drawn)
    key(part, Key.Key_Down)
    spot = part.spot(part.at)
    assert spot is not None
    image, of = part.grab().toImage(), theme(ground)
    for out, ink in ((-2, of.ink), (-1, of.ink), (0, of.paper), (1, of.paper)):
        y = spot.rect.center().y()
        assert image.pixelColor(spot.rect.left() + out, y).name() == ink.name()


def test_the_sentence_of_a_plan_is_said_once(window: MainWindow, engine: HandEngine) -> None:
    READER.said.clear()
    key(window.wall, Key.Key_Space)
    engine.answer(outcome_for(planted()))
    sentence = window.masthead.shown.sentence
    assert sentence.startswith("All three jobs fit")
    for which in (Key.Key_Down, Key.Key_Right, Key.Key_G, Key.Key_Tab, Key.Key_Tab):
        key(at(), which)
    window.change_text(1)
    window.change_text(-1)
    window.refresh_state()
    window.desk.note = "Saved."
    window.refresh_state()
    assert READER.said.count(sentence) == 1

    engine.answer(outcome_for(planted(), spare_days=1))
    another = window.masthead.shown.sentence
    assert another != sentence
    assert READER.said.count(another) == 1
