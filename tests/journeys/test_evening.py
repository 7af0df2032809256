"""The evening record and the sheet of the morning, in the whole window with its engine.

Counted as in test_actions: for twelve people with three exceptions at most twelve actions, from
the wall with nothing selected to the next sheet printed and told.
"""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from pytestqt.qtbot import QtBot

from app.document import Document
from app.window.main import MainWindow
from app.window.people.view import PeopleView
from app.window.sheets.view import SheetsView
from app.words.changes import change_lines
from scheduler.told_changes import told_changes
from shared.as_told import as_told
from shared.book import Book, Fact, FactKind, Held
from shared.ids import StepId
from tests.app.window.conftest import HandAsker
from tests.books.samples import full
from tests.journeys import test_actions
from tests.journeys.evenings import in_the_evening, over_as_told, three
from tests.journeys.test_actions import CTRL, WITHIN, Hands, Key, book, is_planned, settle

pytestmark = [pytest.mark.journey, pytest.mark.screen]
hand, asker, opened = test_actions.hand, test_actions.asker, test_actions.opened


@pytest.fixture
def window(qtbot: QtBot, opened: Callable[[Book | None], MainWindow]) -> MainWindow:
    made = opened(full())
    desk = made.desk
    assert desk.plan is not None
    desk.take(Document(in_the_evening(book(made), desk.plan)))
    qtbot.waitUntil(lambda: is_planned(made), timeout=WITHIN)
    made.wall.choose(None)
    made.wall.setFocus()
    settle()
    return made


def test_evening_and_morning_of_twelve_people_take_at_most_twelve(
    qtbot: QtBot, window: MainWindow, hand: Hands, asker: HandAsker, tmp_path: Path
) -> None:
    before, desk = book(window), window.desk
    assert len(before.people) == 12
    assert len({one for fact in over_as_told(before) for one in fact.people}) >= 9
    early, long, held = three(before)
    asker.path = tmp_path / "tomorrow"

    record(window, hand, {early: "13:45", long: "6,5 h tool", held: "client"})
    assert hand.actions == 9
    check_record(window, before, (early, long, held))

    qtbot.waitUntil(lambda: is_planned(window), timeout=WITHIN)
    hand.chord("s")
    check_sheet(window)
    hand.chord(Key.Key_Return)
    assert (tmp_path / "tomorrow.pdf").read_bytes().startswith(b"%PDF-")
    hand.chord("y")
    told = book(window).told
    assert told is not None
    assert (told.sheet_number, told.told_by) == (2, desk.who)
    assert hand.actions <= 12

    for steps in (None, {early, long, held}, {early, long}, {early}, set()):
        hand.chord(Key.Key_Z, CTRL)
        if steps is not None:
            assert {fact.step for fact in facts_of(window, before)} == steps


def record(window: MainWindow, hand: Hands, exceptions: dict[StepId, str]) -> None:
    """Say of some stages how they went, and of all the rest that it went as told."""
    hand.chord(Key.Key_3, CTRL)
    hand.chord("r")
    view = window.shelf.view
    assert isinstance(view, PeopleView)
    for step, how in exceptions.items():
        hand.click(view.part, place_of(view, step))
        hand.fill(how, Key.Key_Return)
        assert not view.how.note
    hand.chord("t")


def place_of(view: PeopleView, step: StepId) -> QPoint:
    """Where a stage stands today, in the row of a person."""
    assert view.part.layout_ is not None
    chunks = view.part.layout_.chunks
    mine = [c for c in chunks if c.bar.step == step and not c.line.is_place and not c.number]
    return mine[0].rects[0].center()


def facts_of(window: MainWindow, before: Book) -> tuple[Fact, ...]:
    """What was told since."""
    return book(window).facts[len(before.facts) :]


def check_record(
    window: MainWindow, before: Book, exceptions: tuple[StepId, StepId, StepId]
) -> None:
    """What was typed is told, all else that was over is ticked; each with its time and by whom."""
    desk, view = window.desk, window.shelf.view
    assert isinstance(view, PeopleView)
    early, long, held = exceptions
    facts = facts_of(window, before)
    told = {(fact.step, fact.kind): fact for fact in facts}
    assert told[early, FactKind.DONE].at.strftime("%H:%M") == "13:45"
    assert told[long, FactKind.RUNNING].remaining_hours == Decimal("6.5")
    assert told[long, FactKind.RUNNING].held_by is Held.TOOL
    assert told[held, FactKind.HELD].held_by is Held.CLIENT
    assert {(fact.told_by, fact.told_at) for fact in facts} == {(desk.who, desk.now)}

    was_over = {fact.step for fact in over_as_told(before)}
    over = {fact.step for fact in facts if fact.kind is FactKind.DONE}
    missing = was_over - over
    assert over <= was_over
    assert {long, held} < missing
    assert len(over) > 10
    assert not [f for f in as_told(book(window), desk.now) if f.kind is FactKind.DONE]
    (said,) = view.side.panel.lead
    assert said == desk.note
    assert said.startswith(f"{len(over) - 1} pieces of work of ")
    for why in ("hours of it are left", "it was held up", "what it comes after is not over"):
        assert why in said


def check_sheet(window: MainWindow) -> None:
    """Tomorrow's sheet, and at its side what each person hears anew, both sides of a swap."""
    desk, sheets = window.desk, window.shelf.view
    assert isinstance(sheets, SheetsView)
    assert sheets.shown is not None
    assert desk.plan is not None
    assert sheets.shown.sheet.date > desk.now.date()
    changes = told_changes(book(window), desk.plan, desk.now)
    lines = change_lines(desk.words, changes, desk.now.date())
    assert lines
    said = [line.text for line in sheets.side.lines]
    assert [line for line in lines[:12] if line not in said] == []
