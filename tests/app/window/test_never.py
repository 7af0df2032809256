"""What the window never does, each with its test.

| never | test |
|---|---|
| change told work unasked | `test_what_was_told_changes_only_when_somebody_tells_anew` |
| move a client's date earlier without a sentence | `test_a_client_s_date_never_moves_earlier_...` |
| lift a pin | `test_a_pin_is_lifted_by_nobody_but_...`, `test_a_way_out_that_lifts_...` |
| count silence as a yes or as done | `test_silence_is_neither_a_yes_nor_done` |
| show the least price to a client | `test_the_least_price_...`; tests/house/test_least_price.py |
| say safe | `test_no_text_of_either_language_says_that_anything_is_safe` |
| need the internet | `test_a_sample_is_opened_planned_and_printed_without_the_internet` |
| print an old plan unmarked | `test_an_old_plan_is_never_saved_unmarked`, `..._printed_...` |
"""

import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.counsel.questions import AskAway
from app.document import Document
from app.settings import Settings, write_settings
from app.window.enquiry.view import EnquiryView
from app.window.main import MainWindow
from app.window.sheets.view import SheetsView
from app.window.startup import build, empty_book, prepare
from app.window.views.view import Which
from app.window.wall import moves
from app.window.wall.items import Role
from app.words import Words, on_wall
from app.words.levers import lever_line
from scheduler.enquiring import Taking
from scheduler.outcome import Outcome
from shared.book import Book, FactKind, Gate, GateKind, Leave, Pin, Stage
from shared.edits import add_leave, pin_step, tell_plan
from shared.ids import StepId
from shared.levers import Lever, LeverKind
from tests.app.window import pdf_text
from tests.app.window.conftest import HandAsker, HandCounsel, HandEngine
from tests.app.window.enquired import LEAST, a_promise, a_rush, the_book, without
from tests.app.window.hands import key, keys
from tests.app.window.people_scenes import answers_to
from tests.app.window.scenes import outcome_for, planted
from tests.german.po import PO, read_po
from tests.german.texts import all_texts

CTRL = Qt.KeyboardModifier.ControlModifier
WITHIN = 180_000


def focus() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def book_of(window: MainWindow) -> Book:
    assert window.desk.document is not None
    return window.desk.document.book


def answered(window: MainWindow, **changes: object) -> Outcome:
    """Give the planted outcome as the answer to the book as it now is."""
    found = replace(outcome_for(planted()), revision=book_of(window).revision)
    return replace(found, **changes)  # type: ignore[arg-type]


def moved(window: MainWindow, step: StepId, by: timedelta) -> Outcome:
    """Give an answer in which one step lies elsewhere."""
    plan = planted().plan
    assert plan is not None
    placed = tuple(
        replace(p, start=p.start + by, end=p.end + by) if p.step == step else p
        for p in plan.placements
    )
    made_from = replace(plan.made_from, revision=book_of(window).revision)
    return answered(window, plan=replace(plan, placements=placed, made_from=made_from))


@pytest.fixture
def told(window: MainWindow, engine: HandEngine) -> MainWindow:
    """A window on a plan that people were given."""
    made = planted()
    assert made.plan is not None
    window.desk.edit(tell_plan(book_of(window), made.plan, made.now))
    engine.answer(answered(window))
    return window


def steps_of(book: Book, kind: type[Stage] | type[Gate]) -> list[Stage | Gate]:
    return [step for job in book.jobs for step in job.steps if isinstance(step, kind)]


# Told work.


def test_what_was_told_changes_only_when_somebody_tells_anew(
    told: MainWindow, engine: HandEngine
) -> None:
    """A plan that comes later has its changes marked; the sheet stays what people have."""
    before = book_of(told).told
    step = steps_of(book_of(told), Stage)[3].id
    engine.answer(moved(told, step, timedelta(days=1)))

    assert book_of(told).told == before
    assert {i.step for i in told.wall.wall.items if i.is_anew and i.role is Role.BLOCK} == {step}
    key(told.wall, Qt.Key.Key_Space)
    engine.answer(moved(told, step, timedelta(days=2)))
    for which in Which:
        told.shelf.show(which)
    assert book_of(told).told == before

    told.shelf.show(Which.SHEETS)
    key(focus(), "y")
    now = book_of(told).told
    assert before is not None
    assert now is not None
    assert now.sheet_number == before.sheet_number + 1
    told.desk.undo()
    assert book_of(told).told == before


