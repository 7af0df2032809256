"""Opening, saving and letting go of a book's file. No Qt."""

import getpass
import os
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path

from app.document import Document
from shared.book import Book
from shared.edits import take_others
from shared.errors import DiskError
from shared.examine import take_in
from shared.files.disk import load, real
from shared.files.known import bytes_digest, file_digest, put_beside, save_known
from shared.files.lock import Held, Lock, take
from shared.files.read import Read
from shared.files.write import write_book

BOOK_ENDING = ".countback"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """What came of opening a file.

    document: the book, or None when it can't be taken as it stands (see `read`) or not even be
    loaded (see `trouble`). held: who has it open, where it may only be looked at.
    """

    path: Path
    document: Document | None = None
    read: Read | None = None
    lock: Lock | None = None
    held: Held | None = None
    trouble: DiskError | None = None


def open_book(path: Path, since: datetime, *, mine: Lock | None = None) -> Opened:
    """Open a file with its lock; without it, to look at only. mine: the lock, if we have it."""
    lock, held, refused = None, None, None
    try:
        got = mine if mine is not None and mine.is_ours else take(path, who(), since)
        lock, held = (got, None) if isinstance(got, Lock) else (None, got)
    except DiskError as trouble:
        refused = trouble
    try:
        data = load(path)
        read = take_in(data)
    except DiskError as trouble:
        _let_go(lock, mine)
        return Opened(path=path, trouble=trouble)
    if read.book is None:
        _let_go(lock, mine)
        return Opened(path=path, read=read)
    known = bytes_digest(data)
    document = Document(read.book, path, read_only=lock is None, known=known)
    return Opened(path=path, document=document, read=read, lock=lock, held=held, trouble=refused)


def _let_go(lock: Lock | None, mine: Lock | None) -> None:
    if lock is not None and lock is not mine:
        lock.release()


def save_book(document: Document, path: Path, lock: Lock) -> None:
    """Write the book to its file, or to another, in the place of what was chosen for it.

    Raises
    ------
    DiskError
        "changed_outside" when somebody else wrote its file since, "lock_lost", "not_saved"; the
        file is as it was.
    """
    is_its_own = document.path is not None and real(document.path) == real(path)
    known = document.on_disk.known if is_its_own else file_digest(path)
    document.mark_saved(path, save_known(path, write_book(document.book), lock, known))


def lock_of(path: Path, since: datetime, *, has_word: bool = False) -> Lock:
    """Take the lock of a file to be written. has_word: as for opening.

    Raises
    ------
    DiskError
        "locked" when somebody has it, "locked_open_it" when that program is gone or can't be known
        to run, "not_locked" when it can't be taken.
    """
    got = take(path, who(), since, even_if_stale=has_word)
    if isinstance(got, Held):
        begun = got.since.isoformat(" ", "minutes") if got.since else ""
        code = "locked_open_it" if got.may_be_gone else "locked"
        raise DiskError(code, path=str(path), who=got.who, host=got.host, since=begun)
    return got


@dataclass(frozen=True, kw_only=True)
class Outside:
    """What somebody else wrote in the place of a book."""

    data: bytes
    digest: str

    @cached_property
    def book(self) -> Book | None:
        """Return the book in it, read once somebody asks; None where it can't be taken."""
        return take_in(self.data).book


def look_outside(document: Document) -> Outside | None:
    """Give what lies at the place of a document's file, unless that is what it knows or nothing.

    Raises
    ------
    DiskError
        Where it can't be read.
    """
    if document.path is None or not document.path.exists():
        return None
    data = load(document.path)
    digest = bytes_digest(data)
    if digest == document.on_disk.known:
        return None
    return Outside(data=data, digest=digest)


def take_outside(document: Document, outside: Outside) -> None:
    """Put what somebody else wrote in the place of the book, as one edit; then it is saved."""
    book = outside.book
    assert book is not None
    document.take_file(take_others(document.book, book), outside.digest)


def save_over(document: Document, outside: Outside, lock: Lock, at: datetime) -> Path:
    """Save the book in the place of what somebody else wrote, which is put beside it first.

    Raises
    ------
    DiskError
        As `save_book`; "changed_outside" if that was written over once more.
    """
    path = document.path
    assert path is not None
    beside = put_beside(path, outside.data, at)
    document.mark_saved(path, save_known(path, write_book(document.book), lock, outside.digest))
    return beside


def who() -> str:
    """Return who is at this machine, as far as it knows."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return os.environ.get("USER", "")


def with_ending(path: Path) -> Path:
    """Return a path that ends as books do."""
    return path if path.suffix == BOOK_ENDING else path.with_name(path.name + BOOK_ENDING)
