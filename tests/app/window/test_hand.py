"""Keys and hands on the wall: find, only, chain, clash, fold, move, mark; Esc puts back."""

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.counsel.questions import AskPlan
from app.window.main import MainWindow
from app.window.views.view import Which
from app.window.wall import moves
from app.window.wall.derive import derive
from app.window.wall.items import Item, Role, minute_of
from app.words import Words
from app.words import on_wall as say
from scheduler.outcome import Verdict
from shared.book import FactKind, Gate, GateKind, Pin, Stage
from shared.edits import pin_step, tell_plan
from shared.edits.lookup import step_of
from tests.app.window.conftest import HandCounsel, HandEngine
from tests.app.window.hands import click, drag, key, keys
from tests.app.window.scenes import outcome_for, planted, shown

ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier


def press(which: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    focused = QApplication.focusWidget()
    assert focused is not None
    key(focused, which, held)
    QApplication.processEvents()


def write(text: str) -> None:
    focused = QApplication.focusWidget()
    assert focused is not None
    keys(focused, text)


def choose(window: MainWindow, *, last: bool = False) -> Item:
    """Choose a stage of the first row that can be moved."""
    row = window.wall.wall.rows[0]
    works = [i for i in row.stops if i.role is Role.BLOCK and not i.part]
    item = works[-1 if last else 0]
    window.wall.choose(moves.at(window.wall.wall, item.id))
    return item


def lit_of(window: MainWindow) -> list[Item]:
    by_id = window.wall.wall.by_id
    return [by_id[i] for i in window.wall.look.lit or () if i in by_id]


def in_hand(window: MainWindow) -> bool:
    return window.hand.mover.moving is not None


def sentence(window: MainWindow) -> str:
    return window.masthead.shown.sentence


# Finding.


def test_find_veils_the_rest_and_the_wall_stays_until_enter(window: MainWindow) -> None:
    before = window.wall.layout_.scale
    press(Qt.Key.Key_F)
    write("carve")
    assert sentence(window).startswith("Find: ")
    assert window.hand.find_part.isVisible()
    lit = window.wall.look.lit
    assert lit
    assert "carve" in {item.label for item in lit_of(window)}
    assert window.wall.layout_.scale == before
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_Return)
    assert window.wall.spot is not None
    assert window.wall.wall.by_id[window.wall.spot.item].label == "carve"
    assert window.wall.look.lit is None
    assert not window.hand.find_part.isVisible()
    assert window.wall.hasFocus()


def test_only_a_person_stays_lit_until_esc(window: MainWindow) -> None:
    person = planted().book.people[0]
    press(Qt.Key.Key_F)
    write(person.name.casefold())
    press(Qt.Key.Key_Return)
    assert sentence(window).startswith(f"Only {person.name}: ")
    lit = lit_of(window)
    assert lit
    assert all(person.id in item.people for item in lit)
    press(Qt.Key.Key_Escape)
    assert window.wall.look.lit is None


def test_what_is_not_there_says_so_and_enter_takes_the_nearest_spelling(
    window: MainWindow,
) -> None:
    press(Qt.Key.Key_F)
    write("lamnate")
    assert "laminate" in sentence(window)
    press(Qt.Key.Key_Return)
    assert window.hand.find_part.field.text() == "laminate"
    assert sentence(window).startswith("Find: ")
    press(Qt.Key.Key_Escape)
    assert window.wall.hasFocus()


def test_f_comes_to_the_wall_from_another_view(window: MainWindow) -> None:
    window.shelf.show(Which.ORDERS)
    key(window, Qt.Key.Key_F)
    assert window.shelf.front is Which.WALL
    assert window.hand.find_part.isVisible()


# The chain, clashes, folding, the key to the marks.


def test_c_shows_the_chain_with_its_waits_and_c_again_shows_all(window: MainWindow) -> None:
    item = choose(window, last=True)
    press(Qt.Key.Key_C)
    look = window.wall.look
    assert look.lit is not None
    assert item.id in look.lit
    assert len(look.letters) == len(window.slip.notes)
    assert all(window.slip.notes)
    press(Qt.Key.Key_C)
    assert window.wall.look.lit is None
    assert window.slip.notes == ()


def test_x_goes_round_the_jobs_that_miss_and_says_why(
    window: MainWindow, engine: HandEngine
) -> None:
    press(Qt.Key.Key_X)
    assert sentence(window) == say.NO_CLASH
    outcome = outcome_for(planted(), Verdict.MISSES)
    engine.answer(outcome)
    seen = []
    for _ in range(len(outcome.jobs) + 1):
        press(Qt.Key.Key_X)
        assert window.wall.spot is not None
        seen.append(window.wall.wall.by_id[window.wall.spot.item].job)
        assert "misses" in sentence(window)
    assert len(set(seen)) == len(outcome.jobs)
    assert seen[0] == seen[-1]


