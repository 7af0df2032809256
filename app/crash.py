"""The last resort: what to do with an error that nobody caught. No Qt.

What is not saved is copied and a report written beside the settings; the window then says so.
A crash below Python leaves its trace in `crash.log`.
"""

import faulthandler
import logging
import platform
import sys
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import IO

LOG = logging.getLogger(__name__)
TRACE = "crash.log"
REPORT = "crash-report.txt"


class Rescue:
    """Holds on to the data folder.

    keep: copies what is not saved and says whether that was done. tell: hears the folder, and
    that.
    """

    def __init__(
        self,
        folder: Path,
        keep: Callable[[], bool],
        now: Callable[[], datetime],
        tell: Callable[[Path, bool], None],
    ) -> None:
        self._folder, self._keep, self._now, self._tell = folder, keep, now, tell
        self._trace: IO[str] | None = None
        self._former = sys.excepthook

    def begin(self) -> bool:
        """Take the hooks over; say whether the last run ended in a crash."""
        path = self._folder / TRACE
        crashed = path.is_file() and path.stat().st_size > 0
        if crashed:
            path.replace(path.with_suffix(".before.log"))
        self._trace = path.open("w", encoding="utf-8")
        faulthandler.enable(self._trace)
        self._former = sys.excepthook
        sys.excepthook = self.caught
        return crashed

    def end(self) -> None:
        """Give the hooks back."""
        sys.excepthook = self._former
        faulthandler.disable()
        if self._trace is not None:
            self._trace.close()
            self._trace = None

    def caught(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        """Copy what is not saved, write the report, then tell of both."""
        self._former(kind, error, trace)
        if issubclass(kind, KeyboardInterrupt):
            return
        is_kept = self._keep()
        text = "".join(traceback.format_exception(kind, error, trace))
        head = f"{self._now().isoformat()}\n{platform.platform()}\nPython {sys.version}\n\n"
        try:
            (self._folder / REPORT).write_text(head + text, encoding="utf-8")
        except OSError as trouble:
            LOG.info("no report could be written: %s", trouble)
        self._tell(self._folder, is_kept)
