"""One job at a time, counted back from its window."""

from dataclasses import replace
from enum import StrEnum
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QMimeData, QRect, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from app.counsel.questions import AskPlan
from app.tried import TriedWindow, enquiries_tried, with_tried
from app.window.bits import theme_of
from app.window.countback.bar import HEIGHT as BAR
from app.window.countback.bar import Bar
from app.window.countback.calls import book_of, is_of, lines_of, moved_with
from app.window.countback.calls_part import CallsPart
from app.window.countback.drawing import (
    bare,
    drawn,
    paths_of,
    picture_in,
    picture_of,
    pictured,
    text_in,
)
from app.window.countback.face import WhyFace
from app.window.countback.journey import last_days
from app.window.countback.journey_part import JourneyPart
from app.window.countback.ladder import ladder
from app.window.countback.ladder_part import LadderPart
from app.window.countback.one_job import OneJob, governing, in_turn, one_job
from app.window.countback.outline import NoDrawing
from app.window.countback.piece import piece
from app.window.countback.piece_part import PiecePart
from app.window.countback.strands_part import StrandsPart
from app.window.countback.sure import Sure
from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline, Part, tried_line
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import LARGE_FROM_WIDTH, px, text_percent
from app.window.trial import Trial
from app.window.views.view import View, Which
from app.window.wall import pens
from app.window.wall.items import Item, minute_of
from app.words import countback_view as say
from app.words import move as moving_words
from app.words import window as wording
from scheduler.outcome import Outcome, Verdict
from shared.book import Book, Job
from shared.edits import Label
from shared.ids import JobId, SegmentId, StepId
from shared.orders import Order, buying

if TYPE_CHECKING:
    from app.moved import Moved

PIECE, LADDER, LADDER_LARGE = 326, 418, 464
_MISSED = frozenset({Verdict.MISSES, Verdict.CANNOT, Verdict.NOT_FOUND})


class Face(StrEnum):
    """What fills the body: the job counted back, or why it misses and what can be done."""

    LADDER = "ladder"
    WHY = "why"


