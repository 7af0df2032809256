"""How sure a job's window is: asked while it is quiet, said once it is known, never of a trial."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.counsel.questions import AskChance, Help
from app.jobs import Refusal
from app.window.countback.view import CountbackView
from app.window.main import MainWindow
from app.window.trial import Trial
from app.window.views.view import Which
from scheduler.chance import Chances, JobChance
from scheduler.kept import Kept
from shared.edits import Label
from tests.app.window.conftest import HandCounsel
from tests.app.window.hands import key


@pytest.fixture
def view(window: MainWindow) -> CountbackView:
    key(QApplication.focusWidget() or window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    QApplication.processEvents()
    found = window.shelf.view
    assert isinstance(found, CountbackView)
    return found


def chances(view: CountbackView, chance: int | None, usual: int | None) -> Chances:
    assert view.one is not None
    job = JobChance(
        id=view.one.job.id,
        name=view.one.job.name,
        chance=chance,
        at_usual_overrun=usual,
        threshold=95,
    )
    return Chances(
        jobs=(job,), draws=100, seed=1, finished_count=0, is_own_record=False, overrun_percent=0
    )


def said(window: MainWindow) -> str:
    return "".join(text for text, _ in window.masthead.shown.next)


@pytest.mark.parametrize(
    ("chance", "usual", "text"),
    [
        (96, None, "kept 96 times in 100"),
        (1, None, "kept once in 100"),
        (96, 71, "kept 96 times in 100, 71 if hours turn out longer as usual"),
        (None, None, ""),
    ],
)
def test_it_is_asked_of_the_plan_on_show_and_said(
    window: MainWindow,
    view: CountbackView,
    counsel: HandCounsel,
    chance: int | None,
    usual: int | None,
    text: str,
) -> None:
    assert "kept" not in said(window)
    view.sure.ask()
    asked = counsel.asked[-1]
    assert isinstance(asked, AskChance)
    assert asked.plan is window.desk.plan
    counsel.answer(chances(view, chance, usual))
    assert said(window).endswith(text or ".")
    view.sure.ask()
    assert counsel.asked[-1] is asked, "what is known is not asked again"


def test_who_asks_something_else_is_not_disturbed(
    window: MainWindow, view: CountbackView, counsel: HandCounsel
) -> None:
    counsel.is_busy = True
    view.sure.ask()
    assert not counsel.asked
    counsel.is_busy = False
    window.shelf.show(Which.WALL)
    view.sure.ask()
    assert not counsel.asked, "nobody looks"


def test_of_a_trial_nothing_is_said(
    window: MainWindow, view: CountbackView, counsel: HandCounsel
) -> None:
    view.sure.ask()
    counsel.answer(chances(view, 96, None))
    desk = window.desk
    assert desk.document is not None
    assert desk.plan is not None
    label = Label(code="move_window", facts=(("name", "x"),))
    desk.try_(Trial(what="it", label=label, book=desk.document.book, plan=replace(desk.plan)))
    assert "kept" not in said(window)
    desk.leave_trial()
    assert "kept 96 times in 100" in said(window)


def test_what_cannot_be_said_is_not_asked_for_ever(
    window: MainWindow, view: CountbackView, counsel: HandCounsel
) -> None:
    view.sure.ask()
    counsel.is_busy = False
    counsel.refused.emit(Refusal(code="fault", facts={"what": "x"}))
    count = len(counsel.asked)
    view.sure.ask()
    assert len(counsel.asked) == count


def test_the_engine_answers_it(
    window: MainWindow, view: CountbackView, counsel: HandCounsel
) -> None:
    view.sure.ask()
    at_hand = Help(part=lambda _: None, cancel=lambda: False, kept=Kept())
    found = counsel.asked[-1].answer(at_hand)
    assert isinstance(found, Chances)
    counsel.answer(found)
    assert view.one is not None
    own = found.of(view.one.job.id)
    assert own is not None
    assert (f"kept {own.chance} times" in said(window)) == (own.chance is not None)
