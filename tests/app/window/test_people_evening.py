"""The evening in the foreman's view: a day ticked as told, and what went otherwise."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.people.how import How, how
from app.window.people.view import PeopleView
from app.window.sheet.typed import NotTaken
from app.words import Words
from shared.book import Answer, Fact, FactKind, Gate, GateKind, Held, Leave
from shared.edits import change_person, tell_fact, tell_plan
from shared.ids import FactId
from shared.plan import Placement
from tests.app.window.conftest import HandEngine
from tests.app.window.hands import click, key, keys
from tests.app.window.people_scenes import at_day, busiest, chunk_of, focused
from tests.app.window.scenes import outcome_for, planted
from tests.journeys.evenings import happened

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
NOW = datetime(2027, 1, 18, 17, 0, tzinfo=UTC)
END = datetime(2027, 1, 18, 16, 0, tzinfo=UTC)


# What is typed.


@pytest.mark.parametrize(
    ("text", "went"),
    [
        ("14:30", How(over=END.replace(hour=14, minute=30))),
        ("Mon 18 Jan 14:30", How(over=END.replace(hour=14, minute=30))),
        ("6 h", How(hours=Decimal(6))),
        ("6", How(hours=Decimal(6))),
        ("6,5h", How(hours=Decimal("6.5"))),
        ("2½ hours", How(hours=Decimal("2.5"))),
        ("½ h", How(hours=Decimal("0.5"))),
        ("6 h tool", How(hours=Decimal(6), held_by=Held.TOOL)),
        ("6 h, the client", How(hours=Decimal(6), held_by=Held.CLIENT)),
        ("material", How(held_by=Held.MATERIAL)),
        ("it was too", How(held_by=Held.WEATHER)),
        ("Somebody was not there", How(held_by=Held.PERSON)),
    ],
)
def test_a_time_hours_and_a_reason_are_read(text: str, went: How) -> None:
    assert how(text, Words("en"), END, NOW) == went


@pytest.mark.parametrize("text", ["", "later", "25:10", "0 h", "6 h soon", "was", "-3 h", "ill"])
def test_what_is_none_of_them_is_not_taken(text: str) -> None:
    with pytest.raises(NotTaken):
        how(text, Words("en"), END, NOW)


def test_a_time_alone_is_of_the_day_on_which_the_work_was_to_end() -> None:
    before = END - timedelta(days=3)
    assert how("14:30", Words("en"), before, NOW).over == before.replace(hour=14, minute=30)
    ahead = END + timedelta(days=3)
    assert how("14:30", Words("en"), ahead, NOW).over == NOW.replace(hour=14, minute=30)


# The window.


@pytest.fixture
def view(window: MainWindow, engine: HandEngine) -> PeopleView:
    """The evening of a busy day, of which people were told the sheet before."""
    return evening(window, engine, is_told=True)


def evening(window: MainWindow, engine: HandEngine, *, is_told: bool) -> PeopleView:
    made = at_day(window, engine, busiest().start)
    desk, plan = window.desk, planted().plan
    assert desk.document is not None
    assert plan is not None
    if is_told:
        told = tell_plan(desk.document.book, plan, plan.placements[0].start, "Edda")
        behind = happened(told.book, plan, desk.now.date())
        desk.edit(replace(told, book=replace(told.book, facts=behind)))
        engine.answer(replace(outcome_for(planted()), revision=desk.document.book.revision))
    desk._fixed_now = desk.now.replace(hour=20, minute=0)
    desk.shown_changed.emit()
    QApplication.processEvents()
    return made


def facts(view: PeopleView) -> tuple[Fact, ...]:
    """What was told that evening."""
    assert view.desk.document is not None
    return tuple(f for f in view.desk.document.book.facts if f.told_at == view.desk.now)


def choose(view: PeopleView, placed: Placement) -> None:
    click(view.part, chunk_of(view, placed).rects[0].center())
    QApplication.processEvents()


def say(view: PeopleView, placed: Placement, text: str) -> None:
    """Say how a piece of work went."""
    if not view.evening.is_open:
        key(view.part, "r")
    choose(view, placed)
    assert focused() is view.how.blanks["how"]
    keys(focused(), text)
    key(focused(), Key.Key_Return)


def test_nothing_is_ticked_where_nobody_was_told_a_plan(
    window: MainWindow, engine: HandEngine
) -> None:
    view = evening(window, engine, is_told=False)
    key(view.part, "t")
    assert not facts(view)
    assert window.desk.note == "Nobody has been told a plan yet: S shows the sheet, Y tells it."


def test_who_says_so_is_asked_once_and_kept(window: MainWindow, view: PeopleView) -> None:
    key(view.part, "r")
    choose(view, busiest())
    who = view.how.blanks["who"]
    assert who.text() == window.desk.who
    who.take("  Juno   Amsel ")
    assert window.desk.who == who.text() == "Juno Amsel"
    assert window.ground.settings.who == "Juno Amsel"
    say(view, busiest(), "4 h")
    assert {(fact.told_by, fact.told_at) for fact in facts(view)} == {
        ("Juno Amsel", window.desk.now)
    }
    who.take("")
    assert window.desk.who
    assert window.ground.settings.who == ""


def test_each_thing_said_is_one_step_back(window: MainWindow, view: PeopleView) -> None:
    placed = busiest()
    say(view, placed, "4 h drawing")
    (told,) = facts(view)
    assert (told.kind, told.at) == (FactKind.RUNNING, placed.start)
    assert (told.remaining_hours, told.held_by) == (Decimal(4), Held.DRAWING)
    assert view.side.panel.lead[0] == window.desk.note
    assert "4 person-hours are still to do" in window.desk.note
    assert focused() is view.part
    assert view.how.blanks["how"].text() == ""
    key(window, Key.Key_Z, CTRL)
    assert not facts(view)


def test_a_figure_says_why_it_has_not_begun_and_a_letter_that_all_has_come(
    view: PeopleView,
) -> None:
    placed = busiest()
    key(view.part, "r")
    choose(view, placed)
    view.part.setFocus()
    head = next(e for e in view.side.panel.entries if "no room" in e.head)
    key(view.part, head.key)
    (held,) = facts(view)
    assert (held.kind, held.held_by, held.step) == (FactKind.HELD, Held.PLACE, placed.step)
    key(view.part, "c")
    assert [fact.kind for fact in facts(view)] == [FactKind.HELD, FactKind.MATERIAL]


def test_no_private_reason_is_offered_or_taken(view: PeopleView) -> None:
    say(view, busiest(), "ill")
    assert not facts(view)
    assert "is no time, no hours and no reason" in view.how.note
    assert view.how.isVisible()


def test_what_can_t_have_been_is_said_where_it_was_typed(view: PeopleView) -> None:
    placed = busiest()
    say(view, placed, "23:30")
    assert not facts(view)
    assert "is yet to come" in view.how.note
    view.how.blanks["how"].clear()
    say(view, placed, "4 h")
    say(view, placed, "tool")
    assert len(facts(view)) == 1
    assert "Say how many hours are left" in view.how.note


def test_escape_ends_it_and_what_is_done_asks_nothing(view: PeopleView) -> None:
    placed = busiest()
    say(view, placed, "10:00" if placed.start.hour < 10 else "19:00")
    assert FactKind.DONE in {fact.kind for fact in facts(view)}
    choose(view, placed)
    assert view.how.isHidden()
    assert not view.side.panel.entries
    key(focused(), Key.Key_Escape)
    assert not view.evening.is_open


def test_answers_that_are_awaited_are_told_by_a_figure(
    window: MainWindow, view: PeopleView
) -> None:
    desk = window.desk
    assert desk.document is not None
    book = desk.document.book
    gates = [
        step
        for job in book.jobs
        for step in job.steps
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER
    ]
    out = Fact(
        id=FactId("out"), kind=FactKind.PICTURES, step=gates[0].id, at=desk.now, told_by="Edda"
    )
    others = tuple(fact for fact in book.facts if fact.step != gates[0].id)
    desk.edit(tell_fact(replace(book, facts=others), out))
    key(view.part, "r")
    entry = next(
        e for e in view.side.panel.entries if gates[0].id in e.id and "with changes" in e.head
    )
    key(view.part, entry.key)
    told = facts(view)[-1]
    assert (told.step, told.answer, told.told_by) == (gates[0].id, Answer.CHANGES, desk.who)
    assert not any(gates[0].id in e.id for e in view.side.panel.entries)


# Not confirmed.


def test_what_is_past_and_not_marked_is_told_as_not_confirmed(view: PeopleView) -> None:
    placed = busiest()
    bar = chunk_of(view, placed).bar
    assert bar.is_unsure
    assert "As told, not confirmed" in bar.description
    assert view.part.board is not None
    assert view.part.board.to_ask == ()


def test_after_two_working_days_the_sentence_asks_by_name(
    window: MainWindow, view: PeopleView
) -> None:
    def asked() -> str:
        return "".join(text for text, _ in view.headline().next)

    assert "Ask " not in asked()
    desk = window.desk
    desk._fixed_now = desk.now + timedelta(days=7)
    view.refresh()
    assert view.part.board is not None
    first = view.part.board.to_ask[0]
    names = {person.id: person.name for person in planted().book.people}
    assert "Ask " in asked()
    for person in first.people:
        assert names[person] in asked()


def test_a_day_is_ticked_as_told_and_what_is_not_is_named_with_why(
    window: MainWindow, view: PeopleView
) -> None:
    desk = window.desk
    assert desk.document is not None
    key(view.part, "t")
    assert not view.evening.is_open
    said = view.side.panel.lead
    assert said == (desk.note,)
    assert "done as told" in desk.note
    undone = desk.document.undo_label
    assert busiest().step in {fact.step for fact in facts(view) if fact.kind is FactKind.DONE}
    assert undone is not None
    assert undone.code == "tick_as_told"
    key(window, Key.Key_Z, CTRL)
    assert not facts(view)


def test_who_was_away_is_why_work_is_not_ticked(window: MainWindow, view: PeopleView) -> None:
    desk, placed = window.desk, busiest()
    assert desk.document is not None
    book = desk.document.book
    person = next(each for each in book.people if each.id == placed.people[0])
    leave = Leave(start=placed.start - timedelta(hours=1), end=placed.end, reason="dentist")
    desk.edit(change_person(book, replace(person, leave=(leave,))))
    key(view.part, "t")
    assert "dentist" not in desk.note
    assert "somebody was away" in desk.note


@pytest.mark.parametrize("letter", [Key.Key_B, Key.Key_E])
def test_a_stage_chosen_here_is_written_or_done_again_from_there(
    window: MainWindow, engine: HandEngine, letter: Qt.Key
) -> None:
    placed = busiest()
    view = at_day(window, engine, placed.start)
    click(view.part, chunk_of(view, placed).rect.center())
    key(focused(), letter)
    assert not window.sheet.isHidden()
    assert window.sheet.step == placed.step
