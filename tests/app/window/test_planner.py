"""A planner that is lost: told in words, the last plan stays, another is asked, once by itself."""

import pytest
from PySide6.QtCore import Qt

from app.jobs import Refusal
from app.window.desk import LATE_SECONDS
from app.window.main import MainWindow
from tests.app.window import hands
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import outcome_for, planted

Key = Qt.Key


def test_a_child_that_dies_is_told_of_and_the_plan_stays(
    window: MainWindow, engine: HandEngine
) -> None:
    plan, asked = window.desk.plan, len(engine.asked)
    engine.died.emit("")

    assert window.desk.plan is plan
    assert window.masthead.shown.sentence == (
        "The planner stopped unexpectedly. The last plan stays; Space looks for another."
    )
    assert len(engine.asked) == asked, "nobody waited for anything"
    engine.answer(outcome_for(planted()))
    assert window.desk.trouble == ""


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("hung", "The planner no longer answered and was stopped."),
        ("no_memory", "The planner ran out of memory."),
        ("nonsense", "What the planner answered can’t be read, and it was stopped."),
    ],
)
def test_a_planner_that_is_lost_is_asked_once_more_and_then_at_a_word(
    window: MainWindow, engine: HandEngine, code: str, said: str
) -> None:
    plan = window.desk.plan
    hands.key(window, Key.Key_Space)
    asked = len(engine.asked)
    engine.answer(Refusal(code=code, facts={}))
    assert window.masthead.shown.sentence == f"{said} The last plan stays; another is looked for."
    assert len(engine.asked) == asked + 1
    engine.answer(Refusal(code=code, facts={}))
    assert window.masthead.shown.sentence == f"{said} The last plan stays; Space looks for another."
    assert len(engine.asked) == asked + 1
    assert window.desk.plan is plan

    hands.key(window, Key.Key_Space)
    assert len(engine.asked) == asked + 2
    assert window.desk.trouble == ""
    engine.answer(Refusal(code=code, facts={}))
    engine.answer(outcome_for(planted()))
    assert window.desk.trouble == ""


def test_a_planner_that_was_lost_and_answered_at_last_is_told_in_the_foot(
    window: MainWindow, engine: HandEngine
) -> None:
    hands.key(window, Key.Key_Space)
    engine.answer(Refusal(code="hung", facts={}))
    engine.answer(outcome_for(planted()))
    assert window.masthead.shown.sentence == window.desk.words.book_line(
        outcome_for(planted()).jobs, seconds=window.desk.seconds
    )
    assert window.desk.note == "The planner had to be started anew for this plan."


def test_a_planner_that_takes_far_longer_than_it_was_given_is_told_of_with_the_key_that_stops_it(
    window: MainWindow, engine: HandEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.key(window, Key.Key_Space)
    desk = window.desk
    given = desk.seconds
    begun = desk._asked_at
    monkeypatch.setattr(desk, "_ticks", lambda: begun + given + LATE_SECONDS)
    desk.state_changed.emit()
    assert not window.masthead.shown.is_alarm
    monkeypatch.setattr(desk, "_ticks", lambda: begun + given + LATE_SECONDS + 1)
    desk.state_changed.emit()
    assert window.masthead.shown.sentence == (
        f"The planner takes longer than the {given} seconds that it was given. Esc stops it."
    )
    desk.trouble = "Not saved."
    desk.state_changed.emit()
    assert window.masthead.shown.sentence == "Not saved."
    desk.trouble = ""
    engine.answer(Refusal(code="hung", facts={}))
    begun = desk._asked_at
    desk.state_changed.emit()
    assert window.masthead.shown.sentence.endswith("Esc stops it."), "of two, what can be done now"
    hands.key(window, Key.Key_Escape)
    assert not engine.is_busy
    assert not window.masthead.shown.is_alarm