# Clients' dates.


@pytest.mark.parametrize("which", [Which.WALL, Which.COUNTBACK, Which.PEOPLE, Which.ORDERS])
def test_a_client_s_date_never_moves_earlier_without_a_sentence(
    told: MainWindow, engine: HandEngine, which: Which
) -> None:
    book = book_of(told)
    gate = next(s for s in steps_of(book, Gate) if s.gate is GateKind.ANSWER)  # type: ignore[union-attr]
    job = next(job for job in book.jobs if gate in job.steps)
    told.shelf.show(which)

    def said() -> str:
        return "".join(text for text, _ in told.masthead.shown.next)

    engine.answer(moved(told, gate.id, timedelta(days=3)))
    assert "the answer is now due" not in said(), "later moves nobody"
    engine.answer(moved(told, gate.id, -timedelta(days=3)))
    was = next(p.end for p in planted().plan.placements if p.step == gate.id)  # type: ignore[union-attr]
    zone = ZoneInfo(job.client.zone)
    new, old = (day_of(at.astimezone(zone)) for at in (was - timedelta(days=3), was))
    assert said().startswith(f"{job.name}: the answer is now due {new}, on the sheet it was {old}.")
    assert told.tabbing.next.accessibleName().startswith(f"{job.name}: the answer is now due")


def day_of(when: datetime) -> str:
    return f"{when:%a} {when.day} {when:%b}"


# Pins.


def test_a_pin_is_lifted_by_nobody_but_whoever_set_it(
    window: MainWindow, engine: HandEngine, counsel: HandCounsel
) -> None:
    item = window.wall.wall.rows[0].blocks[2]
    assert item.step is not None
    window.wall.choose(moves.at(window.wall.wall, item.id))
    key(window.wall, "p")

    def pin() -> Pin | None:
        step = next(s for s in steps_of(book_of(window), Stage) if s.id == item.step)
        return step.pin

    set_ = pin()
    assert set_ is not None
    engine.answer(moved(window, item.step, timedelta(days=2)))
    assert pin() == set_, "a plan that lies elsewhere lifts nothing"
    key(window.wall, Qt.Key.Key_Space)
    engine.answer(answered(window))

    key(window.wall, "a")
    keys(focus(), book_of(window).people[1].name + "\r")
    question = counsel.asked[-1]
    assert isinstance(question, AskAway)
    counsel.answer(answers_to(question))
    assert pin() == set_, "what is tried lifts nothing"
    key(focus(), Qt.Key.Key_Return)
    assert book_of(window).people[1].leave, "taken"
    assert pin() == set_
    window.desk.undo()
    window.desk.redo()
    assert pin() == set_

    window.shelf.show(Which.WALL)
    key(window.wall, "p")
    assert pin() is None, "whoever set it lets go of it"


def test_a_way_out_that_lifts_a_pin_says_so(window: MainWindow) -> None:
    step = steps_of(book_of(window), Stage)[2]
    book = pin_step(book_of(window), step.id, Pin(start=planted().now)).book
    lever = Lever(kind=LeverKind.LIFT_PIN, id="lift", about=(step.id,))
    said = lever_line(Words("en", book=book), lever, planted().now.date())
    assert said.startswith("The pin on ")


# Silence.


def test_silence_is_neither_a_yes_nor_done(told: MainWindow, engine: HandEngine) -> None:
    """All that was told lies weeks behind and nobody has said a word."""
    plan = planted().plan
    assert plan is not None
    told.desk._fixed_now = max(p.end for p in plan.placements) + timedelta(days=2)
    engine.answer(answered(told, now=told.desk.now))
    wall = told.wall.wall

    answers = [i for i in wall.items if i.role is Role.ANSWER]
    assert answers
    assert {i.state for i in answers} == {"late"}
    blocks = [i for i in wall.items if i.role is Role.BLOCK]
    assert not [i for i in blocks if i.stands == "done"]
    unsaid = [i for i in blocks if i.stands == "told"]
    assert unsaid
    assert all(told.words.say(on_wall.STANDS["told"]) in i.description for i in unsaid)
    assert not book_of(told).facts

    seam = next(i for i in wall.items if i.role is Role.ANSWER)
    told.wall.choose(moves.at(wall, seam.id))
    key(told.wall, "d")
    assert not [f for f in book_of(told).facts if f.kind is FactKind.ANSWER]
    assert told.masthead.shown.sentence == told.words.say(on_wall.ANSWER_NOT_MARKED)


