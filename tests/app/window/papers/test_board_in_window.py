"""The week board from the sheets in the window."""

from pathlib import Path

from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.sheets.view import SheetsView
from tests.app import pdf_read
from tests.app.window.conftest import HandAsker
from tests.app.window.hands import key


def test_b_saves_the_board_of_the_week_that_the_sheets_are_of(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "week"
    key(window.wall, "s")
    view = window.shelf.view
    assert isinstance(view, SheetsView)
    key(QApplication.focusWidget() or view, "b")
    assert view.shown is not None
    data = (tmp_path / "week.pdf").read_bytes()
    texts = pdf_read.page_texts(data)

    assert pdf_read.sizes(data) == [(1191, 842)] * len(texts)
    assert all(f"{view.shown.sheet.date.day}" in text for text in texts)
    assert all(mark in text for text in texts for mark in view.shown.sheet.marks)
    assert view.shown.sheet.marks
    people = {person.name for person in view.shown.sheet.people}
    assert all(any(name in text for text in texts) for name in people)
    assert "week.pdf" in window.desk.note


def test_no_board_is_asked_for_where_nothing_is_planned(
    bare_window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "week"
    view = SheetsView(bare_window.desk, bare_window.filing)
    view.save_board()

    assert not list(tmp_path.iterdir())
