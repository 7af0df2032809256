"""Countback in the window: one job at a time, why and ways out, another date, by keys alone."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import lru_cache

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.counsel.questions import AskPlan, AskWaysOut, AskWhy, Help, WhyAnswer
from app.document import Document
from app.window.countback.view import CountbackView, Face
from app.window.main import MainWindow
from app.window.views.view import Which
from scheduler.kept import Kept
from scheduler.levers.values import WayOut, WaysOut
from scheduler.outcome import Outcome, Verdict
from scheduler.request import SolveRequest
from shared.book import Book
from shared.edits import change_job, move_window
from shared.ids import JobId
from shared.levers import Lever, LeverKind
from tests.app.window.conftest import HandCounsel, HandEngine
from tests.app.window.hands import click, key, keys
from tests.app.window.scenes import outcome_for, planted
from tests.books.samples import SAMPLES

PEAR = JobId("pear")


def view_of(window: MainWindow) -> CountbackView:
    view = window.shelf.views[Which.COUNTBACK]
    assert isinstance(view, CountbackView)
    return view


def is_trying(window: MainWindow) -> bool:
    return window.desk.trial is not None


def face_of(window: MainWindow) -> Face:
    return view_of(window).face


def focused(window: MainWindow) -> QWidget:
    return QApplication.focusWidget() or window


def go(window: MainWindow) -> CountbackView:
    """Go to the view by its key."""
    key(focused(window), Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    QApplication.processEvents()
    return view_of(window)


@lru_cache(maxsize=1)
def impossible() -> tuple[Book, Outcome, WhyAnswer, WaysOut]:
    """Plan a book with a pear that misses and ask why, with the engine itself; ways by hand."""
    book = SAMPLES["impossible"]()
    assert book.as_of is not None
    request = SolveRequest(book=book, now=book.as_of, seconds=60, effort=3, workers=1)
    at_hand = Help(part=lambda _: None, cancel=lambda: False, kept=Kept())
    outcome = AskPlan(request=request).answer(at_hand)
    why = AskWhy(request=request, job=PEAR).answer(at_hand)
    assert why is not None
    return (
        book,
        outcome,
        why,
        WaysOut(job=PEAR, base=outcome, levers=(), ways=(a_way(book, outcome),)),
    )


def a_way(book: Book, outcome: Outcome) -> WayOut:
    """Make a way out: the pear goes into a window a month later."""
    month = timedelta(days=30)
    held = next(each.held_window for each in book.jobs if each.id == PEAR)
    assert held is not None
    lever = Lever(
        kind=LeverKind.EQUIPMENT, id="fan", about=(), price=Decimal(0), facts=(("name", "a fan"),)
    )
    kept = (
        replace(each, verdict=Verdict.TIGHT, slack_minutes=240) if each.id == PEAR else each
        for each in outcome.jobs
    )
    return WayOut(
        levers=(lever,),
        price=Decimal(0),
        proved_cheapest=False,
        keeps=True,
        book=move_window(book, PEAR, held.start + month, held.end + month).book,
        plan=outcome.plan,
        check=outcome.check,
        jobs=tuple(kept),
    )


@pytest.fixture
def missing(bare_window: MainWindow, qtbot: QtBot, engine: HandEngine) -> MainWindow:
    """A window on the book with the pear, planned."""
    book, outcome, _, _ = impossible()
    bare_window.desk.take(Document(book))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(replace(outcome, revision=book.revision))
    bare_window.desk.job = PEAR
    bare_window.wall.setFocus()
    return bare_window


def told_ways(counsel: HandCounsel) -> WaysOut:
    """Answer why, then return the ways out."""
    _, _, why, ways = impossible()
    counsel.answer(why)
    return replace(ways, levers=ways.ways[0].levers)


# The answer date of a job.


def test_the_answer_date_is_one_action_away(window: MainWindow, engine: HandEngine) -> None:
    made = planted()
    outcome = outcome_for(made)
    due = made.now + timedelta(days=9)
    jobs = tuple(
        replace(each, latest_answer=due, slack_minutes=60 if at == 1 else 960)
        for at, each in enumerate(outcome.jobs)
    )
    engine.answer(replace(outcome, jobs=jobs))
    go(window)
    said = window.masthead.shown.sentence
    assert said.startswith(outcome.jobs[1].name)
    assert "must answer by" in said


def test_j_goes_through_the_jobs_by_their_windows(window: MainWindow) -> None:
    view = go(window)
    assert window.desk.document is not None
    book = window.desk.document.book
    starts = [job.held_window.start for job in book.jobs if job.held_window]
    assert starts
    seen = []
    for _ in book.jobs:
        key(focused(window), "j")
        assert view.one is not None
        seen.append(view.one.job.id)
    assert set(seen) == {job.id for job in book.jobs}
    key(focused(window), Qt.Key.Key_J, Qt.KeyboardModifier.ShiftModifier)
    assert view.one is not None
    assert view.one.job.id == seen[-2]
    assert window.desk.job == seen[-2]


def test_the_job_chosen_on_the_wall_is_the_one_counted_back(window: MainWindow) -> None:
    assert window.desk.document is not None
    for job in window.desk.document.book.jobs:
        window.desk.job = job.id
        view = go(window)
        assert view.one is not None
        assert view.one.job.id == job.id
        assert window.masthead.shown.next[0][0] == job.site.name
        window.shelf.show(Which.WALL)


# What is shown.


@pytest.mark.parametrize("size", [(1180, 660), (1366, 768), (1920, 1080)])
@pytest.mark.parametrize("ground", ["light", "dark"])
def test_all_parts_lie_inside_the_view(
    window: MainWindow, size: tuple[int, int], ground: str
) -> None:
    window.resize(*size)
    window.ground.set_look(ground)
    view = go(window)
    QApplication.processEvents()
    is_large = size[0] >= 1700
    assert view.left.isVisible() == is_large
    assert view.piece_below.isVisible() == (not is_large)
    for part in (view.strands, view.journey, view.ladder):
        assert part.isVisible()
        assert part.spots
        for spot in part.spots:
            assert spot.rect.left() >= 0, spot.id
            assert spot.rect.right() <= part.width(), spot.id
            assert spot.name, spot.id
            assert spot.description, spot.id
        assert part.height() >= part.height_at(part.width())
    assert not window.grab().toImage().isNull()


def test_larger_text_makes_the_ladder_wider(window: MainWindow) -> None:
    view = go(window)
    before = view.right.width()
    try:
        window.ground.step_text(1)
        QApplication.processEvents()
        assert view.right.width() > before
    finally:
        window.ground.step_text(-1)


def test_a_screen_reader_hears_the_ladder(window: MainWindow) -> None:
    view = go(window)
    root = QAccessible.queryAccessibleInterface(view.ladder)
    assert root is not None
    assert root.text(QAccessible.Text.Name) == "Counting back"
    texts = [
        child.text(QAccessible.Text.Description)
        for at in range(root.childCount())
        if (child := root.child(at)) is not None
    ]
    loading = next(text for text in texts if "Start loading by." in text)
    assert "At the latest" in loading
    assert "Planned" in loading
    assert loading.endswith("to spare.")


def test_a_step_chosen_on_the_ladder_is_chosen_on_the_strands(window: MainWindow) -> None:
    view = go(window)
    rung = next(r for r in view.ladder.spots if r.do is not None and r.id.startswith("step "))
    assert rung.do is not None
    step = rung.id.split()[1]
    block = next((s for s in view.strands.spots if s.id.startswith(f"{step} @")), None)
    rung.do()
    if block is not None:
        assert view.strands.at is not None
        assert view.strands.at.startswith(f"{step} @")


def test_a_click_on_a_box_chooses_its_strands(window: MainWindow) -> None:
    window.resize(1920, 1080)
    view = go(window)
    QApplication.processEvents()
    box = next(spot for spot in view.piece.spots if spot.id.startswith("box "))
    click(view.piece, box.rect.center())
    assert view.strands.segment == box.id.removeprefix("box ")
    assert view.piece.segment == view.strands.segment


def test_cautions_are_told_in_full_when_asked(window: MainWindow) -> None:
    view = go(window)
    part = view.piece_below
    before = part.height_at(part.width())
    spot = next(each for each in part.spots if each.id == "cautions")
    assert spot.do is not None
    spot.do()
    assert part.height_at(part.width()) >= before


def test_tab_stops_once_at_each_part_and_at_each_word(window: MainWindow) -> None:
    view = go(window)
    wanted: set[QWidget] = {view.strands, view.journey, view.piece_below, view.ladder}
    wanted |= set(view.bar.words.values())
    seen: set[QWidget] = set()
    for _ in range(20):
        seen.add(focused(window))
        key(focused(window), Qt.Key.Key_Tab)
    assert wanted <= seen
    assert not {view.piece, view.why.chain} & seen


# Another date.


def typed(window: MainWindow, text: str) -> None:
    """T, the date, Enter."""
    key(focused(window), "t")
    keys(focused(window), text)
    key(focused(window), Qt.Key.Key_Return)


def test_a_date_typed_is_planned_at_once_and_taken_with_enter(
    window: MainWindow, counsel: HandCounsel
) -> None:
    view = view_of(window)
    assert window.desk.document is not None
    before = window.desk.document.book
    typed(window, "2027-08-25 07:00")
    assert window.shelf.front is Which.COUNTBACK
    assert view.one is not None
    job = view.one.job.id
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    asked = next(each for each in question.request.book.jobs if each.id == job)
    assert asked.held_window is not None
    assert (asked.held_window.start.month, asked.held_window.start.day) == (8, 25)
    assert window.desk.document.book is before
    made = planted()
    counsel.answer(replace(outcome_for(made, Verdict.MISSES), revision=before.revision))
    assert is_trying(window)
    assert "misses its window" in window.masthead.shown.sentence
    assert "with its window from" in window.foot.accessibleName()
    key(focused(window), Qt.Key.Key_Return)
    assert not is_trying(window)
    book = window.desk.document.book
    taken = next(each for each in book.jobs if each.id == job)
    assert taken.held_window == asked.held_window
    window.desk.undo()
    assert window.desk.document.book.jobs == before.jobs


def test_a_question_that_fails_is_not_waited_for(window: MainWindow, counsel: HandCounsel) -> None:
    typed(window, "2027-08-25 07:00")
    assert view_of(window).bar.message.text == "Planning with that window."
    counsel.is_busy = False
    counsel.busy_changed.emit()
    assert view_of(window).bar.message.text == ""


def test_a_date_tried_is_left_with_escape(window: MainWindow, counsel: HandCounsel) -> None:
    assert window.desk.document is not None
    before = window.desk.document.book
    typed(window, "2027-08-25 07:00")
    counsel.answer(outcome_for(planted()))
    assert is_trying(window)
    key(focused(window), Qt.Key.Key_Escape)
    assert not is_trying(window)
    assert window.desk.document.book is before
    key(focused(window), Qt.Key.Key_Escape)
    assert not view_of(window).bar.is_open
    key(focused(window), Qt.Key.Key_Escape)
    assert window.shelf.front is Which.WALL


def test_a_second_date_does_not_take_the_first(window: MainWindow, counsel: HandCounsel) -> None:
    assert window.desk.document is not None
    before = window.desk.document.book
    typed(window, "2027-08-25 07:00")
    counsel.answer(outcome_for(planted()))
    view = view_of(window)
    view.bar.start.selectAll()
    keys(view.bar.start, "2027-08-26 07:00")
    key(view.bar.start, Qt.Key.Key_Return)
    assert window.desk.document.book is before
    assert not is_trying(window)
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    assert view.one is not None
    asked = next(each for each in question.request.book.jobs if each.id == view.one.job.id)
    assert asked.held_window is not None
    assert asked.held_window.start.day == 26


def test_what_is_no_date_is_said_and_nothing_asked(
    window: MainWindow, counsel: HandCounsel
) -> None:
    asked = len(counsel.asked)
    typed(window, "soon")
    assert len(counsel.asked) == asked
    assert "soon" in view_of(window).bar.message.text
    assert view_of(window).bar.message.is_alarm


# A miss.


def test_a_miss_asks_why_and_then_for_ways_out(missing: MainWindow, counsel: HandCounsel) -> None:
    view = go(missing)
    assert view.face is Face.WHY
    assert [type(each) for each in counsel.asked] == [AskWhy]
    ways = told_ways(counsel)
    assert [type(each) for each in counsel.asked] == [AskWhy, AskWaysOut]
    assert view.why.chain.spots
    letters = [spot.id for spot in view.why.chain.spots if spot.id.startswith("cause")]
    assert letters[0] == "cause A"
    assert view.why.days.spots
    counsel.tell(ways.ways[0])
    assert [spot.key for spot in view.why.ways_part.spots] == ["1"]
    assert missing.masthead.shown.next[0][0] == "Cheapest way out"
    assert missing.masthead.shown.next[2][0].startswith("costs nothing, ")
    counsel.answer(ways)
    assert len(view.why.ways_part.spots) == 1
    key(focused(missing), "j")
    assert len(counsel.asked) <= 3


def test_the_days_add_up_to_all_there_are(missing: MainWindow, counsel: HandCounsel) -> None:
    _, _, why, _ = impossible()
    go(missing)
    counsel.answer(why)
    view = view_of(missing)
    shares = [spot.id for spot in view.why.days.spots]
    spent = {what.value for what, minutes in why.why.anatomy.minutes.items() if minutes}
    assert {each.removeprefix("share ") for each in shares} == spent
    assert sum(why.why.anatomy.minutes.values()) == why.why.anatomy.elapsed_minutes


def test_a_way_out_is_tried_with_one_key_and_taken_with_another(
    missing: MainWindow, counsel: HandCounsel
) -> None:
    view = go(missing)
    counsel.answer(told_ways(counsel))
    assert missing.desk.document is not None
    before = missing.desk.document.book
    key(focused(missing), "1")
    assert is_trying(missing)
    assert missing.desk.document.book is before
    assert view.face is Face.WHY
    assert view.why.ways_part.tried == 1
    assert view.why.chain.spots
    key(focused(missing), Qt.Key.Key_Return)
    assert not is_trying(missing)
    after = missing.desk.document.book
    assert after.jobs != before.jobs
    missing.desk.undo()
    assert missing.desk.document.book.jobs == before.jobs


def test_ways_out_of_one_job_are_never_shown_at_another(
    missing: MainWindow, counsel: HandCounsel
) -> None:
    view = go(missing)
    counsel.answer(told_ways(counsel))
    assert view.why.ways_part.spots
    missing.desk.job = JobId("acorn")
    view._chosen = Face.WHY
    view.refresh()
    view.turn()
    view.turn()
    assert view.why.ways_part.spots == ()
    assert missing.masthead.shown.next[0][0] != "Cheapest way out"


def test_a_way_out_is_left_with_escape(missing: MainWindow, counsel: HandCounsel) -> None:
    view = go(missing)
    counsel.answer(told_ways(counsel))
    key(focused(missing), "1")
    key(focused(missing), Qt.Key.Key_Escape)
    assert not is_trying(missing)
    assert view.why.ways_part.tried is None
    key(focused(missing), "9")
    assert not is_trying(missing)


def test_hidden_money_is_hidden_among_ways_out(missing: MainWindow, counsel: HandCounsel) -> None:
    view = go(missing)
    counsel.answer(told_ways(counsel))
    assert "costs nothing" in view.why.ways_part.spots[0].description
    missing.desk.is_money_hidden = True
    view.refresh()
    assert "costs" not in view.why.ways_part.spots[0].description


def test_l_turns_between_the_ladder_and_why(missing: MainWindow) -> None:
    view = go(missing)
    assert view.whole.isVisible()
    key(focused(missing), "l")
    assert face_of(missing) is Face.LADDER
    assert view.right.isVisible()
    assert not view.whole.isVisible()
    key(focused(missing), "l")
    assert face_of(missing) is Face.WHY


def test_l_from_the_wall_asks_for_ways_out(missing: MainWindow, counsel: HandCounsel) -> None:
    key(focused(missing), "l")
    assert missing.shelf.front is Which.COUNTBACK
    assert view_of(missing).face is Face.WHY
    assert isinstance(counsel.asked[-1], AskWhy)


def test_an_answer_to_an_older_book_is_not_shown(missing: MainWindow, counsel: HandCounsel) -> None:
    view = go(missing)
    hear: Callable[[object], None] | None = counsel._hear
    assert hear is not None
    assert missing.desk.document is not None
    book = missing.desk.document.book
    missing.desk.edit(change_job(book, replace(book.jobs[0], name="Another pear")))
    _, _, why, _ = impossible()
    hear(why)
    assert view.why.why is None


def test_an_empty_book_says_what_to_do(missing: MainWindow) -> None:
    view = view_of(missing)
    missing.desk.take(Document(replace(impossible()[0], jobs=())))
    view.refresh()
    assert "No job" in view.headline().sentence
    assert view.plain_key(Qt.Key.Key_J, shift=False)
    assert view.plain_key(Qt.Key.Key_T, shift=False)
    assert view.plain_key(Qt.Key.Key_L, shift=False)
