"""Why a job stands as it does and what can be done: chain, days and ways out on one sheet."""

from collections.abc import Callable

from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.counsel.questions import AskWaysOut, AskWhy, WhyAnswer
from app.window.bits import theme_of
from app.window.countback import ways as listing
from app.window.countback.chain_part import ChainPart, DaysPart
from app.window.countback.one_job import OneJob
from app.window.countback.ways_part import WaysPart
from app.window.countback.why import told_of
from app.window.desk import Desk
from app.window.guard import guarded
from app.window.tokens import px
from app.window.wall import pens
from app.words import countback_view as say
from scheduler.levers.values import WayOut, WaysOut
from shared.book import Standing
from shared.ids import JobId

WAYS_SECONDS = 30
BESIDE_FROM = 1000
"""So wide days and ways out stand beside each other; else the ways stand below."""


class WhyFace(QWidget):
    """Asks why, then for ways out, one after the other, for one state of the book."""

    def __init__(self, desk: Desk, changed: Callable[[], object]) -> None:
        super().__init__()
        self.desk, self._changed = desk, changed
        self.why: WhyAnswer | None = None
        self.ways: listing.Ways | None = None
        self.one: OneJob | None = None
        self._asked: tuple[JobId, int] | None = None
        self._is_why_known = False
        self._rows: tuple[listing.WayRow, ...] = ()
        self.chain, self.days = ChainPart(), DaysPart()
        self.ways_part = WaysPart(self.try_way)
        self._below = below = QHBoxLayout()
        below.setSpacing(0)
        below.addWidget(self.days, 36)
        below.addWidget(self.ways_part, 64)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.chain)
        column.addLayout(below)
        column.addStretch(1)

    @property
    def parts(self) -> tuple[ChainPart, DaysPart, WaysPart]:
        """Its drawn parts."""
        return self.chain, self.days, self.ways_part

    def ask(self, one: OneJob) -> None:
        """Ask about a job, unless that was asked already of this very book."""
        assert self.desk.document is not None
        state = (one.job.id, self.desk.document.book.revision)
        if self._asked == state:
            return
        self._asked, self.why, self.ways, self._is_why_known = state, None, None, False
        self.ways_part.tried = None
        asked = () if one.job.standing is Standing.FIRM else (one.job.id,)
        request = self.desk.request(seconds=self.desk.seconds, asked=asked)

        def hear(found: object) -> None:
            if self._is_of(state):
                self._on_why(found, one.job.id, asked)

        self.desk.ask(AskWhy(request=request, job=one.job.id), hear)

    @property
    def cheapest(self) -> listing.WayRow | None:
        """The first of the ways that are enough, None while none is known."""
        return next((row for row in self._rows if row.is_enough), None)

    def _is_of(self, state: tuple[JobId, int] | None) -> bool:
        """Say whether an answer is still wanted: of the job asked about, of the present book."""
        document = self.desk.document
        if state is None or document is None:
            return False
        return self._asked == state and document.book.revision == state[1]

    def forget_others(self, job: JobId) -> None:
        """Give up what is known of another job, or of a book that has changed since."""
        if not self._is_of(self._asked) or (self._asked is not None and self._asked[0] != job):
            self.forget()

    @property
    def is_whole(self) -> bool:
        """Whether nothing more comes."""
        return self.ways is not None and self.ways.is_whole

    def forget(self) -> None:
        """Give up what is known: it will be asked anew."""
        self._asked, self.why, self.ways, self._is_why_known = None, None, None, False
        self.ways_part.tried = None

    def _on_why(self, found: object, job: JobId, asked: tuple[JobId, ...]) -> None:
        self.why = found if isinstance(found, WhyAnswer) else None
        self._is_why_known = True
        self.ways = listing.looking(job, self.desk.words)
        request = self.desk.request(seconds=WAYS_SECONDS, asked=asked)
        state = self._asked

        def hear(answer: object) -> None:
            if self._is_of(state) and isinstance(answer, WaysOut):
                self.ways = listing.whole(answer, self.desk.words)
                self._changed()

        def part(way: object) -> None:
            if self._is_of(state) and isinstance(way, WayOut) and self.ways is not None:
                self.ways = listing.with_part(self.ways, way)
                self._changed()

        self.desk.ask(AskWaysOut(request=request, job=job), hear, part)
        self._changed()

    def show_job(self, one: OneJob) -> None:
        """Show what is known of a job."""
        self.one = one
        words = self.desk.words
        if self.desk.trial is None:
            told = None if self.why is None else told_of(one, self.why, words)
            note = words.say(say.NO_WHY if self._is_why_known else say.ASKING_WHY)
            self.chain.show_chain(one, told, words, note)
            self.days.show_days(told, words)
            self.ways_part.tried = None
        self._rows = ()
        ways = self.ways
        if ways is not None:
            self._rows = listing.rows_of(
                ways,
                self.desk.outcome,
                words,
                self.desk.now,
                hides_money=self.desk.is_money_hidden,
            )
        sentence = "" if ways is None else ways.sentence
        self.ways_part.show_rows(self._rows, sentence, "" if ways is None else ways.listed, words)

    def try_way(self, number: int) -> bool:
        """Try a way out on the wall; whether there is one of that number."""
        desk, one = self.desk, self.one
        if self.ways is None or one is None or desk.outcome is None:
            return False
        trial = listing.trial_of(self.ways, number, one.job, desk.words, desk.outcome)
        if trial is None:
            return False
        self.ways_part.tried = number
        desk.try_(trial)
        return True

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        beside = self.width() >= px(BESIDE_FROM)
        way = QBoxLayout.Direction
        self._below.setDirection(way.LeftToRight if beside else way.TopToBottom)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), theme_of(self).paper)
        painter.end()
