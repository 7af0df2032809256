"""A form of sentences with blanks: what the sheet's parts are written with."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QFrame,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.bits import KeyWord
from app.window.guard import guarded
from app.window.sheet import writing
from app.window.sheet.blanks import Blank, Flow, Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.sentence import pieces
from app.window.sheet.typed import NotTaken
from app.window.sheet.writing import Writing
from app.window.spots.drawn import ThinBar
from app.window.tokens import px, text_percent
from app.words import Words
from app.words import window as say
from app.words.template import Template
from shared.book import Book, Hours
from shared.edits import (
    Edited,
    NoSuchThing,
)
from shared.findings import Finding
from shared.ids import JobId, SegmentId, StepId

if TYPE_CHECKING:
    from app.window.sheet.through import Trouble


class Form(QScrollArea):
    """Sentences with blanks about a job, one of its segments and one of its steps.

    edited: an edit and what merges with it. moved: another segment or step was chosen here.
    """

    edited = Signal(object, str)
    left = Signal()
    moved = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBar(ThinBar())
        self.book: Book | None = None
        self.words: Words | None = None
        self.job: JobId | None = None
        self.segment: SegmentId | None = None
        self.step: StepId | None = None
        self.is_in_full = False
        self.today = date.min
        self._findings: tuple[Finding, ...] = ()
        self._blanks: dict[str, Blank] = {}
        self._notes: dict[str, Note] = {}
        self._refused_notes: set[str] = set()
        self._shape: object = None
        self._body = QWidget()

    @property
    def needed_width(self) -> int:
        """How wide it must be for nothing in it to be cut."""
        bar = self.verticalScrollBar().sizeHint().width()
        return self._body.minimumSizeHint().width() + bar

    # What is shown.

    @property
    def blanks(self) -> dict[str, Blank]:
        """The blanks by their names."""
        return self._blanks

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

    def enter(self, name: str) -> bool:
        """Put the caret into a blank; whether there is such a one."""
        blank = self._blanks.get(name)
        if blank is None:
            return False
        self.ensureWidgetVisible(blank, 0, 40)
        blank.setFocus()
        return True

    def enter_later(self, name: str) -> None:
        """Put the caret into a blank once everything is laid out anew."""
        QTimer.singleShot(0, self, partial(self.enter, name))

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

    def shape(self) -> object:
        """Return what makes more or less of what is written: blanks are made anew as it changes."""
        raise NotImplementedError

    def _shape_now(self) -> object:
        if self.book is None or self.job is None:
            return None
        return text_percent(), self.shape()

    @guarded
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.FontChange:
            self.refresh()

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
        column.setContentsMargins(24, 8, 16, 8)
        column.setSpacing(px(3))
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

    def hours(self) -> Mapping[SegmentId, Hours]:
        """Return the hours of the segments shown, none where none are."""
        return {}

    def troubles(self) -> "Mapping[SegmentId, Trouble]":
        """Return the segments shown that don't pass on their way."""
        return {}

    # Blanks.

    def say(self, template: Template, **facts: object) -> str:
        """Say something in the language of the sheet."""
        assert self.words is not None
        return self.words.say(template, **facts)

    def add_blank(  # noqa: PLR0913 - what a blank is
        self,
        name: str,
        read: Callable[[Book], str],
        write: Writing,
        *,
        pixels: int = 15,
        serif: bool = False,
        weight: int = 600,
        suggestions: tuple[str, ...] = (),
        label: str = "",
        hint: str = "",
        of: type[Blank] = Blank,
    ) -> Blank:
        """Add a blank: what stands in it, and the edit that a text in it makes.

        label: what a screen reader calls it; its name where nothing is given.
        """

        def taken(text: str) -> None:
            assert self.book is not None
            self.edited.emit(write(self.book, text), f"{name} {self.job} {self.step}")

        made = of(
            label or name,
            partial(self.read, read),
            taken,
            pixels=pixels,
            serif=serif,
            weight=weight,
            suggestions=suggestions,
            hint=hint,
        )
        self._blanks[name] = made
        return made

    def add_kept(
        self,
        name: str,
        read: Callable[[], str],
        write: Callable[[Book, str], Edited | None],
        *,
        hint: str,
        suggestions: tuple[str, ...] = (),
    ) -> Blank:
        """Add a blank that is kept here until others beside it make an edit with it."""

        def taken(text: str) -> None:
            assert self.book is not None
            edited = write(self.book, text)
            if edited is not None:
                self.edited.emit(edited, "")
                for each in self._blanks.values():
                    each.refresh()

        made = Blank(hint, read, taken, hint=hint, suggestions=suggestions)
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
        into: Flow | None = None,
    ) -> None:
        """Add a sentence whose facts are blanks or words, and a line for what is said of it.

        into: the paragraph that it goes on; its line is added by whoever asks, under the paragraph.
        """
        assert self.words is not None
        flow = into or self.add_flow(column, serif=serif)
        for piece in pieces(self.words, template, parts):
            part = parts.get(piece.field) if piece.field else None
            if isinstance(part, Blank):
                flow.addWidget(part)
                part.tell_refused(partial(self.refuse, note))
            else:
                weight = 600 if part else 400
                text = part or piece.text
                flow.addWidget(Fixed(text, pixels=pixels, serif=serif, weight=weight))
        if into is None:
            self.add_note(column, note)

    def add_flow(self, column: QVBoxLayout, *, serif: bool = False) -> Flow:
        """Add a paragraph that sentences are written into."""
        holder = QWidget()
        flow = Flow(3 if serif else 2)
        holder.setLayout(flow)
        column.addWidget(holder)
        return flow

    def add_note(self, column: QVBoxLayout, name: str) -> None:
        """Add a line for findings, empty for now."""
        column.addWidget(self.make_note(name))

    def make_note(self, name: str) -> Note:
        """Return a new line for findings, empty for now."""
        self._notes[name] = Note()
        return self._notes[name]

    def refuse(self, note: str, no: NotTaken | None) -> None:
        """Say why what was typed is not taken; None: it is."""
        text = ""
        if no is not None and self.words is not None:
            text = say.not_taken(self.words, no.code, **no.facts)
        self._notes[note].say(text, is_alarm=True)
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
        marked, stopping = set(), set()
        for finding in self._findings:
            note = self.place_of(finding)
            sentence, cure = self.words.finding(finding)
            by_note.setdefault(note, []).append(f"{sentence} {cure}")
            if finding.stops:
                stopping.add(note)
                marked.add(self.blank_of(finding))
        for name, line in self._notes.items():
            if name not in self._refused_notes:
                line.say(" ".join(by_note.get(name, [])), is_alarm=name in stopping)
        for name, blank in self._blanks.items():
            blank.set_found(name in marked)

    def place_of(self, finding: Finding) -> str:
        """Return the name of the line that a finding belongs under; "" for none here."""
        raise NotImplementedError

    def blank_of(self, finding: Finding) -> str:
        """Return the name of the blank that a finding is about; "" for none."""
        del finding
        return ""

    def own_path(self, finding: Finding) -> tuple[str | int, ...]:
        """Return where in the job shown here a finding lies, () for elsewhere."""
        assert self.book is not None
        path = finding.path
        if path[:1] != ("jobs",) or len(path) < 2 or not isinstance(path[1], int):
            return ()
        is_own = self.book.jobs[path[1]].id == self.job
        return (path[2:] or ("job",)) if is_own else ()

    def add_actions(
        self, column: QVBoxLayout, actions: Iterable[tuple[str, Callable[[], object], str]]
    ) -> Flow:
        """Add words that do something, each with its key or ""; return where they stand."""
        holder = QWidget()
        flow = Flow(10)
        holder.setLayout(flow)
        for text, do, key in actions:
            flow.addWidget(KeyWord(text, do, key))
        column.addWidget(holder)
        return flow

    def do(self, edit: Callable[[Book], Edited]) -> None:
        """Make an edit that stands for itself."""
        assert self.book is not None
        self.edited.emit(edit(self.book), "")
