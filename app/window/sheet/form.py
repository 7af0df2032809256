"""A form of sentences with blanks: what the sheet's parts are written with."""

from collections.abc import Callable, Iterable
from functools import partial
from string import Formatter

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.bits import KeyWord, theme_of
from app.window.guard import guarded
from app.window.sheet import writing
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.typed import NotTaken
from app.window.sheet.writing import Writing
from app.window.wall import pens
from app.words import Words
from app.words import window as say
from app.words.template import Template
from shared.book import Book, Journey, Step
from shared.edits import (
    Edited,
    NoSuchThing,
)
from shared.findings import Finding
from shared.ids import JobId, SegmentId, StepId

SHEET_WIDTH = 404


class Form(QScrollArea):
    """Write a job here: blanks in sentences, segments in a grid, steps in the order of making."""

    edited = Signal(object, str)
    left = Signal()
    moved = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFixedWidth(SHEET_WIDTH)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.book: Book | None = None
        self.words: Words | None = None
        self.job: JobId | None = None
        self.segment: SegmentId | None = None
        self.step: StepId | None = None
        self.is_in_full = False
        self._findings: tuple[Finding, ...] = ()
        self._blanks: dict[str, Blank] = {}
        self._notes: dict[str, Note] = {}
        self._refused_notes: set[str] = set()
        self._shape: object = None
        self._body = QWidget()

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        pens.flat_rect(painter, 0, 0, 1, self.height(), theme_of(self).line)
        painter.end()

    # What is shown.

    def show_job(
        self,
        book: Book,
        words: Words,
        job: JobId | None,
        segment: SegmentId | None = None,
        step: StepId | None = None,
    ) -> None:
        """Show a job with one of its segments and one of its steps."""
        self.book, self.words = book, words
        self.job = job if any(j.id == job for j in book.jobs) else None
        self.segment, self.step = segment, step
        self.settle()
        self.refresh()

    def enter(self) -> None:
        """Bring what is chosen into sight and put the caret into its first figure."""
        for name in ("hours likely", "step name", "job name"):
            if name in self._blanks:
                blank = self._blanks[name]
                self.ensureWidgetVisible(blank, 0, 120)
                blank.setFocus()
                return

    def show_book(self, book: Book, words: Words, findings: tuple[Finding, ...]) -> None:
        """Show the same places in another state of the book."""
        self.book, self.words, self._findings = book, words, findings
        if self.job is not None:
            self.settle()
            self.refresh()

    def blank(self, name: str) -> Blank:
        """Return a blank by its name, as tests and the keyboard know it."""
        return self._blanks[name]

    def note(self, name: str) -> str:
        """Return what a line says."""
        return self._notes[name].text if name in self._notes else ""

    def settle(self) -> None:
        """Let go of what the book no longer has."""
        assert self.book is not None
        found = [job for job in self.book.jobs if job.id == self.job]
        if not found:
            self.job = self.segment = self.step = None
            return
        job = found[0]
        if self.segment not in {s.id for s in job.segments}:
            self.segment = job.segments[0].id if job.segments else None
        mine = writing.steps_of(job, self.segment)
        if self.step not in {s.id for s in mine}:
            self.step = mine[0].id if mine else None

    def refresh(self) -> None:
        """Show what the book holds; lay everything out anew where there is more or less of it."""
        if self._shape_now() != self._shape:
            QTimer.singleShot(0, self, self._rebuild)
            return
        for blank in self._blanks.values():
            blank.refresh()
        for child in self._body.findChildren(QWidget):
            child.update()
        self._say_findings()

    def _shape_now(self) -> object:
        if self.book is None or self.job is None:
            return None
        job = writing.job(self.book, self.job)
        steps = tuple((s.id, type(s)) for s in job.steps)
        segments = tuple(s.id for s in job.segments)
        pinned = next((_is_pinned(s) for s in job.steps if s.id == self.step), False)
        return self.job, segments, steps, self.segment, self.step, pinned, self._more_shape()

    def _more_shape(self) -> object:
        """Return what else makes more or less of what is written."""
        return None

    def _rebuild(self) -> None:
        shape = self._shape_now()
        if shape == self._shape:
            return
        self._shape = shape
        focused = next((n for n, b in self._blanks.items() if b.hasFocus()), None)
        self._blanks, self._notes = {}, {}
        self._refused_notes.clear()
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(16, 12, 12, 16)
        column.setSpacing(4)
        if self.book is not None and self.job is not None:
            self._fill(column)
        column.addStretch(1)
        self._body = body
        self.setWidget(body)
        self._say_findings()
        if focused in self._blanks:
            self._blanks[focused].setFocus()

    def _fill(self, column: QVBoxLayout) -> None:
        """Write the sheet's parts into a column."""
        raise NotImplementedError

    # Blanks.

    def say(self, template: Template, **facts: object) -> str:
        """Say something in the language of the sheet."""
        assert self.words is not None
        return self.words.say(template, **facts)

    def add_blank(
        self,
        name: str,
        read: Callable[[Book], str],
        write: Writing,
        *,
        pixels: int = 15,
        serif: bool = False,
        weight: int = 600,
        suggestions: tuple[str, ...] = (),
    ) -> Blank:
        """Add a blank: what stands in it, and the edit that a text in it makes."""

        def taken(text: str) -> None:
            assert self.book is not None
            self.edited.emit(write(self.book, text), f"{name} {self.job} {self.step}")

        made = Blank(
            name,
            partial(self.read, read),
            taken,
            pixels=pixels,
            serif=serif,
            weight=weight,
            suggestions=suggestions,
        )
        self._blanks[name] = made
        return made

    def read(self, read: Callable[[Book], str]) -> str:
        """Return what the book holds somewhere, or nothing where that is gone."""
        assert self.book is not None
        try:
            return read(self.book)
        except (NoSuchThing, StopIteration):
            return ""

    def add_sentence(
        self,
        column: QVBoxLayout,
        template: Template,
        parts: dict[str, Blank | str],
        note: str,
        *,
        pixels: int = 15,
        serif: bool = False,
    ) -> None:
        """Add a sentence whose facts are blanks or words, and a line for what is said of it."""
        holder = QWidget()
        flow = Flow()
        holder.setLayout(flow)
        for text, field in _pieces(template if isinstance(template, str) else template.text):
            for word in self.say(text).split():
                flow.addWidget(Fixed(word, pixels=pixels, serif=serif))
            part = parts.get(field) if field else None
            if isinstance(part, Blank):
                flow.addWidget(part)
                part.tell_refused(partial(self.refuse, note))
            elif part:
                flow.addWidget(Fixed(part, pixels=pixels, serif=serif, weight=600))
        column.addWidget(holder)
        self.add_note(column, note)

    def add_note(self, column: QVBoxLayout, name: str) -> None:
        """Add a line for findings, empty for now."""
        self._notes[name] = Note()
        column.addWidget(self._notes[name])

    def refuse(self, note: str, no: NotTaken | None) -> None:
        """Say why what was typed is not taken; None: it is."""
        text = ""
        if no is not None and self.words is not None:
            text = say.not_taken(self.words, no.code, **no.facts)
        self._notes[note].say(text)
        if no is not None:
            self._refused_notes.add(note)
        else:
            self._refused_notes.discard(note)
            self._say_findings()

    def _say_findings(self) -> None:
        """Put each finding under what it is about, with its cure."""
        if self.book is None or self.words is None or self.job is None:
            return
        by_note: dict[str, list[str]] = {}
        for finding in self._findings:
            note = self._place_of(finding)
            sentence, cure = self.words.finding(finding)
            by_note.setdefault(note, []).append(f"{sentence} {cure}")
        for name, line in self._notes.items():
            if name not in self._refused_notes:
                line.say(" ".join(by_note.get(name, [])))

    def _place_of(self, finding: Finding) -> str:
        """Return the name of the line that a finding belongs under; "" for another job's."""
        assert self.book is not None
        path = finding.path
        if path[:1] != ("jobs",) or len(path) < 2:
            return ""
        index = path[1]
        if not isinstance(index, int) or self.book.jobs[index].id != self.job:
            return ""
        job, part = self.book.jobs[index], path[2] if len(path) > 2 else ""
        if part == "steps" and len(path) > 3 and isinstance(path[3], int):
            return "step" if job.steps[path[3]].id == self.step else "steps"
        return {"windows": "site", "segments": "segments", "client": "answer"}.get(str(part), "job")

    def add_actions(
        self, column: QVBoxLayout, actions: Iterable[tuple[str, Callable[[], object]]]
    ) -> None:
        """Add words that do something."""
        holder = QWidget()
        flow = Flow(10)
        holder.setLayout(flow)
        for text, do in actions:
            flow.addWidget(KeyWord(text, do))
        column.addWidget(holder)

    def do(self, edit: Callable[[Book], Edited]) -> None:
        """Make an edit that stands for itself."""
        assert self.book is not None
        self.edited.emit(edit(self.book), "")


def _is_pinned(step: Step) -> bool:
    return not isinstance(step, Journey) and step.pin is not None


def _pieces(text: str) -> list[tuple[str, str]]:
    """Return a template's fixed words, each with the field that follows them."""
    return [(words, field or "") for words, field, _, _ in Formatter().parse(text)]
