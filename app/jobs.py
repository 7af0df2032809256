"""Plans from the engine's child process, as they come.

Every question has a number; an answer to an older question is dropped. A child that dies, hangs,
runs out of memory or answers nonsense is told of and replaced.
"""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from app.child import PATIENCE_MILLISECONDS, Child
from app.outcome_json import instant_text, outcome_of, plan_of
from app.pickled import as_text
from scheduler.outcome import Outcome
from shared.book import Book
from shared.ids import JobId
from shared.plan import Plan

CALLED_OFF_MILLISECONDS = 10_000
"""So long a solve that was called off may go on before its child is replaced."""
REPLACED = frozenset({"fault", "hung", "no_memory", "nonsense"})
"""Refusals after which nobody trusts that child any more."""
NO_ANSWER = (
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    ArithmeticError,
    RecursionError,
)
"""What reading an answer ends with that is none."""


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


class Engine(QObject):
    """Asks the child for plans and tells of what comes back."""

    drafted = Signal(object)
    solved = Signal(object)
    refused = Signal(object)
    died = Signal(str)

    def __init__(
        self,
        command: tuple[str, list[str]] | None = None,
        parent: QObject | None = None,
        patience: int = PATIENCE_MILLISECONDS,
    ) -> None:
        super().__init__(parent)
        self._child = Child(command, self, patience)
        self._child.heard.connect(self._hear)
        self._child.gone.connect(self._on_gone)
        self._child.hung.connect(self._on_hung)
        self._number = 0
        self._book: Book | None = None
        self._line = ""
        self._owed: set[int] = set()
        self._is_asked = self._is_called_off = False
        self._leave = QTimer(self, singleShot=True, interval=CALLED_OFF_MILLISECONDS)
        self._leave.timeout.connect(self._lose_patience)

    @property
    def is_busy(self) -> bool:
        """Whether somebody still waits for an answer: no longer once it is called off."""
        return self._is_asked and not self._is_called_off

    @property
    def process_id(self) -> int:
        """The child's process id, 0 when there is none."""
        return self._child.process_id

    def start(self) -> None:
        """Start the child unless it runs."""
        self._child.start()

    def ask(self, book: Book, now: datetime, *, seconds: int) -> None:
        """Ask for a plan of a book; whatever was asked before is called off."""
        self.cancel()
        self.start()
        self._number += 1
        self._book = book
        self._is_asked, self._is_called_off = True, False
        line = {
            "kind": "ask",
            "id": self._number,
            "revision": book.revision,
            "request": {"now": instant_text(now), "seconds": seconds},
            "value": as_text(book),
        }
        self._line = json.dumps(line)
        self._send()

    def _send(self) -> None:
        self._owed.add(self._number)
        self._child.await_word(is_awaited=True)
        self._child.send(self._line)

    def cancel(self) -> None:
        """Call off what was asked; the best so far may still come as an answer."""
        if self.is_busy:
            self._is_called_off = True
            if not self._leave.isActive():
                self._leave.start()
            self._child.send(json.dumps({"kind": "cancel", "id": self._number}))

    def forget(self) -> None:
        """Call off what was asked and drop whatever still comes of it."""
        self.cancel()
        self._number += 1
        self._is_asked = False

    def close(self) -> None:
        """Let the child go; kill it when it doesn't."""
        self._leave.stop()
        self._child.close()

    def _hear(self, told: dict[str, Any]) -> None:
        if told.get("kind") in ("done", "failed"):
            self._settle(told.get("id"))
        if told.get("id") != self._number or not self._is_asked:
            return
        try:
            found = self._read(told)
        except NO_ANSWER as trouble:
            found = Refusal(code="nonsense", facts={"what": f"{type(trouble).__name__}: {trouble}"})
        if isinstance(found, Draft):
            self.drafted.emit(found)
        elif isinstance(found, Refusal):
            self._refuse(found)
        elif found is not None:
            self._is_asked = False
            self.solved.emit(found)

    def _read(self, told: dict[str, Any]) -> Draft | Refusal | Outcome | None:
        """Give what a line says about what was asked; raises NO_ANSWER."""
        kind = told["kind"]
        if kind == "failed":
            return Refusal(code=str(told["code"]), facts=dict(told["facts"]))
        if kind not in ("plan", "done"):
            return None
        assert self._book is not None
        if told["revision"] != self._book.revision:
            raise ValueError("of another book")
        if kind == "done":
            outcome = outcome_of(told["outcome"])
            if outcome.revision != self._book.revision:
                raise ValueError("of another book")
            self._hold_against(outcome.plan, {job.id for job in outcome.jobs})
            return outcome
        plan = plan_of(told["plan"])
        if plan is None:
            raise ValueError("no plan")
        self._hold_against(plan, set())
        return Draft(revision=self._book.revision, plan=plan, levels=tuple(told["levels"]))

    def _hold_against(self, plan: Plan, jobs: set[JobId]) -> None:
        """Raise ValueError where a plan speaks of steps or jobs that the book doesn't have."""
        assert self._book is not None
        steps = {step.id for job in self._book.jobs for step in job.steps}
        if not steps.issuperset(placed.step for placed in plan.placements):
            raise ValueError("steps of another book")
        if not jobs <= {job.id for job in self._book.jobs}:
            raise ValueError("jobs of another book")

    def _settle(self, number: object) -> None:
        """Note that the child owes nothing more to a question."""
        if isinstance(number, int):
            self._owed.discard(number)
        if not self._owed - {self._number}:
            self._leave.stop()
        if not self._owed:
            self._child.await_word(is_awaited=False)

    def _refuse(self, refusal: Refusal) -> None:
        """Say that there is no plan; with another child where this one is not to be trusted."""
        self._is_asked = False
        if refusal.code in REPLACED:
            self._replace()
        self.refused.emit(refusal)

    def _replace(self) -> None:
        self._owed.clear()
        self._leave.stop()
        self._child.await_word(is_awaited=False)
        self._child.stop()
        self._child.start()

    def _on_hung(self) -> None:
        """Have another child ready; tell of it if somebody waited."""
        is_awaited = self.is_busy
        self._replace()
        if is_awaited:
            self._refuse(Refusal(code="hung", facts={}))

    def _lose_patience(self) -> None:
        """Ask another child where this one still works on what was called off."""
        is_awaited = self.is_busy
        self._replace()
        if is_awaited:
            self._send()

    def _on_gone(self, reason: str) -> None:
        """Tell that the child is gone, and have another one ready."""
        was_asked, self._is_asked = self._is_asked, False
        self._owed.clear()
        self._leave.stop()
        if was_asked and not reason:
            self.start()
        self.died.emit(reason)
