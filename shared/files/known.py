"""Saves that lose nothing that others wrote: under the lock, only over bytes that are known."""

import hashlib
import os
from datetime import UTC, datetime
from pathlib import Path

from shared.errors import DiskError
from shared.files.disk import disk_error, load, put_new, real, save
from shared.files.lock import Lock, one_at_a_time

NO_FILE = ""
"""The digest where there is no file."""


def bytes_digest(data: bytes) -> str:
    """Give the SHA-256 of a file's bytes, in hex."""
    return hashlib.sha256(data).hexdigest()


def file_digest(path: str | os.PathLike[str]) -> str:
    """Give the digest of a file's bytes, NO_FILE where there is none.

    Raises
    ------
    DiskError
        As `load`.
    """
    return bytes_digest(load(path)) if os.path.lexists(real(path)) else NO_FILE


def save_known(path: str | os.PathLike[str], data: bytes, lock: Lock, known: str) -> str:
    """Put data in the place of a file if that is still the one that is known; give its digest.

    known: the digest of the file as it was read or written last. A file that is gone meanwhile
    is written anew.

    Raises
    ------
    DiskError
        "lock_lost" if somebody took the lock away, "changed_outside" if the file holds anything
        else, both with path; else as `save`. Nothing has changed then.
    """
    try:
        with one_at_a_time(real(path).parent):
            if not lock.is_ours:
                raise DiskError("lock_lost", path=str(path))
            if file_digest(path) not in (known, NO_FILE):
                raise DiskError("changed_outside", path=str(path))
            save(path, data)
    except OSError as trouble:
        raise disk_error("not_saved", path, trouble) from trouble
    return bytes_digest(data)


def put_beside(path: str | os.PathLike[str], data: bytes, at: datetime) -> Path:
    """Keep bytes that were found at a path beside it, under a name that nothing has yet.

    Raises
    ------
    DiskError
        "not_saved", with path and reason.
    """
    target = real(path)
    moment = f"{at.astimezone(UTC):%Y%m%d-%H%M%S}"
    number = 1
    while True:
        count = "" if number == 1 else f"-{number}"
        beside = target.with_name(f"{target.stem}.found-{moment}{count}{target.suffix}")
        if put_new(beside, data):
            return beside
        number += 1
