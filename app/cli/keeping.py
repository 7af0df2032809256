"""Books that a command writes: locked against others, the former one kept beside it."""

import getpass
from pathlib import Path

from app import clock
from app.cli.books import words_for
from shared.book import Book
from shared.errors import DiskError
from shared.files.disk import save
from shared.files.lock import Held, Lock, lock_path, take
from shared.files.write import write_book


def locked(path: Path) -> Lock:
    """Take the lock of a book; raises DiskError where somebody has it."""
    held = take(path, who_is_here(), clock.now())
    if isinstance(held, Held):
        raise _has_it(held, path)
    return held


def keep_book(path: Path, book: Book) -> None:
    """Write a book over its former self, which stays beside it. Raises DiskError."""
    save(path, write_book(book))


def who_is_here() -> str:
    """Give the name under which the person is known to the system."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return ""


def _has_it(held: Held, path: Path) -> DiskError:
    facts = {"path": str(path), "lock": str(lock_path(path))}
    if held.since is None or not held.host:
        return DiskError("locked_unreadably", **facts)
    code = "locked_and_left" if held.stale else "locked"
    since = words_for(None).moment(held.since, after=None) + " UTC"
    return DiskError(code, who=held.who or held.pid, host=held.host, since=since, **facts)
