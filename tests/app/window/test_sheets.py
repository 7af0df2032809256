"""Sheets with hands: shown by S, saved by Enter, told by Y; the PDF read back by its own bytes."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget

from app.window.main import MainWindow
from app.window.sheets.layout import HIGH, WIDE
from app.window.sheets.paper import pdf_of, picture_of
from app.window.sheets.view import SheetsView
from app.window.views.view import Which
from app.words import sheets as say
from app.words.language import speak
from shared.book import Leave, Told
from tests.app.window import pdf_text
from tests.app.window.conftest import HandAsker, HandEngine
from tests.app.window.hands import key
from tests.app.window.scenes import outcome_for, planted

WHY = "a broken arm"
A4 = (595, 842)
"""ISO 216: 210 by 297 mm, in points, as whole as a PDF has them."""


def view_of(window: MainWindow) -> SheetsView:
    view = window.shelf.view
    assert isinstance(view, SheetsView)
    return view


def focus() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def told(window: MainWindow) -> Told | None:
    document = window.desk.document
    assert document is not None
    return document.book.told


# Showing and saving.


def test_todays_sheets_are_two_actions_from_the_wall(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "today"
    key(window.wall, "s")
    key(focus(), Qt.Key.Key_Return)
    assert window.shelf.front is Which.SHEETS
    data = (tmp_path / "today.pdf").read_bytes()
    assert data.startswith(b"%PDF-")
    assert pdf_text.boxes(data) == [A4] * len(view_of(window).shown.pages)  # type: ignore[union-attr]
    assert "today.pdf" in window.desk.note
    assert [path.name for path in tmp_path.iterdir()] == ["today.pdf"]


@pytest.mark.parametrize("ctrl", [2, 3, 4, 5])
def test_s_shows_them_from_any_view(window: MainWindow, ctrl: int) -> None:
    key(window, getattr(Qt.Key, f"Key_{ctrl}"), Qt.KeyboardModifier.ControlModifier)
    key(focus(), "s")
    fronts = [window.shelf.front]
    key(focus(), Qt.Key.Key_Escape)
    fronts.append(window.shelf.front)
    assert fronts == [Which.SHEETS, Which.WALL]


def test_the_words_of_the_pdf_are_those_of_the_sheet(window: MainWindow) -> None:
    key(window.wall, "s")
    shown = view_of(window).shown
    assert shown is not None
    data = pdf_of(shown.pages, shown.sheet.title)
    (first, *_) = pdf_text.pages(data)
    assert first[:3] == [shown.sheet.title, shown.sheet.shop, shown.sheet.number_line]
    for person in shown.sheet.people:
        at = first.index(person.name)
        for row in person.rows:
            if row.start:
                assert row.start in first[at:]
                assert row.end in first[at:]
    assert not any("\t" in text or "\x00" in text for text in first)
    assert b"/FontFile2" in data
    assert b"/Subtype /Image" not in data


def test_only_black_is_printed(window: MainWindow) -> None:
    key(window.wall, "s")
    shown = view_of(window).shown
    assert shown is not None
    data = pdf_of(shown.pages, "")
    inks = pdf_text.inks(data)
    assert inks == {b"0 0 0", b"1 1 1"}
    image = picture_of(shown.pages[0])
    at = ((x, y) for x in range(0, image.width(), 7) for y in range(0, image.height(), 7))
    colours = [image.pixelColor(x, y) for x, y in at]
    assert all(c.red() == c.green() == c.blue() for c in colours)


CTRL_SHIFT = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def test_ctrl_shift_p_saves_the_page_on_top(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "page.png"
    key(window.wall, "s")
    key(focus(), Qt.Key.Key_P, CTRL_SHIFT)
    image = QImage(str(asker.path))
    assert image.size() == QSize(round(WIDE * 200 / 254), round(HIGH * 200 / 254))


def test_what_can_not_be_written_is_said_and_leaves_nothing(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "gone" / "today.pdf"
    key(window.wall, "s")
    key(focus(), Qt.Key.Key_Return)
    assert window.desk.trouble
    assert view_of(window).headline().is_alarm
    assert not list(tmp_path.iterdir())


def test_nobody_asked_where_saves_nothing(window: MainWindow, tmp_path: Path) -> None:
    key(window.wall, "s")
    key(focus(), Qt.Key.Key_Return)
    assert not window.desk.note
    assert not list(tmp_path.iterdir())


def test_a_page_for_each_person(window: MainWindow) -> None:
    key(window.wall, "s")
    view = view_of(window)
    assert view.shown is not None
    people = view.shown.sheet.people
    key(focus(), "o")
    assert view.shown is not None
    heads = [page.blocks[0].block.told for page in view.shown.pages]
    named = [person.name for person in people]
    assert len(heads) >= len(named)
    assert all(any(head.startswith(f"{name}: ") for head in heads) for name in named)
    key(focus(), "o")
    assert len(view.shown.pages) < len(heads)


def test_arrows_go_to_other_working_days_but_never_behind_today(window: MainWindow) -> None:
    key(window.wall, "s")
    view = view_of(window)
    assert view.shown is not None
    today = view.shown.sheet.date
    key(focus(), Qt.Key.Key_Left)
    assert view.shown.sheet.date == today
    for _ in range(5):
        key(focus(), Qt.Key.Key_Right)
    assert (view.shown.sheet.date - today).days == 7
    key(focus(), Qt.Key.Key_Left)
    assert (view.shown.sheet.date - today).days == 4


# Never.


def test_why_somebody_is_away_is_in_no_sheet_no_file_and_no_spot(
    bare_window: MainWindow, engine: HandEngine
) -> None:
    from app.document import Document

    made = planted()
    start = made.now
    leave = Leave(start=start, end=start.replace(day=start.day + 3), reason=WHY)
    first = replace(made.book.people[0], leave=(leave,))
    book = replace(made.book, people=(first, *made.book.people[1:]))
    bare_window.desk.take(Document(book))
    bare_window.show_work()
    bare_window.show()
    engine.answer(outcome_for(made))
    key(bare_window.wall, "s")
    view = view_of(bare_window)
    assert view.shown is not None
    data = pdf_of(view.shown.pages, view.shown.sheet.title)
    printed = " ".join(text for page in pdf_text.pages(data) for text in page)
    spots = (*view.pages.spots, *view.side.spots)
    seen = " ".join([printed, *(spot.description for spot in spots)])
    assert f"{first.name} is away, back " in printed
    assert WHY not in seen
    assert WHY.encode() not in data


def test_a_window_left_open_over_night_saves_and_tells_nothing_as_fresh(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "morning.pdf"
    key(window.wall, "s")
    now = window.desk.now
    window.desk._fixed_now = now.replace(day=now.day + 1)
    key(focus(), Qt.Key.Key_Return)
    pages = pdf_text.pages(asker.path.read_bytes())
    assert all(any(text.startswith("OLD PLAN. It was made") for text in page) for page in pages)
    key(focus(), "y")
    assert told(window) is None


def test_without_a_plan_nothing_is_saved_or_told(
    bare_window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    from app.document import Document

    bare_window.desk.take(Document(planted().book))
    bare_window.show_work()
    bare_window.show()
    asker.path = tmp_path / "none.pdf"
    key(bare_window.wall, "s")
    key(view_of(bare_window).pages, Qt.Key.Key_Return)
    key(view_of(bare_window).pages, "y")
    assert not list(tmp_path.iterdir())
    assert told(bare_window) is None
    assert view_of(bare_window).headline().sentence == bare_window.desk.words.say(say.NO_PLAN)


# Telling.


def test_y_tells_the_plan_in_one_edit_that_is_taken_back(window: MainWindow) -> None:
    desk = window.desk
    key(window.wall, "s")
    assert any("NOT TOLD" in mark for mark in view_of(window).shown.sheet.marks)  # type: ignore[union-attr]
    key(focus(), "y")
    now_told = told(window)
    assert now_told is not None
    assert (now_told.sheet_number, now_told.plan) == (1, desk.plan)
    assert desk.document is not None
    assert desk.document.undo_label is not None
    assert desk.document.undo_label.code == "tell_plan"
    shown = view_of(window).shown
    assert shown is not None
    assert not shown.sheet.marks
    desk.undo()
    assert told(window) is None


def test_the_next_sheet_is_marked_against_the_one_before(
    window: MainWindow, engine: HandEngine
) -> None:
    desk = window.desk
    key(window.wall, "s")
    key(focus(), "y")
    made = planted()
    assert made.plan is not None
    assert desk.document is not None
    placed = next(p for p in made.plan.placements if p.people)
    people = tuple(p.id for p in desk.document.book.people if p.id not in placed.people)
    other = replace(placed, people=people[: len(placed.people)])
    revision = desk.document.book.revision
    plan = replace(
        made.plan,
        made_from=replace(made.plan.made_from, revision=revision),
        placements=tuple(other if p is placed else p for p in made.plan.placements),
    )
    engine.answer(replace(outcome_for(made), plan=plan, revision=revision))
    view = view_of(window)
    view.day = placed.start.date()
    view.refresh()
    assert view.shown is not None
    before = view.shown.sheet
    assert (before.number, before.is_told, bool(before.changes)) == (2, False, True)
    key(focus(), "y")
    now_told = told(window)
    assert now_told is not None
    assert now_told.sheet_number == 2
    after = view.shown.sheet
    assert (after.number, after.is_told, after.changes) == (2, True, before.changes)
    assert "throw sheet 1 away" in after.number_line


def test_nobody_is_told_an_old_plan_or_the_same_twice(window: MainWindow) -> None:
    desk = window.desk
    key(window.wall, "s")
    key(focus(), "y")
    key(focus(), "y")
    now_told = told(window)
    assert now_told is not None
    assert now_told.sheet_number == 1
    assert "already" in desk.note
    from shared.edits import add_leave

    assert desk.document is not None
    book = desk.document.book
    leave = Leave(start=desk.now, end=desk.now.replace(day=desk.now.day + 2))
    desk.edit(add_leave(book, book.people[0].id, leave))
    key(focus(), "y")
    again = told(window)
    assert again is not None
    assert again.sheet_number == 1
    assert not any(line.id == "tell" for line in view_of(window).side.lines)


# Keyboard, reader, ground.


def test_down_reads_person_after_person(window: MainWindow) -> None:
    key(window.wall, "s")
    pages = view_of(window).pages
    read = []
    for _ in range(60):
        key(pages, Qt.Key.Key_Down)
        spot = pages.spot(pages.at)
        assert spot is not None
        if spot.description not in read:
            read.append(spot.description)
    shown = view_of(window).shown
    assert shown is not None
    told_people = [
        text for text in read if any(text.startswith(f"{p.name}.") for p in shown.sheet.people)
    ]
    assert len(told_people) == len(shown.sheet.people)
    working = next(p for p in shown.sheet.people if p.rows[0].start)
    mine = next(text for text in told_people if text.startswith(f"{working.name}."))
    row = working.rows[0]
    assert f"{row.start} to {row.end}: {row.segment}, {row.stage}" in mine


def test_the_side_does_by_click_and_enter_what_its_keys_do(window: MainWindow) -> None:
    key(window.wall, "s")
    side = view_of(window).side
    side.setFocus()
    side.choose("each")
    key(side, Qt.Key.Key_Return)
    assert view_of(window).is_each
    side.choose("tell")
    key(side, Qt.Key.Key_Return)
    assert told(window) is not None


@pytest.mark.parametrize("ground", ["light", "dark"])
def test_it_is_drawn_in_the_colours_of_the_ground(window: MainWindow, ground: str) -> None:
    key(window.wall, "s")
    while window.property("ground") != ground:
        window.change_ground()
    image = view_of(window).grab().toImage()
    dark = sum(
        image.pixelColor(x, 300).lightness() < 90 for x in range(100, image.width() - 400, 5)
    )
    is_dark = dark > 80
    assert is_dark == (ground == "dark")


def test_larger_text_makes_larger_pages_and_the_same_paper(window: MainWindow) -> None:
    key(window.wall, "s")
    view = view_of(window)
    assert view.shown is not None
    before, wide = view.shown.pages, view.pages.page_width(2000)
    window.change_text(1)
    try:
        view.refresh()
        assert view.pages.page_width(2000) > wide
        assert view.shown.pages == before
    finally:
        window.change_text(-1)


def test_german_sheets_have_no_english(window: MainWindow) -> None:
    desk = window.desk
    speak("de")
    try:
        from app.words import Words

        assert desk.document is not None
        desk.words = Words("de", book=desk.document.book)
        key(window.wall, "s")
        shown = view_of(window).shown
        assert shown is not None
        printed = [text for page in pdf_text.pages(pdf_of(shown.pages, "")) for text in page]
        english = {"who", "from", "segment", "stage", "place", "with", "hours", "done"}
        assert english.isdisjoint(printed)
        assert any(text == "1 von 1" or text.startswith("1 von ") for text in printed)
    finally:
        speak("en")
