"""The window as hands and eyes meet it; the engine answers by hand."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.document import Document
from app.jobs import Draft, Refusal
from app.settings import Settings
from app.window.guard import guarded
from app.window.main import MainWindow
from app.window.reader import READER
from app.window.startup import empty_book
from app.window.wall.items import Role
from app.window.wall.view import WallView
from app.words import Words
from scheduler.outcome import Breach, CheckResult, Verdict
from shared.edits import copy_job
from shared.files.disk import load
from shared.files.lock import Held, take
from shared.files.read import read_book
from shared.files.write import write_book
from tests.app.window import hands
from tests.app.window.conftest import CLOCK, HandAsker, HandEngine
from tests.app.window.scenes import outcome_for, planted

Key = Qt.Key


def press(qtbot: QtBot, window: MainWindow, *keys: Key, shift: bool = False) -> None:
    for key in keys:
        held = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
        hands.key(window.wall, key, held)


def chosen(window: MainWindow) -> str:
    assert window.wall.spot is not None
    return window.wall.spot.item


def add_job(window: MainWindow) -> None:
    assert window.desk.document is not None
    book = window.desk.document.book
    window.desk.edit(copy_job(book, book.jobs[0].id, "Barn owl"))


# The first look.


def test_the_sentence_answers_and_the_foot_says_how_old_the_plan_is(window: MainWindow) -> None:
    assert window.masthead.shown.sentence == (
        "All three jobs fit their windows; the nearest is Reading owl, with 2 days to spare."
    )
    assert window.masthead.shown.verdict is Verdict.FITS
    assert window.masthead.shown.next[0] == ("Next", True)
    foot = "".join(text for text, _ in window.foot.parts)
    assert foot.startswith("Planned 07:41  revision 1, checked")
    assert window.windowTitle().startswith("Made-up workshop 4")


def test_the_sentence_is_said_once_per_plan(window: MainWindow, engine: HandEngine) -> None:
    sentence = window.masthead.shown.sentence
    before = READER.said.count(sentence)
    engine.answer(outcome_for(planted()))

    assert before == 1
    assert READER.said.count(sentence) == 1


def test_the_wall_is_drawn_in_the_inks_of_its_ground(window: MainWindow) -> None:
    light = colours(window.wall.picture(1.0))
    window.ground.set_look("dark")
    dark = colours(window.wall.picture(1.0))

    assert {"#a4e0fd", "#c2d149", "#ffffff", "#f6f3ec"} <= light
    assert {"#84bedb", "#a0af2f", "#fff6dc", "#15191d"} <= dark
    assert "#f6f3ec" not in dark
    assert window.property("ground") == "dark"


def colours(image: QImage) -> set[str]:
    """Give the colours of an image; looked at in its bytes, since pixel by pixel takes seconds."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    words = set(memoryview(plain.constBits()).cast("I"))
    return {QColor(word & 0xFFFFFF).name() for word in words}


def test_the_same_wall_is_painted_the_same_twice_and_finer_at_twice_the_ratio(
    window: MainWindow,
) -> None:
    first, second = window.wall.picture(1.0), window.wall.picture(1.0)
    double = window.wall.picture(2.0)

    assert first == second
    assert double.width() == 2 * first.width()
    assert double.devicePixelRatio() == 2.0


# Keys.


def test_arrows_choose_and_the_slip_and_reader_tell(qtbot: QtBot, window: MainWindow) -> None:
    press(qtbot, window, Key.Key_Right)
    first = window.wall.wall.item(chosen(window))
    assert first is not None
    press(qtbot, window, Key.Key_Right)
    second = window.wall.wall.item(chosen(window))
    assert second is not None

    assert second.start >= first.start
    assert window.slip.isVisible()
    assert window.slip.item == second
    assert READER.said[-1] == second.description
    press(qtbot, window, Key.Key_Escape)
    assert window.wall.spot is None
    assert not window.slip.isVisible()


def test_letters_go_to_windows_and_gates(qtbot: QtBot, window: MainWindow) -> None:
    roles = []
    for key, shift in ((Key.Key_J, False), (Key.Key_J, True), (Key.Key_G, False)):
        press(qtbot, window, key, shift=shift)
        item = window.wall.wall.item(chosen(window))
        assert item is not None
        roles.append(item.role)

    assert roles == [Role.WINDOW, Role.WINDOW, Role.ANSWER]
    press(qtbot, window, Key.Key_End)
    item = window.wall.wall.item(chosen(window))
    assert item is not None
    assert item.role is Role.WINDOW


def test_what_is_chosen_comes_into_sight(qtbot: QtBot, window: MainWindow) -> None:
    window.wall.zoom(12)
    for _ in range(6):
        press(qtbot, window, Key.Key_G)
        item = window.wall.wall.item(chosen(window))
        assert item is not None
        left, _ = window.wall.layout_.span_x(item)
        assert 0 <= left <= window.wall.layout_.names_x


