"""A large wall is made between what hands and keys do; a change of the book takes its place."""

from dataclasses import replace
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from app.window import slices
from app.window.main import MainWindow
from app.window.wall.derive import derive, derive_in_slices
from app.window.wall.memory import Memory
from app.words import Words
from shared.book import Fact, FactKind, Leave, Stage, Told
from shared.edits import change_job
from shared.ids import FactId
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import outcome_for, planted, shown


def test_slices_come_to_the_same_wall() -> None:
    made = planted()
    told = shown(outcome=outcome_for(made))
    words = Words("en", book=made.book)
    parts = list(derive_in_slices(told, words))
    assert parts[-1] == derive(told, words)
    assert parts[:-1] == [None] * (len(made.book.jobs) + 1)


def test_of_a_job_that_is_gone_nothing_is_remembered() -> None:
    made, memory = planted(), Memory()
    told = shown(outcome=outcome_for(made))
    words = Words("en", book=made.book)
    derive(told, words, memory)
    assert set(memory.jobs) == {job.id for job in made.book.jobs}
    fewer = replace(made.book, jobs=made.book.jobs[1:])
    derive(replace(told, book=fewer), words, memory)
    assert set(memory.jobs) == {job.id for job in fewer.jobs}


def test_what_is_remembered_is_made_as_it_would_be_anew() -> None:
    made, memory = planted(), Memory()
    book, outcome = made.book, outcome_for(made)
    job, person = book.jobs[0], book.people[0]
    away = Leave(start=made.now, end=made.now + timedelta(days=2))
    plan = made.plan
    assert plan is not None
    late = plan.placements[-1]
    later = replace(late, start=late.start + timedelta(hours=1), end=late.end + timedelta(hours=1))
    moved = replace(plan, placements=(*plan.placements[:-1], later))
    stage = next(step for step in job.steps if isinstance(step, Stage))
    fact = Fact(id=FactId("f"), step=stage.id, kind=FactKind.DONE, at=made.now, told_by="Edda")
    told = Told(at=made.now, plan=plan, sheet_number=1)
    walls = [
        shown(outcome=outcome),
        shown(),
        shown(outcome=outcome_for(made, spare_days=5)),
        shown(plan=moved),
        *(
            replace(shown(outcome=outcome), book=other)
            for other in (
                replace(book, jobs=(replace(job, name="Bent heron"), *book.jobs[1:])),
                replace(book, people=(replace(person, leave=(away,)), *book.people[1:])),
                replace(book, people=(replace(person, name="Fenna"), *book.people[1:])),
                replace(book, facts=(*book.facts, fact)),
                replace(book, told=told),
                replace(book, jobs=book.jobs[1:]),
            )
        ),
        replace(shown(outcome=outcome), now=made.now + timedelta(days=3)),
        shown(outcome=outcome),
    ]
    for each in walls:
        words = Words("en", book=each.book)
        kept, anew = derive(each, words, memory), derive(each, words)
        assert kept == anew
        assert [i.description for i in kept.items] == [i.description for i in anew.items]


def test_only_the_job_that_changed_is_made_anew() -> None:
    made, memory = planted(), Memory()
    before = derive(shown(), Words("en", book=made.book), memory)
    job = replace(made.book.jobs[1], steps=tuple(reversed(made.book.jobs[1].steps)))
    book = replace(made.book, jobs=(made.book.jobs[0], job, *made.book.jobs[2:]))
    after = derive(replace(shown(), book=book), Words("en", book=book), memory)
    same = {band.job for band in after.bands if any(band is other for other in before.bands)}
    assert same == {each.id for each in book.jobs} - {job.id}


def test_a_large_plan_is_shown_once_its_wall_is_ready(
    qtbot: QtBot, window: MainWindow, engine: HandEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(slices, "SLICED_FROM", 1)
    before = window.wall.wall
    engine.answer(outcome_for(planted(), spare_days=5))
    assert window.maker.is_busy
    assert window.wall.wall is before
    qtbot.waitUntil(lambda: not window.maker.is_busy)
    assert window.wall.wall != before


def test_an_edit_takes_the_place_of_a_wall_that_is_not_ready(
    qtbot: QtBot, window: MainWindow, engine: HandEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(slices, "SLICED_FROM", 1)
    engine.answer(outcome_for(planted(), spare_days=5))
    document = window.desk.document
    assert document is not None
    job = replace(document.book.jobs[0], name="Bent heron")
    window.desk.edit(change_job(document.book, job))
    assert not window.maker.is_busy
    assert "Bent heron" in {band.name for band in window.wall.wall.bands}
