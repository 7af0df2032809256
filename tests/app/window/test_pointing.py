"""What hands point at is told and framed, and no better plan moves it while they do."""

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.main import MainWindow
from app.window.theme import theme
from app.window.wall import moves
from app.window.wall.derive import derive
from app.window.wall.items import Item, Wall, instant_at, minute_of
from app.window.wall.pointing import STILL_SECONDS, Pointing, span_line
from app.words import Words
from app.words import window as wording
from shared.book import Book, ExtraHours, FactKind, Stage
from shared.edits import change_job
from tests.app.window import hands
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import a_wall, outcome_for, planted, shown


def move_to(window: MainWindow, point: QPoint) -> None:
    """Move the pointer there without a button."""
    none = Qt.MouseButton.NoButton
    held = Qt.KeyboardModifier.NoModifier
    at = QPointF(point)
    event = QMouseEvent(QEvent.Type.MouseMove, at, window.wall.mapToGlobal(at), none, none, held)
    QApplication.sendEvent(window.wall, event)


def a_block(wall: Wall) -> Item:
    return next(b for row in wall.rows for b in row.blocks if b.people and b.start > wall.now)


class Ticks:
    """A clock that goes on when a test says so."""

    def __init__(self) -> None:
        self.at = 0.0

    def __call__(self) -> float:
        return self.at


# Stillness.


def test_hands_lie_still_after_a_second() -> None:
    ticks = Ticks()
    pointing = Pointing(ticks=ticks)
    assert pointing.still_in == 0
    pointing.stir()
    assert pointing.still_in == STILL_SECONDS == 1
    ticks.at = 0.75
    assert pointing.still_in == 0.25
    ticks.at = 1.5
    assert pointing.still_in == 0


def test_a_better_plan_waits_until_hands_lie_still(
    qtbot: QtBot, window: MainWindow, engine: HandEngine
) -> None:
    ticks = Ticks()
    window.wall.pointing.ticks = ticks
    before = window.wall.wall
    move_to(window, window.wall.rect().center())
    engine.answer(outcome_for(planted(), spare_days=5))
    assert window.wall.wall is before
    ticks.at = STILL_SECONDS + 0.1
    qtbot.waitUntil(lambda: window.wall.wall is not before, timeout=5000)
    assert window.wall.wall.bands[0].spare_text != before.bands[0].spare_text


def test_a_better_plan_waits_while_the_wall_is_held(window: MainWindow, engine: HandEngine) -> None:
    ticks = Ticks()
    window.wall.pointing.ticks = ticks
    before = window.wall.wall
    QApplication.sendEvent(window.wall, _press(window.wall.rect().center()))
    ticks.at = 100
    engine.answer(outcome_for(planted(), spare_days=5))
    assert window.wall.is_in_hand
    assert window.wall.wall is before


def test_the_first_plan_of_a_changed_book_is_shown_at_once(
    window: MainWindow, engine: HandEngine
) -> None:
    document = window.desk.document
    assert document is not None
    window.wall.pointing.ticks = Ticks()
    window.desk.edit(change_job(document.book, replace(document.book.jobs[0], name="Bent heron")))
    window.desk.plan_now()
    move_to(window, window.wall.rect().center())
    before = window.wall.wall
    revision = document.book.revision
    engine.answer(replace(outcome_for(planted(), spare_days=5), revision=revision))
    assert window.wall.wall is not before


def _press(at: QPoint) -> QMouseEvent:
    left, held = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    return QMouseEvent(QEvent.Type.MouseButtonPress, QPointF(at), QPointF(at), left, left, held)


# A span along the axis.


def test_a_drag_along_the_axis_tells_its_working_days_and_people(window: MainWindow) -> None:
    wall, scale = window.wall, window.wall.layout_.scale
    block = a_block(wall.wall)
    days = [day for day in wall.wall.days if day.end > block.start][:5]
    left, right = scale.x(days[0].start) + 1, scale.x(days[-1].end) - 1
    hands.drag(wall, QPoint(left, 30), QPoint(right, 30))
    assert wall.pointing.span is not None
    count = sum(not day.is_off for day in days)
    told = window.masthead.hover
    assert Words("en").number_word(count) in told
    assert "working day" in told
    names = {p.name for p in planted().book.people if p.id in block.people}
    assert any(name in told for name in names) or "people at work" in told
    hands.click(wall, QPoint(left, 30))
    assert wall.pointing.span is None


def test_a_span_on_which_nobody_works_says_so() -> None:
    made = planted()
    wall = derive(replace(shown(), plan=None), Words("en", book=made.book))
    first = next(day.start for day in wall.days if not day.is_off)
    told = span_line(wall, Words("en", book=made.book), (first, first + 60))
    assert "one working day" in told
    assert told.endswith("nobody at work on the wall.")


# Partners, recoat times.


def test_partners_are_what_the_same_people_do_at_the_same_time() -> None:
    wall = a_wall()
    checked = 0
    for row in wall.rows:
        for block in row.blocks:
            for other in moves.partners(wall, block.id):
                assert set(other.people) & set(block.people)
                assert other.start < block.end
                assert block.start < other.end
                assert other.id != block.id
                checked += 1
    assert checked
    assert moves.partners(wall, None) == ()
    assert moves.partners(wall, wall.bands[0].header.id) == ()


