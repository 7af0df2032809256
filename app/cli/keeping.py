"""Books that a command writes: locked against others, the former one kept beside it."""

import contextlib
import getpass
from collections.abc import Iterator
from pathlib import Path

from app import clock
from app.cli.arguments import Asked
from app.cli.books import words_for
from shared.book import Book
from shared.errors import DiskError
from shared.files.known import file_digest, save_known
from shared.files.lock import Held, Lock, lock_path, take
from shared.files.write import write_book


class Keeping:
    """The lock of a book and the bytes that it had when that was taken."""

    def __init__(self, path: Path, lock: Lock) -> None:
        """Note the bytes; raises DiskError."""
        self.lock = lock
        self._path, self._known = path, file_digest(path)

    def keep(self, book: Book) -> None:
        """Write a book over its former self, which stays beside it, if nobody else wrote there.

        Raises
        ------
        DiskError
            "changed_outside", "lock_lost", "not_saved"; the file is as it was.
        """
        self._known = save_known(self._path, write_book(book), self.lock, self._known)


@contextlib.contextmanager
def locked(path: Path, asked: Asked) -> Iterator[Keeping]:
    """Hold the lock of a book; raises DiskError where somebody has it."""
    held = take(path, who_is_here(), clock.now(), even_if_stale=asked.takes_lock)
    if isinstance(held, Held):
        raise _has_it(held, path)
    with held:
        yield Keeping(path, held)


def locked_if(
    path: Path, asked: Asked, is_kept: bool
) -> contextlib.AbstractContextManager[Keeping | None]:
    """Hold the lock of a book where it is going to be kept."""
    return locked(path, asked) if is_kept else contextlib.nullcontext()


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
    code = "locked_elsewhere" if held.elsewhere else "locked_and_left" if held.stale else "locked"
    since = words_for(None).moment(held.since, after=None) + " UTC"
    return DiskError(code, who=held.who or held.pid, host=held.host, since=since, **facts)
