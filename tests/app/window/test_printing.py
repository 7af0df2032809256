"""Paper through the system's printer, or as PDF where there is none; and what is never on it."""

import re
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.main import MainWindow
from app.window.orders.view import OrdersView
from app.window.people.view import PeopleView
from app.window.printing import cuts, whole
from app.window.sheets.view import SheetsView
from app.window.theme import theme
from app.window.tokens import PAPER
from app.window.views.view import Which
from app.window.workshop.view import WorkshopView
from shared.book import Leave
from shared.edits import change_person
from tests.app.window.bought import bought
from tests.app.window.conftest import HandAsker, HandEngine
from tests.app.window.scenes import outcome_for, planted

WHY = "dentist"
_BOX = re.compile(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]")
A4, A3 = (595, 842), (842, 1191)
"""ISO 216 in points of a 72nd of an inch: 210 x 297 mm and 297 x 420 mm."""


class HandPrinters:
    """Stands in for the system: prints into a file, on a paper of one's choice."""

    def __init__(self, path: Path, paper: QPageSize.PageSizeId | None = None) -> None:
        self.path, self.paper, self.asked = path, paper, list[QPageLayout]()
        self.is_given_up = False

    def are_there(self) -> bool:
        return True

    def ask(self, parent: QWidget, title: str, layout: QPageLayout) -> QPrinter | None:
        del parent, title
        self.asked.append(layout)
        if self.is_given_up:
            return None
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.path))
        printer.setPageLayout(layout)
        if self.paper is not None:
            printer.setPageSize(QPageSize(self.paper))
        return printer


class NoPrinters(HandPrinters):
    """A computer without a printer."""

    def are_there(self) -> bool:
        return False


def boxes(path: Path) -> list[tuple[int, int]]:
    """Give the pages of a PDF in points."""
    return [(round(float(w)), round(float(h))) for w, h in _BOX.findall(path.read_bytes())]


@pytest.fixture
def printers(window: MainWindow, tmp_path: Path) -> HandPrinters:
    made = HandPrinters(tmp_path / "out.pdf")
    window.printing.printers = made
    return made


@pytest.mark.parametrize(
    ("which", "size"),
    [
        (Which.WALL, A3[::-1]),
        (Which.PEOPLE, A4[::-1]),
        (Which.ORDERS, A4[::-1]),
        (Which.WORKSHOP, A4[::-1]),
        (Which.SHEETS, A4),
    ],
)
def test_what_is_in_front_is_printed(
    window: MainWindow, printers: HandPrinters, which: Which, size: tuple[int, int]
) -> None:
    window.shelf.show(which)
    window.printing.print_front()

    found = boxes(printers.path)
    assert found
    assert all(abs(a - b) <= 1 for box in found for a, b in zip(box, size, strict=True))
    assert b"/Font" in printers.path.read_bytes()
    assert window.desk.note == f"Sent to {printers.path}."


def test_the_printers_own_paper_is_taken(window: MainWindow, printers: HandPrinters) -> None:
    printers.paper = QPageSize.PageSizeId.A4
    window.printing.print_front()

    assert boxes(printers.path) == [A4[::-1]]


def test_giving_up_prints_nothing(window: MainWindow, printers: HandPrinters) -> None:
    printers.is_given_up = True
    window.printing.print_front()

    assert len(printers.asked) == 1
    assert not printers.path.exists()
    assert window.desk.note == ""


