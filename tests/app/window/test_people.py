"""The foreman's view: who works where, read, walked through, and what can be done about it."""

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest

from app.counsel.questions import AskPlan
from app.window.main import MainWindow
from app.window.people.items import Sort
from app.window.people.layout import Chunk
from app.window.people.view import PeopleView
from app.window.reader import READER
from scheduler.outcome import Breach, CheckResult, Verdict
from shared.book import Book, Fact, FactKind, Stage
from shared.plan import Placement
from tests.app.window.conftest import HandCounsel, HandEngine
from tests.app.window.hands import click, drag, key
from tests.app.window.people_scenes import (
    at_day,
    away_book,
    board_of,
    busiest,
    chunk_of,
    focused,
    planned_with,
    view_of,
)
from tests.app.window.scenes import outcome_for, planted

Key = Qt.Key
CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier


# What stands where.


def test_every_piece_of_work_stands_in_the_rows_of_its_people_and_of_its_place() -> None:
    board = board_of(busiest().start.date())
    plan = planted().plan
    assert plan is not None
    first, last = board.columns[0].start, board.columns[-1].end
    seen = 0
    for placed in plan.placements:
        start, end = (int(t.timestamp()) // 60 for t in (placed.start, placed.end))
        if end <= first or start >= last or not placed.people:
            continue
        identity = f"{placed.step}|{placed.round}|{placed.part}"
        for person in placed.people:
            assert board.bar(person, identity) is not None
            seen += 1
        if placed.place is not None:
            assert board.bar(f"place {placed.place}", identity) is not None
    assert seen > 3


def test_a_bar_tells_what_whose_kind_people_when_and_where_in_this_order() -> None:
    placed = busiest()
    board = board_of(placed.start.date())
    bar = board.bar(placed.people[0], f"{placed.step}|{placed.round}|{placed.part}")
    assert bar is not None
    names = {p.id: p.name for p in planted().book.people}
    job = next(j.name for j in planted().book.jobs if j.id == placed.job)
    told = [bar.description.index(each) for each in (bar.name, job, names[placed.people[0]])]
    assert told == sorted(told)
    assert bar.kind is not None


@pytest.mark.parametrize(("reason", "says"), [("ill", "ill, back "), ("", "away, back ")])
def test_why_somebody_is_away_is_said_to_the_foreman(reason: str, says: str) -> None:
    placed = busiest()
    board = board_of(placed.start.date(), book=away_book(reason))
    line = board.line(placed.people[0])
    assert line is not None
    bar = next(bar for bar in line.bars if bar.sort is Sort.AWAY)
    assert bar.what.startswith(says)
    assert (reason in bar.description) if reason else ("away, " in bar.name)
    assert line.is_away
    assert not line.there or line.there[0][0] >= bar.end - 24 * 60


def test_whoever_is_not_engaged_is_not_there() -> None:
    placed = busiest()
    book = planted().book
    people = tuple(
        replace(p, freelance=True) if p.id == placed.people[0] else p for p in book.people
    )
    line = board_of(placed.start.date(), book=replace(book, people=people)).line(placed.people[0])
    assert line is not None
    assert line.there == ()


# The window.


@pytest.fixture
def view(window: MainWindow, engine: HandEngine) -> PeopleView:
    return at_day(window, engine, busiest().start)


def test_the_sentence_says_who_is_at_work_and_is_told_once(
    window: MainWindow, view: PeopleView
) -> None:
    said = window.masthead.shown.sentence
    assert " in today." in said
    assert READER.said.count(said) == 1


def test_nothing_is_chosen_as_the_view_comes_to_the_front(view: PeopleView) -> None:
    assert view.part.at is None
    assert view.choice.line == ""
    assert view.part.hasFocus()


def test_arrows_walk_the_rows_and_a_screen_reader_hears_each(view: PeopleView) -> None:
    key(view.part, Key.Key_Home)
    first = view.part.spots[0]
    assert view.part.at == first.id
    assert READER.said[-1] == first.description
    assert first.description.startswith(first.name + ". ")
    before = view.part.at
    key(view.part, Key.Key_Down)
    assert view.part.at != before
    root = QAccessible.queryAccessibleInterface(view.part)
    assert root is not None
    assert root.childCount() == len(view.part.spots)
    told = [root.child(at).text(QAccessible.Text.Description) for at in range(root.childCount())]
    assert all(told)
    chunk = chunk_of(view, busiest())
    assert chunk.bar.description in told


def test_the_axis_and_the_days_fit_beside_the_side(view: PeopleView) -> None:
    laid = view.part.layout_
    assert laid is not None
    assert len(laid.tracks) == 5
    assert laid.tracks[0].right - laid.tracks[0].left > 4 * (
        laid.tracks[1].right - laid.tracks[1].left
    )
    assert all(c.rect.right() <= view.area.width() for c in laid.chunks)


def test_page_down_shows_the_day_after_first(view: PeopleView) -> None:
    assert view.part.board is not None
    days = [c.date for c in view.part.board.columns]
    view.plain_key(Key.Key_PageDown, shift=False)
    assert view.part.board.columns[0].date == days[1]
    view.plain_key(Key.Key_PageUp, shift=False)
    view.plain_key(Key.Key_PageUp, shift=False)
    assert view.part.board.columns[0].date == days[0]


# Who could do it, and giving it.


def other_one(view: PeopleView, placed: Placement) -> str:
    click(view.part, chunk_of(view, placed).rect.center())
    assert view.side.panel.entries, "nobody else can do it"
    return view.side.panel.entries[0].id.removeprefix("give ")


def answer_plan(counsel: HandCounsel) -> None:
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    counsel.answer(planned_with(question))


def test_a_stage_goes_to_somebody_else_in_three_actions(
    window: MainWindow, engine: HandEngine, counsel: HandCounsel
) -> None:
    placed = busiest()
    window.desk._fixed_now = placed.start.replace(hour=7, minute=30)
    engine.answer(outcome_for(planted()))
    before = window.desk.document
    assert before is not None
    revision = before.book.revision

    key(window.wall, Key.Key_3, CTRL)
    view = view_of(window)
    chunk = chunk_of(view, placed)
    to = other_one(view, placed)
    view.part.choose(None)
    row = next(r for r in view.part.layout_.rows if r.line.id == to) if view.part.layout_ else None
    assert row is not None
    drag(view.part, chunk.rect.center(), QPoint(chunk.rect.center().x(), row.top + 12))
    answer_plan(counsel)
    said = "".join([window.masthead.shown.sentence, *(t for t, _ in window.masthead.shown.next)])
    assert " does " in said
    assert "All three jobs fit" in said
    assert window.desk.trial is not None
    key(focused(), Key.Key_Return)

    assert before.book.revision == revision + 1
    step = next(s for j in before.book.jobs for s in j.steps if s.id == placed.step)
    assert isinstance(step, Stage)
    assert step.pin is not None
    assert step.pin.people == (to,)
    window.desk.undo()
    step = next(s for j in before.book.jobs for s in j.steps if s.id == placed.step)
    assert isinstance(step, Stage)
    assert step.pin is None


def test_a_figure_tries_and_escape_puts_it_back(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    placed = busiest()
    to = other_one(view, placed)
    key(view.part, "1")
    assert view.side.panel.entries[0].lines[-1] == "Looking what that does to the windows."
    answer_plan(counsel)
    entry = view.side.panel.entries[0]
    assert entry.is_tried
    assert "Every job stands as it did." in entry.lines
    assert entry.verdict is Verdict.FITS
    assert view.part.at is not None
    assert view.part.at.startswith(to)
    key(view.part, Key.Key_Escape)
    assert window.desk.trial is None
    assert view.part.at is not None
    assert view.part.at.startswith(placed.people[0])


def test_a_window_that_is_lost_is_said_before_anything_is_taken(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    other_one(view, busiest())
    key(view.part, "1")
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    lost = outcome_for(planted(), Verdict.MISSES)
    counsel.answer(replace(lost, revision=question.request.book.revision))
    entry = view.side.panel.entries[0]
    assert entry.is_alarm
    assert entry.slacks
    assert entry.slacks[0].text == "2 d to 3 d late"
    assert entry.slacks[0].is_late


def test_a_plan_that_the_second_opinion_faults_is_not_tried(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    other_one(view, busiest())
    key(view.part, "1")
    question = counsel.asked[-1]
    assert isinstance(question, AskPlan)
    found = planned_with(question)
    counsel.answer(
        replace(found, check=CheckResult(breaches=(Breach(rule="person_twice", where="x"),)))
    )
    assert window.desk.trial is None
    assert view.side.panel.entries[0].is_alarm


def test_alt_down_gives_to_the_next_person_who_could(
    view: PeopleView, counsel: HandCounsel
) -> None:
    other_one(view, busiest())
    could = {e.id.removeprefix("give ") for e in view.side.panel.entries}
    assert view.base is not None
    order = [line.id for line in view.base.people]
    here = order.index(busiest().people[0])
    below = [one for one in order[here + 1 :] if one in could]
    above = [one for one in reversed(order[:here]) if one in could]
    key(view.part, Key.Key_Down if below else Key.Key_Up, ALT)
    assert view.giving.tried == (below or above)[0]


def test_all_that_is_left_of_a_segment_goes_to_a_pair(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    document = window.desk.document
    assert document is not None
    chunk = next(
        c
        for c in view.part.layout_.chunks  # type: ignore[union-attr]
        if len(c.bar.segments) == 1 and not c.line.is_place and c.bar.sort is Sort.WORK
    )
    click(view.part, chunk.rect.center())
    key(view.part, "o")
    assert view.side.panel.title.startswith("All that is left of ")
    key(view.part, "1")
    answer_plan(counsel)
    key(view.part, "2")
    answer_plan(counsel)
    pair = set(view.choice.picked)
    assert len(pair) == 2
    key(view.part, Key.Key_Return)
    pinned = [
        set(s.pin.people)
        for j in document.book.jobs
        for s in j.steps
        if isinstance(s, Stage) and s.segments == chunk.bar.segments and s.pin is not None
    ]
    assert pinned
    assert all(one <= pair for one in pinned)
    assert document.undo_label is not None
    assert document.undo_label.code == "give_segment"


def hold_over(view: PeopleView, chunk: Chunk, line: str) -> None:
    """Press on a bar and hold it over a row."""
    assert view.part.layout_ is not None
    row = next(r for r in view.part.layout_.rows if r.line.id == line)
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    at = chunk.rect.center()
    QTest.mousePress(view.part, left, none, at)
    QTest.mouseMove(view.part, QPoint(at.x(), row.top + row.height // 2))


def test_what_letting_go_does_is_said_while_the_hand_still_holds_it(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    placed = busiest()
    to = other_one(view, placed)
    hold_over(view, chunk_of(view, placed), to)
    assert window.masthead.hover.startswith("Letting go tries it: ")
    answer_plan(counsel)
    assert window.masthead.hover.endswith("Every job stands as it did.")
    assert window.desk.trial is None
    key(view.part, Key.Key_Escape)
    assert window.masthead.hover == ""
    assert not view.part.is_dragging


def test_whoever_can_not_do_it_is_given_nothing(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    placed = busiest()
    other_one(view, placed)
    could = {e.id.removeprefix("give ") for e in view.side.panel.entries}
    assert view.base is not None
    cannot = [line.id for line in view.base.people if line.id not in {*could, *placed.people}]
    assert cannot, "everybody can do it"
    hold_over(view, chunk_of(view, placed), cannot[0])
    assert "can’t do" in window.masthead.hover
    assert counsel.asked == []


def test_enter_at_the_side_tries_and_then_takes(
    window: MainWindow, view: PeopleView, counsel: HandCounsel
) -> None:
    other_one(view, busiest())
    view.side.setFocus()
    view.side.choose(view.side.panel.entries[0].id)
    key(view.side, Key.Key_Return)
    assert view.giving.tried
    answer_plan(counsel)
    key(view.side, Key.Key_Return)
    assert window.desk.trial is None
    assert window.desk.document is not None
    assert window.desk.document.undo_label is not None
    assert window.desk.document.undo_label.code == "give_stage"


# Finished.


def done(book: Book, placed: Placement) -> Fact:
    """Give the only word that a piece of work is over."""
    told = [f for f in book.facts if f.step == placed.step and f.kind is FactKind.DONE]
    assert len(told) == 1
    return told[0]


def test_what_is_under_way_is_marked_finished_in_two_actions(
    window: MainWindow, engine: HandEngine
) -> None:
    placed = busiest()
    window.desk._fixed_now = placed.end + timedelta(minutes=30)
    engine.answer(outcome_for(planted()))
    document = window.desk.document
    assert document is not None

    key(window.wall, Key.Key_3, CTRL)
    view = view_of(window)
    number = next((e.key for e in view.side.panel.entries if f"done {placed.step}|" in e.id), None)
    assert number is not None
    key(focused(), number)

    fact = done(document.book, placed)
    assert fact.at == placed.end
    assert fact.people == placed.people
    window.desk.undo()
    assert not [f for f in document.book.facts if f.step == placed.step]


def test_what_was_to_be_over_days_ago_is_offered_too(
    window: MainWindow, engine: HandEngine
) -> None:
    placed = busiest()
    view = at_day(window, engine, placed.end + timedelta(days=3))
    assert view.base is not None
    unsaid = [bar.step for bar in view.base.unsaid]
    assert placed.step in unsaid
    offered = {e.id.split("|")[0].removeprefix("done "): e.key for e in view.side.panel.entries}
    first = next(step for step in offered if step in unsaid)
    key(view.part, offered[first])
    document = window.desk.document
    assert document is not None
    assert [f.step for f in document.book.facts if f.kind is FactKind.DONE] == [first]
    engine.answer(replace(outcome_for(planted()), revision=document.book.revision))
    assert first not in {bar.step for bar in view.base.unsaid}
    told = "".join(text for text, _ in window.masthead.shown.next)
    assert "nobody has said" in told


def test_d_marks_what_is_chosen_finished_as_of_now_when_it_was_to_go_on(
    window: MainWindow, engine: HandEngine
) -> None:
    placed = busiest()
    view = at_day(window, engine, placed.start)
    click(view.part, chunk_of(view, placed).rect.center())
    key(view.part, "d")
    document = window.desk.document
    assert document is not None
    assert done(document.book, placed).at == window.desk.now
    assert "is finished" in window.desk.note


# Both grounds.


def test_it_is_drawn_in_the_inks_of_its_ground(window: MainWindow, view: PeopleView) -> None:
    def colours() -> set[str]:
        image = view.grab().toImage()
        return {
            image.pixelColor(x, y).name()
            for x in range(0, image.width(), 3)
            for y in range(0, image.height(), 2)
        }

    light = colours()
    window.ground.set_look("dark")
    dark = colours()
    assert {"#f6f3ec", "#1e262c", "#fffdf8"} <= light
    assert {"#15191d", "#ece7dc", "#1e2429"} <= dark
    assert "#f6f3ec" not in dark
