"""The engine's child process: the only file of the window that knows processes.

One child is started with the window and kept warm. Every question has a number; an answer to
an older question or to another revision is dropped. A child that dies is told of and replaced;
it never takes the window along.
"""

import json
import logging
import os
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QProcess, QProcessEnvironment, Signal

import app
from app.outcome_json import book_text, instant_text, outcome_of, plan_of
from shared.book import Book
from shared.plan import Plan

LOG = logging.getLogger(__name__)
LEAVE_MILLISECONDS = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A plan that is better than those before it, while the engine still looks."""

    revision: int
    plan: Plan
    levels: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a question got no plan: a code and facts."""

    code: str
    facts: dict[str, Any]


def engine_command() -> tuple[str, list[str]]:
    """Return the program and its arguments that make the child."""
    if getattr(sys, "frozen", False):
        return sys.executable, ["engine"]
    return sys.executable, ["-m", "app", "engine"]


class Engine(QObject):
    """Asks the child for plans and tells of what comes back."""

    drafted = Signal(object)
    solved = Signal(object)
    refused = Signal(object)
    died = Signal(str)

    def __init__(
        self, command: tuple[str, list[str]] | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._command = command or engine_command()
        self._process: QProcess | None = None
        self._is_closing = False
        self._number = 0
        self._revision = 0
        self._is_asked = False

    @property
    def is_busy(self) -> bool:
        """Whether an answer is still to come."""
        return self._is_asked

    @property
    def process_id(self) -> int:
        """The child's process id, 0 when there is none."""
        return self._process.processId() if self._process else 0

    def start(self) -> None:
        """Start the child unless it runs."""
        if self._process is not None or self._is_closing:
            return
        process = QProcess(self)
        process.setProcessEnvironment(_environment())
        process.readyReadStandardOutput.connect(self._on_output)
        process.readyReadStandardError.connect(self._on_complaint)
        process.errorOccurred.connect(self._on_error)
        process.finished.connect(self._on_finished)
        self._process = process
        process.start(*self._command)

    def ask(self, book: Book, now: datetime, *, seconds: int) -> None:
        """Ask for a plan of a book; whatever was asked before is called off."""
        self.cancel()
        self.start()
        self._number += 1
        self._revision = book.revision
        self._is_asked = True
        head = json.dumps({"kind": "ask", "id": self._number, "revision": book.revision})
        request = json.dumps({"now": instant_text(now), "seconds": seconds})
        self._send(f'{head[:-1]}, "request": {request}, "book": {book_text(book)}}}')

    def cancel(self) -> None:
        """Call off what was asked; the best so far may still come as an answer."""
        if self._is_asked:
            self._send(json.dumps({"kind": "cancel", "id": self._number}))

    def forget(self) -> None:
        """Call off what was asked and drop whatever still comes of it."""
        self.cancel()
        self._number += 1
        self._is_asked = False

    def close(self) -> None:
        """Let the child go; kill it when it doesn't."""
        self._is_closing = True
        process, self._process = self._process, None
        if process is None:
            return
        process.blockSignals(True)
        process.write(b'{"kind": "bye"}\n')
        process.closeWriteChannel()
        if not process.waitForFinished(LEAVE_MILLISECONDS):
            process.kill()
            process.waitForFinished(LEAVE_MILLISECONDS)
        process.deleteLater()

    def _send(self, line: str) -> None:
        if self._process is not None:
            self._process.write(line.encode() + b"\n")

    def _on_output(self) -> None:
        while self._process is not None and self._process.canReadLine():
            self._hear(bytes(self._process.readLine().data()))

    def _hear(self, line: bytes) -> None:
        try:
            told = json.loads(line)
        except ValueError:
            LOG.info("the engine said something that is no line of ours: %r", line[:200])
            return
        if not isinstance(told, dict) or told.get("id") != self._number or not self._is_asked:
            return
        match told.get("kind"):
            case "plan":
                self._on_plan(told)
            case "done":
                self._on_done(told)
            case "failed":
                self._is_asked = False
                self.refused.emit(Refusal(code=str(told["code"]), facts=dict(told["facts"])))
            case _:
                pass

    def _on_plan(self, told: dict[str, Any]) -> None:
        plan = plan_of(told["plan"])
        if plan is not None and told.get("revision") == self._revision:
            levels = tuple(told["levels"])
            self.drafted.emit(Draft(revision=self._revision, plan=plan, levels=levels))

    def _on_done(self, told: dict[str, Any]) -> None:
        self._is_asked = False
        try:
            outcome = outcome_of(told["outcome"])
        except (ValueError, KeyError, TypeError) as trouble:
            facts = {"what": f"{type(trouble).__name__}: {trouble}"}
            self.refused.emit(Refusal(code="fault", facts=facts))
            return
        if outcome.revision == self._revision:
            self.solved.emit(outcome)

    def _on_complaint(self) -> None:
        if self._process is not None:
            said = bytes(self._process.readAllStandardError().data())
            LOG.info("engine: %s", said.decode("utf-8", "replace").rstrip())

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error is QProcess.ProcessError.FailedToStart and self._process is not None:
            reason = self._process.errorString()
            self._drop()
            self.died.emit(reason)

    def _on_finished(self) -> None:
        """Tell that the child is gone, and have another one ready."""
        if self._is_closing or self._process is None:
            return
        was_asked = self._is_asked
        self._drop()
        if was_asked:
            self.start()
        self.died.emit("")

    def _drop(self) -> None:
        process, self._process = self._process, None
        self._is_asked = False
        if process is not None:
            process.deleteLater()


def _environment() -> QProcessEnvironment:
    """Return the window's environment, in which the child finds our own packages."""
    found = QProcessEnvironment.systemEnvironment()
    root = str(Path(app.__file__).resolve().parents[1])
    others = found.value("PYTHONPATH")
    found.insert("PYTHONPATH", os.pathsep.join((root, others)) if others else root)
    found.insert("PYTHONUNBUFFERED", "1")
    return found
