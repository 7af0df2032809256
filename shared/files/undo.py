"""Undo on disk: the book and the one before it change places."""

import os
from dataclasses import dataclass, replace

from shared.book import Book
from shared.errors import DiskError
from shared.files.disk import before, load
from shared.files.known import NO_FILE, bytes_digest, save_known
from shared.files.lock import Lock
from shared.files.read import read_book
from shared.files.write import write_book
from shared.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone:
    """What came of an undo: the book that is back, or the findings that stood against it."""

    book: Book | None
    findings: tuple[Finding, ...] = ()


def undo_file(path: str | os.PathLike[str], lock: Lock) -> Undone:
    """Bring the former book back, one revision above both; the later becomes the former.

    So a second undo brings the later one again. lock: of the book. The later book may
    be unreadable: it is kept as it is. A former one that can't be read is not brought back.

    Raises
    ------
    DiskError
        "nothing_before" where there is no former book; "not_loaded"; as `save_known`.
    """
    former_path = before(path)
    if not former_path.exists():
        raise DiskError("nothing_before", path=str(path))
    former = read_book(load(former_path))
    if former.book is None:
        return Undone(book=None, findings=former.findings)
    data = load(path) if os.path.lexists(path) else None
    later = None if data is None else read_book(data).book
    highest = max(former.book.revision, later.revision if later else 0)
    restored = replace(former.book, revision=highest + 1)
    save_known(path, write_book(restored), lock, NO_FILE if data is None else bytes_digest(data))
    return Undone(book=restored, findings=former.findings)
