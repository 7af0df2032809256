"""The open book at work: edits, planning, saving; what the window shows is told from here."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.counsel.asking import Counsel, Hear
from app.counsel.questions import Question
from app.document import Document
from app.jobs import REPLACED, Draft, Engine, Refusal
from app.window import session
from app.window.headline import State
from app.window.session import Opened
from app.window.trial import Trial
from app.window.wall.derive import Shown
from app.words import Words
from app.words import window as say
from app.words.compared import CHANGED, KEY, why_looking
from app.words.keys import key_text
from app.words.template import Template
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.edits import Changed, Edited, Label
from shared.errors import DiskError
from shared.examine import examine
from shared.files.lock import Held, Lock, lock_path
from shared.findings import Finding
from shared.ids import JobId

if TYPE_CHECKING:
    from shared.book import Book
    from shared.plan import Plan

QUIET_MILLISECONDS = 60
"""An edit that comes so soon after another is planned only once no more come."""
TICK_MILLISECONDS = 200
LONGEST_SECONDS = 600
LATE_SECONDS = 15
"""So long beyond its time a plan may be on its way before that is told."""


class Desk(QObject):
    """Holds one document and its engine, and tells of every change of what there is to see.

    shown_changed: the book, or what is tried; plan_came: another plan of the same book.
    is_outside: somebody else wrote the file.
    saved: the file holds the book. crossed: it is not saved, since somebody else wrote the file.
    who_changed: somebody else records here, of their name.
    """

    shown_changed = Signal()
    saved = Signal()
    crossed = Signal()
    plan_came = Signal()
    state_changed = Signal()
    who_changed = Signal(str)

    def __init__(
        self,
        engine: Engine,
        counsel: Counsel,
        clock: Callable[[], datetime],
        ticks: Callable[[], float],
        *,
        now: datetime | None = None,
        seconds: int = 10,
        who: str = "",
    ) -> None:
        super().__init__()
        self.engine, self.counsel = engine, counsel
        self._clock, self._ticks = clock, ticks
        self._fixed_now, self.seconds = now, seconds
        self.document: Document | None = None
        self.opened: Opened | None = None
        self.words = Words()
        self.plan: Plan | None = None
        self.plan_revision: int | None = None
        self.outcome: Outcome | None = None
        self.planned_at: datetime | None = None
        self.findings: tuple[Finding, ...] = ()
        self.trouble = self.note = ""
        self.job: JobId | None = None
        self.who = who or session.who()
        self.trial: Trial | None = None
        self.is_money_hidden = self.is_outside = False
        self._asked_at = 0.0
        self._has_answer = False
        self._asked_book: Book | None = None
        self._planned_book: Book | None = None
        self._failed_book: Book | None = None
        self._failed = ""
        self._quiet = QTimer(self, singleShot=True, interval=QUIET_MILLISECONDS)
        self._quiet.timeout.connect(self._plan_what_is_new)
        self._tick = QTimer(self, interval=TICK_MILLISECONDS)
        self._tick.timeout.connect(self.state_changed)
        engine.drafted.connect(self._on_draft)
        engine.solved.connect(self._on_solved)
        engine.refused.connect(self._on_refused)
        engine.died.connect(self._on_died)
        counsel.refused.connect(self._on_refused_counsel)

    # The book.

    @property
    def now(self) -> datetime:
        """The moment everything is planned from."""
        book_now = self.document.book.as_of if self.document else None
        return self._fixed_now or book_now or self._clock()

    @property
    def clock_now(self) -> datetime:
        """The clock's now, whatever is planned from."""
        return self._clock()

    def open(self, path: Path) -> Opened:
        """Open a book in the place of the one before; it stays when the file can't be taken."""
        mine = self.opened.lock if self.opened is not None and self._holds(path) else None
        opened = session.open_book(path, self._clock(), mine=mine)
        if opened.document is not None:
            self.take(opened.document, opened)
        return opened

    def take(self, document: Document, opened: Opened | None = None) -> None:
        """Work on a document from here on."""
        if opened is None or self.opened is None or opened.lock is not self.opened.lock:
            self.release()
        self.engine.forget()
        self.job = None
        self.document, self.opened = document, opened
        document.listen(self._on_changed)
        self.plan, self.plan_revision = document.book.plan, None
        self.outcome = self.planned_at = self._planned_book = None
        self.trouble = self.note = ""
        self.is_outside = False
        self._quiet.stop()
        self._on_changed(Changed())

    def release(self) -> None:
        """Give the lock of the open book back."""
        if self.opened is not None and self.opened.lock is not None:
            self.opened.lock.release()
        self.opened = None

    def edit(self, edited: Edited, merge: str = "") -> None:
        """Make an edit."""
        if self.document is not None:
            self.trouble = self.note = ""
            self.document.apply(edited, merge=merge or None)

    def undo(self) -> None:
        """Take the last edit back and name it."""
        self._named(self.document.undo() if self.document else None, say.UNDID)

    def redo(self) -> None:
        """Make the last edit again and name it."""
        self._named(self.document.redo() if self.document else None, say.REDID)

    def _named(self, label: Label | None, template: Template) -> None:
        if label is not None:
            self.trouble = ""
            self.note = self.words.say(template, label=self.label_text(label))
            self.state_changed.emit()

    def label_text(self, label: Label) -> str:
        """Return an edit's name in words."""
        return self.words.undo_label(label.code, **dict(label.facts))

    def save(self, path: Path) -> bool:
        """Write the book to its file, or to another; whether that could be done."""
        assert self.document is not None
        try:
            if not self._holds(path):
                self._move_lock(path)
            lock = self.opened.lock if self.opened is not None else None
            assert lock is not None
            session.save_book(self.document, path, lock)
        except DiskError as trouble:
            self.refuse_save(trouble)
            return False
        self.trouble, self.note = "", self.words.say(say.SAVED)
        self.saved.emit()
        self.state_changed.emit()
        return True

    @property
    def may_take_lock(self) -> bool:
        """Whether somebody has the book who is gone, or can't be known to be there."""
        held = self.opened.held if self.opened is not None else None
        return held is not None and held.may_be_gone

    def refuse_save(self, trouble: DiskError) -> None:
        """Say why the book is not saved, and where somebody else wrote its file, ask."""
        reason = self.words.trouble(trouble.code, **trouble.facts)
        self.trouble = self.words.say(say.NOT_SAVED, reason=reason)
        self.state_changed.emit()
        if trouble.code in {"changed_outside", "lock_lost"}:
            self.crossed.emit()

    def _holds(self, path: Path) -> bool:
        """Whether the lock of a file is ours."""
        lock = self.opened.lock if self.opened is not None else None
        return lock is not None and lock.path == lock_path(path)

    def _move_lock(self, path: Path) -> None:
        """Take the lock of the file that is written from now on.

        Raises DiskError when somebody has it.
        """
        self.hold(path, session.lock_of(path, self._clock()))

    def hold(self, path: Path, got: Lock) -> None:
        """Go on with a lock in the place of the one before."""
        self.release()
        self.opened = Opened(path=path, document=self.document, lock=got)
        assert self.document is not None
        self.document.read_only = False

    def _on_changed(self, _: Changed) -> None:
        """Look the book over, ask for a plan, and tell what is to be seen meanwhile."""
        assert self.document is not None
        is_alone = not self._quiet.isActive()
        book = self.document.book
        self.words = Words(book=book)
        self.findings = tuple(examine(book))
        self.trial = None
        self.counsel.forget()
        self.engine.forget()
        self._asked_book = None
        self._quiet.start()
        if is_alone:
            self._ask_engine()
        self.shown_changed.emit()
        self.state_changed.emit()

    def record_as(self, who: str) -> None:
        """Put down from now on what is told as told by somebody; "": as the system calls them."""
        self.who = who or session.who()
        self.who_changed.emit(who)

    # Questions beside the plan, and what is tried.

    def ask(self, question: Question, hear: Hear, part: Hear | None = None) -> None:
        """Ask something about the book as it stands; an answer to an older book is not heard."""
        if self.document is not None:
            revision = self.document.book.revision
            self.counsel.ask(question, revision, hear, part or (lambda _: None))

    def try_(self, trial: Trial) -> None:
        """Show what is only tried."""
        self.trial = trial
        self.shown_changed.emit()
        self.state_changed.emit()

    def take_trial(self) -> bool:
        """Take what is tried; whether anything was."""
        trial = self.trial
        if trial is None or self.document is None:
            return False
        edited = trial.edited(self.document.book)
        if trial.digest:
            self.document.take_file(edited, trial.digest)
        else:
            self.edit(edited)
        return True

    def leave_trial(self) -> bool:
        """Show again what is; whether anything was tried."""
        if self.trial is None:
            return False
        self.trial = None
        self.shown_changed.emit()
        self.state_changed.emit()
        return True

    def hide_money(self) -> None:
        """Hide all money in every view, or show it again."""
        self.is_money_hidden = not self.is_money_hidden
        self.shown_changed.emit()
        self.state_changed.emit()

    def request(self, seconds: float = 10, asked: tuple[JobId, ...] = ()) -> SolveRequest:
        """Return the question how the book as it stands is planned."""
        assert self.document is not None
        return SolveRequest(
            book=self.document.book, now=self.now, seconds=seconds, asked=asked, workers=1
        )

    def close(self) -> None:
        """Let the children go, and ask nothing of them any more."""
        self._quiet.stop()
        self._tick.stop()
        self.engine.close()
        self.counsel.close()

    def _on_refused_counsel(self, refusal: Refusal) -> None:
        self.trouble = self.words.trouble(refusal.code, **refusal.facts)
        self.state_changed.emit()

    # Planning.

    @property
    def stopping(self) -> tuple[Finding, ...]:
        """The findings that keep the book from being planned."""
        return tuple(finding for finding in self.findings if finding.stops)

    def plan_now(self) -> None:
        """Ask for a plan of the book as it stands."""
        self._quiet.stop()
        self._ask_engine()
        self.state_changed.emit()

    def _plan_what_is_new(self) -> None:
        if self.document is not None and self._asked_book is not self.document.book:
            self.plan_now()

    def _ask_engine(self) -> None:
        if self.document is None or self.stopping or not self.document.book.jobs:
            self._tick.stop()
            return
        self._asked_at = self._ticks()
        self._has_answer = False
        self._asked_book = self.document.book
        self.engine.ask(self.document.book, self.now, seconds=self.seconds)
        self._tick.start()

    def look_longer(self) -> None:
        """Plan again, four times as long as before."""
        if self._has_answer:
            self.seconds = min(LONGEST_SECONDS, self.seconds * 4)
        self.trouble = self.note = ""
        self.plan_now()

    def stop_looking(self) -> bool:
        """Stop and take the best so far; whether there was anything to stop."""
        if not self.engine.is_busy:
            return False
        self.engine.cancel()
        self._tick.stop()
        if self.trouble == self._failed:
            self.trouble = ""
        self.state_changed.emit()
        return True

    @property
    def progress(self) -> float | None:
        """How much of the time given has gone, or None."""
        if not self.engine.is_busy:
            return None
        return min(1.0, (self._ticks() - self._asked_at) / max(1, self.seconds))

    @property
    def is_late(self) -> bool:
        """Whether the planner has far more time by now than it was given."""
        gone = self._ticks() - self._asked_at
        return self.engine.is_busy and gone > self.seconds + LATE_SECONDS

    def _on_draft(self, draft: Draft) -> None:
        """Show the first plans of a book that is new or changed at once."""
        if self.outcome is None or self.outcome.revision != draft.revision:
            self._take_plan(draft.plan, draft.revision)
            self.plan_came.emit()

    def _on_solved(self, outcome: Outcome) -> None:
        self._tick.stop()
        self._has_answer = True
        if self._failed and self.trouble == self._failed:
            self.trouble, self.note = "", self.words.say(say.ENGINE_CAME_BACK)
        self._failed, self._failed_book = "", None
        if not outcome.check.breaches:
            self._take_plan(outcome.plan, outcome.revision)
        self.outcome, self.planned_at = outcome, self._clock()
        self.plan_came.emit()
        self.state_changed.emit()

    def _take_plan(self, plan: "Plan | None", revision: int) -> None:
        self.plan, self.plan_revision = plan, revision
        self._planned_book = self._asked_book

    def _on_refused(self, refusal: Refusal) -> None:
        if refusal.code in REPLACED:
            self._on_lost(refusal)
            return
        self._tick.stop()
        reason = self.words.trouble(refusal.code, **refusal.facts)
        self._tell_engine(self.words.say(say.ENGINE_FAILED, reason=reason))

    def _on_died(self, reason: str) -> None:
        if reason:
            self._tick.stop()
            self._tell_engine(self.words.say(say.ENGINE_MISSING, reason=reason))
        else:
            self._on_lost(Refusal(code="ended", facts={}))

    def _on_lost(self, refusal: Refusal) -> None:
        """Tell how the planner was lost, and ask another: once, as the book may be the reason."""
        was_waiting = self._tick.isActive()
        self._tick.stop()
        book = self.document.book if self.document is not None else None
        asks_again = was_waiting and book is not self._failed_book
        self._failed_book = book
        template = say.ENGINE_ANEW if asks_again else say.ENGINE_LOST
        reason = self.words.trouble(refusal.code, **refusal.facts)
        self._tell_engine(self.words.say(template, reason=reason, key=key_text("Space")))
        if asks_again:
            self.plan_now()

    def _tell_engine(self, told: str) -> None:
        self.trouble = self._failed = told
        self.shown_changed.emit()
        self.state_changed.emit()

    # What is to be seen.

    @property
    def is_stale(self) -> bool:
        """Whether the plan on show belongs to another state of the book."""
        if self.document is None or self.plan is None:
            return False
        if self.outcome is None:
            return False
        return self.outcome.revision != self.document.book.revision

    @property
    def _is_old(self) -> bool:
        """Whether the plan on show is of another state of the book, and no other is on its way."""
        assert self.document is not None
        is_coming = self.engine.is_busy or self._quiet.isActive()
        return not is_coming and self.plan_revision not in (None, self.document.book.revision)

    @property
    def _is_of_outcome(self) -> bool:
        """Whether the plan on show is the one that the last answer speaks of."""
        return self.outcome is not None and self.plan_revision == self.outcome.revision

    @property
    def shown(self) -> Shown:
        """What the wall is made of."""
        assert self.document is not None
        if self.trial is not None:
            tried = self.trial
            return Shown(
                book=tried.book,
                now=self.now,
                plan=tried.plan,
                outcome=tried.outcome,
                is_stale=tried.before is not None,
                before=tried.before,
            )
        return Shown(
            book=self.document.book,
            now=self.now,
            plan=self.plan,
            outcome=self.outcome if self._is_of_outcome else None,
            is_stale=self._is_old or bool(self.is_stale and self.stopping),
            before=self._planned_book,
        )

    def _why_looking(self) -> str:
        """Return why the book can only be looked at."""
        opened = self.opened
        trouble, held = (opened.trouble, opened.held) if opened is not None else (None, None)
        if trouble is not None:
            return self.words.trouble(trouble.code, **trouble.facts)
        return why_looking(self.words, held or Held())

    @property
    def state(self) -> State:
        """What masthead and foot speak of."""
        assert self.document is not None
        looking = self._why_looking() if self.document.read_only else ""
        return State(
            book=self.document.book,
            now=self.now,
            outcome=self.outcome,
            is_busy=self.engine.is_busy,
            is_late=self.is_late,
            seconds=self.seconds,
            planned_at=self.planned_at,
            stopping=self.stopping,
            trouble="" if self.is_late and self.trouble == self._failed else self.trouble,
            note=self.note,
            change_count=self.document.unsaved_count,
            looking_only=looking,
            outside=self.words.say(CHANGED, key=key_text(KEY)) if self.is_outside else "",
            trying=self.trial.what if self.trial else "",
            tried=self.trial.outcome if self.trial else None,
        )
