"""The steps of a segment in the order of making, and the chosen one in sentences."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QVBoxLayout

from app.window.bits import theme_of
from app.window.fonts import text_width
from app.window.guard import guarded
from app.window.masthead import paint_swatch
from app.window.sheet import typed, writing
from app.window.sheet.blanks import Blank
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.cautions_part import write_cautions
from app.window.sheet.form import Form
from app.window.theme import Theme
from app.window.wall import pens
from app.window.wall.paint_marks import paint_teeth
from app.words import Words
from app.words import window as say
from shared.book import Book, Gate, GateKind, Journey, Kind, Stage, Step
from shared.edits import Edited, copy_step, remove_step
from shared.ids import StepId


def write_steps(sheet: Form, column: QVBoxLayout) -> None:
    """Write the steps in the order of making."""
    assert sheet.book is not None
    assert sheet.job is not None
    job = writing.job(sheet.book, sheet.job)
    name = next((s.name for s in job.segments if s.id == sheet.segment), "")
    title = sheet.say(say.SHEET_STEPS, segment=name) if name else sheet.say(say.SHEET_STEPS_JOB)
    column.addWidget(Fixed(title, pixels=17, weight=600, serif=True))
    for step in writing.steps_of(job, sheet.segment):
        column.addWidget(StepRow(sheet, step.id, partial(_on_step, sheet, step.id)))
        if step.id == sheet.step:
            write_step(sheet, column)
    sheet.add_note(column, "steps")


def _on_step(sheet: Form, step: StepId) -> None:
    sheet.step = step
    sheet.refresh()
    sheet.moved.emit(sheet)


def write_step(sheet: Form, column: QVBoxLayout) -> None:
    """Write the chosen step out."""
    assert sheet.book is not None
    step = step_shown(sheet)
    if step is None:
        return
    column.addSpacing(4)
    if isinstance(step, Journey):
        write_cautions(sheet, column)
        return
    if isinstance(step, Stage):
        _stage(sheet, column, step)
    else:
        _gate(sheet, column, step)
    _people(sheet, column, step.id)
    sheet.add_note(column, "step")
    write_cautions(sheet, column)
    _step_actions(sheet, column, step)
    column.addSpacing(8)


def step_shown(sheet: Form) -> Step | None:
    """Return the step that is written out."""
    if sheet.book is None or sheet.job is None or sheet.step is None:
        return None
    steps = writing.job(sheet.book, sheet.job).steps
    return next((s for s in steps if s.id == sheet.step), None)


def _gate(sheet: Form, column: QVBoxLayout, gate: Gate) -> None:
    assert sheet.words is not None
    name = sheet.add_blank(
        "step name",
        lambda b: _step(b, gate.id).name,
        lambda b, t: writing.step_name(b, gate.id, t),
    )
    kind = say.gate(sheet.words, gate.gate)
    sheet.add_sentence(column, say.SHEET_GATE, {"name": name, "gate": kind}, "work")


def _stage(sheet: Form, column: QVBoxLayout, stage: Stage) -> None:
    words, step = sheet.words, stage.id
    assert words is not None
    name = sheet.add_blank(
        "step name",
        lambda b: _step(b, step).name,
        lambda b, t: writing.step_name(b, step, t),
    )
    kind = sheet.add_blank(
        "kind",
        lambda b: say.kind(words, writing.stage(b, step).kind),
        lambda b, t: writing.stage_kind(b, step, t, words),
        suggestions=tuple(say.kind(words, kind) for kind in Kind),
    )
    parts: dict[str, Blank | str] = {"name": name, "kind": kind}
    for which in writing.HOURS:
        parts[which] = sheet.add_blank(
            f"hours {which}",
            partial(_hours, step, which),
            partial(_write_hours, step, which),
        )
    sheet.add_sentence(column, say.SHEET_STAGE_WORK, parts, "work")
    _cure(sheet, column, step, stage.kind)
    go = sheet.add_blank(
        "one go",
        lambda b: words.say(say.ONE_GO if writing.stage(b, step).in_one_go else say.IN_PAUSES),
        lambda b, t: writing.stage_go(b, step, t, words),
        suggestions=(words.say(say.ONE_GO), words.say(say.IN_PAUSES)),
    )
    sheet.add_sentence(column, say.SHEET_STAGE_GO, {"go": go}, "go")


def _cure(sheet: Form, column: QVBoxLayout, step: StepId, kind: Kind) -> None:
    assert sheet.words is not None
    hours = sheet.add_blank(
        "cure",
        lambda b: typed.figure(writing.stage(b, step).cure_hours),
        lambda b, t: writing.stage_cure(b, step, t),
    )
    recoat = sheet.add_blank(
        "recoat",
        lambda b: typed.figure(writing.stage(b, step).recoat_hours),
        lambda b, t: writing.stage_recoat(b, step, t),
    )
    verb = say.cure_verb(sheet.words, kind)
    parts: dict[str, Blank | str] = {"cures": verb, "hours": hours, "recoat": recoat}
    sheet.add_sentence(column, say.SHEET_STAGE_CURE, parts, "cure")


def _people(sheet: Form, column: QVBoxLayout, step: StepId) -> None:
    words = sheet.words
    assert words is not None
    assert sheet.book is not None
    people = sheet.add_blank(
        "people",
        partial(_people_of, words, step),
        lambda b, t: writing.step_people(b, step, t, words),
        suggestions=tuple(person.name for person in sheet.book.people),
    )
    sheet.add_sentence(column, say.SHEET_STAGE_PEOPLE, {"people": people}, "people")


def _step_actions(sheet: Form, column: QVBoxLayout, step: Step) -> None:
    words, segment, identity = sheet.words, sheet.segment, step.id
    assert words is not None
    edits: list[tuple[str, Callable[[Book], Edited]]] = [
        (sheet.say(say.DO_EARLIER), lambda b: writing.moved_step(b, identity, segment, -1)),
        (sheet.say(say.DO_LATER), lambda b: writing.moved_step(b, identity, segment, 1)),
        (sheet.say(say.DO_COPY), lambda b: copy_step(b, identity)),
        (sheet.say(say.DO_REMOVE), lambda b: remove_step(b, identity)),
        (sheet.say(say.DO_ADD_STAGE), lambda b: writing.stage_after(b, identity, segment, words)),
        (sheet.say(say.DO_ADD_GATE), lambda b: writing.answer_after(b, identity, words)),
    ]
    sheet.add_actions(column, [(word, partial(sheet.do, edit)) for word, edit in edits])


def _step(book: Book, step: StepId) -> Step:
    return next(s for job in book.jobs for s in job.steps if s.id == step)


def _hours(step: StepId, which: str, book: Book) -> str:
    return typed.figure(getattr(writing.stage(book, step).ways[0].hours, which))


def _write_hours(step: StepId, which: str, book: Book, text: str) -> Edited:
    return writing.stage_hours(book, step, which, text)


def _people_of(words: Words, step: StepId, book: Book) -> str:
    found = _step(book, step)
    pin = None if isinstance(found, Journey) else found.pin
    names = {person.id: person.name for person in book.people}
    if pin is None or not pin.people:
        return words.say(say.ANYBODY)
    return words.series(names.get(person, person) for person in pin.people)


def paint_gate(painter: QPainter, of: Theme, step: Gate | Journey) -> None:
    """Paint a gate's or a journey's mark in the place of a block."""
    if isinstance(step, Journey):
        pens.flat_rect(painter, 10, 8, 22, 7, of.ink)
        pens.flat_rects(painter, [QRect(x, 11, 4, 1) for x in (12, 18, 24)], of.paper)
    elif step.gate is GateKind.ANSWER:
        pens.flat_rects(painter, [QRect(19, 3, 1, 15), QRect(23, 3, 1, 15)], of.ink)
    elif step.gate is GateKind.TRIAL_FIT:
        paint_teeth(painter, of, 21, 2, 19)
    else:
        pens.flat_rect(painter, 20, 3, 3, 15, of.ink)


class StepRow(QAbstractButton):
    """A step in the order of making: what kind it is, its hours, what it waits."""

    def __init__(self, sheet: Form, step: StepId, do: Callable[[], None]) -> None:
        super().__init__()
        self._sheet, self._step = sheet, step
        self.setFixedHeight(21)
        self.clicked.connect(do)
        self.setAccessibleName(" ".join(part for part in self._parts() if part))

    @property
    def step(self) -> StepId:
        """Whose row it is."""
        return self._step

    def _parts(self) -> tuple[str, str, str]:
        assert self._sheet.book is not None
        assert self._sheet.words is not None
        step = self._sheet.read(lambda b: _step(b, self._step).name)
        hours, cure = "", ""
        found = _step(self._sheet.book, self._step)
        if isinstance(found, Stage):
            hours = f"{typed.figure(found.ways[0].hours.likely)} h" if found.ways else ""
            if found.cure_hours:
                verb = say.cure_verb(self._sheet.words, found.kind)
                cure = f"{verb} {typed.figure(found.cure_hours)} h"
        return step, hours, cure

    @guarded
    def sizeHint(self) -> QSize:
        return QSize(300, 21)

    @guarded
    def paintEvent(self, event: QPaintEvent) -> None:
        of = theme_of(self)
        painter = QPainter(self)
        assert self._sheet.book is not None
        found = self._sheet.read(lambda b: _step(b, self._step).name)
        if found:
            chosen = self._sheet.step == self._step
            if chosen:
                pens.flat_rect(painter, 2, 1, 3, 19, of.ink)
            step = _step(self._sheet.book, self._step)
            if isinstance(step, Stage):
                paint_swatch(
                    painter, of, self.rect().adjusted(10, 4, 32 - self.width(), -5), step.kind
                )
            else:
                paint_gate(painter, of, step)
            name, hours, cure = self._parts()
            pens.words(painter, 40, 15, name, of.ink, 13, 600 if chosen else 400)
            pens.words(painter, 220 - text_width(hours, 13, 600), 15, hours, of.ink, 13, 600)
            pens.words(painter, 232, 15, cure, of.ink2, 12)
            if self.hasFocus():
                pens.frame(painter, self.rect(), of.ink, 1)
        painter.end()
