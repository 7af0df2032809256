"""How sure the windows of the plan on show are, asked while nothing else is."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from app.counsel.questions import AskChance
from app.window.desk import Desk
from shared.ids import JobId

if TYPE_CHECKING:
    from scheduler.chance import Chances, JobChance
    from shared.plan import Plan

QUIET_MILLISECONDS = 500


class Sure(QObject):
    """Asks of one plan once, and again where another question gave that up.

    is_wanted: whether somebody looks and everything else is answered. parent: the view that
    looks; with it this goes.
    """

    def __init__(
        self,
        desk: Desk,
        is_wanted: Callable[[], bool],
        changed: Callable[[], object],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._is_wanted, self._changed = desk, is_wanted, changed
        self._found: tuple[Plan, Chances] | None = None
        self._refused: Plan | None = None
        self._asked: Plan | None = None
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MILLISECONDS)
        self._quiet.timeout.connect(self.ask)
        desk.counsel.busy_changed.connect(self.wait)
        desk.counsel.refused.connect(self._on_refused)

    def of(self, job: JobId) -> "JobChance | None":
        """Return how sure a job of the plan on show is, None while that is not known."""
        if self._found is None or self._found[0] is not self._desk.plan:
            return None
        return self._found[1].of(job)

    def wait(self) -> None:
        """Ask when it has been quiet for a moment."""
        self._quiet.start()

    def ask(self) -> None:
        """Ask, if it is not known and nobody else asks."""
        desk, plan = self._desk, self._desk.plan
        is_known = self._found is not None and self._found[0] is plan
        if plan is None or plan is self._refused or is_known or desk.counsel.is_busy:
            return
        if desk.document is None or desk.engine.is_busy or not self._is_wanted():
            return

        def hear(found: object) -> None:
            from scheduler.chance import Chances

            assert isinstance(found, Chances)
            self._found, self._asked = (plan, found), None
            self._changed()

        self._asked = plan
        desk.ask(AskChance(book=desk.document.book, plan=plan), hear)

    def _on_refused(self, _: object) -> None:
        """Don't ask of a plan again of which that could not be said."""
        self._refused, self._asked = self._asked, None
