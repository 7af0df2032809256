"""Writing a job over the whole sheet: hands in its sentences, its grid and its strip."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.bits import KeyWord
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.sheet.blanks import Note
from app.window.sheet.side import only_job
from app.window.trial import Trial
from app.window.wall import moves
from app.words import Words
from shared.book import (
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Opening,
    Standing,
)
from shared.edits import Label, change_job
from shared.examine import examine
from shared.ids import FactId, JobId, StepId
from tests.app.window import hands
from tests.app.window.conftest import HandEngine
from tests.books.samples import SAMPLES

Key = Qt.Key
SHIFT, CTRL, ALT = (
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
)
TODAY = date(2027, 1, 18)
BOOK = SAMPLES["tight"]()
WORDS = Words("en", book=BOOK)
JOB = BOOK.jobs[0].id
FIRST = BOOK.jobs[0].segments[0].id


def job(book: Book, identity: JobId = JOB) -> Job:
    return next(each for each in book.jobs if each.id == identity)


def stops(book: Book) -> list[str]:
    return [found.code for found in examine(book) if found.stops]


def test_one_job_stands_alone_on_its_own_wall(window: MainWindow) -> None:
    wall = window.wall.wall
    band = wall.bands[1]
    own = only_job(wall, band.job)

    assert [row.segment for row in own.rows] == [row.segment for row in wall.rows if row.band == 1]
    assert {item.job for item in own.items} == {band.job}
    assert min(item.row for item in own.items if item.row >= 0) == 0
    assert only_job(wall, JobId("none")).rows == ()


# Hands.


@pytest.fixture
def writing(qtbot: QtBot, window: MainWindow) -> MainWindow:
    """A window with the sheet open on the carving of the first job's second segment."""
    item = window.wall.wall.rows[1].stops[1]
    window.wall.choose(moves.at(window.wall.wall, item.id, 1))
    window.activateWindow()
    hands.key(window.wall, Key.Key_E)
    settle()
    return window


def settle() -> None:
    for _ in range(3):
        QApplication.processEvents()


