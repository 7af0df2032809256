"""A stage on its way to another time: judged at once, asked of the engine, pinned where let go."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, QPoint, QTimer, Signal

from app.counsel.questions import AskPlan
from app.window.desk import Desk
from app.window.wall.items import DAY_MINUTES, Item, Role, instant_at
from app.window.wall.judging import QUARTER, Judge, Judged
from app.window.wall.telling import Line, MoveTeller
from app.words import on_wall as say
from scheduler.outcome import Outcome
from shared.book import Book, Pin
from shared.edits import pin_step, tell_plan
from shared.ids import StepId

REST_MILLISECONDS = 120
"""So long it lies still before the engine is asked."""
EFFORT = 1
_DAYS_TRIED = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """What is being moved: its item, where it lies now, and what is said of that.

    at: where the pointer is, None when keys move it. is_dropped: it was let go there, and the plan
    that has it there is on its way.
    """

    item: Item
    judged: Judged
    lines: tuple[Line, ...]
    at: QPoint | None = None
    is_dropped: bool = False


class Mover(QObject):
    """Moves one stage at a time."""

    changed = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.moving: Moving | None = None
        self.why_not = ""
        self._judge: Judge | None = None
        self._teller: MoveTeller | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MILLISECONDS)
        self._rest.timeout.connect(self._ask)

    def begin(self, item: Item) -> bool:
        """Take a stage into the hand; whether it can be moved."""
        desk, plan = self._desk, self._desk.plan
        self.why_not = ""
        if plan is None or desk.document is None or desk.trial is not None:
            return False
        if item.role is not Role.BLOCK or item.owner or item.part or item.step is None:
            return False
        if item.stands in ("done", "running"):
            self.why_not = desk.words.say(say.DONE_STAYS, item=item.name)
            return False
        placed = next((p for p in plan.placements if p.step == item.step and not p.part), None)
        if placed is None:
            return False
        self._judge = Judge(desk.shown, placed, item)
        self._teller = MoveTeller(desk.words, self._judge)
        self._show(self._judge.at(item.start), None)
        return True

    def to(self, minute: float, at: QPoint | None = None) -> None:
        """Wish it at an instant; forbidden places resist."""
        if self._judge is not None and self.moving is not None:
            self._show(self._judge.at(round(minute)), at)

    def nudge(self, quarters: int) -> None:
        """Move it by quarters of an hour, over what nobody works in."""
        if self._judge is None or self.moving is None:
            return
        start, stride = self.moving.judged.start, QUARTER if quarters > 0 else -QUARTER
        wished = start + QUARTER * quarters
        for _ in range(_DAYS_TRIED * DAY_MINUTES // QUARTER):
            found = self._judge.at(wished)
            if found.bar is None or found.bar.code not in ("closed", "shift"):
                break
            wished += stride
        self._show(found, None)

    def nudge_shift(self, stride: int) -> None:
        """Move it by a shift: to the same hour of the next day on which that can be."""
        if self._judge is None or self.moving is None:
            return
        start = self.moving.judged.start
        for days in range(1, _DAYS_TRIED):
            found = self._judge.at(start + stride * days * DAY_MINUTES)
            if found.bar is None or found.bar.code != "closed":
                break
        self._show(found, None)

    def _show(self, judged: Judged, at: QPoint | None) -> None:
        assert self._judge is not None
        assert self._teller is not None
        before = self.moving
        item = self._judge.item
        if before is not None and before.judged == judged:
            self.moving = replace(before, at=at)
        else:
            lines = self._teller.lines(judged)
            if judged.start != item.start:
                lines = (*lines, Line(text=self._desk.words.say(say.JUDGING)))
                self._rest.start()
            else:
                self._rest.stop()
                self._desk.counsel.forget()
            self.moving = Moving(item=item, judged=judged, lines=lines, at=at)
        self.changed.emit()

    def _pinned(self, book: Book) -> Book:
        """Return a book in which it is pinned to where it lies."""
        assert self.moving is not None
        assert self._judge is not None
        return pin_step(book, self._judge.placed.step, self._pin()).book

    def _pin(self) -> Pin:
        assert self.moving is not None
        assert self._judge is not None
        old = self._judge.step.pin
        start = instant_at(self.moving.judged.start)
        return Pin(start=start, people=old.people if old else ())

    def _ask(self) -> None:
        """Ask the engine what it does to the others, the plan on show being as told."""
        desk, document, plan = self._desk, self._desk.document, self._desk.plan
        if self.moving is None or document is None or plan is None:
            return
        book = tell_plan(document.book, plan, desk.now).book
        judged = self.moving.judged
        request = replace(
            desk.request(), book=replace(self._pinned(book), told=book.told), effort=EFFORT
        )

        def hear(found: object) -> None:
            if isinstance(found, Outcome):
                self._on_judged(judged, found)

        desk.ask(AskPlan(request=request), hear)

    def _on_judged(self, judged: Judged, outcome: Outcome) -> None:
        plan = self._desk.plan
        if self.moving is None or self.moving.judged != judged or self._teller is None:
            return
        if plan is None:
            return
        effect = self._teller.effect(self._desk.outcome, plan, outcome)
        lines = (*self._teller.lines(judged), effect)
        self.moving = replace(self.moving, lines=lines)
        self.changed.emit()

    def drop(self) -> bool:
        """Pin it where it lies, as one edit; whether anything was in the hand."""
        moving, document = self.moving, self._desk.document
        if moving is None or moving.is_dropped or document is None or self._judge is None:
            return False
        if moving.judged.start == moving.item.start:
            self.put_back()
            return True
        self._rest.stop()
        step = self._judge.placed.step
        self.moving = replace(moving, is_dropped=True, lines=())
        self._desk.edit(pin_step(document.book, step, self._pin()))
        self.changed.emit()
        return True

    def put_back(self) -> bool:
        """Put it back where it was; whether anything was in the hand."""
        if self.moving is None:
            return False
        was_dropped = self.moving.is_dropped
        self._let_go()
        return not was_dropped

    def settle(self) -> None:
        """Let go of what was dropped once a plan of the changed book is there."""
        if self.moving is None:
            return
        if not self.moving.is_dropped or not self._desk.is_stale:
            self._let_go()

    def _let_go(self) -> None:
        self._rest.stop()
        self.moving = self._judge = self._teller = None
        self._desk.counsel.forget()
        self.changed.emit()

    @property
    def step(self) -> StepId | None:
        """The step in the hand."""
        return self._judge.placed.step if self._judge else None
