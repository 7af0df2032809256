"""The planner of the real window at fault: killed, stopped, without memory, nonsense on its pipe.

In each round a book is changed in the window (off the screen), and while its engine plans it the
engine's process is killed, stopped for good, left without memory, or spoils one of its lines
(the last two by tests/soak/_solver_child.py); in some rounds twice. Each time the window must say
so in words, the last plan stay, another plan come that the second opinion finds nothing wrong
with, and no process be left once the window is closed. Noticing one that was stopped may take
PATIENCE_MILLISECONDS; one that only never ends is stopped by the keys that the window names then.
"""

import json
import os
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from types import TracebackType

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.jobs import Engine
from app.settings import Settings, write_settings
from app.window.keeper import Keeper
from app.window.startup import build, prepare
from app.words import Words
from scheduler.check import check
from shared.book import Held, Stage
from shared.edits import tell_held
from shared.files.write import write_book
from tests.books.samples import full, small, tight
from tests.soak import _solver_child as spoiling
from tests.soak.report import Report, Task

ROUNDS = 100
ROUNDS_PER_WINDOW = 10
PATIENCE_MILLISECONDS = 6_000
SLACK_SECONDS = 4
SOLVE_SECONDS = 1
LONGEST_SECONDS = 120
CLOSED_WITHIN_SECONDS = 10
MOMENTS = ("first", "between", "end")
KINDS = {"killed": 28, "stopped": 18, "greedy": 18, "bytes": 9, "torn": 9, "another": 12}
KINDS |= {"endless": 6}
MARK = "COUNTBACK_SOAK"
SAID = {
    "killed": ("ended",),
    "stopped": ("hung",),
    "greedy": ("ended", "no_memory", "fault", "hung"),
    "bytes": ("hung", "nonsense"),
    "torn": ("hung", "nonsense"),
    "another": ("hung", "nonsense"),
    "endless": ("hung",),
}
MUST_SAY = ("killed", "stopped", "endless")
BOOKS = {small: 3, tight: 6, full: 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """kind: of KINDS. moment: of MOMENTS. times: how often. is_impatient: Esc and Space follow."""

    kind: str
    moment: str
    times: int
    seed: str
    is_impatient: bool


def drawn(seed: str) -> Fault:
    """Draw the fault of a round."""
    draw = Random(seed)
    kind = draw.choices(list(KINDS), list(KINDS.values()))[0]
    return Fault(
        kind=kind,
        moment=draw.choice(MOMENTS),
        times=2 if draw.random() < 0.15 else 1,
        seed=seed,
        is_impatient=kind == "stopped" and draw.random() < 0.3,
    )


class Window:
    """A window on a book in a folder of its own, its processes marked."""

    def __init__(self, folder: Path, draw: Random) -> None:
        self.folder, self._draw = folder, draw
        self.mark = os.urandom(8).hex()
        os.environ[MARK] = self.mark
        write_settings(folder, Settings(solve_seconds=SOLVE_SECONDS, language="en"))
        command = [sys.executable, "-m", "tests.soak._solver_child", str(folder)]
        engine = Engine((command[0], command[1:]), patience=PATIENCE_MILLISECONDS)
        self.window = build(folder, engine=engine)
        self.desk = self.window.desk
        self.keeper = Keeper(self.window, folder)
        path = folder / "shop.countback"
        path.write_bytes(write_book(draw.choices(list(BOOKS), list(BOOKS.values()))[0]()))
        self.window.show_book(self.desk.open(path))
        self.window.show()
        self.said: list[str] = []
        self.failures: list[str] = []
        self.desk.state_changed.connect(self._on_state)
        self._had_plan = False

    def _on_state(self) -> None:
        """Keep what the masthead says of the planner, and that there is a plan to be seen."""
        self._had_plan |= self.desk.plan is not None
        if self._had_plan and self.desk.plan is None:
            self.failures.append("the last plan is gone")
        sentence = self.window.masthead.shown.sentence
        if self.desk.trouble and sentence != self.desk.trouble and not self.desk.is_late:
            self.failures.append(f"not said: {self.desk.trouble}")
        if self.desk.trouble and self.desk.trouble not in self.said[-1:]:
            self.said.append(self.desk.trouble)

    @property
    def is_planned(self) -> bool:
        """Whether there is an answer for the book as it stands, and nothing more to come."""
        desk = self.desk
        assert desk.document is not None
        is_of_book = desk.outcome is not None and desk.outcome.revision == self._revision
        return is_of_book and not desk.engine.is_busy and not desk.trouble

    @property
    def _revision(self) -> int:
        assert self.desk.document is not None
        return self.desk.document.book.revision

    def wait(self, is_so: Callable[[], bool]) -> bool:
        """Let the window work until something is so; whether it was in time."""
        until = time.monotonic() + LONGEST_SECONDS
        while not is_so():
            if time.monotonic() > until:
                return False
            QTest.qWait(5)
        return True

    def change(self, number: int) -> None:
        """Change the book, so that it is planned anew."""
        document = self.desk.document
        assert document is not None
        stages = [s.id for job in document.book.jobs for s in job.steps if isinstance(s, Stage)]
        step = stages[number % len(stages)]
        told = tell_held(document.book, step, Held.MATERIAL, self.desk.now, f"u{number}")
        self.desk.edit(told)

    def space(self) -> None:
        """Press the key that plans again."""
        QTest.keyClick(self.window, Qt.Key.Key_Space)

    def left(self) -> list[int]:
        """The processes of this window that live."""
        found = []
        for each in Path("/proc").glob("[0-9]*/environ"):
            try:
                is_ours = f"{MARK}={self.mark}".encode() in each.read_bytes()
            except OSError:
                continue
            if is_ours and int(each.parent.name) != os.getpid():
                found.append(int(each.parent.name))
        return found

    def close(self) -> list[str]:
        """Close it, now and then with a child that is stopped; what is left of it, as failures."""
        pid = self.desk.engine.process_id
        if pid and self._draw.random() < 0.5:
            os.kill(pid, signal.SIGSTOP)
        self.window._may_close = True
        self.window.close()
        self.window.deleteLater()
        self.desk.deleteLater()
        until = time.monotonic() + CLOSED_WITHIN_SECONDS
        while self.left() and time.monotonic() < until:
            QTest.qWait(20)
        return [f"process {pid} is left" for pid in self.left()]


class Round:
    """One fault, or two, and what comes after."""

    def __init__(self, at: Window, number: int, fault: Fault) -> None:
        self._at, self._number, self._fault = at, number, fault
        self._draw = Random(fault.seed + "/")
        self.notice_seconds = 0.0
        self.failures: list[str] = []
        self.said: list[str] = []
        self.is_late = False

    def go(self) -> None:
        """Begin with a plan, make the fault, wait for the next plan."""
        at = self._at
        if not at.wait(lambda: self._is_back(None)):
            self.failures.append(f"no plan to begin with; said: {at.desk.trouble}")
            return
        self.is_late = False
        at.said.clear()
        at.failures.clear()
        before = at.desk.outcome
        if self._fault.kind not in ("killed", "stopped"):
            told = {**{n: getattr(self._fault, n) for n in ("kind", "moment", "times", "seed")}}
            (at.folder / spoiling.FAULT).write_text(json.dumps(told), encoding="utf-8")
        at.change(self._number)
        for _ in range(self._fault.times):
            self._make()
        is_back = at.wait(lambda: self._is_back(before))
        self.said = list(at.said)
        self.failures += at.failures
        (at.folder / spoiling.FAULT).unlink(missing_ok=True)
        if self._fault.kind == "greedy":
            # What is left of its memory may do for this question and not for the next one.
            at.desk.engine._replace()
        if not is_back:
            self.failures.append(f"no plan came any more; said: {at.said}")
            return
        self._judge()

    def _is_back(self, before: object) -> bool:
        """Do what the window says is to be done; whether there is another plan."""
        at = self._at
        if at.desk.is_late:
            at.window.refresh_state()
            sentence = at.window.masthead.shown.sentence
            if not sentence.endswith("Esc stops it."):
                self.failures.append(f"late, and said: {sentence}")
            self.is_late = True
            QTest.keyClick(at.window, Qt.Key.Key_Escape)
            at.space()
        if at.desk.trouble.endswith("Space looks for another."):
            at.space()
        return at.is_planned and at.desk.outcome is not before

    def _make(self) -> None:
        """Do it to the process, at the moment that was drawn; it does others by itself.

        A plan that was quicker than the moment is asked for again.
        """
        at, engine, count = self._at, self._at.desk.engine, len(self._at.said)
        if self._fault.kind not in ("killed", "stopped"):
            return
        at.wait(lambda: engine.is_busy and engine.process_id > 0)
        self._reach()
        pid = engine.process_id
        began = time.monotonic()
        stops = self._fault.kind == "stopped"
        os.kill(pid, signal.SIGSTOP if stops else signal.SIGKILL)
        if self._fault.is_impatient:
            QTest.keyClick(at.window, Qt.Key.Key_Escape)
        if not engine.is_busy or self._fault.is_impatient:
            at.space()
        if not at.wait(lambda: len(at.said) > count or engine.process_id not in (0, pid)):
            self.failures.append(f"not noticed within {LONGEST_SECONDS} s")
        self.notice_seconds = max(self.notice_seconds, time.monotonic() - began)

    def _reach(self) -> None:
        """Wait for the moment, or for an answer that comes before it."""
        at, engine = self._at, self._at.desk.engine
        if self._fault.moment == "between":
            at.wait(lambda: at.desk.plan_revision == at._revision or not engine.is_busy)
        elif self._fault.moment == "end":
            until = time.monotonic() + self._draw.random() * 1.3 * SOLVE_SECONDS
            at.wait(lambda: time.monotonic() >= until)

    def _judge(self) -> None:
        at, kind = self._at, self._fault.kind
        document, plan = at.desk.document, at.desk.plan
        assert document is not None
        assert plan is not None
        breaches = check(document.book, plan, now=at.desk.now).breaches
        if breaches:
            self.failures.append(f"a plan that is not sound: {breaches[0]}")
        words = Words(book=document.book)
        known = {code: words.trouble(code) for code in SAID[kind]}
        is_answer_torn = kind == "torn" and self._fault.moment == "end"
        if (kind in MUST_SAY or is_answer_torn) and not self.said:
            self.failures.append("nothing was said")
        if kind == "stopped" and self.notice_seconds > PATIENCE_MILLISECONDS / 1000 + SLACK_SECONDS:
            self.failures.append(f"noticed only after {self.notice_seconds:.1f} s")
        for each in self.said:
            if not any(sentence in each for sentence in known.values()):
                self.failures.append(f"said of another fault: {each}")


def _came_to(made: Round) -> str:
    if made.said:
        return "told"
    return "late" if made.is_late else "harmless"


def run(task: Task) -> Report:
    """Round after round, some in one window."""
    app = QApplication.instance() or QApplication(["countback"])
    assert isinstance(app, QApplication)
    prepare(app)
    facts: Counter[str] = Counter(dict.fromkeys((*KINDS, "told", "late", "harmless", "twice"), 0))
    failed: list[str] = []
    done, longest = 0, 0.0
    caught: list[str] = []
    former = sys.excepthook

    def catch(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        caught.append(f"{kind.__name__}: {error}")
        former(kind, error, trace)

    sys.excepthook = catch
    try:
        while done < task.rounds and task.has_time:
            until = min(task.rounds, done + ROUNDS_PER_WINDOW)
            with tempfile.TemporaryDirectory() as folder:
                at = Window(Path(folder), Random(f"{task.seed}/window/{done}"))
                while done < until and task.has_time:
                    fault = drawn(f"{task.seed}/{done}")
                    made = Round(at, done, fault)
                    began = time.monotonic()
                    made.go()
                    lines = made.failures + caught
                    caught.clear()
                    where = f"seed {task.seed}, round {done}, {fault.kind} at {fault.moment}"
                    failed += [f"{where}: {line}" for line in lines]
                    facts.update((fault.kind, _came_to(made)))
                    facts["twice"] += fault.times > 1
                    longest = max(longest, made.notice_seconds)
                    done += 1
                    seconds = time.monotonic() - began
                    task.say(f"round {done}: {fault.kind}, {_came_to(made)}, {seconds:.0f} s")
                failed += [f"seed {task.seed}, before round {done}: {x}" for x in at.close()]
            task.say(f"{done} rounds, {len(failed)} failed")
    finally:
        sys.excepthook = former
    return Report(
        rounds=done,
        failed=tuple(failed),
        facts={**facts, "noticed_within_seconds": round(longest, 1)},
    )
