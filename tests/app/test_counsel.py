"""Questions beside the plan: asked of a child of their own, by number, the last one only."""

import sys

import pytest
from pytestqt.qtbot import QtBot

from app.counsel.asking import Counsel
from app.counsel.questions import AskChance, AskPlan, AskRush, AskWhy, FirstLook, WhyAnswer
from scheduler.chance import Chances
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.book import Book
from tests.app.test_jobs import STUB
from tests.books.shapes import tiny
from tests.builders import NOW
from tests.scheduler.test_chance import a_tall_book

WAIT = 60_000
pytestmark = pytest.mark.slow


def request_of(book: Book) -> SolveRequest:
    return SolveRequest(book=book, now=NOW, seconds=1, workers=1, effort=3)


@pytest.fixture
def counsel(qtbot: QtBot) -> Counsel:
    return Counsel()


def answered(qtbot: QtBot, counsel: Counsel, question: object, book: Book) -> object:
    heard: list[object] = []
    counsel.ask(question, book.revision, heard.append)  # type: ignore[arg-type]
    qtbot.waitUntil(lambda: not counsel.is_busy, timeout=WAIT)
    assert len(heard) == 1
    return heard[0]


def test_a_plan_its_chances_and_the_causes_come_back_as_values(
    qtbot: QtBot, counsel: Counsel
) -> None:
    book = a_tall_book(window_days=1)
    outcome = answered(qtbot, counsel, AskPlan(request=request_of(book)), book)
    assert isinstance(outcome, Outcome)
    assert outcome.plan.placements
    chances = answered(qtbot, counsel, AskChance(book=book, plan=outcome.plan), book)
    assert isinstance(chances, Chances)
    assert chances.jobs[0].chance is not None
    why = answered(qtbot, counsel, AskWhy(request=request_of(book), job=book.jobs[0].id), book)
    assert isinstance(why, WhyAnswer)
    assert why.why.chain
    counsel.close()


def test_only_the_last_question_is_heard(qtbot: QtBot, counsel: Counsel) -> None:
    book = a_tall_book(window_days=1)
    first: list[object] = []
    counsel.ask(AskPlan(request=request_of(book)), book.revision, first.append)
    last = answered(qtbot, counsel, AskPlan(request=request_of(book)), book)
    assert isinstance(last, Outcome)
    assert first == []
    counsel.close()


def test_what_can_not_be_answered_is_refused_and_the_next_question_works(
    qtbot: QtBot, counsel: Counsel
) -> None:
    book = a_tall_book(window_days=1)
    with qtbot.waitSignal(counsel.refused, timeout=WAIT) as told:
        counsel.ask("no question", book.revision, lambda _: None)  # type: ignore[arg-type]
    assert told.args[0].code == "not_an_ask"
    assert isinstance(answered(qtbot, counsel, AskPlan(request=request_of(book)), book), Outcome)
    counsel.close()


def test_a_first_look_at_a_rush_comes_before_the_answer(qtbot: QtBot, counsel: Counsel) -> None:
    book = a_tall_book(window_days=1)
    parts: list[object] = []
    heard: list[object] = []
    question = AskRush(request=request_of(book), job=book.jobs[0].id)
    counsel.ask(question, book.revision, heard.append, parts.append)
    qtbot.waitUntil(lambda: not counsel.is_busy, timeout=WAIT)
    assert isinstance(parts[0], FirstLook)
    assert heard
    counsel.close()


@pytest.mark.parametrize(
    ("mood", "code"), [("silent", "hung"), ("no value", "nonsense"), ("dies", "ended")]
)
def test_a_child_that_can_not_be_trusted_is_told_of_and_another_begun(
    qtbot: QtBot, mood: str, code: str
) -> None:
    counsel = Counsel((sys.executable, [STUB, mood]), patience=2_000)
    heard: list[object] = []
    book = tiny(1).book
    question = AskPlan(request=request_of(book))
    for _ in range(2):
        with qtbot.waitSignal(counsel.refused, timeout=10_000) as told:
            counsel.ask(question, book.revision, heard.append)
        assert told.args[0].code == code
        assert not counsel.is_busy
    assert heard == []
    counsel.close()