def at() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def book(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def undo_says(window: MainWindow, text: str) -> None:
    window.desk.undo()
    settle()
    assert window.desk.note == f"Taken back: {text}"


def test_rows_are_pasted_with_one_key_and_taken_back_with_one(
    writing: MainWindow, engine: HandEngine
) -> None:
    before = book(writing)
    cell = writing.sheet.blank("segment 2 name")
    cell.setFocus()
    QGuiApplication.clipboard().setText("Trunk\t1.4\t0.8\t0.9\nStump\t0.7\t0.7\t0.4\n")
    hands.key(cell, Key.Key_V, CTRL)
    settle()

    assert [s.name for s in book(writing).jobs[0].segments][1:3] == ["Trunk", "Stump"]
    assert writing.sheet.blank("segment 3 length_m").text() == "0.7"
    undo_says(writing, "paste 2 segments into Reading owl")
    assert book(writing).jobs == before.jobs


def test_arrows_enter_and_tab_walk_the_grid(writing: MainWindow) -> None:
    sheet = writing.sheet
    sheet.blank("segment 1 length_m").setFocus()
    hands.key(at(), Key.Key_Down)
    assert at() is sheet.blank("segment 2 length_m")
    assert sheet.segment == book(writing).jobs[0].segments[1].id
    hands.key(at(), Key.Key_Right)
    assert at() is sheet.blank("segment 2 width_m")
    hands.key(at(), Key.Key_Up)
    assert at() is sheet.blank("segment 1 width_m")
    hands.key(at(), Key.Key_Tab)
    assert at() is sheet.blank("segment 1 height_m")
    hands.keys(at(), "1.25")
    hands.key(at(), Key.Key_Return)
    settle()
    assert book(writing).jobs[0].segments[0].height_m == Decimal("1.25")
    assert at() is sheet.blank("segment 2 height_m")


def test_keys_in_the_grid_add_copy_and_remove_segments(writing: MainWindow) -> None:
    def names() -> list[str]:
        return [s.name for s in book(writing).jobs[0].segments]

    have = names()
    writing.sheet.blank("segment 1 name").setFocus()
    hands.key(at(), Key.Key_D, CTRL)
    settle()
    assert names()[:2] == [have[0], f"{have[0]}, again"]
    hands.key(writing.sheet.blank("segment 1 name"), Key.Key_Delete, CTRL)
    settle()
    assert names()[0] == f"{have[0]}, again"
    hands.key(writing.sheet.blank("segment 1 name"), Key.Key_Insert)
    settle()
    assert len(names()) == len(have) + 1


def test_keys_on_the_strip_put_in_move_copy_and_remove_steps(writing: MainWindow) -> None:
    strip = writing.sheet.strip
    strip.setFocus()

    def names() -> list[str]:
        return [each.name for each in strip.steps]

    have, carve = names(), str(writing.sheet.step)
    assert strip.at == carve
    hands.key(strip, Key.Key_Right, ALT)
    settle()
    assert names().index("carve") == have.index("carve") + 1
    hands.key(strip, Key.Key_Left, ALT)
    settle()
    assert names() == have
    hands.key(strip, Key.Key_Insert)
    settle()
    assert names()[have.index("carve") + 1] == "new stage"
    hands.key(strip, Key.Key_D, CTRL)
    settle()
    assert names().count("new stage") == 2
    hands.key(strip, Key.Key_Delete)
    settle()
    hands.key(strip, Key.Key_Insert, SHIFT)
    settle()
    added = next(s for s in book(writing).jobs[0].steps if s.id == writing.sheet.step)
    assert isinstance(added, Gate)
    assert added.gate is GateKind.ANSWER
    undo_says(writing, f"add the step {added.name}")
    hands.key(strip, Key.Key_Insert, CTRL)
    settle()
    added = next(s for s in book(writing).jobs[0].steps if s.id == writing.sheet.step)
    assert isinstance(added, Gate)
    assert added.gate is GateKind.TRIAL_FIT


def test_a_digit_on_the_strip_types_over_the_hours_and_a_typed_figure_is_in_italics(
    qtbot: QtBot, bare_window: MainWindow, engine: HandEngine
) -> None:
    bare_window.desk.take(Document(SAMPLES["small"]()))
    bare_window.show_work()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    bare_window.activateWindow()
    bare_window._write()
    settle()
    sheet = bare_window.sheet
    carve = next(each for each in sheet.strip.steps if each.name == "carve")
    sheet.strip.setFocus()
    sheet.strip.choose(str(carve.step))
    settle()
    assert not carve.is_typed
    assert not sheet.blank("hours likely").is_italic
    hands.key(sheet.strip, "4")
    settle()
    assert at() is sheet.blank("hours likely")
    hands.keys(at(), "4")
    hands.key(at(), Key.Key_Return)
    settle()

    changed = next(each for each in sheet.strip.steps if each.step == carve.step)
    assert (changed.hours, changed.is_typed) == ("44 h", True)
    assert sheet.blank("hours likely").is_italic
    bare_window.desk.undo()
    settle()
    assert not sheet.blank("hours likely").is_italic


def test_arrows_walk_the_strip_and_a_reader_hears_each_step(writing: MainWindow) -> None:
    strip = writing.sheet.strip
    strip.setFocus()
    hands.key(strip, Key.Key_Right)
    settle()
    mine = [each.step for each in strip.steps]
    assert writing.sheet.step == mine[mine.index(StepId(str(strip.at)))]
    assert READER.said[-1] == strip.spot(strip.at).name  # type: ignore[union-attr]
    own = writing.sheet.side.wall
    assert own.spot is not None
    framed = own.wall.item(own.spot.item)
    assert framed is not None
    assert framed.step == writing.sheet.step
    assert own.wall.rows[own.spot.row].segment == writing.sheet.segment
    found = QAccessible.queryAccessibleInterface(strip)
    assert found is not None
    assert found.text(QAccessible.Text.Name) == "How Body is made"
    assert found.childCount() == len(strip.steps)
    assert found.child(1).text(QAccessible.Text.Name).startswith("carve. ")


def test_a_finding_stands_under_its_row_and_marks_its_field(writing: MainWindow) -> None:
    before = book(writing).jobs[0]
    edited = change_job(
        book(writing), replace(before, pencilled_until=None, standing=Standing.PENCILLED)
    )
    writing.desk.edit(edited)
    settle()
    codes = {found.code for found in writing.desk.findings if found.path[-1:]}
    assert codes
    path = next(f for f in writing.desk.findings if "pencilled_until" in f.path)
    assert writing.sheet.note("money") == " ".join(writing.words.finding(path))
    assert writing.sheet.blank("standing")._is_found


def test_hidden_money_is_not_in_the_sentences(writing: MainWindow) -> None:
    assert "price" in writing.sheet.writing.blanks
    writing.desk.hide_money()
    settle()
    assert "price" not in writing.sheet.writing.blanks
    assert "standing" in writing.sheet.writing.blanks
    writing.desk.hide_money()


def test_what_went_wrong_brings_its_work_in_again(writing: MainWindow) -> None:
    step = writing.sheet.step
    assert step is not None
    assert "cause" not in writing.sheet.making.blanks, "nothing was begun"
    done = Fact(
        id=FactId("one"),
        kind=FactKind.DONE,
        step=step,
        at=datetime(2027, 1, 15, 16, tzinfo=UTC),
        told_by="Edda",
    )
    document = writing.desk.document
    assert document is not None
    writing.desk.take(Document(replace(document.book, facts=(done,))))
    writing.sheet.making.step = step
    settle()
    before = [s.name for s in book(writing).jobs[0].steps]
    writing.sheet.blank("cause").take("it was broken")
    settle()

    added = [s.name for s in book(writing).jobs[0].steps if s.name not in before]
    assert added
    undo_says(writing, "do carve on Body again")
    writing.sheet.blank("change share").take("20")
    assert [s.name for s in book(writing).jobs[0].steps] == before
    writing.sheet.blank("change what").take("longer beak")
    settle()
    assert writing.sheet.note("work"), "nobody has said yes yet"


def test_the_whole_job_is_made_again_and_removed_by_keys(writing: MainWindow) -> None:
    both = CTRL | SHIFT
    hands.key(writing.sheet.strip, Key.Key_D, both)
    settle()
    assert [j.name for j in book(writing).jobs].count("Reading owl, again") == 1
    hands.key(writing.sheet.strip, Key.Key_Delete, both)
    settle()
    assert "Reading owl" not in [j.name for j in book(writing).jobs]
    assert not writing.sheet.isVisible()


def test_letters_of_the_wall_do_nothing_behind_the_sheet(writing: MainWindow) -> None:
    before = book(writing)
    writing.sheet.strip.setFocus()
    for letter in "pnd":
        hands.key(writing.sheet.strip, letter)
    assert book(writing) == before
    assert writing.sheet.isVisible()
    assert not writing.page.isVisible()


def test_both_grounds_paint_the_sheet(writing: MainWindow) -> None:
    for look in ("light", "dark"):
        writing.ground.set_look(look)
        settle()
        picture = writing.grab().toImage()
        paper = picture.pixelColor(6, writing.sheet.y() + 200).name()
        assert paper == {"light": "#f6f3ec", "dark": "#15191d"}[look]


def test_a_segment_that_passes_nowhere_says_so_under_its_row_and_is_cut(
    qtbot: QtBot, bare_window: MainWindow
) -> None:
    """Of 3.0 x 2.7 x 2.65 m nothing fits through 2.6 x 2.6 m, whichever way round; a half does."""
    door = Opening(name="door", width_m=Decimal("2.6"), height_m=Decimal("2.6"))
    made_book = SAMPLES["tight"]()
    made_book = replace(made_book, workshop=replace(made_book.workshop, openings=(door,)))
    bare_window.desk.take(Document(made_book))
    bare_window.show_work()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    bare_window._write()
    settle()
    sheet = bare_window.sheet
    owner = job(book(bare_window), sheet.job or JOB)
    name = owner.segments[0].name
    assert not sheet.writing.troubles()
    sheet.blank("segment 1 name").setFocus()
    QGuiApplication.clipboard().setText(f"{name}\t3.0\t2.7\t2.65")
    hands.key(sheet.blank("segment 1 name"), Key.Key_V, CTRL)
    settle()
    lines = [note.text for note in sheet.writing.findChildren(Note)]
    assert any(line.startswith(f"{name}: ") and "Door is not passed" in line for line in lines)
    (word,) = (w for w in sheet.writing.findChildren(KeyWord) if w.text()[:3] == "cut")
    word.click()
    settle()

    parts = [s for s in job(book(bare_window), owner.id).segments if s.name.startswith(f"{name} ")]
    assert len(parts) == _label_facts(bare_window)["count"]
    assert not sheet.writing.troubles()
    assert not [w for w in sheet.writing.findChildren(KeyWord) if w.text()[:3] == "cut"]
    undo_says(bare_window, f"cut {name} in {len(parts)}")


def _label_facts(window: MainWindow) -> dict[str, object]:
    assert window.desk.document is not None
    label = window.desk.document.undo_label
    assert label is not None
    return dict(label.facts)


def test_writing_leaves_what_is_only_tried_and_takes_nothing(window: MainWindow) -> None:
    document = window.desk.document
    assert document is not None
    assert window.desk.plan is not None
    tried = replace(document.book, name="Tried")
    label = Label(code="change_workshop", facts=())
    window.desk.try_(Trial(what="it", label=label, book=tried, plan=window.desk.plan))
    window._write()
    settle()
    assert window.desk.trial is None
    assert document.book.name != "Tried"
    assert window.sheet.isVisible()


def test_alt_and_an_arrow_move_a_segment_past_another(writing: MainWindow) -> None:
    have = [s.name for s in book(writing).jobs[0].segments]
    writing.sheet.blank("segment 2 name").setFocus()
    hands.key(at(), Key.Key_Up, ALT)
    settle()
    assert [s.name for s in book(writing).jobs[0].segments] == [have[1], have[0], *have[2:]]
    assert at() is writing.sheet.blank("segment 1 name")
    undo_says(writing, f"move the segment {have[1]}")
