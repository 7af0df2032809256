"""Opening, saving and letting go of a book's file. No Qt."""

import getpass
import os
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from app.document import Document
from shared.errors import DiskError
from shared.examine import take_in
from shared.files.disk import load, save
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


def open_book(path: Path, since: datetime) -> Opened:
    """Open a file with its lock; without the lock, to look at only."""
    try:
        read = take_in(load(path))
    except DiskError as trouble:
        return Opened(path=path, trouble=trouble)
    if read.book is None:
        return Opened(path=path, read=read)
    try:
        got = take(path, who(), since)
    except DiskError as trouble:
        document = Document(read.book, path, read_only=True)
        return Opened(path=path, document=document, read=read, trouble=trouble)
    if isinstance(got, Held) and got.stale:
        got = take(path, who(), since, even_if_stale=True)
    lock = got if isinstance(got, Lock) else None
    document = Document(read.book, path, read_only=lock is None)
    held = got if isinstance(got, Held) else None
    return Opened(path=path, document=document, read=read, lock=lock, held=held)


def save_book(document: Document, path: Path) -> None:
    """Write the book to a file.

    Raises
    ------
    DiskError
        When the disk refuses; the file is as it was.
    """
    save(path, write_book(document.book))
    document.mark_saved(path)


def lock_of(path: Path, since: datetime) -> Lock:
    """Take the lock of a file to be written.

    Raises
    ------
    DiskError
        "locked" when somebody has it, "not_locked" when it can't be taken.
    """
    got = take(path, who(), since)
    if isinstance(got, Held) and got.stale:
        got = take(path, who(), since, even_if_stale=True)
    if isinstance(got, Held):
        begun = got.since.isoformat(" ", "minutes") if got.since else ""
        raise DiskError("locked", path=str(path), who=got.who, host=got.host, since=begun)
    return got


def who() -> str:
    """Return who is at this machine, as far as it knows."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return os.environ.get("USER", "")


def with_ending(path: Path) -> Path:
    """Return a path that ends as books do."""
    return path if path.suffix == BOOK_ENDING else path.with_name(path.name + BOOK_ENDING)