# The least price.


def test_the_least_price_is_in_no_words_for_the_client(
    bare_window: MainWindow, qtbot: QtBot, engine: HandEngine, counsel: HandCounsel
) -> None:
    bare_window.desk.take(Document(the_book()))
    bare_window.show_work()
    bare_window.resize(1366, 768)
    with qtbot.waitExposed(bare_window):
        bare_window.show()
    engine.answer(without(the_book()))
    bare_window.shelf.show(Which.ENQUIRY)
    book = the_book()
    counsel.answer(
        a_rush(book, a_promise(book, 0, Taking.AT_RISK, 31), a_promise(book, 6, Taking.TAKE))
    )
    view = bare_window.shelf.view
    assert isinstance(view, EnquiryView)
    assert any(LEAST in row.amount for row in view.table.rows), "the owner sees it"

    key(view.dates, "y")
    copied = QGuiApplication.clipboard().text()
    assert copied == view.saying.quote.text
    assert "11,500" in copied
    assert LEAST not in copied
    assert LEAST not in view.saying.quote.text
    key(view.dates, "h")
    key(view.dates, "y")
    assert "11,500" not in QGuiApplication.clipboard().text()


# Safe.

ENGLISH = re.compile(
    r"\b(?:un|fail-?)?safe(?:ly|r|st|ty)?\b|\bharmless|\bno (?:danger|risk|hazard)"
    r"|\bwithout (?:any )?(?:risk|danger)|\bnot (?:dangerous|harmful|hazardous)",
    re.IGNORECASE,
)
GERMAN = re.compile(
    r"\b(?:un)?sicher(?:e[mnrs]?|er|sten?|heit\w*)?\b|gefahrlos|ungefährlich|unbedenklich"
    r"|unschädlich|risikolos|harmlos|\b(?:ohne|keine) (?:Gefahr|Risiko)",
    re.IGNORECASE,
)
"""Not sichern and gesichert, which is saving, nor versichern."""
OF_CHANCE = re.compile(r"\bsure(?:ly)?\b|\bodds\b|\bsecurity declaration\b", re.IGNORECASE)
"""How sure a date is, is the same word in German; so is a customs paper."""
NOT_SAID = "It does not say that anything is without risk."


def test_no_text_of_either_language_says_that_anything_is_safe() -> None:
    texts = all_texts()
    german = read_po(PO)
    assert len(texts) > 3000
    english = [each for text in texts for each in (text.text, text.many) if each]
    found = [each for each in english if ENGLISH.search(each.replace(NOT_SAID, ""))]
    assert found == []

    said = [(key.text + key.many, value) for key, values in german.items() for value in values]
    found = [
        value
        for key, value in said
        if GERMAN.search(value) and not OF_CHANCE.search(key) and NOT_SAID not in key
    ]
    assert len(said) > 3000
    assert found == []


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (ENGLISH, "The piece is Safe to climb"),
        (ENGLISH, "There is no danger in it"),
        (GERMAN, "So ist es sicher."),
        (GERMAN, "Die sicherste Art"),
        (GERMAN, "Der Staub ist unbedenklich"),
    ],
)
def test_a_planted_one_is_found(pattern: re.Pattern[str], text: str) -> None:
    assert pattern.search(text)


@pytest.mark.parametrize("text", ["als PDF sichern", "Gesichert.", "Versicherungspapiere"])
def test_saving_and_insuring_are_other_words(text: str) -> None:
    assert not GERMAN.search(text)


# The internet.

GUARD = """
import os
import socket

_connect = socket.socket.connect


def _refused(self, address, *rest):
    if self.family in (socket.AF_INET, socket.AF_INET6):
        with open(os.environ["COUNTBACK_TRIED"], "a") as tried:
            tried.write(f"{address}\\n")
        raise OSError("there is no internet")
    return _connect(self, address, *rest)


socket.socket.connect = socket.socket.connect_ex = _refused
"""
"""What stands in the way of every connection, here and in the engine's child."""


