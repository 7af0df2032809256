"""What records say, on the workshop's page: the picture, what is offered, and taking it."""

from dataclasses import replace
from math import log

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.main import MainWindow
from app.window.workshop.dots import Dots
from app.window.workshop.items import Text
from app.window.workshop.parts import PARTS
from app.window.workshop.view import WorkshopView
from shared.book import Book, Kind
from shared.estimate.learning import learning_of
from shared.routes.learned import factor_taken
from tests.app.cli.test_learn import whole
from tests.app.window.hands import click, key
from tests.shared.test_learning import of_hours, recorded

CTRL = Qt.KeyboardModifier.ControlModifier
HOURS = {"one": 3.0, "two": 3.0, "three": 3.0, "four": 3.0, "five": 4.0, "short": 0.25}
"""Of four estimated each; the last can't be, under a third of them."""


def page_of(qtbot: QtBot, window: MainWindow, book: Book) -> WorkshopView:
    window.desk.take(Document(book))
    window.show_work()
    window.resize(1366, 768)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    window.wall.setFocus()
    key(window.wall, "w")
    page = window.shelf.view
    assert isinstance(page, WorkshopView)
    key(page.contents, str(PARTS.index("learned") + 1))
    QApplication.processEvents()
    return page


@pytest.fixture
def page(qtbot: QtBot, bare_window: MainWindow) -> WorkshopView:
    return page_of(qtbot, bare_window, whole(recorded(HOURS)))


def texts(page: WorkshopView) -> list[str]:
    return [item.text for item in page.paper.part.items if isinstance(item, Text)]


def test_the_picture_holds_each_kind_with_its_records_and_what_they_come_to(
    page: WorkshopView,
) -> None:
    assert page.dots.isVisible()
    (foam,) = page.dots.kinds
    assert (foam.kind, foam.count, foam.is_offered) == (Kind.FOAM, 5, True)
    assert sorted(foam.ratios) == pytest.approx([0.75] * 4 + [1.0])
    spot = page.dots.spot("foam")
    assert spot is not None
    assert spot.description.startswith("Foam: 0.")
    assert "5 records alone say 0.79" in spot.description
    assert spot.do is None


def test_errors_of_booking_are_listed_with_why(page: WorkshopView) -> None:
    assert "Short for Fox: 0.25 h recorded, 4 h estimated: under a third." in texts(page)
    assert "Nothing is applied by itself" in " ".join(texts(page))


def test_ratios_stand_on_a_line_of_logarithms(page: WorkshopView) -> None:
    dots, width = page.dots, page.dots.width()
    places = [dots.place_of(ratio, width) for ratio in (1 / 3, 0.5, 1.0, 2.0, 3.0)]
    assert places == sorted(places)
    assert places[2] - places[1] == pytest.approx(places[3] - places[2])
    assert (places[2] - places[1]) / (places[4] - places[2]) == pytest.approx(log(2) / log(3))


@pytest.mark.parametrize("by", ["click", "Enter"])
def test_a_factor_is_taken_on_a_word_only_and_is_one_step_back(page: WorkshopView, by: str) -> None:
    before, dots = page.book, page.dots
    offer = dots.spot("take foam")
    row = dots.spot("foam")
    assert offer is not None
    assert row is not None
    click(dots, row.rect.topLeft())
    assert page.book is before
    if by == "click":
        click(dots, offer.rect.center())
    else:
        dots.choose(offer.id)
        key(dots, Qt.Key.Key_Return)
    foam = learning_of(before).of(Kind.FOAM)
    assert factor_taken(page.book.workshop, Kind.FOAM) == foam.factor
    assert page.book.jobs == before.jobs
    assert page.desk.note == (
        f"New estimates of foam are multiplied by {foam.factor:.2f} from now on, from 5 records."
    )
    QApplication.processEvents()
    assert dots.spot("take foam") is None
    told = dots.spot("foam")
    assert told is not None
    assert f"Estimates use {foam.factor:.2f}." in told.description
    key(page.contents, Qt.Key.Key_Z, CTRL)
    assert page.book.workshop == before.workshop
    assert dots.spot("take foam") is not None


def test_too_few_records_offer_nothing_and_none_say_how_they_come_about(
    qtbot: QtBot, bare_window: MainWindow
) -> None:
    page = page_of(qtbot, bare_window, whole(of_hours(3, 3)))
    assert page.dots.spot("take foam") is None
    spot = page.dots.spot("foam")
    assert spot is not None
    assert "Nothing is offered before 5 records." in spot.description
    empty = whole(of_hours(4))
    bare_window.desk.take(Document(replace(empty, facts=())))
    QApplication.processEvents()
    QApplication.processEvents()
    assert texts(page)[0].startswith("Nothing is on record yet.")
    assert page.dots.isHidden()


def test_a_reader_hears_the_picture_kind_by_kind(page: WorkshopView) -> None:
    assert isinstance(page.dots, Dots)
    heard = QAccessible.queryAccessibleInterface(page.dots)
    assert heard is not None
    assert heard.text(QAccessible.Text.Name) == "Recorded hours against estimates, by kind of work"
    assert heard.childCount() == len(page.dots.spots)
