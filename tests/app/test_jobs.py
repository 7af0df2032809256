"""The engine's keeper, held against children that misbehave, and against the real one."""

import os
import signal
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app import child
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


def stub(engines: list[Engine], mood: str, patience: int = child.PATIENCE_MILLISECONDS) -> Engine:
    engine = Engine((sys.executable, [STUB, mood]), patience=patience)
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

    assert told.args[0].code == "nonsense"


def test_what_is_nested_too_deep_or_has_no_number_does_no_harm(
    qtbot: QtBot, engines: list[Engine]
) -> None:
    engine = stub(engines, "raves")
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args[0].facts == {"what": "at last"}


@pytest.mark.parametrize(
    ("mood", "code"),
    [
        ("silent", "hung"),
        ("torn", "hung"),
        ("endless", "hung"),
        ("another", "nonsense"),
        ("greedy", "no_memory"),
    ],
)
def test_a_child_that_can_not_be_trusted_is_told_of_and_replaced(
    qtbot: QtBot, engines: list[Engine], monkeypatch: pytest.MonkeyPatch, mood: str, code: str
) -> None:
    patience = 2_000
    if mood == "endless":
        monkeypatch.setattr(child, "LARGEST_LINE", 200_000)
        patience = child.PATIENCE_MILLISECONDS
    engine = stub(engines, mood, patience)
    engine.start()
    first = engine.process_id
    with qtbot.waitSignal(engine.refused, timeout=10_000) as told:
        engine.ask(a_book(), NOW, seconds=1)

    assert told.args[0].code == code
    assert not engine.is_busy
    assert engine.process_id not in (0, first)


def test_a_child_that_is_awaited_no_more_may_be_silent(qtbot: QtBot, engines: list[Engine]) -> None:
    engine = stub(engines, "refuses", patience=150)
    with qtbot.waitSignal(engine.refused, timeout=10_000):
        engine.ask(a_book(), NOW, seconds=1)
    first = engine.process_id
    with qtbot.assertNotEmitted(engine.refused, wait=400):
        pass
    assert engine.process_id == first


def test_a_child_that_does_not_hear_that_it_was_called_off_is_replaced_and_asked_anew(
    qtbot: QtBot, engines: list[Engine]
) -> None:
    engine = stub(engines, "silent")
    engine._leave.setInterval(300)
    engine.ask(a_book(), NOW, seconds=1)
    first = engine.process_id
    engine.cancel()
    assert not engine.is_busy

    def is_replaced_while_the_book_goes_on_changing() -> bool:
        engine.ask(replace(a_book(), revision=engine._number), NOW, seconds=1)
        return engine.process_id not in (0, first)

    qtbot.waitUntil(is_replaced_while_the_book_goes_on_changing, timeout=10_000)
    assert engine.is_busy


@pytest.mark.skipif(not hasattr(signal, "SIGSTOP"), reason="no such signal here")
def test_the_real_child_is_heard_while_it_works_and_replaced_once_it_is_stopped(
    qtbot: QtBot, engines: list[Engine]
) -> None:
    engine = Engine(patience=4_000)
    engines.append(engine)
    heard: list[object] = []
    engine._child.heard.connect(heard.append)
    engine.ask(tiny(1).book, NOW, seconds=1)
    qtbot.waitUntil(lambda: bool(heard), timeout=60_000)
    assert heard[0] == {"kind": "beat", "id": None, "revision": None}
    first = engine.process_id
    os.kill(first, signal.SIGSTOP)
    with qtbot.waitSignal(engine.refused, timeout=60_000) as told:
        engine.ask(tiny(1).book, NOW, seconds=1)
    assert told.args[0].code == "hung"
    assert engine.process_id not in (0, first)


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
