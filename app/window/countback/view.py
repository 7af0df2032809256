"""One job at a time, counted back from its window."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.bits import theme_of
from app.window.countback.journey import last_days
from app.window.countback.journey_part import JourneyPart
from app.window.countback.ladder import ladder
from app.window.countback.ladder_part import LadderPart
from app.window.countback.one_job import OneJob, governing, in_turn, one_job
from app.window.countback.strands_part import StrandsPart
from app.window.desk import Desk
from app.window.guard import guarded
from app.window.headline import Headline, Part
from app.window.spots.drawn import scrolled
from app.window.spots.spot import Spot
from app.window.tokens import LARGE_FROM_WIDTH, px, text_percent
from app.window.views.view import View, Which
from app.window.wall import pens
from app.words import countback_view as say
from app.words import window as wording
from scheduler.outcome import Outcome
from shared.ids import JobId, StepId

LADDER, LADDER_LARGE = 418, 464


class CountbackView(View):
    """A job's piece, strands, journey and ladder; of a miss, why and what to do."""

    which = Which.COUNTBACK

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.one: OneJob | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.strands = StrandsPart(self.pick)
        self.journey = JourneyPart()
        self.ladder = LadderPart(self.pick)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for each in (self.strands, self.journey):
            column.addWidget(each)
        column.addStretch(1)
        self.middle, self.right = scrolled(middle), scrolled(self.ladder)
        for area in (self.middle, self.right):
            area.setParent(self)
        for part in (self.strands, self.journey, self.ladder):
            part.hovered.connect(self._on_hovered)

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

    def refresh(self) -> None:
        job, words = self.job_id, self.desk.words
        self.one = None if job is None else one_job(self.desk.shown, job, words)
        for area in (self.middle, self.right):
            area.setVisible(self.one is not None)
        if self.one is not None:
            self.strands.show_job(self.one, words)
            self.journey.show_days(last_days(self.one, words), words)
            self.ladder.show_rungs(ladder(self.one, words), words)
        self.arrange()
        self.headline_changed.emit()

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
        return words.verdict_line(one.told, seconds=self.desk.seconds, now=outcome.now)

    def _next(self, one: OneJob) -> tuple[Part, ...]:
        words = self.desk.words
        parts: list[Part] = [(one.job.site.name, True)]
        held = one.job.held_window
        if held is not None:
            zone = one.job.site.zone
            start = wording.short_moment(words, held.start, zone)
            end = wording.short_moment(words, held.end, zone)
            text = words.say(wording.WINDOW_OURS, start=start, end=end)
            parts.append((f"  {text}", False))
        return tuple(parts)

    # Hands.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        if key == Qt.Key.Key_J:
            self.go(-1 if shift else 1)
            return True
        return False

    def enter(self) -> None:
        self.strands.setFocus()

    def _on_hovered(self, spot: Spot | None) -> None:
        self.hovered.emit("" if spot is None else spot.description or spot.name)

    # Showing.

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.arrange()

    def arrange(self) -> None:
        """Give every part its place."""
        is_large = self.width() * 100 >= LARGE_FROM_WIDTH * text_percent()
        right = px(LADDER_LARGE if is_large else LADDER)
        height = self.height()
        self.right.setGeometry(QRect(self.width() - right, 0, right, height))
        self.middle.setGeometry(QRect(0, 0, self.width() - right, height))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), theme_of(self).paper)
        painter.end()
