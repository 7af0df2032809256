"""The sheet on which a job is written: sentences and segments, its wall, its making as a strip."""

from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.window.bits import KeyWord, theme_of
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet import estimating, through, writing
from app.window.sheet.blanks import Blank
from app.window.sheet.form import Form
from app.window.sheet.forms import CommissionForm, MakingForm
from app.window.sheet.job_part import copy_whole, remove_whole
from app.window.sheet.made import cures_planned, made_of
from app.window.sheet.mishap import ask_what_happened
from app.window.sheet.side import Side
from app.window.sheet.steps_part import do_with_step
from app.window.sheet.strip import Strip
from app.window.spots.spot import Spot
from app.window.tokens import px
from app.window.wall import pens
from app.window.wall.items import Wall, bare_wall
from app.words import Words
from app.words import editor as say
from app.words import window as window_words
from app.words.template import Template
from shared.book import Book
from shared.findings import Finding
from shared.ids import JobId, SegmentId, StepId

LEFT_PERCENT, LEAST_SIDE = 59.5, 230
HEAD, STRIP, MAKING = 34, 136, 84
_STEP_WORDS: tuple[tuple[str, Template, str], ...] = (
    ("stage", say.DO_STAGE, "Ins"),
    ("answer", say.DO_ANSWER, "Shift Ins"),
    ("fit", say.DO_FIT, "Ctrl Ins"),
    ("again", say.DO_AGAIN, "Ctrl D"),
    ("remove", say.DO_REMOVE, "Del"),
    ("earlier", window_words.DO_EARLIER, "Alt ←"),
    ("later", window_words.DO_LATER, "Alt →"),
)


_LETTERS_OF_THE_WALL = "cdefgjnprxz+-0"


