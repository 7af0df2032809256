"""Pictures of the states of the window: what it says while something is not as usual.

The engine here answers what a state needs; the window is the real one.
"""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QApplication

from app.document import Document
from app.settings import Settings
from app.window.desk import Desk
from app.window.main import MainWindow
from app.window.views.view import Which
from scheduler.outcome import Breach, CheckResult, Outcome, Verdict
from shared.edits import change_job
from shared.files.lock import Lock, take
from shared.files.write import write_book
from tests.app.window.conftest import CLOCK, HandAsker, HandCounsel, HandEngine
from tests.app.window.scenes import outcome_for, planted
from tests.app.window.test_since import longer

MORE_HOURS = 6
Save = Callable[[MainWindow, str], None]


def shoot_states(folder: Path, data: Path) -> None:
    """Write a picture of every state, light and dark."""

    def save(window: MainWindow, name: str) -> None:
        window.resize(1366, 768)
        for look in ("light", "dark"):
            window.ground.set_look(look)
            window.arrange()
            window.refresh_state()
            for _ in range(3):
                QApplication.processEvents()
            window.grab().save(str(folder / f"state_{name}_{look}.png"))

    _planning(save)
    _verdicts(save)
    _refused_by_the_check(save)
    _unsaved(save)
    _empty(save)
    _files(save, data)


@contextmanager
def a_window() -> Iterator[tuple[MainWindow, HandEngine]]:
    """Give a window with a planted book that is planned, and who answers in the engine's place."""
    engine, counsel = HandEngine(), HandCounsel()
    desk = Desk(engine, counsel, lambda: CLOCK, lambda: 0.0)  # type: ignore[arg-type]
    window = MainWindow(desk, HandAsker(), Settings(look="light"), lambda _: None)
    desk.take(Document(planted().book))
    window.show_work()
    window.show()
    # A better plan of the same book is shown at once: no hands lie on the wall.
    window.wall.pointing.ticks = lambda: 1e9
    yield window, engine
    desk.document = None
    window.close()


def _changed(window: MainWindow) -> None:
    document = window.desk.document
    assert document is not None
    book, _ = longer(document.book, MORE_HOURS)
    window.desk.edit(change_job(document.book, book.jobs[0]))


def _as_now(window: MainWindow, outcome: Outcome) -> Outcome:
    assert window.desk.document is not None
    return replace(outcome, revision=window.desk.document.book.revision)


def _planning(save: Save) -> None:
    with a_window() as (window, engine):
        save(window, "planning")
        engine.answer(outcome_for(planted()))
        save(window, "planned")
        window.desk.look_longer()
        save(window, "still_looking")
        engine.answer(outcome_for(planted()))
        _changed(window)
        window.desk.plan_now()
        engine.is_busy = False
        engine.died.emit("")
        save(window, "old_plan")


def _verdicts(save: Save) -> None:
    with a_window() as (window, engine):
        engine.answer(outcome_for(planted()))
        for verdict in Verdict:
            window.desk.plan_now()
            engine.answer(outcome_for(planted(), verdict))
            save(window, f"verdict_{verdict.value}")


def _refused_by_the_check(save: Save) -> None:
    faults = (Breach(rule="pin", where="owl.head.carve", facts=()),) * 2
    with a_window() as (window, engine):
        engine.answer(outcome_for(planted()))
        window.desk.plan_now()
        engine.answer(replace(outcome_for(planted()), check=CheckResult(breaches=faults)))
        save(window, "check_disagrees")


def _unsaved(save: Save) -> None:
    with a_window() as (window, engine):
        engine.answer(outcome_for(planted()))
        _changed(window)
        window.desk.plan_now()
        engine.answer(_as_now(window, outcome_for(planted())))
        window.close()
        save(window, "not_saved")


def _empty(save: Save) -> None:
    with a_window() as (window, engine):
        engine.answer(outcome_for(planted()))
        for which in (Which.ENQUIRY, Which.ORDERS):
            window.shelf.show(which)
            save(window, f"empty_{which.value}")


def _files(save: Save, data: Path) -> None:
    whole = write_book(planted().book)
    path = data / "yard.countback"
    path.write_bytes(whole)
    lock = take(path, "Hilde", CLOCK)
    assert isinstance(lock, Lock)
    with a_window() as (window, engine):
        window.show_book(window.desk.open(path))
        engine.answer(outcome_for(planted()))
        save(window, "open_elsewhere")
    lock.release()
    spoiled = {
        "damaged": whole.replace(b'"name": "Garden snail"', b'"name": 7'),
        "newer": re.sub(rb'"format":\s*\d+', b'"format": 99', whole, count=1),
    }
    for name, text in spoiled.items():
        path = data / f"{name}.countback"
        path.write_bytes(text)
        with a_window() as (window, _):
            window.show_book(window.desk.open(path))
            save(window, name)
