"""Books that are saved in a loop by a process that is killed, over and over.

Each round a process of its own edits, copies and saves a book by the code of the window or of the
commands (tests/soak/_kill.py) until it is killed: at a touch of the disk that is drawn, or at a
moment by the clock. Some rounds the disk is full (by a limit of the size of files, or an image
that has no room), the folder can't be written, somebody else who lives has the lock, or somebody
wrote the file meanwhile. Then the book is opened again. Lost: a save or a copy of which was said
that it is done, and which is not there. Broken: a file that ends like a book and is neither the
old nor the new one.
"""

import contextlib
import os
import shutil
import signal
import subprocess
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from multiprocessing import connection, get_context
from pathlib import Path
from random import Random

from app.document import Document
from app.recovery import Copied, drop_copy, left_behind, write_copy
from app.window import session
from shared.book import Book
from shared.edits import take_rescued
from shared.errors import DiskError
from shared.files.disk import load
from shared.files.lock import Lock, take
from shared.files.read import read_book
from shared.files.write import write_book
from tests.books.samples import small
from tests.builders import a_book, a_job, a_stage
from tests.soak import _kill as child
from tests.soak._kill import EDITS, NOBODY, NOW, Life
from tests.soak.report import Report, Task

ROUNDS = 1000
KINDS = {
    "plain": 30,
    "command": 10,
    "full": 15,
    "image": 10,
    "read_only": 10,
    "elsewhere": 10,
    "copying": 15,
    "crossed": 5,
}
HINDERED = ("full", "image", "read_only")
_TOUCHES = {"plain": 160, "command": 80, "elsewhere": 60, "copying": 120, "crossed": 160}
_TOUCHES_HINDERED = 160
_MOST_SECONDS = 0.15
_PATIENCE_SECONDS = 120
_IMAGE_BYTES = 4_000_000
_DAY_SECONDS = 86_400
_FORK = get_context("fork")


@dataclass(slots=True)
class Told:
    """What a process said before it was killed, and how far that was true for certain.

    saving, keeping: begun and not said to be done. crossed: somebody else wrote since the last
    save; crossing: was about to.
    """

    saved: int = 0
    saving: int | None = None
    kept: int = 0
    keeping: int | None = None
    crossing: int | None = None
    crossed: int | None = None
    beside: int = 0
    refused: list[str] = field(default_factory=list)

    def hear(self, what: str, number: int) -> None:
        """Take in a line."""
        if what in ("saving", "keeping", "crossing"):
            setattr(self, what, number)
        elif what == "saved":
            self.beside += self.crossed is not None
            self.saved, self.saving, self.crossing, self.crossed = number, None, None, None
        elif what == "kept":
            self.kept, self.keeping = number, None
        elif what == "crossed":
            self.crossed = number
        else:
            self.refused.append(what)
            setattr(self, what.split(maxsplit=1)[0], None)


