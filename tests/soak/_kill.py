"""One who opens a book, edits and saves it by the program's own code, until it is killed.

It tells over a pipe what it is about to do and what is done. An edit has a number; after edit n
the book is `states(book)[n]`, whoever works it out.
"""

import contextlib
import io
import os
import resource
import signal
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random
from typing import Any

from app.cli.console import Console
from app.cli.run import run
from app.document import Document
from app.recovery import drop_copy, write_copy
from app.window import session
from shared.book import Book, Held, Stage
from shared.edits import tell_held
from shared.errors import DiskError
from shared.files.disk import save_over
from shared.files.lock import Lock
from shared.files.write import write_book
from shared.ids import StepId

NOW = datetime(2026, 1, 5, 12, tzinfo=UTC)
NOBODY = 65534
EDITS = 24
TOKEN = "0123456789abcdef"
_ON_DISK = {"open", "os.rename", "os.remove", "os.link", "os.chmod", "os.mkdir", "os.scandir"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """kind: of the round. moment: at which touch of the disk it kills itself, None: it is killed.

    hindered: from which edit to which the disk refuses. room: bytes that a file may have then, or
    that are left.
    """

    path: Path
    rescued: Path
    kind: str
    seed: str
    moment: int | None
    hindered: tuple[int, int]
    room: int


def step_of(book: Book, number: int) -> StepId:
    """The step of which edit number so-and-so says something."""
    stages = [s.id for job in book.jobs for s in job.steps if isinstance(s, Stage)]
    return stages[number % len(stages)]


def edited(document: Document, number: int) -> None:
    """Make an edit."""
    step = step_of(document.book, number)
    document.apply(tell_held(document.book, step, Held.MATERIAL, NOW, f"u{number}"))


def states(book: Book) -> Iterator[Book]:
    """The book after each edit, that after none first."""
    document = Document(book)
    for number in range(1, EDITS + 2):
        yield document.book
        edited(document, number)


def foreign(book: Book) -> Book:
    """What somebody else wrote in its place."""
    return replace(book, name="By somebody else", revision=book.revision + 1000)


def held_words(path: Path, step: str, number: int) -> list[str]:
    """The command that makes the edit."""
    words = ["held", str(path), step, "--because", "material", "--by", f"u{number}"]
    return [*words, "--now", NOW.isoformat()]


def command(words: list[str]) -> int:
    """Run a command of the program."""
    return run(words, Console(io.StringIO(), io.StringIO()))


class Countdown:
    """Kills this process at a touch of the disk: before it, or for reaching it also after."""

    def __init__(self, left: int) -> None:
        self._left = left
        self.is_armed = False

    def begin(self) -> None:
        """Count from here on; lasts as long as the process."""
        sys.addaudithook(lambda event, _: self._touch() if event in _ON_DISK else None)
        reach = os.fsync

        def counted(descriptor: Any) -> None:
            self._touch()
            reach(descriptor)
            self._touch()

        os.fsync = counted  # type: ignore[assignment]

    def _touch(self) -> None:
        if not self.is_armed:
            return
        self._left -= 1
        if self._left <= 0:
            os.kill(os.getpid(), signal.SIGKILL)


class Saver:
    """Somebody at a window, without the window, or at the command line."""

    def __init__(self, life: Life, told: Connection) -> None:
        self._life, self._told, self._draw = life, told, Random(life.seed)
        self._count = Countdown(life.moment or sys.maxsize)
        self._lock: Lock | None = None

    def live(self) -> None:
        """Work until killed; whoever isn't by the end kills itself."""
        life = self._life
        self._count.begin()
        self._count.is_armed = life.kind != "copying"
        if life.kind == "command":
            self._by_commands()
        else:
            self._by_window()
        os.kill(os.getpid(), signal.SIGKILL)

    def _by_commands(self) -> None:
        book = session.open_book(self._life.path, NOW)
        assert book.document is not None
        assert book.lock is not None
        book.lock.release()
        for number in range(1, EDITS + 1):
            step = step_of(book.document.book, number)
            self._told.send(("saving", number))
            code = command(held_words(self._life.path, step, number))
            self._told.send(("saved" if code == 0 else f"command ended with {code}", number))

    def _by_window(self) -> None:
        life = self._life
        if life.hindered[0] == 0:
            self._hinder()
        opened = session.open_book(life.path, NOW)
        assert opened.document is not None
        self._lock = opened.lock
        keeps, saves = (0.9, 0.15) if life.kind == "copying" else (0.3, 0.6)
        for number in range(1, EDITS + 1):
            if number == life.hindered[0]:
                self._hinder()
            if number == life.hindered[1]:
                self._free()
            edited(opened.document, number)
            if self._draw.random() < keeps:
                self._keep(opened.document, number)
            if self._draw.random() < saves:
                self._save(opened.document, number)

    def _keep(self, document: Document, number: int) -> None:
        """Copy what is not saved, as the window does some seconds after an edit."""
        self._count.is_armed = True
        with self._telling("keeping", "kept", number):
            known = document.on_disk.known
            write_copy(self._life.rescued, TOKEN, document.book, document.path, known)
        self._count.is_armed = self._life.kind != "copying"

    def _save(self, document: Document, number: int) -> None:
        """Save, as the window does."""
        path = self._life.path
        theirs = None
        if self._life.kind == "crossed" and self._lock is not None and self._draw.random() < 0.5:
            theirs = write_book(foreign(document.book))
            self._told.send(("crossing", number))
            save_over(path, theirs)
            self._told.send(("crossed", number))
        with self._telling("saving", "saved", number):
            if self._lock is None:
                has_word = self._draw.random() < 0.5
                self._lock = session.lock_of(path, NOW, has_word=has_word)
            found = session.look_outside(document) if theirs is not None else None
            if found is None:
                session.save_book(document, path, self._lock)
            else:
                session.save_over(document, found, self._lock, NOW)
        if document.is_saved:
            drop_copy(self._life.rescued, TOKEN)

    @contextlib.contextmanager
    def _telling(self, before: str, after: str, number: int) -> Iterator[None]:
        self._told.send((before, number))
        try:
            yield
        except DiskError as trouble:
            self._told.send((f"{before} refused: {trouble.code}", number))
        else:
            self._told.send((after, number))

    def _hinder(self) -> None:
        """Let the disk refuse from here on."""
        self._unarmed(
            {"full": self._limit, "image": self._fill, "read_only": self._shut}[self._life.kind]
        )

    def _free(self) -> None:
        self._unarmed(
            {"full": self._lift, "image": self._empty, "read_only": self._open}[self._life.kind]
        )

    def _unarmed(self, do: Callable[[], object]) -> None:
        self._count.is_armed = False
        do()
        self._count.is_armed = True

    def _limit(self) -> None:
        _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (self._life.room, most))

    def _lift(self) -> None:
        _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    def _fill(self) -> None:
        folder = self._life.path.parent
        found = os.statvfs(folder)
        with (folder / "filling").open("wb") as file:
            file.write(bytes(max(0, found.f_bavail * found.f_bsize - self._life.room)))

    def _empty(self) -> None:
        (self._life.path.parent / "filling").unlink()

    def _shut(self) -> None:
        self._life.path.parent.chmod(0o555)

    def _open(self) -> None:
        self._life.path.parent.chmod(0o755)


def saver(life: Life, told: Connection) -> None:
    """Be that process; ends by being killed and in no other way."""
    if life.kind == "read_only" and os.geteuid() == 0:
        os.setgroups([])
        os.setresgid(NOBODY, NOBODY, NOBODY)
        os.setresuid(NOBODY, NOBODY, NOBODY)
    Saver(life, told).live()