def test_z_folds_the_job_and_shift_z_all_others(window: MainWindow) -> None:
    item = choose(window)
    band = window.wall.wall.bands[item.band]
    high = window.wall.layout_.band_bottom(band) - window.wall.layout_.rows_top(band)
    press(Qt.Key.Key_Z)
    layout = window.wall.layout_
    assert layout.band_bottom(band) - layout.rows_top(band) == 12 < high
    press(Qt.Key.Key_Z)
    assert not window.wall.layout_.folded
    press(Qt.Key.Key_Z, SHIFT)
    layout = window.wall.layout_
    assert len(layout.folded) == len(window.wall.wall.bands) - 1
    assert item.band not in layout.folded
    window.wall.picture(1.0)


def test_k_shows_every_mark_with_words_and_esc_goes_back(window: MainWindow) -> None:
    press(Qt.Key.Key_K)
    view = window.shelf.view
    assert view is window.shelf.views[Which.MARKS]
    spots = view.part.spots  # type: ignore[attr-defined]
    assert [spot.id for spot in spots] == list(say.MARKS)
    assert all(": " in spot.description for spot in spots)
    colours = {view.grab().toImage().pixel(s.rect.x() + 50, s.rect.center().y()) for s in spots}
    assert len(colours) > 5
    press(Qt.Key.Key_Escape)
    assert window.shelf.front is Which.WALL


# Moving.


def test_alt_and_an_arrow_move_judge_and_enter_pins_in_one_undo(
    window: MainWindow, counsel: HandCounsel, engine: HandEngine
) -> None:
    item = choose(window, last=True)
    assert window.desk.document is not None
    before = window.desk.document.book
    press(Qt.Key.Key_Right, ALT)
    moving = window.hand.mover.moving
    assert moving is not None
    assert moving.judged.start > item.start
    assert moving.lines[0].is_bold
    window.hand.mover._rest.timeout.emit()
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    assert question.request.effort == 1
    pinned = step_of(question.request.book, item.step)  # type: ignore[arg-type]
    assert isinstance(pinned, Stage)
    assert pinned.pin is not None
    counsel.answer(outcome_for(planted(), Verdict.MISSES))
    moving = window.hand.mover.moving
    assert moving is not None
    assert moving.lines[-1].is_alarm
    assert "misses by" in moving.lines[-1].text
    press(Qt.Key.Key_Return)
    book = window.desk.document.book
    stage = step_of(book, item.step)  # type: ignore[arg-type]
    assert isinstance(stage, Stage)
    assert stage.pin is not None
    assert stage.pin.start is not None
    assert int(stage.pin.start.timestamp()) // 60 == moving.judged.start
    window.desk.undo()
    assert replace(window.desk.document.book, revision=0) == replace(before, revision=0)
    engine.answer(outcome_for(planted()))


def test_esc_puts_it_back_and_nothing_is_edited(window: MainWindow) -> None:
    choose(window, last=True)
    assert window.desk.document is not None
    before = window.desk.document.book
    press(Qt.Key.Key_Right, ALT | SHIFT)
    assert in_hand(window)
    press(Qt.Key.Key_Escape)
    assert not in_hand(window)
    assert window.desk.document.book is before


