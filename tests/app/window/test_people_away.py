"""The foreman's view: somebody is away, and what can be done about it."""

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QPoint, Qt

from app.counsel.questions import AskAway
from app.window.main import MainWindow
from app.window.people.items import Sort
from app.window.people.view import PeopleView
from app.window.reader import READER
from shared.absence import AwayKind
from shared.book import Leave, Person
from shared.edits import add_leave
from tests.app.window.conftest import HandCounsel, HandEngine
from tests.app.window.hands import drag, key, keys
from tests.app.window.people_scenes import answers_to, at_day, away_book, busiest, focused, view_of
from tests.app.window.scenes import outcome_for, planted

Key = Qt.Key


def _asked_of_asta(window: MainWindow, counsel: HandCounsel) -> AskAway:
    """Ask from the wall what to do when Asta is away tomorrow."""
    key(window.wall, Key.Key_A)
    keys(focused(), "asta\r")
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    return question


def test_away_tomorrow_to_a_chosen_answer_in_three_actions(
    window: MainWindow, counsel: HandCounsel
) -> None:
    document = window.desk.document
    assert document is not None
    person = document.book.people[1]

    key(window.wall, Key.Key_A)
    keys(focused(), person.name + "\r")
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    counsel.answer(answers_to(question))
    view = view_of(window)
    assert [e.is_tried for e in view.side.panel.entries] == [True, False]
    key(focused(), Key.Key_Return)

    assert question.absence.kind is AwayKind.PERSON
    assert question.absence.id == person.id
    zone = window.desk.words.zone
    today = window.desk.now.astimezone(ZoneInfo(zone)).date()
    start = question.absence.start.astimezone(ZoneInfo(zone))
    assert start.date() > today
    assert question.absence.end - question.absence.start <= timedelta(hours=25)
    assert document.undo_label is not None
    assert document.undo_label.code == "take_answer"
    away = next(p for p in document.book.people if p.id == person.id)
    assert away.leave[-1].start == question.absence.start
    window.desk.undo()
    assert next(p for p in document.book.people if p.id == person.id) == person


def test_another_figure_tries_another_answer_and_money_can_be_hidden(
    window: MainWindow, counsel: HandCounsel
) -> None:
    question = _asked_of_asta(window, counsel)
    counsel.answer(answers_to(question))
    view = view_of(window)
    assert any("costs 12" in line for line in view.side.panel.entries[0].lines)
    key(focused(), "2")
    assert [e.is_tried for e in view.side.panel.entries] == [False, True]
    window.desk.hide_money()
    assert not any("costs" in line for e in view.side.panel.entries for line in e.lines)


def test_answers_to_what_nobody_asks_any_more_are_not_heard(
    window: MainWindow, counsel: HandCounsel
) -> None:
    question = _asked_of_asta(window, counsel)
    awaying = view_of(window).awaying
    assert awaying.typed is not None
    awaying.write(replace(awaying.typed, id=""))
    assert awaying.absence is None
    counsel.answer(answers_to(question))
    assert awaying.answers is None
    assert window.desk.trial is None


def test_the_reason_is_written_beside_the_absence(window: MainWindow, counsel: HandCounsel) -> None:
    document = window.desk.document
    assert document is not None
    key(window.wall, Key.Key_A)
    view = view_of(window)
    keys(view.form.blanks["who"], "asta\r")
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    counsel.answer(answers_to(question))
    view.form.blanks["reason"].setFocus()
    keys(view.form.blanks["reason"], "ill\r")
    assert len(counsel.asked) == 1
    key(focused(), Key.Key_Return)
    asta = next(p for p in document.book.people if p.name == "Asta")
    assert asta.leave[-1].reason == "ill"


@pytest.fixture
def view(window: MainWindow, engine: HandEngine) -> PeopleView:
    return at_day(window, engine, busiest().start)