def test_plus_minus_nought_and_pages(qtbot: QtBot, window: MainWindow) -> None:
    season = window.wall.layout_.scale
    press(qtbot, window, Key.Key_Plus, Key.Key_Plus)
    assert window.wall.layout_.scale.pixels_per_day > season.pixels_per_day
    offset = window.wall.layout_.scale.offset
    press(qtbot, window, Key.Key_PageDown)
    assert window.wall.layout_.scale.offset > offset
    press(qtbot, window, Key.Key_Minus, Key.Key_Minus, Key.Key_Home, Key.Key_0)
    assert window.wall.layout_.scale == season


def test_question_mark_shows_every_key(qtbot: QtBot, window: MainWindow) -> None:
    hands.key(window.wall, "?")

    assert window.page.isVisible()
    assert "new job" in window.page.accessibleDescription()
    hands.key(window.page, Key.Key_Escape)
    assert not window.page.isVisible()
    assert window.wall.isVisible()


def test_space_looks_four_times_as_long(
    qtbot: QtBot, window: MainWindow, engine: HandEngine
) -> None:
    press(qtbot, window, Key.Key_Space)

    assert engine.seconds == [10, 40]
    assert engine.is_busy
    press(qtbot, window, Key.Key_Escape)
    assert not engine.is_busy


# The pointer.


def test_a_click_chooses_and_a_drag_moves(qtbot: QtBot, window: MainWindow) -> None:
    block = window.wall.wall.rows[0].blocks[3]
    box = window.wall.item_rect(block)
    hands.click(window.wall, box.center())
    assert window.wall.wall.by_id[chosen(window)].start <= block.end
    offset = window.wall.layout_.scale.offset
    start = QPoint(300, 600)
    hands.drag(window.wall, start, start - QPoint(50, 0))
    QApplication.processEvents()
    assert window.wall.layout_.scale.offset >= offset


def test_ctrl_and_wheel_zoom_about_the_pointer(window: MainWindow) -> None:
    wall = window.wall
    held = wall.layout_.scale.minute(500)
    turn(wall, QPoint(500, 300), 240, Qt.KeyboardModifier.ControlModifier)

    assert abs(wall.layout_.scale.x(held) - 500) <= 1
    offset = wall.layout_.scale.offset
    turn(wall, QPoint(500, 300), -120, Qt.KeyboardModifier.ShiftModifier)
    assert wall.layout_.scale.offset == offset + 120


