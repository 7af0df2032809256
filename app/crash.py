"""The last resort: what to do with an error that nobody caught. No Qt.

What is not saved is copied and a report written beside the settings; the window then says so. The
report is for others and holds nothing of a book; the whole story, for whoever was there, is in a
file that only they can read. A crash below Python leaves its trace in `crash.log`.
"""

import faulthandler
import logging
import sys
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import IO

from app.story import head, story, without_folders
from shared.errors import DiskError
from shared.files.disk import load, save_over, save_private

LOG = logging.getLogger(__name__)
TRACE = "crash.log"
BEFORE = "crash.before.log"
REPORT = "crash-report.txt"
WHOLE = "crash-private.txt"
MOST_STORIES = 20


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
        self._stories: list[tuple[str, str]] = []
        self._is_at_it = False

    def begin(self) -> bool:
        """Take the hooks over; say whether the last run ended in a crash."""
        path = self._folder / TRACE
        crashed = path.is_file() and path.stat().st_size > 0
        if crashed:
            trace = path.read_text(encoding="utf-8", errors="replace")
            before = path.with_name(BEFORE)
            before.write_text(f"{head()}\n{without_folders(trace)}", encoding="utf-8")
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
        self._note(error.with_traceback(trace))
        if self._is_at_it:
            return
        self._is_at_it = True
        try:
            is_kept = self._done(self._keep)
            self._write()
            if not self._done(lambda: self._tell(self._folder, is_kept) is None):
                self._write()
        finally:
            self._is_at_it = False

    def _done(self, do: Callable[[], bool]) -> bool:
        """Do something that may be what is broken; whether it was done."""
        try:
            return do()
        except Exception as error:  # noqa: BLE001 - noted, and told of in the report
            self._note(error)
            return False

    def _note(self, error: BaseException) -> None:
        """Keep what happened, each thing once: a drawing that fails does so again and again."""
        told = story(error)
        if len(self._stories) < MOST_STORIES and all(told != each for each, _ in self._stories):
            whole = "".join(traceback.format_exception(error))
            self._stories.append((told, whole))

    def _write(self) -> None:
        begun = f"{self._now().isoformat()}\n{head()}\n"
        try:
            for name, save, at in ((WHOLE, save_private, 1), (REPORT, save_over, 0)):
                text = begun + "\n".join(each[at] for each in self._stories)
                save(self._folder / name, text.encode("utf-8", "backslashreplace"))
        except DiskError as trouble:
            LOG.info("no report could be written: %s", trouble)


def last_report(folder: Path) -> str:
    """Give what is told to others of the last errors and crash; "" where there was none."""
    found = []
    for name in (REPORT, BEFORE):
        try:
            found.append(load(folder / name).decode("utf-8", "replace"))
        except DiskError as trouble:
            LOG.info("no report to be read: %s", trouble)
    return "\n".join(found)
