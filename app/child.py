"""A child process of the window: the only file of the window that knows processes.

It is started once and kept warm; it hears lines of JSON and answers in lines. One that dies, or
says nothing of ours any more while something is awaited, is told of and can be started anew; it
never takes the window along.
"""

import json
import logging
import os
import sys
from pathlib import Path

from PySide6.QtCore import QObject, QProcess, QProcessEnvironment, QTimer, Signal

import app

LOG = logging.getLogger(__name__)
LEAVE_MILLISECONDS = 500
PATIENCE_MILLISECONDS = 15_000
"""So long nothing may come while something is awaited; a child at work is heard every second."""
LARGEST_LINE = 1 << 27
_LOOKS = 15


def engine_command() -> tuple[str, list[str]]:
    """Return the program and its arguments that make the child."""
    if getattr(sys, "frozen", False):
        # A program that is only a window has no streams: the command lies beside it.
        program = Path(sys.executable)
        command = program.with_name("countback" + program.suffix)
        return str(command if command.exists() else program), ["engine"]
    return sys.executable, ["-m", "app", "engine"]


class Child(QObject):
    """The engine's process: starts it, writes to it, tells what it says and when it is gone.

    hung: it was stopped, since it said nothing of ours for too long.
    """

    heard = Signal(object)
    gone = Signal(str)
    hung = Signal()

    def __init__(
        self,
        command: tuple[str, list[str]] | None,
        parent: QObject,
        patience: int = PATIENCE_MILLISECONDS,
    ) -> None:
        super().__init__(parent)
        self._command = command or engine_command()
        self._process: QProcess | None = None
        self._is_closing = False
        self._begun: list[bytes] = []
        # Many short looks: a machine that slept does not come back to one long wait that is over.
        self._silent_looks = 0
        self._look = QTimer(self, interval=patience // _LOOKS)
        self._look.timeout.connect(self._count_silence)

    @property
    def process_id(self) -> int:
        """The process id, 0 when there is none."""
        return self._process.processId() if self._process else 0

    def start(self) -> None:
        """Start it unless it runs."""
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

    def send(self, line: str) -> None:
        """Write a line to it, if it runs."""
        if self._process is not None:
            self._process.write(line.encode() + b"\n")

    def await_word(self, *, is_awaited: bool) -> None:
        """Look from now on whether it says anything, or no longer."""
        if not is_awaited:
            self._look.stop()
        elif not self._look.isActive():
            self._silent_looks = 0
            self._look.start()

    def _count_silence(self) -> None:
        self._silent_looks += 1
        if self._silent_looks >= _LOOKS:
            self._give_up()

    def _give_up(self) -> None:
        self._look.stop()
        self.stop()
        self.hung.emit()

    def stop(self) -> None:
        """Kill it without a word of it; it may be started anew."""
        process = self._let_go()
        if process is not None:
            process.finished.connect(process.deleteLater)
            _kill(process)

    def close(self) -> None:
        """Let it go for good; kill it when it doesn't."""
        self._is_closing = True
        self._look.stop()
        process = self._let_go()
        if process is None:
            return
        process.write(b'{"kind": "bye"}\n')
        process.closeWriteChannel()
        if not process.waitForFinished(LEAVE_MILLISECONDS):
            _kill(process)
            process.waitForFinished(LEAVE_MILLISECONDS)
        process.deleteLater()

    def _let_go(self) -> QProcess | None:
        """Hear nothing more of the process."""
        process, self._process = self._process, None
        self._begun.clear()
        if process is not None:
            process.readyReadStandardOutput.disconnect()
            process.readyReadStandardError.disconnect()
            process.errorOccurred.disconnect()
            process.finished.disconnect()
        return process

    def _on_output(self) -> None:
        """Take in what came: whole lines, and the beginning of one."""
        process = self._process
        if process is None:
            return
        first, *others = bytes(process.readAllStandardOutput().data()).split(b"\n")
        self._begun.append(first)
        for begun in others:
            line = b"".join(self._begun)
            self._begun = [begun]
            self._hear(line)
            if self._process is not process:
                return
        if sum(map(len, self._begun)) > LARGEST_LINE:
            LOG.info("the engine said more in one line than any answer has")
            self._give_up()

    def _hear(self, line: bytes) -> None:
        try:
            told = json.loads(line)
        except (ValueError, RecursionError):
            LOG.info("the engine said something that is no line of ours: %r", line[:200])
            return
        if isinstance(told, dict):
            self._silent_looks = 0
            self.heard.emit(told)

    def _on_complaint(self) -> None:
        if self._process is not None:
            said = bytes(self._process.readAllStandardError().data())
            LOG.info("engine: %s", said.decode("utf-8", "replace").rstrip())

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error is QProcess.ProcessError.FailedToStart and self._process is not None:
            reason = self._process.errorString()
            self._drop()
            self.gone.emit(reason)

    def _on_finished(self) -> None:
        if self._is_closing or self._process is None:
            return
        self._drop()
        self.gone.emit("")

    def _drop(self) -> None:
        process, self._process = self._process, None
        self._begun.clear()
        self._look.stop()
        if process is not None:
            process.deleteLater()


def _kill(process: QProcess) -> None:
    process.closeReadChannel(QProcess.ProcessChannel.StandardOutput)
    process.closeReadChannel(QProcess.ProcessChannel.StandardError)
    process.kill()


def _environment() -> QProcessEnvironment:
    """Return the window's environment, in which the child finds our own packages."""
    found = QProcessEnvironment.systemEnvironment()
    root = str(Path(app.__file__).resolve().parents[1])
    others = found.value("PYTHONPATH")
    found.insert("PYTHONPATH", os.pathsep.join((root, others)) if others else root)
    found.insert("PYTHONUNBUFFERED", "1")
    return found
