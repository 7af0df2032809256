"""The engine's keeper, held against children that misbehave, and against the real one."""

import os
import signal
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.child import engine_command
from app.jobs import Engine, Refusal
from scheduler.outcome import Outcome
from tests.books.shapes import tiny
from tests.builders import NOW, a_book

STUB = str(Path(__file__).parent / "stub_child.py")


@pytest.fixture
def engines() -> Iterator[list[Engine]]:
    made: list[Engine] = []
    yield made
    for engine in made:
        engine.close()


def stub(engines: list[Engine], mood: str) -> Engine:
    engine = Engine((sys.executable, [STUB, mood]))
    engines.append(engine)
    return engine


def test_a_refusal_arrives_with_its_code_and_facts(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "refuses")
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args == [Refusal(code="book_stops", facts={"findings": ["x"]})]
    assert not engine.is_busy


def test_a_child_that_dies_is_told_of_and_replaced(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "dies")
    with qtbot.waitSignal(engine.died, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args == [""]
    assert not engine.is_busy
    qtbot.waitUntil(lambda: engine.process_id > 0, timeout=10_000)


def test_a_program_that_is_not_there_is_told_of(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = Engine((str(Path(STUB).with_name("no-such-program")), []))
    engines.append(engine)
    with qtbot.waitSignal(engine.died, timeout=10_000) as told:
        engine.start()

    assert told.args[0]
    assert engine.process_id == 0


def test_lines_that_are_none_of_ours_do_no_harm(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "babbles")
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args[0].code == "fault"


def test_an_answer_to_an_older_question_is_dropped(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "late")
    book = a_book()
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(book, NOW, seconds=1)
        engine.ask(replace(book, revision=8), NOW, seconds=1)

    assert told.args[0].facts == {"what": "8"}


def test_what_the_child_complains_of_is_no_answer(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "complains")
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args[0].code == "fault"


def test_the_child_is_this_program_itself_or_its_command(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert engine_command() == (sys.executable, ["-m", "app", "engine"])
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    for name, wanted in (
        ("countback", "countback"),
        ("countback.exe", "countback.exe"),
        ("countback-window.exe", "countback.exe"),
        ("renamed", "renamed"),
    ):
        (tmp_path / wanted).touch()
        monkeypatch.setattr(sys, "executable", str(tmp_path / name))
        assert engine_command() == (str(tmp_path / wanted), ["engine"])
        (tmp_path / wanted).unlink()


@pytest.mark.slow
def test_the_real_child_plans_a_book_and_one_killed_from_outside_is_replaced(
    qtbot: QtBot, engines: list[Engine]
) -> None:
    engine = Engine()
    engines.append(engine)
    book = tiny(1).book
    with qtbot.waitSignal(engine.solved, timeout=60_000) as told:
        engine.ask(book, book.as_of or NOW, seconds=2)
    outcome = told.args[0]
    assert isinstance(outcome, Outcome)
    assert outcome.revision == book.revision
    assert outcome.plan.placements
    first = engine.process_id
    with qtbot.waitSignal(engine.died, timeout=10_000):
        os.kill(first, signal.SIGKILL)
    with qtbot.waitSignal(engine.solved, timeout=60_000) as again:
        engine.ask(replace(book, revision=2), book.as_of or NOW, seconds=2)

    assert again.args[0].revision == 2
    assert engine.process_id != first


def test_the_child_leaves_when_it_is_let_go(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "refuses")
    engine.start()
    qtbot.waitUntil(lambda: engine.process_id > 0, timeout=10_000)
    child = engine.process_id
    engine.close()

    assert engine.process_id == 0
    with pytest.raises(ProcessLookupError):
        os.kill(child, 0)