def test_without_a_printer_it_is_said_and_a_pdf_is_saved(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    window.printing.printers = NoPrinters(tmp_path / "never.pdf")
    asker.path = tmp_path / "wall"
    window.printing.print_front()

    path = tmp_path / "wall.pdf"
    assert path.read_bytes().startswith(b"%PDF")
    assert window.desk.note == f"No printer is set up here. It is saved as PDF: {path}."
    assert not (tmp_path / "never.pdf").exists()


def test_sheets_are_printed_page_by_page_as_they_are_saved(
    window: MainWindow, printers: HandPrinters
) -> None:
    window.shelf.show(Which.SHEETS)
    view = window.shelf.view
    assert isinstance(view, SheetsView)
    view.turn()
    assert view.shown is not None
    assert "NOT TOLD" in view.shown.sheet.marks[0]
    window.printing.print_front()

    assert len(boxes(printers.path)) == len(view.shown.pages) > 1


@pytest.fixture
def away(qtbot: QtBot, bare_window: MainWindow, engine: HandEngine) -> MainWindow:
    """A window in which somebody is away, and why is written down."""
    made = planted()
    first = made.book.people[0]
    leave = Leave(start=made.now, end=made.now + timedelta(days=2), reason=WHY)
    book = change_person(made.book, replace(first, leave=(leave,))).book
    bare_window.desk.take(Document(book))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(outcome_for(replace(made, book=book)))
    return bare_window


def test_why_somebody_is_away_is_in_no_picture_and_on_no_paper(away: MainWindow) -> None:
    away.shelf.show(Which.PEOPLE)
    view = away.shelf.view
    assert isinstance(view, PeopleView)
    assert WHY in told(view)

    with view.given_away():
        assert WHY not in told(view)
        assert "away" in told(view)
        given = view.grab().toImage()
    assert WHY in told(view)
    assert view.picture() == given
    assert view.grab().toImage() != given


def told(view: PeopleView) -> str:
    """Give all that the rows say."""
    assert view.part.board is not None
    bars = [bar for line in view.part.board.people for bar in line.bars]
    return " ".join(f"{bar.what} {bar.stage} {bar.name} {bar.description}" for bar in bars)


def test_the_workshops_page_on_paper_does_not_say_why_either(away: MainWindow) -> None:
    away.shelf.show(Which.WORKSHOP)
    view = away.shelf.view
    assert isinstance(view, WorkshopView)
    view.paper.lay_out()
    assert view.paper.blank("person away 1 reason").text() == WHY

    with view.given_away():
        assert view.paper.blank("person away 1 reason").text() == ""
    assert view.paper.blank("person away 1 reason").text() == WHY
    assert away.desk.document is not None
    assert away.desk.document.book.people[0].leave[0].reason == WHY


def test_a_view_is_black_on_paper_and_as_it_was_after_that(
    window: MainWindow, printers: HandPrinters
) -> None:
    window.ground.set_look("dark")
    window.shelf.show(Which.ORDERS)
    before, where = window.grab().toImage(), window.shelf.view
    assert where is not None
    window.printing.print_front()
    window.desk.note = ""
    window.refresh_state()

    assert window.grab().toImage() == before
    with window.ground.on_paper():
        assert where.grab().toImage().pixelColor(4, 40) == QColor(PAPER.paper)
    assert printers.path.exists()


def test_the_wall_on_paper_is_grey(window: MainWindow) -> None:
    image = QImage(QSize(1680, 1188), QImage.Format.Format_RGB32)
    image.fill(QColor("#FFFFFF"))
    painter = QPainter(image)
    (page,) = window.printing._wall_pages(image.size())
    page(painter, image.size())
    painter.end()

    colours = {image.pixelColor(x, y).name() for x in range(0, 1680, 3) for y in range(0, 1188, 3)}
    assert len(colours) > 8
    assert all(c[1:3] == c[3:5] == c[5:7] for c in colours)
    assert theme(PAPER.name).veil.alpha() == 0


def test_a_long_list_goes_on_over_the_pages_without_cutting_a_line(
    qtbot: QtBot, bare_window: MainWindow, engine: HandEngine
) -> None:
    made = bought()
    bare_window.desk.take(Document(made.book))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(outcome_for(made))
    bare_window.shelf.show(Which.ORDERS)
    view = bare_window.shelf.view
    assert isinstance(view, OrdersView)

    was = view.geometry()
    with whole(view):
        found = cuts(view, 260)
        spots = [
            (part.mapTo(view, spot.rect.topLeft()).y(), spot.rect.height())
            for part in (view.to_order, view.on_order)
            for spot in part.spots
        ]
        high = view.height()
    assert view.geometry() == was
    assert len(found) > 1
    assert (found[0][0], found[-1][1]) == (0, high)
    assert [b for _, b in found[:-1]] == [a for a, _ in found[1:]]
    assert not [y for _, y in found[:-1] for top, tall in spots if top < y < top + tall]
