"""Mornings for tests of the foreman's view: a busy day of a planted plan, and its answers."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from app.counsel.questions import AskAway, AskPlan
from app.window.main import MainWindow
from app.window.people.derive import Sight, derive
from app.window.people.items import Board
from app.window.people.layout import Chunk
from app.window.people.view import PeopleView
from app.window.views.view import Which
from app.words import Words
from scheduler.away.values import Answer, Answers, Hit, Move, MoveKind
from scheduler.outcome import CheckResult, Outcome
from scheduler.told_changes import Changes
from shared.book import Book, Leave, Stage
from shared.edits import mark_away
from shared.plan import Placement
from tests.app.window.conftest import HandEngine
from tests.app.window.hands import key
from tests.app.window.scenes import outcome_for, planted, shown

Key = Qt.Key
CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier


def busiest() -> Placement:
    """The stage of the planted plan with one person that begins first on the busiest day."""
    plan = planted().plan
    assert plan is not None
    days = [p.start.date() for p in plan.placements if p.people]
    day = max(sorted(set(days)), key=days.count)
    mine = [p for p in plan.placements if p.start.date() == day and len(p.people) == 1]
    return min(mine, key=lambda p: (p.start, p.step))


def board_of(day: date, *, count: int = 5, book: Book | None = None) -> Board:
    made = planted()
    of = shown(outcome=outcome_for(made))
    if book is not None:
        of = replace(of, book=book)
    return derive(of, Words("en", book=of.book), Sight(first=day, count=count))


def away_book(reason: str) -> Book:
    made = planted()
    placed = busiest()
    day = placed.start.replace(hour=0, minute=0)
    leave = Leave(start=day, end=day + timedelta(days=2), reason=reason)
    people = tuple(
        replace(p, leave=(leave,)) if p.id == placed.people[0] else p for p in made.book.people
    )
    return replace(made.book, people=people)


def view_of(window: MainWindow) -> PeopleView:
    view = window.shelf.views[Which.PEOPLE]
    assert isinstance(view, PeopleView)
    return view


def at_day(window: MainWindow, engine: HandEngine, when: datetime) -> PeopleView:
    """Bring the view to the front with a day of work first, as if it were that morning."""
    window.desk._fixed_now = when.replace(hour=7, minute=30)
    engine.answer(outcome_for(planted()))
    key(window.wall, Key.Key_3, CTRL)
    view = view_of(window)
    QApplication.processEvents()
    return view


def chunk_of(view: PeopleView, placed: Placement) -> Chunk:
    assert view.part.layout_ is not None
    identity = f"{placed.step}|{placed.round}|{placed.part}"
    return next(
        c
        for c in view.part.layout_.chunks
        if c.bar.id == identity and c.line.id == placed.people[0]
    )


def focused() -> QWidget:
    widget = QApplication.focusWidget()
    assert isinstance(widget, QWidget)
    return widget


def planned_with(question: AskPlan) -> Outcome:
    """Give the planted plan as the answer to a book with a pin in it."""
    outcome = outcome_for(planted())
    assert outcome.plan is not None
    pins = {
        s.id: s.pin.people
        for job in question.request.book.jobs
        for s in job.steps
        if isinstance(s, Stage) and s.pin is not None and s.pin.people
    }
    placed = tuple(replace(p, people=pins.get(p.step, p.people)) for p in outcome.plan.placements)
    plan = replace(outcome.plan, placements=placed)
    return replace(outcome, plan=plan, revision=question.request.book.revision)


def answers_to(question: AskAway) -> Answers:
    """Give two answers: it waits, and another one that misses nothing either."""
    made = planted()
    assert made.plan is not None
    book = mark_away(question.request.book, question.absence).book
    placed = busiest()
    answer = Answer(
        moves=(Move(kind=MoveKind.WAITS, job=placed.job, step=placed.step),),
        levers=(),
        changes=Changes(),
        price=Decimal(12),
        missed=frozenset(),
        lost=frozenset(),
        tight=frozenset(),
        proved_cheapest=False,
        book=book,
        plan=made.plan,
        check=CheckResult(),
        jobs=outcome_for(made).jobs,
    )
    hit = Hit(job=placed.job, step=placed.step, start=placed.start, end=placed.end)
    return Answers(
        absence=question.absence,
        now=question.request.now,
        hits=(hit,),
        before=outcome_for(made).jobs,
        answers=(answer, replace(answer, moves=())),
    )
