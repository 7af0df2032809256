"""The line under a job: the keys of its view, and the blanks for another window."""

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.tried import TriedWindow
from app.window.bits import KeyWord, theme_of
from app.window.countback.dates import end_typed, start_typed, written
from app.window.desk import Desk
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.sheet.blanks import Blank
from app.window.sheet.typed import NotTaken
from app.window.tokens import px
from app.window.wall import pens
from app.words import countback_view as say
from app.words import window as wording
from app.words.template import Template
from shared.book import Job

HEIGHT = 38


class Said(QWidget):
    """A few words on one line."""

    def __init__(self, *, is_bold: bool = False) -> None:
        super().__init__()
        self.text = ""
        self.is_alarm = False
        self._weight = 600 if is_bold else 400
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_text(self, text: str, *, is_alarm: bool = False) -> None:
        """Say something else."""
        self.text, self.is_alarm = text, is_alarm
        self.setAccessibleName(text)
        self.setFixedSize(self.sizeHint())
        self.update()

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(round(text_width(self.text, 13, self._weight)) + 4, px(22))

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        ink = of.miss if self.is_alarm else of.ink if self._weight == 600 else of.ink2
        pens.words(painter, 2, px(15), self.text, ink, 13, self._weight)
        painter.end()


class DateBlank(Blank):
    """A blank whose Enter plans what was typed; with nothing new in it, Enter is the window's."""

    @guarded
    def keyPressEvent(self, event: QKeyEvent) -> None:
        was_written = self.is_written
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.setAccepted(was_written)


class Bar(QWidget):
    """Keys, and another window for the job on show.

    tried: a window was typed, to be planned with.
    """

    tried = Signal(object)

    def __init__(self, desk: Desk, do: dict[str, Callable[[], object]]) -> None:
        super().__init__()
        self.desk = desk
        self.job: Job | None = None
        self.window_tried: TriedWindow | None = None
        self.words = {key: KeyWord("", act, key) for key, act in do.items()}
        self.said_start, self.said_end, self.message = Said(), Said(), Said(is_bold=True)
        self.start = DateBlank("", self._start_text, self._take_start)
        self.end = DateBlank("", self._end_text, self._take_end)
        for blank in (self.start, self.end):
            blank.tell_refused(self._refused)
        row = QHBoxLayout(self)
        row.setContentsMargins(13, 4, 16, 4)
        row.setSpacing(8)
        for word in self.words.values():
            row.addWidget(word)
        for part in (self.said_start, self.start, self.said_end, self.end, self.message):
            row.addWidget(part)
        row.addStretch(1)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.close_dates()

    @property
    def is_open(self) -> bool:
        """Whether another window can be typed."""
        return not self.start.isHidden()

    def show_job(self, job: Job, texts: dict[str, Template]) -> None:
        """Show another job; texts: what each key does now."""
        words = self.desk.words
        if self.job is None or job.id != self.job.id:
            self.window_tried = None
            self.close_dates()
        self.job = job
        for key, word in self.words.items():
            text = words.say(texts[key])
            if word.text() != text:
                word.setText(text)
                word.setAccessibleName(f"{text}, {key}")
                word.setFixedSize(word.sizeHint())
        self.said_start.show_text(words.say(say.WINDOW_START))
        self.said_end.show_text(words.say(say.WINDOW_END))
        self.start.setAccessibleName(words.say(say.WINDOW_START))
        self.end.setAccessibleName(words.say(say.WINDOW_END))
        for blank in (self.start, self.end):
            blank.refresh()

    def open_dates(self) -> None:
        """Let another window be typed."""
        for part in (self.said_start, self.start, self.said_end, self.end):
            part.show()
        self.start.setFocus(Qt.FocusReason.OtherFocusReason)
        self.start.selectAll()

    def close_dates(self) -> None:
        """Put the blanks away."""
        for part in (self.said_start, self.start, self.said_end, self.end):
            part.hide()
        self.say("")

    def say(self, text: str, *, is_alarm: bool = False) -> None:
        """Say how it stands with what was typed."""
        self.message.show_text(text, is_alarm=is_alarm)

    # The blanks.

    def _window(self) -> TriedWindow | None:
        if self.window_tried is not None or self.job is None:
            return self.window_tried
        held = self.job.held_window
        return TriedWindow(job=self.job, start=held.start, end=held.end) if held else None

    def _start_text(self) -> str:
        window = self._window()
        return "" if window is None else written(window.start, window.job, self.desk.words)

    def _end_text(self) -> str:
        window = self._window()
        return "" if window is None else written(window.end, window.job, self.desk.words)

    def _take_start(self, text: str) -> None:
        if self.job is not None:
            self._take(start_typed(text, self.job, self.desk.now, self.desk.words))

    def _take_end(self, text: str) -> None:
        window = self._window()
        if window is None:
            raise NotTaken("not_a_moment", value=text)
        self._take(end_typed(text, window, self.desk.now, self.desk.words))

    def _take(self, window: TriedWindow) -> None:
        self.window_tried = window
        self.tried.emit(window)
        self.end.refresh()

    def _refused(self, no: NotTaken | None) -> None:
        if no is not None:
            text = wording.not_taken(self.desk.words, no.code, **no.facts)
            self.say(text, is_alarm=True)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        pens.flat_rect(painter, 0, 0, self.width(), self.height(), of.paper)
        pens.flat_rect(painter, 0, 0, self.width(), 1, of.line)
        painter.end()
