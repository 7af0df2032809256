"""Asks a child process of its own, so that planning and questions don't wait for each other."""

import json
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from app.child import PATIENCE_MILLISECONDS as SILENT_MILLISECONDS
from app.child import Child
from app.counsel.questions import Question
from app.jobs import NO_ANSWER, Refusal
from app.pickled import as_text, value_of

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
        self,
        command: tuple[str, list[str]] | None = None,
        parent: QObject | None = None,
        patience: int = SILENT_MILLISECONDS,
    ) -> None:
        super().__init__(parent)
        self._child = Child(command, self, patience)
        self._child.heard.connect(self._hear)
        self._child.gone.connect(self._on_gone)
        self._child.hung.connect(lambda: self._give_up("hung"))
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
        self._child.await_word(is_awaited=True)
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
        self._child.await_word(is_awaited=True)
        self._child.send(self._asked)

    def _hear(self, told: dict[str, Any]) -> None:
        number, kind = told.get("id"), told.get("kind")
        if not isinstance(number, int):
            return
        if kind in ("answer", "failed"):
            self._given_up.discard(number)
            self._child.await_word(is_awaited=bool(self._given_up or self._open.keys() - {number}))
        if number not in self._open or kind not in ("part", "answer", "failed"):
            return
        try:
            found = self._read(told)
        except NO_ANSWER:
            self._give_up("nonsense")
            return
        hear, part = self._open[number]
        if kind == "part":
            part(found)
            return
        del self._open[number]
        self.busy_changed.emit()
        if isinstance(found, Refusal):
            self.refused.emit(found)
        else:
            hear(found)

    def _read(self, told: dict[str, Any]) -> object:
        """Give what a line says; raises NO_ANSWER."""
        if told["kind"] == "failed":
            return Refusal(code=str(told["code"]), facts=dict(told["facts"]))
        return value_of(told["value"])

    def _give_up(self, code: str) -> None:
        """Stop a child that is not to be trusted; the next question begins another."""
        self._child.await_word(is_awaited=False)
        self._child.stop()
        self._lost(code)

    def _on_gone(self, reason: str) -> None:
        self._lost("fault" if reason else "ended", what=reason)

    def _lost(self, code: str, **facts: object) -> None:
        was_asked = bool(self._open)
        self._open.clear()
        self._given_up.clear()
        if was_asked:
            self.refused.emit(Refusal(code=code, facts=facts))
            self.busy_changed.emit()