def test_a_drag_moves_and_pins_and_forbidden_places_resist(
    window: MainWindow, counsel: HandCounsel
) -> None:
    wall = window.wall
    wall.zoom(60 / wall.layout_.scale.pixels_per_day)
    item = choose(window, last=True)
    box = wall.item_rect(item)
    start = box.center()
    QTest.mousePress(wall, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    QTest.mouseMove(wall, start - QPoint(700, 0))
    moving = window.hand.mover.moving
    assert moving is not None
    assert moving.judged.bar is not None
    assert len(moving.lines) >= 2
    assert moving.judged.start >= moving.judged.bar.minute
    wall.grab()
    QTest.mouseMove(wall, start + QPoint(90, 0))
    moved = window.hand.mover.moving
    assert moved is not None
    assert moved.judged.start > item.start
    QTest.mouseRelease(
        wall, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start + QPoint(90, 0)
    )
    assert window.desk.document is not None
    stage = step_of(window.desk.document.book, item.step)  # type: ignore[arg-type]
    assert isinstance(stage, Stage)
    assert stage.pin is not None


def test_dragging_bare_ground_moves_the_wall_and_no_stage(window: MainWindow) -> None:
    wall = window.wall
    wall.zoom(3)
    offset = wall.layout_.scale.offset
    bottom = QPoint(400, wall.height() - 6)
    drag(wall, bottom, bottom - QPoint(60, 0))
    assert window.hand.mover.moving is None
    assert wall.layout_.scale.offset == offset + 60


# Marking.


def test_done_is_two_actions_and_one_undo(window: MainWindow, engine: HandEngine) -> None:
    assert window.desk.document is not None
    item = max(window.wall.wall.rows[0].blocks, key=lambda i: i.end - i.start)
    click(window.wall, window.wall.item_rect(item).center())
    press(Qt.Key.Key_D)
    facts = window.desk.document.book.facts
    assert [(fact.kind, fact.step) for fact in facts] == [(FactKind.DONE, item.step)]
    assert facts[0].at <= window.desk.now
    engine.answer(replace(outcome_for(planted()), revision=window.desk.document.book.revision))
    assert {i.stands for i in window.wall.wall.items if i.step == item.step and i.kind} == {"done"}
    window.desk.undo()
    assert window.desk.document.book.facts == ()


def test_hours_left_are_typed_and_refused_in_words(window: MainWindow) -> None:
    assert window.desk.document is not None
    item = choose(window)
    press(Qt.Key.Key_R)
    write("some")
    press(Qt.Key.Key_Return)
    assert window.hand.hours_part.is_refused
    window.hand.hours_part.field.clear()
    write("6½")
    press(Qt.Key.Key_Return)
    fact = window.desk.document.book.facts[-1]
    assert (fact.kind, str(fact.remaining_hours)) == (FactKind.RUNNING, "6.5")
    assert {i.remaining for i in window.wall.wall.items if i.step == item.step and i.kind} == {
        "6.5"
    }


def test_an_answer_is_never_marked_done(window: MainWindow) -> None:
    assert window.desk.document is not None
    gate = next(
        s
        for job in window.desk.document.book.jobs
        for s in job.steps
        if isinstance(s, Gate) and s.gate is GateKind.ANSWER
    )
    seam = next(i for i in window.wall.wall.items if i.step == gate.id)
    window.wall.choose(moves.at(window.wall.wall, seam.id))
    press(Qt.Key.Key_D)
    assert sentence(window) == say.ANSWER_NOT_MARKED
    assert window.desk.document.book.facts == ()


@pytest.mark.parametrize("ground", ["light", "dark"])
def test_focus_and_chain_are_seen_on_either_ground(
    qtbot: QtBot, window: MainWindow, ground: str
) -> None:
    window.ground.set_look(ground)
    item = choose(window, last=True)
    bare = window.wall.picture(1.0)
    press(Qt.Key.Key_C)
    assert window.wall.picture(1.0) != bare
    box = window.wall.item_rect(item)
    image = window.wall.picture(1.0)
    middle = window.wall.layout_.row_middle(item.row) + window.wall.sizes.axis
    frame = image.pixelColor(box.x() - 4, middle)
    inner = image.pixelColor(box.x() - 2, middle)
    assert abs(frame.lightness() - inner.lightness()) > 90


def test_a_place_far_before_the_yes_resists_at_the_first_that_is_allowed(
    window: MainWindow,
) -> None:
    item = choose(window, last=True)
    assert window.hand.mover.begin(item)
    window.hand.mover.to(item.start - 400 * 1440)
    moving = window.hand.mover.moving
    assert moving is not None
    assert moving.judged.bar is not None
    assert moving.judged.bar.minute <= moving.judged.start <= item.start
    assert len(moving.lines) >= 2


def test_what_is_past_and_told_says_that_nobody_has_confirmed_it() -> None:
    made = planted()
    assert made.plan is not None
    seen = shown(outcome=outcome_for(made))
    book = tell_plan(made.book, made.plan, made.now).book
    later = made.now + timedelta(days=4)
    words = Words("en", book=book)
    wall = derive(replace(seen, book=book, now=later), words)
    told = [item for item in wall.items if item.role is Role.BLOCK and item.stands == "told"]
    assert told
    assert all(item.start < minute_of(later) for item in told)
    assert all(words.say(say.STANDS["told"]) in item.description for item in told)
    others = [item for item in wall.items if item.role is Role.BLOCK and not item.stands]
    assert all(words.say(say.STANDS["told"]) not in item.description for item in others)


def test_a_job_whose_work_is_all_pinned_has_doubled_posts() -> None:
    made = planted()
    assert made.plan is not None
    job = made.book.jobs[0]
    book = made.book
    for placed in made.plan.placements:
        if placed.job == job.id and not placed.part:
            book = pin_step(book, placed.step, Pin(start=placed.start)).book
    wall = derive(replace(shown(), book=book), Words("en", book=book))
    assert [band.job for band in wall.bands if band.is_held] == [job.id]