class CountbackView(View):
    """A job's piece, strands, journey and ladder; of a miss, why and what to do."""

    which = Which.COUNTBACK

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.one: OneJob | None = None
        self._things: tuple[object, ...] = (None,) * 4
        self._moment = (0, False)
        self._known: dict[JobId, OneJob] = {}
        self._shown: OneJob | None = None
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.strands = StrandsPart(self.pick)
        self.journey = JourneyPart()
        self.ladder = LadderPart(self.pick)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.piece, self.piece_below = PiecePart(self.pick_segment), PiecePart(self.pick_segment)
        self.calls = CallsPart()
        self._moved: Moved | None = None
        for each in (self.calls, self.strands, self.journey, self.piece_below):
            column.addWidget(each)
        self.left = scrolled(self.piece)
        column.addStretch(1)
        self.why = WhyFace(desk, self._on_told)
        self.middle, self.right = scrolled(middle), scrolled(self.ladder)
        self.whole = scrolled(self.why)
        self.bar = Bar(desk, {"J": partial(self.go, 1), "L": self.turn, "T": self.open_dates})
        for area in (self.left, self.middle, self.right, self.whole, self.bar):
            area.setParent(self)
        body = (self.strands, self.journey, self.ladder, self.piece, self.piece_below)
        for part in (*body, *self.why.parts):
            part.hovered.connect(self._on_hovered)
        self.bar.tried.connect(self._on_date)
        self.sure = Sure(desk, self._may_ask, self.headline_changed.emit, self)
        for part in (self.piece, self.piece_below):
            part.dropped.connect(self.take_drawing)
        desk.counsel.busy_changed.connect(self._on_busy)
        self._chosen: Face | None = None
        self._has_just_come = False

    # The job.

    @property
    def job_id(self) -> JobId | None:
        """The job chosen, else the one with the least to spare."""
        if self.desk.document is None:
            return None
        shown = self.desk.shown
        known = in_turn(shown)
        return self.desk.job if self.desk.job in known else governing(shown)

    def go(self, stride: int) -> None:
        """Go to the next job by its window, or to the one before."""
        jobs = in_turn(self.desk.shown) if self.desk.document else ()
        here = self.job_id
        if here is None:
            return
        self.desk.job = jobs[(jobs.index(here) + stride) % len(jobs)]
        self.refresh()

    def pick(self, step: StepId) -> None:
        """Show the same step wherever it stands."""
        self.ladder.show_step(step)
        self.strands.show_step(step)

    def pick_item(self, item: Item) -> None:
        """Show what was chosen of the job on the wall."""
        if item.segment is not None:
            self.pick_segment(item.segment)
        if item.step is not None:
            self.pick(item.step)

    def pick_segment(self, segment: SegmentId) -> None:
        """Choose a segment: its box, its row and its strands."""
        for part in (self.piece, self.piece_below, self.strands):
            part.segment = segment
            part.refresh()

    @property
    def face(self) -> Face:
        """What was chosen; else why a job misses, and of all others the ladder."""
        if self._chosen is not None:
            return self._chosen
        told = None if self.one is None else self.one.told
        return Face.WHY if told is not None and told.verdict in _MISSED else Face.LADDER

    def turn(self) -> None:
        """Show the other face; whoever has only just come with this key wants to know why."""
        is_why = self.face is Face.WHY and not self._has_just_come
        self._chosen = Face.LADDER if is_why else Face.WHY
        self.refresh()
        self.enter()

    def refresh(self) -> None:
        job = self.job_id
        if self.one is None or self.one.job.id != job:
            self._chosen = None
        self.one = None if job is None else self._one(job)
        if self.one is not None:
            self._show(self.one)
        self.arrange()
        self.sure.wait()
        self.headline_changed.emit()

    def _may_ask(self) -> bool:
        """Whether the chance may be asked for: somebody looks, and nothing else is looked for."""
        is_answered = self.face is Face.LADDER or self.why.is_whole
        return self.isVisible() and is_answered and self._is_current and self.desk.trial is None

    def _one(self, job: JobId) -> OneJob:
        """Return a job by itself, made once for each state of book and plan."""
        shown, words = self.desk.shown, self.desk.words
        things = (shown.book, shown.plan, shown.outcome, words)
        moment = (minute_of(shown.now), shown.is_stale)
        is_same = all(a is b for a, b in zip(things, self._things, strict=True))
        if not is_same or moment != self._moment:
            self._things, self._moment, self._known = things, moment, {}
        if job not in self._known:
            self._known[job] = one_job(shown, job, words)
        return self._known[job]

    def _show(self, one: OneJob) -> None:
        words, is_why = self.desk.words, self.face is Face.WHY
        other = say.DO_BACK if is_why else say.DO_WHY
        texts = {"J": say.DO_NEXT_JOB, "L": other, "T": say.DO_ANOTHER_DATE}
        self.bar.show_job(self._held(one.job.id) or one.job, texts)
        self._show_calls(one)
        if not is_why and one is self._shown:
            return
        if not is_why:
            self._shown = one
            self.strands.show_job(one, words)
            self.journey.show_days(last_days(one, words), words)
            self.ladder.show_rungs(ladder(one, words, self._orders(one)), words)
            shown = piece(one, words), words, paths_of(one.job), picture_of(one.job)
            for part in (self.piece, self.piece_below):
                part.show_piece(*shown)
            return
        self.why.forget_others(one.job.id)
        if self.desk.trial is None and self._is_current:
            self.why.ask(one)
        self.why.show_job(one)

    def _show_calls(self, one: OneJob) -> None:
        """Show what a window that was moved just now makes necessary, tried or taken."""
        found, words = self._moved, self.desk.words
        lines: tuple[str, ...] = ()
        if found is not None and is_of(found, one.job):
            lines = lines_of(words, found, self.desk.now, has_money=not self.desk.is_money_hidden)
        if lines != self.calls.lines:
            self.calls.show_lines(words.say(moving_words.CALLS), lines)

    def _orders(self, one: OneJob) -> tuple[Order, ...]:
        """Return what is to be bought for the plan on show."""
        shown = one.shown
        if shown.plan is None or not shown.book.materials:
            return ()
        return buying(shown.book, shown.plan, shown.now).orders

    @property
    def _is_current(self) -> bool:
        """Whether the plan on show is of the book as it stands."""
        outcome, document = self.desk.outcome, self.desk.document
        return outcome is not None and document is not None and not self.desk.is_stale

    def _held(self, job: JobId) -> Job | None:
        """Return the job as the book has it, whatever is tried."""
        jobs = self.desk.document.book.jobs if self.desk.document else ()
        return next((each for each in jobs if each.id == job), None)

    def _on_told(self) -> None:
        """Show what has come of why, or of the ways out."""
        if self.one is not None and self.face is Face.WHY:
            self.why.show_job(self.one)
            self.headline_changed.emit()

    # Another date.

    def open_dates(self) -> None:
        """Let another window be typed."""
        if self.one is not None:
            self.bar.open_dates()

    def _on_date(self, window: object) -> None:
        assert isinstance(window, TriedWindow)
        desk = self.desk
        if desk.document is None:
            return
        desk.leave_trial()
        if not self.why.is_whole:
            self.why.forget()
        book = with_tried(desk.document.book, (window,))
        asked = enquiries_tried((window,))
        request = replace(desk.request(seconds=desk.seconds, asked=asked), book=book)
        desk.ask(AskPlan(request=request), partial(self._on_planned, window, book))
        self.bar.say(desk.words.say(say.WINDOW_TRYING))

    def _on_busy(self) -> None:
        """Say no longer that a window is planned with: answered, given up or failed."""
        if not self.desk.counsel.is_busy and not self.bar.message.is_alarm:
            self.bar.say("")

    def _on_planned(self, window: TriedWindow, book: Book, found: object) -> None:
        if not isinstance(found, Outcome) or self.one is None:
            return
        words, zone = self.desk.words, window.job.site.zone
        name, start = window.job.name, wording.short_moment(words, window.start, zone)
        what = words.say(say.SHEET_WINDOW, job=name, start=start)
        label = Label(code="move_window", facts=(("name", name),))
        document, before = self.desk.document, self.desk.outcome
        if document is not None and before is not None:
            self._moved = moved_with(document.book, window, before, found)
            if self._moved is not None:
                book = book_of(self._moved, document.book.revision)
        self._chosen = Face.LADDER
        self.bar.say("")
        self.desk.try_(Trial(what=what, label=label, book=book, plan=found.plan, outcome=found))

    # The drawing of the piece.

    def take_drawing(self, data: QMimeData) -> None:
        """Take a drawing that was dropped or pasted; say why where it is none."""
        document = self.desk.document
        job = None if self.one is None else self._held(self.one.job.id)
        if document is None or job is None:
            return
        try:
            text, image = text_in(data), picture_in(data)
            if text is not None:
                self.desk.edit(drawn(document.book, job, text))
            elif image is not None:
                self.desk.edit(pictured(document.book, job, image))
        except NoDrawing as no:
            template = say.NO_DRAWING[no.code]
            self.bar.say(self.desk.words.say(template, **no.facts), is_alarm=True)

    def drop_drawing(self) -> bool:
        """Take the drawing of the job away; whether there was any."""
        document = self.desk.document
        job = None if self.one is None else self._held(self.one.job.id)
        if document is None or job is None:
            return False
        if job.picture is None and not any(s.outline for s in job.segments):
            return False
        self.desk.edit(bare(document.book, job))
        return True

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Paste):
            self.take_drawing(QApplication.clipboard().mimeData())
        elif event.key() == Qt.Key.Key_Delete and self._is_at_piece and self.drop_drawing():
            return
        else:
            event.ignore()

    @property
    def _is_at_piece(self) -> bool:
        return self.piece.hasFocus() or self.piece_below.hasFocus()

    # The sentence.

    def headline(self) -> Headline:
        words, one = self.desk.words, self.one
        if one is None:
            return Headline(sentence=words.say(say.NO_JOB))
        state = self.desk.state
        if state.trouble:
            return Headline(sentence=state.trouble, next=self._next(one), is_alarm=True)
        outcome = one.shown.outcome
        if one.told is None or outcome is None:
            template = wording.PLANNING if state.is_busy else wording.NOT_PLANNED_YET
            return Headline(sentence=words.say(template), next=self._next(one))
        return Headline(
            sentence=self._sentence(one, outcome),
            verdict=one.told.verdict,
            next=self._next(one),
        )

    def _sentence(self, one: OneJob, outcome: Outcome) -> str:
        words = self.desk.words
        assert one.told is not None
        if self.desk.trial is None and outcome.revision != one.shown.book.revision:
            busy = self.desk.state.is_busy
            return words.say(wording.PLANNING_ANEW if busy else wording.CHANGED_SINCE)
        line = words.verdict_line(one.told, seconds=self.desk.seconds, now=outcome.now)
        return tried_line(words, self.desk.trial.what, line) if self.desk.trial else line

    def _next(self, one: OneJob) -> tuple[Part, ...]:
        words = self.desk.words
        cheapest = self.why.cheapest if self.face is Face.WHY and not self.desk.trial else None
        if cheapest is not None:
            what = words.both(cheapest.changes)
            price = "" if self.desk.is_money_hidden else f"{cheapest.price}, "
            return (
                (words.say(say.CHEAPEST), True),
                (f"  {what}  ", False),
                (
                    f"{price}{cheapest.margin}",
                    True,
                ),
            )
        parts: list[Part] = [(one.job.site.name, True)]
        held = one.job.held_window
        if held is not None:
            zone = one.job.site.zone
            start = wording.short_moment(words, held.start, zone)
            end = wording.short_moment(words, held.end, zone)
            text = words.say(wording.WINDOW_OURS, start=start, end=end)
            parts.append((f"  {text}", False))
        parts += self._chance(one)
        return tuple(parts)

    def _chance(self, one: OneJob) -> tuple[Part, ...]:
        """Return how sure its window is, once that is known."""
        found = None if self.desk.trial is not None else self.sure.of(one.job.id)
        if found is None or found.chance is None:
            return ()
        usual = found.at_usual_overrun
        template = say.KEPT_TIMES if usual is None else say.KEPT_TIMES_USUAL
        text = self.desk.words.say(template, chance=found.chance, usual=usual)
        return (("   ", False), (text, True))

    # Hands.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if key == Qt.Key.Key_J:
            self.go(-1 if shift else 1)
        elif shift:
            return False
        elif key == Qt.Key.Key_L:
            self.turn()
        elif key == Qt.Key.Key_T:
            self.open_dates()
        elif Qt.Key.Key_1 <= key <= Qt.Key.Key_9 and self.face is Face.WHY:
            self._chosen = Face.WHY
            return self.why.try_way(int(key) - int(Qt.Key.Key_0))
        else:
            return False
        return True

    def back(self) -> bool:
        if self.bar.is_open:
            self.bar.close_dates()
            self.enter()
            return True
        before, self._chosen = self.face, None
        if self.face is not before:
            self.refresh()
        return self.face is not before

    def enter(self) -> None:
        self._has_just_come = True
        QTimer.singleShot(0, self, self._settle)
        if self.face is Face.WHY and not self.why.is_whole and not self.desk.counsel.is_busy:
            self.why.forget()
            self.refresh()
        first = self.why.chain if self.face is Face.WHY else self.strands
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _settle(self) -> None:
        self._has_just_come = False

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit("" if spot is None else spot.description or spot.name)

    # Showing.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.arrange()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self.arrange()

    def arrange(self) -> None:
        """Give every part its place."""
        is_large = self.width() * 100 >= LARGE_FROM_WIDTH * text_percent()
        right = min(px(LADDER_LARGE if is_large else LADDER), self.width() * 45 // 100)
        height = self.height() - px(BAR)
        is_there, is_why = self.one is not None, self.face is Face.WHY
        self.bar.setVisible(is_there)
        for area in (self.middle, self.right):
            area.setVisible(is_there and not is_why)
        self.left.setVisible(is_there and not is_why and is_large)
        self.piece_below.setVisible(not is_large)
        self.whole.setVisible(is_there and is_why)
        self.bar.setGeometry(QRect(0, height, self.width(), px(BAR)))
        self.whole.setGeometry(QRect(0, 0, self.width(), height))
        self.right.setGeometry(QRect(self.width() - right, 0, right, height))
        left = px(PIECE) if is_large else 0
        self.left.setGeometry(QRect(0, 0, left, height))
        self.middle.setGeometry(QRect(left, 0, self.width() - right - left, height))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), theme_of(self).paper)
        painter.end()
