"""What is told of an error to others: what it was and where in our code, nothing of a book. No Qt.

An error's own text, and what its functions held, may name people, clients, prices and paths; none
of that is in here. Places are modules and lines, since a path may hold somebody's name.
"""

import errno
import platform
import re
import sys
import sysconfig
import traceback
from collections.abc import Iterator
from pathlib import Path, PurePath
from types import TracebackType

import app
from shared.errors import CountbackError

LONGEST_CHAIN = 20
_FILE = re.compile('"([^"\n]*)"')


def head() -> str:
    """Give the version of the program and what it runs on."""
    system = f"{platform.system()} {platform.release()} {platform.machine()}"
    return f"Countback {app.VERSION}\n{system}\nPython {platform.python_version()}\n"


def story(error: BaseException) -> str:
    """Tell of an error and those before it: where and of what kind each was."""
    return "\n".join("\n".join(_told(each)) for each in reversed(_chain(error))) + "\n"


def _chain(error: BaseException) -> list[BaseException]:
    """Give the error, then what it came of, each once."""
    chain: list[BaseException] = []
    found: BaseException | None = error
    while found is not None and found not in chain and len(chain) < LONGEST_CHAIN:
        chain.append(found)
        found = found.__cause__ or (None if found.__suppress_context__ else found.__context__)
    return chain


def _told(error: BaseException) -> Iterator[str]:
    yield from _places(error.__traceback__)
    kind = f"{type(error).__module__}.{type(error).__qualname__}"
    yield f"{kind}{_number(error)}"
    if isinstance(error, BaseExceptionGroup):
        for each in error.exceptions[:LONGEST_CHAIN]:
            yield from (f"    {line}" for line in _told(each))


def _places(trace: TracebackType | None) -> Iterator[str]:
    for frame, line in traceback.walk_tb(trace):
        module = frame.f_globals.get("__name__", "?")
        yield f"  {module}, line {line}, in {frame.f_code.co_qualname}"


def _number(error: BaseException) -> str:
    """Give what an error says of itself that is a word of ours or the system's."""
    if isinstance(error, CountbackError):
        return f" {error.code}"
    if isinstance(error, OSError) and error.errno is not None:
        return f" {errno.errorcode.get(error.errno, error.errno)}"
    return ""


def without_folders(trace: str) -> str:
    """Give a trace of the machine with no path in it that goes beyond a package."""
    return _FILE.sub(lambda found: f'"{_short(found[1])}"', trace)


def _short(text: str) -> str:
    path = PurePath(text)
    ours = Path(app.__file__).resolve().parents[1]
    for root in (ours, *map(Path, sysconfig.get_paths().values()), Path(sys.prefix)):
        if path.is_relative_to(root):
            return str(path.relative_to(root))
    return path.name
