"""Plans from the engine's child process, as they come.

Every question has a number; an answer to an older question or to another revision is dropped. A
child that dies is told of and replaced.
"""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.child import Child
from app.engine_child import as_text
from app.outcome_json import instant_text, outcome_of, plan_of
from shared.book import Book
from shared.plan import Plan


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
        self, command: tuple[str, list[str]] | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._child = Child(command, self)
        self._child.heard.connect(self._hear)
        self._child.gone.connect(self._on_gone)
        self._number = 0
        self._revision = 0
        self._is_asked = self._is_called_off = False

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
        self._revision = book.revision
        self._is_asked, self._is_called_off = True, False
        line = {
            "kind": "ask",
            "id": self._number,
            "revision": book.revision,
            "request": {"now": instant_text(now), "seconds": seconds},
            "value": as_text(book),
        }
        self._child.send(json.dumps(line))

    def cancel(self) -> None:
        """Call off what was asked; the best so far may still come as an answer."""
        if self.is_busy:
            self._is_called_off = True
            self._child.send(json.dumps({"kind": "cancel", "id": self._number}))

    def forget(self) -> None:
        """Call off what was asked and drop whatever still comes of it."""
        self.cancel()
        self._number += 1
        self._is_asked = False

    def close(self) -> None:
        """Let the child go; kill it when it doesn't."""
        self._child.close()

    def _hear(self, told: dict[str, Any]) -> None:
        if told.get("id") != self._number or not self._is_asked:
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

    def _on_gone(self, reason: str) -> None:
        """Tell that the child is gone, and have another one ready."""
        was_asked, self._is_asked = self._is_asked, False
        if was_asked and not reason:
            self.start()
        self.died.emit(reason)
