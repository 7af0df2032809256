"""One lock for a book, taken by whoever writes it: a small file beside the book.

The file `.NAME.lock` (NAME is the book's whole file name, links followed) is created so that
only one can; in it stand host, pid, who and since when. A lock that a dead process left behind
is told, and taken over only on a person's word.
"""

import contextlib
import errno
import fcntl
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shared.files.disk import ASIDE, disk_error, linked, real
from shared.files.json_text import shown
from shared.findings import Fact, Finding
from shared.findings_codes import finding

_LARGEST_BYTES = 4096
_NO_TURNS = (errno.EBADF, errno.EINVAL, errno.ENOLCK, errno.ENOSYS, errno.ENOTSUP)
_LARGEST_PID = 2**31


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Somebody has the lock.

    Attributes
    ----------
    host, pid, who, since: as they told; empty, 0 or None where the lock can't be read.
    stale: whoever took it is gone, or the lock can't be read.
    elsewhere: it was taken on another machine, so nobody here can know whether it is stale.
    """

    host: str = ""
    pid: int = 0
    who: str = ""
    since: datetime | None = None
    stale: bool = False
    elsewhere: bool = False

    @property
    def may_be_gone(self) -> bool:
        """Whether a person's word takes the lock: whoever has it is gone, or can't be known."""
        return self.stale or self.elsewhere

    def as_finding(self) -> Finding:
        """Give the finding that says so."""
        since = None if self.since is None else self.since.isoformat().replace("+00:00", "Z")
        told: dict[str, Fact] = {"who": self.who, "host": self.host, "pid": self.pid}
        return finding("locked", (), "", **told, since=since, stale=int(self.stale))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """The lock is ours; `with` it, or give it back by `release`."""

    path: Path
    token: str

    @property
    def is_ours(self) -> bool:
        """Whether nobody has taken it away.

        Raises
        ------
        DiskError
            "not_locked", with path and reason.
        """
        try:
            return _token_in(_bytes_of(self.path)) == self.token
        except FileNotFoundError:
            return False
        except OSError as trouble:
            raise disk_error("not_locked", self.path, trouble) from trouble

    def release(self) -> None:
        """Give the lock back; nothing happens if it is no longer ours.

        Raises
        ------
        DiskError
            "not_unlocked", with path and reason.
        """
        try:
            with one_at_a_time(self.path.parent):
                if _token_in(_bytes_of(self.path)) == self.token:
                    self.path.unlink(missing_ok=True)
        except FileNotFoundError:
            return
        except OSError as trouble:
            raise disk_error("not_unlocked", self.path, trouble) from trouble

    def __enter__(self) -> "Lock":
        return self

    def __exit__(self, *_: object) -> None:
        self.release()


def lock_path(path: str | os.PathLike[str]) -> Path:
    """Give the path of a book's lock."""
    target = real(path)
    return target.with_name(f".{target.name}.lock")


def take(
    path: str | os.PathLike[str], who: str, since: datetime, *, even_if_stale: bool = False
) -> Lock | Held:
    """Take the lock of a book, or say who has it.

    even_if_stale: a person says that whoever has it is gone; a lock whose process lives on
    this machine is not taken even then.

    Raises
    ------
    DiskError
        "not_locked", with path and reason.
    """
    where = lock_path(path)
    try:
        lock = _create(where, who, since)
        if lock is None and even_if_stale:
            with one_at_a_time(where.parent):
                held = _look(where)
                if held is None or held.may_be_gone:
                    where.unlink(missing_ok=True)
                    lock = _create(where, who, since)
        return lock or _look(where) or take(path, who, since, even_if_stale=even_if_stale)
    except OSError as trouble:
        raise disk_error("not_locked", where, trouble) from trouble


def look(path: str | os.PathLike[str]) -> Held | None:
    """Say who has the lock of a book, without taking it; None if nobody.

    Raises
    ------
    DiskError
        "not_locked", with path and reason.
    """
    where = lock_path(path)
    try:
        return _look(where)
    except OSError as trouble:
        raise disk_error("not_locked", where, trouble) from trouble


def _create(where: Path, who: str, since: datetime) -> Lock | None:
    token = os.urandom(16).hex()
    told = {
        "host": host_name(),
        "pid": os.getpid(),
        "who": who,
        "since": since.astimezone(UTC).isoformat().replace("+00:00", "Z"),
        "started": process_start(os.getpid()),
        "token": token,
    }
    text = json.dumps(told, indent=2).encode() + b"\n"
    is_ours = _put_if_absent(where, text, where.with_name(ASIDE + token))
    return Lock(path=where, token=token) if is_ours else None


def _put_if_absent(where: Path, text: bytes, aside: Path) -> bool:
    """Create a file with its bytes in it at once, unless there is one already."""
    try:
        aside.write_bytes(text)
        is_put = linked(aside, where)
        return create_empty_first(where, text) if is_put is None else is_put
    finally:
        aside.unlink(missing_ok=True)


def create_empty_first(where: Path, text: bytes) -> bool:
    """Do the same where the file system has no links: for a moment the file is empty."""
    try:
        with where.open("xb") as file:
            file.write(text)
    except FileExistsError:
        return False
    return True


def _look(where: Path) -> Held | None:
    try:
        told = _told(_bytes_of(where))
    except FileNotFoundError:
        return None
    host, pid, since = told.get("host"), told.get("pid"), _instant(told.get("since"))
    is_pid = type(pid) is int and 0 < pid < _LARGEST_PID
    if not isinstance(host, str) or not isinstance(pid, int) or not is_pid:
        return Held(stale=True)
    elsewhere = host != host_name()
    is_gone = not elsewhere and not is_alive(pid, told.get("started"))
    who = told.get("who")
    return Held(
        host=shown(host),
        pid=pid,
        who=shown(who) if isinstance(who, str) else "",
        since=since,
        stale=is_gone,
        elsewhere=elsewhere,
    )


def _bytes_of(where: Path) -> bytes:
    with where.open("rb") as file:
        return file.read(_LARGEST_BYTES)


def _told(data: bytes) -> dict[str, object]:
    """Give what stands in a lock; nothing if that is not what we write."""
    try:
        told = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return told if isinstance(told, dict) else {}


def _token_in(data: bytes) -> object:
    return _told(data).get("token")


def _instant(text: object) -> datetime | None:
    try:
        found = datetime.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        return None
    return found if found is not None and found.utcoffset() is not None else None


def host_name() -> str:
    """Give what this machine is called."""
    return os.uname().nodename


def is_alive(pid: int, started: object) -> bool:
    """Say whether a process that noted its pid and start lives; another with its pid is not it."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:  # pragma: no cover - it lives, and is another user's
        return True
    now = process_start(pid)
    return started is None or now is None or now == started


def process_start(pid: int) -> str | None:
    """Give when a process started, counted by the system; None where it doesn't say."""
    try:
        text = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8", errors="replace")
    except OSError:
        return None
    # The name, in brackets, may hold anything; the start is the 20th field after it.
    fields = text.rpartition(")")[2].split()
    return fields[19] if len(fields) > 19 else None


@contextlib.contextmanager
def one_at_a_time(folder: Path) -> Iterator[None]:
    """Let one process at a time take locks over, give them back and save in a folder.

    Some shares can't do that for a folder; there the lock alone keeps others out.
    """
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX)
        except OSError as trouble:
            if trouble.errno not in _NO_TURNS:
                raise
        yield
    finally:
        os.close(descriptor)