def turn(wall: WallView, at: QPoint, angle: int, held: Qt.KeyboardModifier) -> None:
    event = QWheelEvent(
        QPointF(at),
        QPointF(wall.mapToGlobal(at)),
        QPoint(),
        QPoint(0, angle),
        Qt.MouseButton.NoButton,
        held,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(wall, event)


def test_the_row_under_the_pointer_tells_in_the_masthead(qtbot: QtBot, window: MainWindow) -> None:
    block = max(window.wall.wall.rows[0].blocks, key=lambda b: b.end - b.start)
    window.wall.hovered.emit(block)
    assert window.masthead.hover == block.description
    window.wall.hovered.emit(None)
    assert window.masthead.hover == ""


# States.


def test_a_plan_that_the_check_refuses_is_not_shown_as_planned(
    window: MainWindow, engine: HandEngine
) -> None:
    before = window.desk.plan
    broken = replace(
        outcome_for(planted()), check=CheckResult(breaches=(Breach(rule="overlap", where="x"),))
    )
    engine.answer(broken)

    assert window.desk.plan is before
    assert "second opinion found 1 fault" in window.masthead.shown.sentence
    assert window.masthead.shown.is_alarm


def test_a_refusal_is_told_in_words(window: MainWindow, engine: HandEngine) -> None:
    engine.answer(Refusal(code="fault", facts={"what": "x"}))

    assert "The engine itself is at fault." in window.masthead.shown.sentence


def test_drafts_are_shown_while_there_is_nothing_better(
    qtbot: QtBot, bare_window: MainWindow, engine: HandEngine
) -> None:
    made = planted()
    assert made.plan is not None
    bare_window.desk.take(Document(made.book))
    bare_window.show_work()
    assert bare_window.wall.wall.is_bare
    assert bare_window.masthead.shown.sentence.startswith("Planning")
    engine.drafted.emit(Draft(revision=1, plan=made.plan, levels=(0,) * 8))

    assert not bare_window.wall.wall.is_bare


def test_light_dark_and_system_go_round_and_are_kept(
    window: MainWindow, kept: list[Settings]
) -> None:
    looks = []
    for _ in range(3):
        window.change_ground()
        looks.append((window.ground.settings.look, window.property("ground")))

    assert looks == [("dark", "dark"), ("system", "light"), ("light", "light")]
    assert [settings.look for settings in kept] == ["dark", "system", "light"]


# Files.


def test_an_empty_book_says_what_to_do_first(
    qtbot: QtBot, bare_window: MainWindow, engine: HandEngine
) -> None:
    bare_window.desk.take(Document(empty_book(Words("en"))))
    bare_window.show_work()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    assert bare_window.page.isVisible()
    assert bare_window.masthead.shown.sentence.startswith("Nothing on the wall yet.")
    assert engine.asked == []
    assert bare_window.masthead.shown.next[0][0].startswith("Write one job;")


def test_a_book_is_opened_edited_saved_and_read_again(
    qtbot: QtBot, bare_window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    path = tmp_path / "yard.countback"
    path.write_bytes(write_book(planted().book))
    asker.path = path
    bare_window.ask_and_open()
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    assert bare_window.desk.document is not None
    assert isinstance(take(path, "another", CLOCK), Held), "the lock was not taken"
    add_job(bare_window)
    assert bare_window.windowTitle().count("•") == 1
    bare_window.filing.save()

    assert "•" not in bare_window.windowTitle()
    read = read_book(load(path)).book
    assert read == bare_window.desk.document.book
    bare_window.desk.release()


def test_a_book_that_somebody_has_open_is_only_looked_at(
    qtbot: QtBot, bare_window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    path = tmp_path / "yard.countback"
    path.write_bytes(write_book(planted().book))
    lock = take(path, "hilde", CLOCK)
    assert not isinstance(lock, Held)
    with lock:
        bare_window.show_book(bare_window.desk.open(path))

        foot = "".join(text for text, _ in bare_window.foot.parts)
        assert "Looking only" in foot
        assert "hilde has had this book open since Mon 18 Jan 2027 07:41" in foot
        before = path.read_bytes()
        add_job(bare_window)
        bare_window.filing.save()
        assert path.read_bytes() == before


def test_a_damaged_book_is_told_of_and_its_whole_parts_open_only_when_asked(
    qtbot: QtBot, bare_window: MainWindow, tmp_path: Path
) -> None:
    path = tmp_path / "yard.countback"
    text = write_book(planted().book).decode()
    path.write_text(text.replace('"name": "Garden snail"', '"name": 7'), encoding="utf-8")
    before = path.read_bytes()
    bare_window.desk.take(Document(empty_book(Words("en"))))
    bare_window.show_book(bare_window.desk.open(path))
    with qtbot.waitExposed(bare_window):
        bare_window.show()

    assert bare_window.page.content.title == "This book is damaged. 2 of 3 jobs are whole."
    assert bare_window.page.content.rows[0][1] == "Whole: Reading owl and Pitcher plant."
    assert bare_window.masthead.shown.next == (("Nothing has been written over.", False),)
    hands.key(bare_window.page, "1")
    document = bare_window.desk.document
    assert document is not None
    assert [job.name for job in document.book.jobs] == ["Reading owl", "Pitcher plant"]
    assert document.path is None
    assert path.read_bytes() == before


def test_a_file_that_is_not_there_is_told_of(bare_window: MainWindow, tmp_path: Path) -> None:
    bare_window.desk.take(Document(empty_book(Words("en"))))
    bare_window.show_book(bare_window.desk.open(tmp_path / "none.countback"))

    assert "There is no file" in bare_window.page.content.title


def test_closing_with_something_unsaved_asks_once(
    qtbot: QtBot, window: MainWindow, engine: HandEngine, asker: HandAsker, tmp_path: Path
) -> None:
    add_job(window)
    window.close()
    assert window.isVisible()
    assert "copy the job Reading owl" in window.page.content.title
    asker.path = tmp_path / "kept"
    window.page.choose("1")

    assert not window.isVisible()
    assert engine.is_closed
    assert (tmp_path / "kept.countback").is_file()


def test_a_disk_that_refuses_is_told_of(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "no" / "folder" / "x"
    window.filing.save()

    assert window.masthead.shown.sentence.startswith("Not saved.")
    assert window.desk.document is not None
    assert not window.desk.document.is_saved


def test_a_picture_of_the_wall_is_saved_at_twice_the_size(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    asker.path = tmp_path / "wall"
    window.save_picture()
    image = QImage(str(tmp_path / "wall.png"))

    assert image.width() == 2 * window.wall.width()
    assert len(colours(image)) > 20


# Safety.


def test_an_error_in_an_override_reaches_the_hook_and_nothing_else(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    seen: list[type[BaseException]] = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, *_: seen.append(kind))

    @guarded
    def broken() -> int:
        return 1 // 0

    assert broken() is None
    assert seen == [ZeroDivisionError]


def test_painting_many_times_loses_no_reference_to_none(window: MainWindow) -> None:
    """PySide6 6.12.0 gave one away with every plain call (see the pin)."""
    window.wall.picture(1.0)
    before = sys.getrefcount(None)
    for _ in range(20):
        window.wall.picture(1.0)

    assert sys.getrefcount(None) - before > -200