class Round:
    """One round in a folder of its own. failures: what was wrong, one line each."""

    def __init__(self, base: Path, image: Path | None, draw: Random, *, kind: str) -> None:
        self.kind, self._draw = kind, draw
        self.failures: list[str] = []
        self.lost = self.broken = self.offered = self.left = 0
        self._base = base / "round"
        home = self._base if image is None or kind != "image" else image / "round"
        self._shop = home / "shop"
        self._path = self._shop / "hall.countback"
        self._data = (home if draw.random() < 0.5 else self._base) / "data"
        self._book = _library() if draw.random() < 0.2 else _hall()
        self._states = list(child.states(self._book))
        self.told = Told()
        self._theirs: Lock | None = None

    def go(self, seed: str) -> None:
        """Let it live and be killed, then look at all that is left."""
        self._set_up()
        try:
            self._live(seed)
            if self._theirs is not None:
                if not self._theirs.is_ours:
                    self._fail("the lock of somebody who lives was taken")
                self._theirs.release()
            self._shop.chmod(0o755)
            self._look()
        finally:
            for each in {self._base, self._shop.parent}:
                shutil.rmtree(each, ignore_errors=True)

    def _set_up(self) -> None:
        for each in (self._shop, self._data):
            each.mkdir(parents=True)
        self._path.write_bytes(write_book(self._book))
        if self.kind == "elsewhere":
            got = take(self._path, "somebody", NOW)
            assert isinstance(got, Lock)
            self._theirs = got
        if self.kind == "read_only" and os.geteuid() == 0:
            for each in (self._base.parent, self._shop, self._path, self._data):
                os.chown(each, NOBODY, NOBODY)

    def _live(self, seed: str) -> None:
        draw = self._draw
        begin = draw.choice((0, 0, draw.randrange(1, EDITS // 2)))
        is_hindered = self.kind in HINDERED
        touches = _TOUCHES.get(self.kind, _TOUCHES_HINDERED)
        size = self._path.stat().st_size
        life = Life(
            path=self._path,
            rescued=self._data / "rescued",
            kind=self.kind,
            seed=seed,
            moment=draw.randrange(1, touches) if draw.random() < 0.7 else None,
            hindered=(begin, begin + draw.randrange(1, EDITS)) if is_hindered else (-1, -1),
            room=draw.randrange(1, size) if self.kind == "full" else draw.randrange(3 * size),
        )
        ours, theirs = _FORK.Pipe(duplex=False)
        process = _FORK.Process(target=child.saver, args=(life, theirs), daemon=True)
        process.start()
        theirs.close()
        seconds = draw.random() * _MOST_SECONDS if life.moment is None else _PATIENCE_SECONDS
        if not connection.wait([process.sentinel], seconds):
            assert process.pid is not None
            os.kill(process.pid, signal.SIGKILL)
        process.join()
        with contextlib.suppress(EOFError), ours:
            while True:
                self.told.hear(*ours.recv())
        if process.exitcode != -signal.SIGKILL:
            self._fail(f"it fell by itself: {process.exitcode}")

    def _fail(self, line: str) -> None:
        self.failures.append(line)

    # What is left.

    def _look(self) -> None:
        if self._look_at_files():
            opened = session.open_book(self._path, NOW)
            if opened.document is None:
                self._fail("the book does not open again")
                self.broken += 1
                return
            number = self._number_of(opened.document.book)
            copied = self._look_at_copies(number)
            self._go_on(opened, copied)

    def _look_at_files(self) -> bool:
        """Hold every file that ends like a book, and the former one, against what was written."""
        found = {each: read_book(load(each)).book for each in self._shop.glob("hall.*")}
        for each, book in found.items():
            if book is None:
                self._fail(f"{each.name} is no whole book")
                self.broken += 1
        if self.broken:
            return False
        theirs = {child.foreign(book) for book in self._states}
        beside = [book for each, book in found.items() if ".found-" in each.name]
        if len(beside) < self.told.beside or not theirs.issuperset(beside):
            self._fail(f"{self.told.beside} were put beside, {len(beside)} are there")
            self.lost += 1
        book = found[self._path]
        wanted = [self._states[self.told.saved]]
        if self.told.saving is not None:
            wanted.append(self._states[self.told.saving])
        for number in {self.told.crossing, self.told.crossed} - {None}:
            wanted.append(child.foreign(self._states[number]))  # type: ignore[index]
        if self.told.crossed is not None and self.told.crossing == self.told.crossed:
            del wanted[0]
        if book not in wanted:
            self._fail(f"the book is neither old nor new; said: {self.told}")
            self.lost += 1
            return False
        return True

    def _number_of(self, book: Book) -> int:
        """How many edits the book holds; none if it is somebody else's."""
        return self._states.index(book) if book in self._states else -1

    def _look_at_copies(self, number: int) -> Copied | None:
        told = self.told
        copies = left_behind(self._data / "rescued")
        self.offered += bool(copies)
        wanted = {told.kept, told.kept if told.keeping is None else told.keeping}
        if not copies:
            if told.kept > max(number, told.saved, told.saving or 0):
                self._fail(f"the copy after edit {told.kept} is not offered")
                self.lost += 1
            return None
        numbers = {self._number_of(each.book) for each in copies}
        if len(copies) > 1 or copies[0].of != self._path or not numbers <= wanted:
            self._fail(f"copies after {numbers} are offered, not after {wanted}")
            self.lost += 1
        return copies[0]

    def _go_on(self, opened: session.Opened, copied: Copied | None) -> None:
        """Take the lock on a word and the copy, save, and see that nothing piles up."""
        document = opened.document
        assert document is not None
        self._age()
        try:
            lock = opened.lock or session.lock_of(self._path, NOW, has_word=True)
            if copied is not None:
                document.apply(take_rescued(document.book, copied.book))
            child.edited(document, 0)
            session.save_book(document, self._path, lock)
            write_copy(self._data / "rescued", "f" * 16, document.book, self._path, "")
            lock.release()
        except DiskError as trouble:
            self._fail(f"it can't be gone on with: {trouble}")
            return
        if copied is not None:
            drop_copy(self._data / "rescued", copied.file.stem)
        drop_copy(self._data / "rescued", "f" * 16)
        if read_book(load(self._path)).book != document.book:
            self._fail("what was saved after it is not there")
            self.lost += 1
        known = {self._path.name, f"{self._path.name}.before", "filling"}
        names = {each.name for each in self._shop.iterdir() if ".found-" not in each.name}
        piled = names - known | {each.name for each in (self._data / "rescued").iterdir()}
        if piled:
            self._fail(f"left for good: {sorted(piled)}")

    def _age(self) -> None:
        """Let a day go by for what was left, and make room."""
        (self._shop / "filling").unlink(missing_ok=True)
        for folder in (self._shop, self._data / "rescued"):
            for each in folder.glob(".countback-*"):
                self.left += 1
                then = each.stat().st_mtime - _DAY_SECONDS
                os.utime(each, (then, then))


def _hall() -> Book:
    return a_book(a_job("fox", steps=tuple(a_stage(f"s{index}") for index in range(12))))


def _library() -> Book:
    return small()


def run(task: Task) -> Report:
    """Kill, look, and count; facts by what the disk refused."""
    failed: list[str] = []
    facts: Counter[str] = Counter(dict.fromkeys(("lost", "broken", "offered", "left"), 0))
    facts.update(dict.fromkeys((*KINDS, "saved", "refused"), 0))
    done = 0
    with tempfile.TemporaryDirectory() as text, _image(Path(text)) as image:
        _warm(Path(text))
        for number in range(task.rounds):
            if not task.has_time:
                break
            seed = f"{task.seed}/{number}"
            draw = Random(seed)
            kind = draw.choices(list(KINDS), list(KINDS.values()))[0]
            if kind == "image" and image is None:
                kind = "full"
            made = Round(Path(text), image, draw, kind=kind)
            made.go(seed)
            failed += [f"seed {task.seed}, round {number}, {kind}: {x}" for x in made.failures]
            facts.update(lost=made.lost, broken=made.broken, offered=made.offered)
            facts.update(left=made.left, saved=made.told.saved, refused=len(made.told.refused))
            facts[kind] += 1
            done += 1
            if done % 100 == 0:
                task.say(f"{done} rounds, {len(failed)} failed")
    notes = {} if image else {"image_skipped": "no image may be mounted here"}
    return Report(rounds=done, failed=tuple(failed), facts={**facts, **notes})


def _warm(base: Path) -> None:
    """Do it all once, so that no process that is forked later has to import anything."""
    folder = base / "warm"
    folder.mkdir()
    path = folder / "warm.countback"
    path.write_bytes(write_book(_hall()))
    if child.command(child.held_words(path, "s1", 1)):
        raise RuntimeError(path)
    write_copy(folder / "rescued", "f" * 16, Document(_hall(), path).book, path, "")
    shutil.rmtree(folder)


@contextlib.contextmanager
def _image(base: Path) -> Iterator[Path | None]:
    """A small file system in memory; None where that may not be made."""
    folder = base / "image"
    folder.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", f"size={_IMAGE_BYTES}", "none", str(folder)]
    may = shutil.which("mount") is not None and os.geteuid() == 0
    if not may or subprocess.run(words, check=False, capture_output=True).returncode:
        yield None
        return
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)
