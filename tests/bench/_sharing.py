"""Two who open one book, each in a process of their own: the document and the commands."""

import io
import os
import time
from collections.abc import Callable
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random
from typing import Any

import app.cli.books
import app.window.session as session
import shared.examine
import shared.files.lock as locks
from app.cli.console import Console
from app.cli.run import run
from app.document import Document
from shared.book import Held
from shared.edits import tell_held
from shared.errors import DiskError
from shared.files.lock import Lock

NOW = datetime(2026, 1, 5, 12, tzinfo=UTC)
_PAUSE_SECONDS = 0.003


def hurry_slowly(seed: str, host: str) -> None:
    """Pause now and then after a book was read and before its bytes reach the disk."""
    draw = Random(seed)
    if host:
        locks.host_name = lambda: host

    def paused(work: Callable[..., Any]) -> Callable[..., Any]:
        def call(*words: Any, **named: Any) -> Any:
            made = work(*words, **named)
            time.sleep(draw.random() * _PAUSE_SECONDS)  # noqa: TID251 - at a drawn moment
            return made

        return call

    for module in (session, app.cli.books):
        setattr(module, "take_in", paused(shared.examine.take_in))  # noqa: B010 - not its own
    os.fsync = paused(os.fsync)


def command(path: Path, number: int, has_word: bool, seed: str, host: str) -> None:
    """Write one thing down by `countback held`; ends with 0 once it says that it is written."""
    hurry_slowly(seed, host)
    words = [*_held(path, number), *(["--take-lock"] if has_word else [])]
    os._exit(run(words, Console(io.StringIO(), io.StringIO())))


def warm(path: Path) -> None:
    """Do it all once, so that no process that is forked later has to import anything."""
    if run(_held(path, 0), Console(io.StringIO(), io.StringIO())):
        raise RuntimeError(path)


def _held(path: Path, number: int) -> list[str]:
    words = ["held", str(path), f"s{number}", "--because", "material", "--by", f"u{number}"]
    return [*words, "--now", "2026-01-05T12:00"]


class Person:
    """Somebody at a window, without the window: opens, edits, saves, chooses, closes."""

    def __init__(self, path: Path, told: Connection, seed: str) -> None:
        self._path, self._told, self._draw = path, told, Random(seed)
        self._opened: session.Opened | None = None
        self._unsaved: list[int] = []

    def do(self, what: str, word: int) -> None:
        """Do one thing; word: the step, or whether a person says so."""
        if what == "open":
            self.open(bool(word))
        elif what == "edit":
            self.edit(word)
        elif what == "save":
            self.save(bool(word))
        else:
            self.close()

    def open(self, has_word: bool) -> None:
        """Open the book, on a person's word in the place of somebody who may be gone."""
        self.close()
        self._opened = session.open_book(self._path, NOW)
        held = self._opened.held
        if has_word and held is not None and held.may_be_gone:
            got = session.lock_of(self._path, NOW, has_word=True)
            document = self._opened.document
            self._opened = session.Opened(path=self._path, document=document, lock=got)

    def edit(self, number: int) -> None:
        """Note something of a step."""
        document = self._document
        if document is not None:
            self._unsaved.append(number)
            self._note(document, number)

    def save(self, keeps: bool) -> None:
        """Save, with the lock of the book where it can be had at last, now and then on a word.

        Where somebody else wrote the file, keep one's own or take theirs.
        """
        opened, document = self._opened, self._document
        if opened is None or document is None or not self._unsaved:
            return
        try:
            lock = opened.lock
            if lock is None or not lock.is_ours:
                lock = session.lock_of(self._path, NOW, has_word=self._draw.random() < 0.5)
                self._opened = session.Opened(path=self._path, document=document, lock=lock)
            self._save(document, lock, keeps)
        except DiskError as trouble:
            self._told.send(("refused", trouble.code))
            return
        for number in self._unsaved:
            self._told.send(("saved", number))
        self._unsaved.clear()

    def close(self) -> None:
        """Let the book go; what is not saved was never said to be."""
        if self._opened is not None and self._opened.lock is not None:
            self._opened.lock.release()
        self._opened = None
        self._unsaved.clear()

    @property
    def _document(self) -> Document | None:
        return self._opened.document if self._opened is not None else None

    def _save(self, document: Document, lock: Lock, keeps: bool) -> None:
        try:
            session.save_book(document, self._path, lock)
        except DiskError as trouble:
            found = session.look_outside(document)
            if trouble.code != "changed_outside" or found is None:
                raise
            if keeps:
                session.save_over(document, found, lock, NOW)
                self._told.send(("beside", 0))
                return
            session.take_outside(document, found)
            self._told.send(("taken", 0))
            for number in self._unsaved:
                self._note(document, number)
            session.save_book(document, self._path, lock)

    def _note(self, document: Document, number: int) -> None:
        step = document.book.jobs[0].steps[number].id
        document.apply(tell_held(document.book, step, Held.MATERIAL, NOW, f"u{number}"))


def person(path: Path, asked: Connection, seed: str, host: str) -> None:
    """Do what is asked over a pipe until it is told to end; each answer ends with "did"."""
    hurry_slowly(seed, host)
    somebody = Person(path, asked, seed)
    while True:
        what, word = asked.recv()
        if what == "end":
            return
        try:
            somebody.do(what, word)
        except DiskError as trouble:
            asked.send(("refused", trouble.code))
        asked.send(("did", 0))