@pytest.fixture
def tried(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file in which every connection that is tried is written."""
    folder, file = tmp_path / "guard", tmp_path / "tried.txt"
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(GUARD, encoding="utf-8")
    path = [str(folder), os.environ.get("PYTHONPATH", "")]
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(part for part in path if part))
    monkeypatch.setenv("COUNTBACK_TRIED", str(file))
    monkeypatch.setattr(socket.socket, "connect", socket.socket.connect)
    monkeypatch.setattr(socket.socket, "connect_ex", socket.socket.connect_ex)
    exec(GUARD, {})
    return file


def test_the_guard_bites_here_and_in_a_child(tried: Path) -> None:
    asked = "import socket; socket.create_connection(('127.0.0.1', 9))"
    with pytest.raises(OSError, match="no internet"):
        socket.create_connection(("127.0.0.1", 9))
    done = subprocess.run(
        [sys.executable, "-c", asked], check=False, capture_output=True, text=True
    )
    assert "no internet" in done.stderr
    assert len(tried.read_text().splitlines()) == 2


@pytest.fixture
def real(
    qtbot: QtBot, qapp: QApplication, data_folder: Path, asker: HandAsker, tried: Path
) -> Iterator[MainWindow]:
    """An empty window with the real engine, which was started behind the guard."""
    assert not tried.exists()
    prepare(qapp)
    write_settings(data_folder, Settings(solve_seconds=1))
    made = build(data_folder, asker=asker)  # type: ignore[arg-type]
    qtbot.addWidget(made)
    made.desk.take(Document(empty_book(made.words)))
    made.show_work()
    with qtbot.waitExposed(made):
        made.show()
    yield made
    made._may_close = True
    made.close()


def test_a_sample_is_opened_planned_and_printed_without_the_internet(
    qtbot: QtBot, real: MainWindow, asker: HandAsker, tried: Path, tmp_path: Path
) -> None:
    real.first.open_sample("small")
    qtbot.waitUntil(lambda: real.desk.outcome is not None, timeout=WITHIN)
    assert real.desk.outcome is not None
    assert real.desk.outcome.check.sound
    asker.path = tmp_path / "today.pdf"
    key(real.wall, "s")
    key(focus(), Qt.Key.Key_Return)

    assert pdf_text.pages(asker.path.read_bytes())
    assert not tried.exists()
    assert not [name for name in sys.modules if name.startswith("PySide6.QtNetwork")]


# Old plans.


def make_old(window: MainWindow) -> None:
    """Change the book; no other plan comes."""
    desk = window.desk
    leave = Leave(start=desk.now, end=desk.now.replace(day=desk.now.day + 2))
    desk.edit(add_leave(book_of(window), book_of(window).people[0].id, leave))


def test_an_old_plan_is_never_saved_unmarked(
    window: MainWindow, asker: HandAsker, tmp_path: Path
) -> None:
    make_old(window)
    asker.path = tmp_path / "old.pdf"
    key(window.wall, "s")
    view = window.shelf.view
    assert isinstance(view, SheetsView)
    for turn in ("", "o"):
        if turn:
            key(focus(), turn)
        key(focus(), Qt.Key.Key_Return)
        pages = pdf_text.pages(asker.path.read_bytes())
        assert pages
        assert all(any(text.startswith("OLD PLAN.") for text in page) for page in pages)
    assert view.headline().is_alarm


@pytest.mark.parametrize("which", [Which.WALL, Which.COUNTBACK, Which.PEOPLE, Which.SHEETS])
def test_an_old_plan_is_never_printed_unmarked(
    window: MainWindow, asker: HandAsker, tmp_path: Path, which: Which
) -> None:
    make_old(window)
    window.shelf.show(which)
    window.printing.printers = NoPrinters()
    asker.path = tmp_path / "old.pdf"
    window.printing.print_front()
    pages = pdf_text.pages(asker.path.read_bytes())
    assert pages
    assert all(any("OLD PLAN." in text for text in page) for page in pages), pages[0][:8]


class NoPrinters:
    """A computer without a printer."""

    def are_there(self) -> bool:
        return False

    def ask(self, *_: object) -> None:
        return None
