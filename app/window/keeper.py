"""What keeps a window's work from being lost: copies, their offer, and what a crash leaves.

It also sees to it that a window that is open for days takes no more memory than it needs.
"""

from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence

from app.crash import WHOLE, last_report
from app.free_memory import give_back
from app.paths import rescue_folder
from app.window.autosave import Autosave
from app.window.main import MainWindow
from app.window.offer import Offer
from app.words import recovery as say
from app.words.keys import key_text

REPORT_KEY = "Ctrl Shift C"
GIVE_BACK_MILLISECONDS = 60_000


class Keeper:
    """Copies what is not saved, and offers what an earlier run left."""

    def __init__(self, window: MainWindow, folder: Path) -> None:
        self._window, self._folder = window, folder
        self.autosave = Autosave(window.desk, folder)
        self.offer = Offer(window, self.autosave, rescue_folder(folder))
        window.let_go.connect(self.autosave.drop)
        action = QAction(window)
        action.setShortcut(QKeySequence(REPORT_KEY.replace(" ", "+")))
        action.triggered.connect(lambda _=False: self.copy_report())
        window.addAction(action)
        self.tidying = QTimer(window, interval=GIVE_BACK_MILLISECONDS)
        self.tidying.timeout.connect(lambda: give_back(of_all_ages=False))
        self.tidying.start()

    def copy_report(self) -> None:
        """Put what others are told of the last fault on the clipboard, and say what is in it."""
        report = last_report(self._folder)
        if not report:
            self._say(self._window.desk.trouble, self._window.words.say(say.NO_REPORT))
            return
        QGuiApplication.clipboard().setText(report)
        whole = self._folder / WHOLE
        template = say.REPORT_COPIED_WHOLE if whole.exists() else say.REPORT_COPIED
        self._say("", self._window.words.say(template, path=whole))

    def tell_crash(self, folder: Path, is_kept: bool) -> None:
        """Say that something went wrong inside, and whether what is not saved is kept."""
        template = say.CRASHED if is_kept else say.CRASHED_BARE
        self._say(self._window.words.say(template, path=folder, key=key_text(REPORT_KEY)), "")

    def tell_former_crash(self) -> None:
        """Say that the last run ended in a crash."""
        self._say("", self._window.words.say(say.CRASHED_BEFORE, key=key_text(REPORT_KEY)))

    def _say(self, trouble: str, note: str) -> None:
        self._window.desk.trouble, self._window.desk.note = trouble, note
        self._window.refresh_state()