def test_pointing_at_a_block_frames_its_partners(window: MainWindow) -> None:
    wall = window.wall
    gate = next(b.owner for row in wall.wall.rows for b in row.blocks if b.owner)
    block, other = moves.partners(wall.wall, gate)[:2]
    wall.scroll_time(wall.layout_.scale.x(block.start) - 300)
    before = wall.picture(1.0)
    move_to(window, wall.item_rect(block).center())
    assert wall.pointing.item == gate
    after = wall.picture(1.0)
    thick = min(wall.layout_.thickness(other.hands), wall.layout_.heights[other.row])
    middle = wall.layout_.row_middle(other.row) + wall.layout_.sizes.axis
    x = sum(wall.layout_.span_x(other)) // 2
    ink = theme("light").ink
    assert after.pixelColor(x, middle - thick // 2 - 3) == ink
    assert before.pixelColor(x, middle - thick // 2 - 3) != ink


# Overtime, the piece.


def overtime_book() -> tuple[Book, Item]:
    """Let the people of a block work on into the evening after it."""
    made = planted()
    wall = derive(shown(), Words("en", book=made.book))
    block = a_block(wall)
    evening = made.now + timedelta(minutes=block.end - minute_of(made.now))
    more = ExtraHours(start=evening, end=evening + timedelta(hours=12))
    people = tuple(
        replace(p, overtime_taken=(more,)) if p.id in block.people else p for p in made.book.people
    )
    return replace(made.book, people=people), block


def test_only_what_lies_outside_of_the_workshops_hours_is_overtime() -> None:
    book, block = overtime_book()
    made = planted()
    assert made.plan is not None
    longer = tuple(
        replace(p, end=p.end + timedelta(hours=12)) if p.step == block.step else p
        for p in made.plan.placements
    )
    told = replace(shown(), book=book, plan=replace(made.plan, placements=longer))
    wall = derive(told, Words("en", book=book))
    found = wall.by_id[block.id]
    assert found.beyond
    for start, end in found.beyond:
        assert block.end <= start < end <= found.end
        assert not any(a < end and start < b for a, b in wall.shift_hours)
    assert not any(b.beyond for row in a_wall().rows for b in row.blocks)


def test_the_piece_shows_which_work_each_segment_has_reached() -> None:
    made = planted()
    job = made.book.jobs[0]
    band = a_wall().band_of(job.id)
    assert band is not None
    assert [shape.segment for shape in band.shapes] == [segment.id for segment in job.segments]
    noted = {fact.step for fact in made.book.facts if fact.kind is FactKind.DONE}
    for shape in band.shapes:
        done = [
            step.kind
            for step in job.steps
            if isinstance(step, Stage)
            and step.id in noted
            and (not step.segments or shape.segment in step.segments)
        ]
        assert shape.reached == (done[-1] if done else None)


# The wheel, keys held down.


@pytest.mark.parametrize("turn", [120, -120, 15])
def test_ctrl_and_the_wheel_zoom_about_the_pointer(window: MainWindow, turn: int) -> None:
    wall = window.wall
    x = 500
    before = wall.layout_.scale
    held = before.minute(x)
    event = QWheelEvent(
        QPointF(x, 200),
        wall.mapToGlobal(QPointF(x, 200)),
        QPoint(),
        QPoint(0, turn),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(wall, event)
    after = wall.layout_.scale
    assert (after.pixels_per_day > before.pixels_per_day) == (turn > 0)
    assert abs(after.x(held) - x) <= 1


def test_the_slip_paints_the_piece_with_the_chosen_segment(window: MainWindow) -> None:
    wall = window.wall
    row = wall.wall.rows[0]
    wall.choose(moves.at(wall.wall, row.stops[0].id, 0))
    QApplication.processEvents()
    assert window.slip.shapes == wall.wall.bands[row.band].shapes
    image = QImage(window.slip.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    window.slip.render(painter, QPoint())
    painter.end()
    ink = theme("light").ink2
    figure = sum(
        image.pixelColor(x, y) == ink
        for x in range(0, image.width(), 2)
        for y in range(image.height() - 60, image.height(), 2)
    )
    assert figure > 20, "somebody stands beside it"


def test_a_key_held_down_walks_on_but_pins_only_once(window: MainWindow) -> None:
    wall = window.wall
    block = a_block(wall.wall)
    wall.choose(moves.at(wall.wall, block.id))

    def hold(which: Qt.Key, text: str, times: int) -> None:
        none = Qt.KeyboardModifier.NoModifier
        for number in range(times):
            event = QKeyEvent(QEvent.Type.KeyPress, which, none, text, number > 0)
            QApplication.sendEvent(wall, event)

    document = window.desk.document
    assert document is not None
    before = document.book.revision
    hold(Qt.Key.Key_P, "p", 5)
    assert document.book.revision == before + 1
    row = wall.wall.rows[block.row]
    wall.choose(moves.at(wall.wall, row.stops[0].id, block.row))
    hold(Qt.Key.Key_Right, "", 3)
    assert wall.spot is not None
    assert wall.spot.item == row.stops[3].id


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_slip_breaks_no_date_in_two(window: MainWindow, language: str) -> None:
    made = planted()
    words = Words(language, book=made.book)
    wall = derive(shown(outcome=outcome_for(made)), words)
    block = next(b for row in wall.rows for b in row.blocks if b.stands == "" and b.people)
    window.slip.show_item(block, words)
    told = window.slip.told
    day = wording.short_day(words, instant_at(block.start).date())
    assert sum(day in sentence for sentence in told) == 1
    assert all(sentence.endswith(".") for sentence in told)
    assert len(told) == 3, "whose, who, when and where"