def test_an_absence_is_drawn_over_the_days(view: PeopleView, counsel: HandCounsel) -> None:
    laid = view.part.layout_
    assert laid is not None
    row = laid.rows[0]
    first, last = laid.tracks[1], laid.tracks[2]
    taken = [c.rect for c in laid.chunks if c.line.id == row.line.id]
    y = row.top + 2
    start, end = QPoint(first.left + 3, y), QPoint(last.right - 3, y)
    assert not any(rect.contains(start) for rect in taken)
    drag(view.part, start, end)
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    assert question.absence.id == row.line.id
    assert question.absence.end - question.absence.start >= timedelta(days=2)
    assert view.form.blanks["who"].text() == row.line.name


def test_a_name_that_nobody_has_is_refused_in_words(window: MainWindow) -> None:
    key(window.wall, Key.Key_A)
    view = view_of(window)
    keys(view.form.blanks["who"], "nobody\r")
    assert view.form.blanks["who"].is_refused
    assert not view.awaying.is_busy
    key(focused(), Key.Key_Escape)
    key(focused(), Key.Key_Escape)
    assert not view.awaying.is_open


def test_m_only_writes_it_down(window: MainWindow, counsel: HandCounsel) -> None:
    document = window.desk.document
    assert document is not None
    question = _asked_of_asta(window, counsel)
    counsel.answer(answers_to(question))
    key(focused(), "m")
    assert document.undo_label is not None
    assert document.undo_label.code == "mark_away"
    assert not view_of(window).awaying.is_open


def test_whoever_is_back_after_all_is_there_again(
    window: MainWindow, engine: HandEngine, view: PeopleView
) -> None:
    document = window.desk.document
    assert document is not None
    placed = busiest()
    leave = away_book("ill").people
    before = document.book.people
    window.desk.edit(add_leave(document.book, placed.people[0], _leave_of(leave, placed.people[0])))
    engine.answer(replace(outcome_for(planted()), revision=document.book.revision))
    view.refresh()
    assert view.part.layout_ is not None
    chunk = next(c for c in view.part.layout_.chunks if c.bar.sort is Sort.AWAY)
    view.part.choose(chunk.id)
    assert view.side.panel.sub.endswith(": ill.")
    assert READER.said[-1].endswith(": ill.")
    key(view.part, "1")
    assert document.book.people == before
    window.desk.undo()
    assert document.book.people != before


def _leave_of(people: tuple[Person, ...], who: str) -> Leave:
    return next(person for person in people if person.id == who).leave[-1]


def test_nobody_reads_on_the_wall_why_somebody_is_away(window: MainWindow) -> None:
    document = window.desk.document
    assert document is not None
    placed = busiest()
    book = away_book("ill")
    window.desk.edit(
        add_leave(document.book, placed.people[0], _leave_of(book.people, placed.people[0]))
    )
    told = [item.description + item.name for item in window.wall.wall.items]
    assert told
    assert not any("ill" in text.split() for text in told)


def test_tab_goes_through_the_sentence_to_the_answers(window: MainWindow) -> None:
    key(window.wall, Key.Key_A)
    view = view_of(window)
    seen = [focused()]
    for _ in range(4):
        key(focused(), Key.Key_Tab)
        seen.append(focused())
    blanks = view.form.blanks
    assert seen == [blanks["who"], blanks["start"], blanks["end"], blanks["reason"], view.side]


def test_an_absence_beyond_the_days_on_show_brings_its_first_day(
    window: MainWindow, counsel: HandCounsel
) -> None:
    key(window.wall, Key.Key_A)
    view = view_of(window)
    today = view.part.board.columns[0].date if view.part.board else None
    keys(view.form.blanks["who"], "asta\t")
    day = window.desk.now.date() + timedelta(days=28)
    keys(view.form.blanks["start"], f"{day.isoformat()}\r")
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    counsel.answer(answers_to(question))
    assert view.part.board is not None
    assert view.part.board.columns[0].date >= day
    key(focused(), Key.Key_Escape)
    key(focused(), Key.Key_Escape)
    assert view.part.board.columns[0].date == today