class Sheet(QWidget):
    """Write a job here. edited: an edit and what it merges with. left: done here.

    moved: another segment or step was chosen.
    """

    edited = Signal(object, str)
    left = Signal()
    moved = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.writing, self.making = CommissionForm(), MakingForm()
        self.strip, self.side = Strip(), Side()
        self._own_wall: Wall = bare_wall()
        self._area = _area(self.strip)
        self.making.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._words: list[KeyWord] = []
        for part in (self.writing, self.side, self._area, self.making):
            part.setParent(self)
        for form in (self.writing, self.making):
            form.edited.connect(self.edited)
            form.left.connect(self.left)
            form.moved.connect(self._on_moved)
        self.strip.chosen.connect(self._on_step)
        self.strip.typed.connect(self._on_typed)
        self.strip.pressed.connect(self._do_with_step)
        self.side.picked.connect(self._on_picked)
        self.moved.connect(lambda _: self.side.choose(self.segment, self.step))

    # What is shown.

    @property
    def book(self) -> Book | None:
        """The book it is written in."""
        return self.writing.book

    @property
    def job(self) -> JobId | None:
        """The job that is written."""
        return self.writing.job

    @property
    def segment(self) -> SegmentId | None:
        """The segment whose making is shown."""
        return self.writing.segment

    @property
    def step(self) -> StepId | None:
        """The step that is written out."""
        return self.making.step

    def blank(self, name: str) -> Blank:
        """Return a blank by its name, as tests and the keyboard know it."""
        found = self.writing.blanks.get(name) or self.making.blanks.get(name)
        assert found is not None, name
        return found

    def note(self, name: str) -> str:
        """Return what a line says."""
        return self.writing.note(name) or self.making.note(name)

    def show_job(
        self,
        book: Book,
        words: Words,
        job: JobId | None,
        segment: SegmentId | None = None,
        step: StepId | None = None,
    ) -> None:
        """Show a job with one of its segments and one of its steps."""
        for form in (self.writing, self.making):
            form.show_job(book, words, job, segment, step)
        self._settle()

    def show_book(
        self,
        book: Book,
        words: Words,
        findings: tuple[Finding, ...],
        wall: Wall | None = None,
        *,
        has_money: bool = True,
    ) -> None:
        """Show the same places in another state of the book."""
        self._own_wall = wall or self._own_wall
        self.writing.has_money = has_money
        if self._own_wall.now:
            local = datetime.fromtimestamp(self._own_wall.now * 60, ZoneInfo(words.zone))
            self.writing.today = local.date()
        for form in (self.writing, self.making):
            form.show_book(book, words, findings)
        self._settle()

    def enter(self) -> None:
        """Put the caret into the first figure of what is chosen."""
        for name in ("hours likely", "step name"):
            if self.making.enter(name):
                return
        self.writing.enter("job name")

    def enter_mishap(self) -> None:
        """Put the caret where it is written what happened, once everything is laid out."""
        QTimer.singleShot(0, self, partial(ask_what_happened, self))

    def show_step(self, step: StepId) -> None:
        """Write another step out."""
        self.making.step = self.writing.step = step
        self.making.refresh()
        self.strip.show_steps(self.strip.steps, step)
        self.update()
        self.moved.emit(self)

    def _settle(self) -> None:
        """Show strip, piece and wall as the forms are."""
        book, words, job = self.writing.book, self.writing.words, self.writing.job
        if book is None or words is None or job is None:
            return
        self.making.segment = self.writing.segment
        row = next((r for r in self._own_wall.rows if r.segment == self.segment), None)
        steps = made_of(
            book,
            job,
            self.segment,
            words,
            own=estimating.typed_steps(book, job),
            cures=cures_planned(row.cures if row else ()),
        )
        self.strip.setAccessibleName(self._title(words))
        self.strip.show_steps(steps, self.making.step)
        if self.isVisible():
            owner = writing.job(book, job)
            chosen = next((each for each in owner.segments if each.id == self.segment), None)
            passed = () if chosen is None else through.passed(book, job, chosen, words)
            self.side.show_job(owner, self.segment, self._own_wall, words, passed)
            self.side.choose(self.segment, self.step)
        self._show_words(words)
        self.update()

    def _title(self, words: Words) -> str:
        assert self.book is not None
        assert self.job is not None
        owner = writing.job(self.book, self.job)
        name = next((s.name for s in owner.segments if s.id == self.segment), owner.name)
        return words.say(say.HOW_MADE, segment=name)

    def _title_width(self, words: Words) -> float:
        return text_width(self._title(words), 17, 600, serif=True)

    def _where(self, words: Words) -> str:
        """Return which of how many steps is chosen, and what can be typed."""
        ids = [made.step for made in self.strip.steps]
        number = ids.index(self.step) + 1 if self.step in ids else 0
        where = words.say(say.STEP_OF, number=number, count=len(ids))
        return f"{where}  {words.say(say.STRIP_HELP)}"

    def _show_words(self, words: Words) -> None:
        if not self._words:
            for what, _, key in _STEP_WORDS:
                word = KeyWord("", partial(self._do_with_step, what), key)
                word.setParent(self)
                word.show()
                self._words.append(word)
        for word, (_, template, key) in zip(self._words, _STEP_WORDS, strict=True):
            word.setText(words.say(template))
            word.setAccessibleName(f"{word.text()}, {key}")
            word.setFixedSize(word.sizeHint())
        self._arrange()

    # What was chosen or begun.

    def _on_moved(self, form: Form) -> None:
        self.writing.segment = self.making.segment = form.segment
        self.writing.step = self.making.step = form.step
        self.making.settle()
        self.making.refresh()
        self._settle()
        self.moved.emit(self)

    def _on_step(self, spot: Spot | None) -> None:
        if spot is not None and spot.id != self.making.step:
            self.show_step(StepId(spot.id))

    def _on_picked(self, segment: str) -> None:
        self.writing.segment = SegmentId(segment)
        self.writing.settle()
        self._on_moved(self.writing)

    def _on_typed(self, character: str) -> None:
        """Go on typing in the hours of the chosen step."""

        def go_on() -> None:
            if self.making.enter("hours likely") and character:
                self.blank("hours likely").setText(character)
            elif not character:
                self.making.enter("step name")

        QTimer.singleShot(0, self, go_on)

    def _do_with_step(self, what: str) -> None:
        do_with_step(self.making, what)
        self.strip.setFocus()

    # Keys.

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
        if held == both and event.key() == Qt.Key.Key_D:
            copy_whole(self.writing)
        elif held == both and event.key() == Qt.Key.Key_Delete:
            remove_whole(self.writing)
        elif not held and event.text() and event.text().casefold() in _LETTERS_OF_THE_WALL:
            event.accept()
        else:
            event.ignore()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            QTimer.singleShot(0, self, self._settle)

    @guarded
    def showEvent(self, event: QShowEvent) -> None:
        self._settle()

    # Arranging and painting.

    @property
    def _top(self) -> int:
        """Where the strip begins."""
        return max(px(150), self.height() - px(HEAD + STRIP + MAKING))

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        wide, top = self.width(), self._top
        needed = self.writing.needed_width
        left = max(round(wide * LEFT_PERCENT / 100), min(needed, wide - px(LEAST_SIDE)))
        self.writing.setGeometry(0, 1, left, top - 1)
        self.side.setGeometry(left, 1, wide - left, top - 1)
        y = top + px(HEAD)
        tall = min(px(STRIP), max(40, self.height() - y))
        self._area.setGeometry(0, y, wide, tall)
        self.making.setGeometry(0, y + tall, wide, max(20, self.height() - y - tall))
        x = wide - 16
        words = self.writing.words
        title = 0.0 if words is None or self.job is None else self._title_width(words)
        for word in reversed(self._words):
            x -= word.width()
            word.setVisible(x > 24 + title + 12)
            word.move(x, top + px(7))
            x -= 8

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.ink)
        top = self._top
        pens.flat_rect(painter, 0, top, self.width(), 1, of.ink)
        words = self.writing.words
        if words is not None and self.job is not None:
            y = top + px(24)
            x = pens.words(painter, 24, y, self._title(words), of.ink, 17, 600, serif=True)
            note = self._where(words)
            shown = [word.x() for word in self._words if not word.isHidden()]
            if x + 12 + text_width(note, 13) < min(shown, default=self.width()) - 8:
                pens.words(painter, x + 12, y, note, of.ink2, 13)
        painter.end()


def _area(strip: Strip) -> QScrollArea:
    """Return an area in which the strip moves along with what is chosen."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(strip)
    return area
