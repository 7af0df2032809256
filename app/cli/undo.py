"""`countback undo`: the book as it was before it was last saved."""

import getpass
from pathlib import Path

from app import clock
from app.cli.arguments import Asked
from app.cli.books import words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.run import MET, REFUSED
from app.words import shell
from shared.errors import DiskError
from shared.files.lock import Held, lock_path, take
from shared.files.undo import undo_file


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    held = take(path, _who(), clock.now())
    if isinstance(held, Held):
        raise _has_it(held, path)
    with held:
        undone = undo_file(path)
    words = words_for(undone.book)
    if undone.book is None:
        say_findings(console, words, undone.findings)
        console.say(words.say(shell.NOT_UNDONE))
        return REFUSED
    console.say(words.say(shell.UNDONE, path=path, revision=undone.book.revision))
    return MET


def _who() -> str:
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
