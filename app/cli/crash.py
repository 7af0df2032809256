"""The last resort: our own fault is noted in a file and told in one sentence.

The note holds nothing of a book, so that it can be given away.
"""

import os
import sys
from pathlib import Path
from types import TracebackType

LOUD = "COUNTBACK_DEBUG"
"""Set in the environment, the whole of it goes to stderr instead, with what the error says."""


def keep_note(
    kind: type[BaseException], trouble: BaseException, trace: TracebackType | None
) -> None:
    """Take what nobody caught; Python ends with 1 after it."""
    import traceback

    from app.story import head, story
    from app.words.troubles import fault
    from app.words.voice import Voice

    if os.environ.get(LOUD):
        sys.stderr.write("".join(traceback.format_exception(kind, trouble, trace)))
        return
    told = f"{head()}\n{story(trouble.with_traceback(trace))}"
    sys.stderr.write(fault(Voice(), _written(told), f"{kind.__name__}: {trouble}") + "\n")


def _written(told: str) -> str:
    """Give the path of the note, or nothing if it can't be written."""
    import tempfile

    try:
        number, name = tempfile.mkstemp(prefix="countback-fault-", suffix=".txt")
        os.close(number)
        Path(name).write_text(told, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return ""
    return name
