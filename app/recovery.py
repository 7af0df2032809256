"""Copies of what is not saved yet, kept in the data folder until it is. No Qt.

A copy is two private files: TOKEN.countback, the book as it was, and TOKEN.json, what it is a
copy of. The book's own file is never touched.
"""

import json
import logging
import os
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shared.book import Book
from shared.errors import DiskError
from shared.examine import take_in
from shared.files.disk import disk_error, load, save_private
from shared.files.known import NO_FILE, bytes_digest, file_digest
from shared.files.lock import host_name, is_alive, process_start
from shared.files.write import write_book

LOG = logging.getLogger(__name__)
ENDING, ABOUT = ".countback", ".json"
_UNREADABLE = (DiskError, ValueError, OverflowError, KeyError, TypeError, RecursionError)
"""What is raised where something else stands beside a copy than was written there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Copied:
    """A book that was not saved when its program ended.

    file: the copy. of: the file of the book, None where it never had one. base: the digest of
    that file's bytes when they were last loaded or saved. at: when the copy was written.
    """

    file: Path
    of: Path | None
    base: str
    at: datetime
    book: Book

    @property
    def is_behind(self) -> bool:
        """Whether the book's file was written by somebody else since."""
        return self.of is not None and digest_of(self.of) not in (NO_FILE, self.base)


def digest_of(path: Path | None) -> str:
    """Return the digest of a file's bytes; NO_FILE where there is none to be read."""
    if path is None:
        return NO_FILE
    try:
        return file_digest(path)
    except DiskError as trouble:
        LOG.info("no digest of %s: %s", path, trouble)
        return NO_FILE


def write_copy(folder: Path, token: str, book: Book, of: Path | None, base: str) -> None:
    """Keep a book as it is now, in a folder for its owner only that is made if need be.

    Raises
    ------
    DiskError
        "not_saved", with path and reason; a former copy stays.
    """
    about = {
        "of": "" if of is None else str(of.absolute()),
        "base": base,
        "host": host_name(),
        "pid": os.getpid(),
        "started": process_start(os.getpid()),
    }
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError as trouble:
        raise disk_error("not_saved", folder, trouble) from trouble
    save_private(folder / (token + ABOUT), json.dumps(about, indent=2).encode() + b"\n")
    save_private(folder / (token + ENDING), write_book(book))


def drop_copy(folder: Path, token: str) -> None:
    """Let a copy go; one that can't be removed is only noted."""
    for ending in (ENDING, ABOUT):
        try:
            (folder / (token + ending)).unlink(missing_ok=True)
        except OSError as trouble:
            LOG.info("a copy stays: %s", trouble)


def left_behind(folder: Path) -> list[Copied]:
    """Return the copies whose program is gone, the latest first.

    What a program left that was killed while it wrote its first copy, or before it let go of one
    that its file holds by then, goes.
    """
    for about in folder.glob(f"*{ABOUT}"):
        if not about.with_suffix(ENDING).exists() and _is_gone(about):
            drop_copy(folder, about.stem)
    found = [_copied(file) for file in folder.glob(f"*{ENDING}")]
    return sorted((each for each in found if each is not None), key=lambda c: c.at, reverse=True)


def _is_gone(about: Path) -> bool:
    """Whether the program is gone that began a copy, as far as can be read."""
    try:
        return _told_by_gone(about) is not None
    except _UNREADABLE as trouble:
        LOG.info("what stands beside a copy can't be read: %s: %s", about, trouble)
        return False


def _told_by_gone(about: Path) -> tuple[Path | None, str] | None:
    """Give the file of a copied book and its digest, unless its program lives, here or elsewhere.

    Raises one of _UNREADABLE where that can't be read.
    """
    told = json.loads(load(about))
    of, base, pid = str(told["of"]), str(told["base"]), int(told["pid"])
    if told["host"] != host_name() or is_alive(pid, told["started"]):
        return None
    return Path(of) if of else None, base


def _copied(file: Path) -> Copied | None:
    """Return a copy, unless its program lives, its file holds it or it can't be read."""
    try:
        told = _told_by_gone(file.with_suffix(ABOUT))
        if told is None:
            return None
        of, base = told
        data = load(file)
        if digest_of(of) == bytes_digest(data):
            drop_copy(file.parent, file.stem)
            return None
        book = take_in(data).book
        at = datetime.fromtimestamp(file.stat().st_mtime, UTC)
    except (OSError, *_UNREADABLE) as trouble:
        LOG.info("a copy that can't be read: %s: %s", file, trouble)
        return None
    if book is None:
        LOG.info("a copy that is no book: %s", file)
        return None
    return Copied(file=file, of=of, base=base, at=at, book=book)
