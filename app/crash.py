"""The last resort: what to do with an error that nobody caught. No Qt.

A report and a copy of the open book are written beside the settings; the window then says
where they are. A crash below Python leaves its trace in `crash.log`.
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

from shared.book import Book
from shared.files.write import write_book

LOG = logging.getLogger(__name__)
TRACE = "crash.log"
REPORT = "crash-report.txt"
RESCUE = "rescued.countback"


class Rescue:
    """Holds on to the data folder and knows the open book."""

    def __init__(
        self,
        folder: Path,
        book: Callable[[], Book | None],
        now: Callable[[], datetime],
        tell: Callable[[Path], None],
    ) -> None:
        self._folder, self._book, self._now, self._tell = folder, book, now, tell
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
        """Write the report and the copy, then tell where they are."""
        self._former(kind, error, trace)
        if issubclass(kind, KeyboardInterrupt):
            return
        text = "".join(traceback.format_exception(kind, error, trace))
        head = f"{self._now().isoformat()}\n{platform.platform()}\nPython {sys.version}\n\n"
        try:
            (self._folder / REPORT).write_text(head + text, encoding="utf-8")
            self._keep_book()
        except OSError as trouble:
            LOG.info("no report could be written: %s", trouble)
        self._tell(self._folder)

    def _keep_book(self) -> None:
        book = self._book()
        if book is not None:
            (self._folder / RESCUE).write_bytes(write_book(book))
