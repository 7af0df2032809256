"""The wall of the desk's book, made at once or in slices between which hands and keys are heard.

The first plan of a changed book is shown at once. A better one that comes while the engine goes
on looking waits until hands have lain still on the wall, so that nothing is moved from under them.
"""

import gc
from collections.abc import Callable, Iterator
from time import perf_counter

from PySide6.QtCore import QObject, QTimer

from app.window.desk import Desk
from app.window.wall.derive import derive, derive_in_slices
from app.window.wall.items import Wall
from app.window.wall.memory import Memory
from app.window.wall.pointing import STILL_SECONDS
from app.window.wall.view import WallView

SLICED_FROM = 250
"""Walls of so many placements are made in slices."""
SLICE_SECONDS = 0.02
"""After so long the window lives for a moment before the next job's items are made."""


class WallMaker(QObject):
    """Makes one wall at a time; another one takes the place of what is not done."""

    def __init__(
        self, parent: QObject, desk: Desk, view: WallView, show: Callable[[Wall], object]
    ) -> None:
        super().__init__(parent)
        self._desk, self._view, self._show = desk, view, show
        self._shown_revision: int | None = None
        self._stillness = QTimer(self, singleShot=True)
        self._stillness.timeout.connect(self.soon)
        self._memory = Memory()
        self._is_set_aside = False
        self._left: Iterator[Wall | None] | None = None
        self._timer = QTimer(self, singleShot=True, interval=0)
        self._timer.timeout.connect(self._go_on)
        desk.shown_changed.connect(self.now)
        desk.plan_came.connect(self.soon)

    @property
    def is_busy(self) -> bool:
        """Whether a wall is being made."""
        return self._left is not None

    def now(self) -> None:
        """Show the book and its plan as they are, at once."""
        self._left = None
        self._stillness.stop()
        if self._desk.document is not None:
            self._shown_revision = self._desk.plan_revision
            self._put(derive(self._desk.shown, self._desk.words, self._memory))

    def soon(self) -> None:
        """Show another plan: a large one once it is ready."""
        if self._waits():
            return
        plan, document = self._desk.plan, self._desk.document
        if document is None or plan is None or len(plan.placements) < SLICED_FROM:
            self.now()
            return
        self._left = derive_in_slices(self._desk.shown, self._desk.words, self._memory)
        self._timer.start()

    def _put(self, wall: Wall) -> None:
        """Show a wall; set the first large one aside from the search for garbage.

        That search went through all of it again and again, and the window stood still meanwhile.
        """
        self._show(wall)
        if not self._is_set_aside and len(wall.items) >= SLICED_FROM:
            gc.freeze()
            self._is_set_aside = True

    def _waits(self) -> bool:
        """Say whether hands are on a wall that shows another plan of the same book."""
        is_better = self._shown_revision == self._desk.plan_revision is not None
        left = self._view.pointing.still_in
        if self._view.isVisible() and self._view.is_in_hand:
            left = max(left, STILL_SECONDS)
        if not is_better or not self._view.isVisible() or not left:
            return False
        self._stillness.start(round(left * 1000) + 1)
        return True

    def _go_on(self) -> None:
        if self._desk.document is None:
            self._left = None
        until = perf_counter() + SLICE_SECONDS
        while self._left is not None and perf_counter() < until:
            wall = next(self._left)
            if wall is not None:
                self._left = None
                self._shown_revision = self._desk.plan_revision
                self._put(wall)
                self._desk.state_changed.emit()
        if self._left is not None:
            self._timer.start()
