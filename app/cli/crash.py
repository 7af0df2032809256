"""The last resort: our own fault is noted in a file and told in one sentence."""

import os
import sys
from pathlib import Path
from types import TracebackType

LOUD = "COUNTBACK_DEBUG"
"""Set in the environment, the whole story goes to stderr instead of a file."""


def keep_note(
    kind: type[BaseException], trouble: BaseException, trace: TracebackType | None
) -> None:
    """Take what nobody caught; Python ends with 1 after it."""
    import traceback

    from app.words.troubles import fault
    from app.words.voice import Voice

    story = "".join(traceback.format_exception(kind, trouble, trace))
    if os.environ.get(LOUD):
        sys.stderr.write(story)
        return
    sys.stderr.write(fault(Voice(), _written(story), f"{kind.__name__}: {trouble}") + "\n")


def _written(story: str) -> str:
    """Give the path of the note, or nothing if it can't be written."""
    import tempfile

    try:
        number, name = tempfile.mkstemp(prefix="countback-fault-", suffix=".txt")
        os.close(number)
        Path(name).write_text(story, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return ""
    return name
