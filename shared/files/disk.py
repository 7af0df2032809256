"""Files on disk: loaded within bounds, saved so that no moment is without a whole book.

A save writes beside the target, reaches the disk, and only then takes the target's name. The
former book stays as BOOK.before (the whole file name and ".before").
"""

import contextlib
import errno
import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path

from shared.errors import DiskError
from shared.files.json_text import LARGEST_BYTES

BEFORE = ".before"
"""What the former book's name ends in."""

_NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.ENOSYS)
"""What a file system answers that has no links."""

ASIDE = ".countback-"
"""What the name of a file begins with that is written before it takes another's name."""

_OF_OURS = re.compile(re.escape(ASIDE) + "([a-z0-9_]{8}|[0-9a-f]{32})")
_ABANDONED_SECONDS = 3600
_USUAL_MODE = 0o666
_PRIVATE_MODE = 0o600


def load(path: str | os.PathLike[str]) -> bytes:
    """Give the bytes of a file; of one too big for a book, only enough for that to be found.

    Raises
    ------
    DiskError
        "not_loaded", with path and reason; "not_a_file" for a folder, pipe or device.
    """
    try:
        if not stat.S_ISREG(Path(path).stat().st_mode):
            raise DiskError("not_a_file", path=str(path))
        with Path(path).open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as trouble:
        raise disk_error("not_loaded", path, trouble) from trouble


def save(path: str | os.PathLike[str], data: bytes) -> None:
    """Put data in the place of a file, which stays as the one before.

    A link is followed; the mode is kept. Killed at any moment, it leaves at `path` the old
    bytes or the new ones, whole.

    Raises
    ------
    DiskError
        "not_saved", with path and reason; nothing has changed, unless the disk itself failed
        after the new file had taken its name.
    """
    target = real(path)
    try:
        with _written_beside(target, data, _mode_of(target)) as new:
            _keep_before(target)
            new.replace(target)
        _sync_folder(target.parent)
        _sweep_beside(target)
    except OSError as trouble:
        raise disk_error("not_saved", path, trouble) from trouble


def save_private(path: str | os.PathLike[str], data: bytes) -> None:
    """Put data in the place of a file that only its owner can read; no former one is kept.

    Raises
    ------
    DiskError
        "not_saved", with path and reason; nothing has changed.
    """
    _save_alone(path, Path(path), data, _PRIVATE_MODE)


def save_over(path: str | os.PathLike[str], data: bytes) -> None:
    """Put data in the place of a file that can be made again; no former one is kept.

    A link is followed; the mode is kept.

    Raises
    ------
    DiskError
        "not_saved", with path and reason; nothing has changed.
    """
    _save_alone(path, real(path), data, None)


def _save_alone(path: str | os.PathLike[str], target: Path, data: bytes, mode: int | None) -> None:
    """Put data in the place of a target without keeping it. mode: None for the one it has."""
    try:
        kept = _mode_of(target) if mode is None else mode
        with _written_beside(target, data, kept) as new:
            new.replace(target)
        _sweep_beside(target)
    except OSError as trouble:
        raise disk_error("not_saved", path, trouble) from trouble


def put_new(path: str | os.PathLike[str], data: bytes) -> bool:
    """Put data under a name that nothing has yet; whether nothing had it.

    Raises
    ------
    DiskError
        "not_saved", with path and reason.
    """
    target = Path(path)
    try:
        with _written_beside(target, data, _mode_of(target)) as new:
            is_put = linked(new, target)
            return _put_slowly(new, target) if is_put is None else is_put
    except OSError as trouble:
        raise disk_error("not_saved", path, trouble) from trouble


def linked(new: Path, target: Path) -> bool | None:
    """Give a file another name that nothing has yet; None where the file system has no links."""
    try:
        os.link(new, target)
    except FileExistsError:
        return False
    except OSError as trouble:
        if trouble.errno not in _NO_LINKS:
            raise
        return None  # pragma: no cover - needs such a file system
    return True


def _put_slowly(new: Path, target: Path) -> bool:
    """Do the same where there are no links: the name is taken first, for a moment empty."""
    try:
        target.open("xb").close()
    except FileExistsError:
        return False
    new.replace(target)
    return True


def real(path: str | os.PathLike[str]) -> Path:
    """Give the file itself, links followed."""
    return Path(os.path.realpath(path))


def before(path: str | os.PathLike[str]) -> Path:
    """Give the path of the former book."""
    target = real(path)
    return target.with_name(target.name + BEFORE)


def _keep_before(target: Path) -> None:
    """Make the file's bytes the former book, too, without taking them from the file."""
    try:
        data = target.read_bytes()
    except FileNotFoundError:
        return
    former = before(target)
    with _written_beside(former, data, _mode_of(target)) as copy:
        copy.replace(former)


@contextlib.contextmanager
def _written_beside(target: Path, data: bytes, mode: int) -> Iterator[Path]:
    """Give a file beside the target, written to the disk; it is gone unless it was renamed."""
    import tempfile

    descriptor, text = tempfile.mkstemp(prefix=ASIDE, dir=target.parent)
    name = Path(text)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            name.chmod(mode)
            os.fsync(file.fileno())
        yield name
    finally:
        name.unlink(missing_ok=True)


def _sweep_beside(target: Path) -> None:
    """Remove what saves that were killed left beside a file that has just been written.

    Old is what was written an hour before it, by the clock of the file system itself.
    """
    # Somebody else may sweep too, or own it: whoever saves next here finds what is left.
    with contextlib.suppress(OSError):
        until = target.stat().st_mtime - _ABANDONED_SECONDS
        with os.scandir(target.parent) as entries:
            ours = [each for each in entries if _OF_OURS.fullmatch(each.name)]
        for each in ours:
            found = each.stat(follow_symlinks=False)
            if stat.S_ISREG(found.st_mode) and found.st_mtime < until:
                Path(each).unlink()


def _mode_of(path: Path) -> int:
    """Give the permissions of a file; for a new one what the process's mask allows."""
    try:
        return stat.S_IMODE(path.stat().st_mode)
    except FileNotFoundError:
        mask = os.umask(0o022)
        os.umask(mask)
        return _USUAL_MODE & ~mask


def _sync_folder(folder: Path) -> None:
    """Bring the new name to the disk as well, where the file system can."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    except OSError as trouble:  # pragma: no cover - needs such a file system
        # Some file systems have no such thing for folders; the file itself is on the disk.
        if trouble.errno not in (errno.EINVAL, errno.ENOTSUP):
            raise
    finally:
        os.close(descriptor)


def disk_error(code: str, path: str | os.PathLike[str], trouble: OSError) -> DiskError:
    """Give the error that says what the system refused, with path, reason and its number."""
    reason = trouble.strerror or type(trouble).__name__
    return DiskError(code, path=str(path), reason=reason, number=trouble.errno)
