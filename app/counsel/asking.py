"""Asks a child process of its own, so that planning and questions don't wait for each other."""

import json
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from app.child import Child
from app.counsel.questions import Question
from app.engine_child import as_text, value_of
from app.jobs import Refusal

Hear = Callable[[object], None]
PATIENCE_MILLISECONDS = 400
"""So long a question that nobody wants an answer to any more may go on before it is killed."""


def _line(kind: str, **more: object) -> str:
    return json.dumps({"kind": kind, **more})


def _nothing(found: object) -> None:
    del found


class Counsel(QObject):
    """One question at a time: who asks another gives up the one before."""

    refused = Signal(object)
    busy_changed = Signal()

    def __init__(
        self, command: tuple[str, list[str]] | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._child = Child(command, self)
        self._child.heard.connect(self._hear)
        self._child.gone.connect(self._on_gone)
        self._number, self._asked = 0, ""
        self._open: dict[int, tuple[Hear, Hear]] = {}
        self._given_up: set[int] = set()
        self._patience = QTimer(self, singleShot=True, interval=PATIENCE_MILLISECONDS)
        self._patience.timeout.connect(self._lose_patience)

    @property
    def is_busy(self) -> bool:
        """Whether an answer is still to come."""
        return bool(self._open)

    def ask(self, question: Question, revision: int, hear: Hear, part: Hear = _nothing) -> None:
        """Ask; `hear` is called with the answer, `part` with what is known before."""
        self.forget()
        self._child.start()
        self._number += 1
        self._open[self._number] = (hear, part)
        self._asked = _line("question", id=self._number, revision=revision, asked=as_text(question))
        self._child.send(self._asked)
        if self._given_up:
            self._patience.start()
        self.busy_changed.emit()

    def forget(self) -> None:
        """Give up what was asked; nothing of it is heard any more."""
        for number in self._open:
            self._given_up.add(number)
            self._child.send(_line("cancel", id=number))
        self._open.clear()
        self.busy_changed.emit()

    def close(self) -> None:
        """Let the child go."""
        self._open.clear()
        self._patience.stop()
        self._child.close()

    def _lose_patience(self) -> None:
        """Start the child anew where it still works on what nobody waits for."""
        if not self._given_up or not self._open:
            return
        self._given_up.clear()
        self._child.stop()
        self._child.start()
        self._child.send(self._asked)

    def _hear(self, told: dict[str, Any]) -> None:
        number, kind = told.get("id"), told.get("kind")
        if not isinstance(number, int):
            return
        if kind in ("answer", "failed"):
            self._given_up.discard(number)
        if number not in self._open:
            return
        hear, part = self._open[number]
        if kind == "part":
            part(value_of(told["value"]))
        elif kind in ("answer", "failed"):
            del self._open[number]
            self.busy_changed.emit()
            if kind == "answer":
                hear(value_of(told["value"]))
            else:
                self.refused.emit(Refusal(code=str(told["code"]), facts=dict(told["facts"])))

    def _on_gone(self, reason: str) -> None:
        was_asked = bool(self._open)
        self._open.clear()
        self._given_up.clear()
        if was_asked:
            facts = {"what": reason or "the process ended"}
            self.refused.emit(Refusal(code="fault", facts=facts))
            self.busy_changed.emit()
