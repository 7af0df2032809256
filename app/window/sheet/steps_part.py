"""The chosen step in sentences, and what is done with steps."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout

from app.window.sheet import estimating, typed, writing
from app.window.sheet.blanks import Flow
from app.window.sheet.cautions_part import write_cautions
from app.window.sheet.form import Form
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words import editor as say
from app.words import window as window_words
from shared.book import Book, FactKind, Gate, GateKind, Journey, Kind, Stage, Step
from shared.edits import (
    Edited,
    NotNow,
    again_from,
    change_after_yes,
    copy_step,
    remove_step,
)
from shared.ids import JobId, SegmentId, StepId
from shared.repairs import Cause

if TYPE_CHECKING:
    from app.window.sheet.blanks import Blank

_BEGUN = frozenset({FactKind.DONE, FactKind.RUNNING})


def write_step(sheet: Form, column: QVBoxLayout) -> None:
    """Write the chosen step out."""
    step = step_shown(sheet)
    if step is None:
        return
    flow = sheet.add_flow(column)
    if not isinstance(step, Journey):
        if isinstance(step, Stage):
            _stage(sheet, column, step, flow)
        else:
            _gate(sheet, column, step, flow)
        _people(sheet, column, step.id, flow)
        if isinstance(step, Stage):
            _again(sheet, column, step, flow)
    sheet.add_note(column, "work")
    sheet.add_note(column, "step")
    write_cautions(sheet, column)


def step_shown(sheet: Form) -> Step | None:
    """Return the step that is written out."""
    if sheet.book is None or sheet.job is None or sheet.step is None:
        return None
    steps = writing.job(sheet.book, sheet.job).steps
    return next((s for s in steps if s.id == sheet.step), None)


def _gate(sheet: Form, column: QVBoxLayout, gate: Gate, flow: Flow) -> None:
    assert sheet.words is not None
    name = sheet.add_blank(
        "step name",
        lambda b: _step(b, gate.id).name,
        lambda b, t: writing.step_name(b, gate.id, t),
    )
    kind = window_words.gate(sheet.words, gate.gate)
    sheet.add_sentence(
        column, window_words.SHEET_GATE, {"name": name, "gate": kind}, "work", into=flow
    )
    if gate.gate is GateKind.ANSWER:
        days = sheet.add_blank(
            "gate days",
            lambda b: _days_of(_step(b, gate.id)),
            lambda b, t: writing.gate_days(b, gate.id, t),
            hint=sheet.say(say.HINT_DAYS),
        )
        sheet.add_sentence(column, say.GATE_DAYS, {"days": days}, "work", into=flow)


def _days_of(step: Step) -> str:
    is_told = isinstance(step, Gate) and step.answer_days is not None
    return str(step.answer_days) if isinstance(step, Gate) and is_told else ""


def _stage(sheet: Form, column: QVBoxLayout, stage: Stage, flow: Flow) -> None:
    words, step = sheet.words, stage.id
    assert words is not None
    assert sheet.book is not None
    assert sheet.job is not None
    name = sheet.add_blank(
        "step name",
        lambda b: _step(b, step).name,
        lambda b, t: writing.step_name(b, step, t),
    )
    kind = sheet.add_blank(
        "kind",
        lambda b: window_words.kind(words, writing.stage(b, step).kind),
        lambda b, t: writing.stage_kind(b, step, t, words),
        suggestions=tuple(window_words.kind(words, kind) for kind in Kind),
    )
    parts: dict[str, Blank | str] = {"name": name, "kind": kind}
    for which in writing.HOURS:
        parts[which] = sheet.add_blank(
            f"hours {which}",
            partial(_hours, step, which),
            partial(_write_hours, step, which),
        )
    sheet.add_sentence(column, window_words.SHEET_STAGE_WORK, parts, "work", into=flow)
    hands = sheet.add_blank(
        "hands",
        lambda b: str(writing.hands_of(writing.stage(b, step).ways[0])),
        lambda b, t: writing.stage_hands(b, step, t),
    )
    sheet.add_sentence(column, say.HANDS, {"hands": hands}, "work", into=flow)
    _cure(sheet, column, step, stage.kind, flow)
    go = sheet.add_blank(
        "one go",
        lambda b: words.say(
            window_words.ONE_GO if writing.stage(b, step).in_one_go else window_words.IN_PAUSES
        ),
        lambda b, t: writing.stage_go(b, step, t, words),
        suggestions=(words.say(window_words.ONE_GO), words.say(window_words.IN_PAUSES)),
    )
    sheet.add_sentence(column, window_words.SHEET_STAGE_GO, {"go": go}, "work", into=flow)


def show_typed(sheet: Form) -> None:
    """Write the hours in italics where they are somebody's own."""
    if sheet.book is None or sheet.job is None or "hours likely" not in sheet.blanks:
        return
    is_own = sheet.step in estimating.typed_steps(sheet.book, sheet.job)
    for which in writing.HOURS:
        sheet.blanks[f"hours {which}"].set_italic(is_own)


def _cure(sheet: Form, column: QVBoxLayout, step: StepId, kind: Kind, flow: Flow) -> None:
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
    verb = window_words.cure_verb(sheet.words, kind)
    parts: dict[str, Blank | str] = {"cures": verb, "hours": hours, "recoat": recoat}
    sheet.add_sentence(column, window_words.SHEET_STAGE_CURE, parts, "work", into=flow)


def _people(sheet: Form, column: QVBoxLayout, step: StepId, flow: Flow) -> None:
    words = sheet.words
    assert words is not None
    assert sheet.book is not None
    people = sheet.add_blank(
        "people",
        partial(_people_of, words, step),
        lambda b, t: writing.step_people(b, step, t, words),
        suggestions=tuple(person.name for person in sheet.book.people),
    )
    sheet.add_sentence(
        column, window_words.SHEET_STAGE_PEOPLE, {"people": people}, "work", into=flow
    )


# After a mishap, and after the yes.


def has_begun(book: Book, step: StepId) -> bool:
    """Say whether a stage is done or under way."""
    return any(fact.step == step and fact.kind in _BEGUN for fact in book.facts)


class _Change:
    """The blanks of what changes after the yes; written once both are filled."""

    def __init__(self, segment: SegmentId, words: Words) -> None:
        self._segment, self._words = segment, words
        self.texts = {"share": "", "what": ""}

    def text(self, field: str) -> str:
        """Return what is kept for one blank."""
        return self.texts[field]

    def write(self, field: str, book: Book, text: str) -> Edited | None:
        """Keep one text; give the edit that both make, None while one is missing."""
        if field == "share" and text.strip() and not 0 < typed.number(text) <= 100:
            raise NotTaken("not_between", value=text, least=1, most=100)
        self.texts[field] = text
        if not all(each.strip() for each in self.texts.values()):
            return None
        share, what = typed.number(self.texts["share"]), typed.name(self.texts["what"])
        self.texts = {"share": "", "what": ""}
        return _now(
            self._words, lambda: change_after_yes(book, self._segment, what, Decimal(share))
        )


def _again(sheet: Form, column: QVBoxLayout, stage: Stage, flow: Flow) -> None:
    """Write what brings work in again, where work was done already."""
    assert sheet.book is not None
    assert sheet.words is not None
    segment, words = sheet.segment, sheet.words
    if segment is None or not has_begun(sheet.book, stage.id):
        return
    known = {sheet.say(template): cause for cause, template in say.CAUSES.items()}

    def again(book: Book, text: str) -> Edited | None:
        if not text.strip():
            return None
        cause = Cause(typed.one_of(text, known, "not_a_cause"))
        return _now(words, lambda: again_from(book, stage.id, cause, segment=segment))

    cause = sheet.add_kept(
        "cause", lambda: "", again, hint=sheet.say(say.HINT_CAUSE), suggestions=tuple(known)
    )
    sheet.add_sentence(column, say.AGAIN, {"cause": cause}, "work", into=flow)
    change = _Change(segment, words)
    hints = {"share": say.HINT_SHARE, "what": say.HINT_WHAT}
    parts: dict[str, Blank | str] = {
        field: sheet.add_kept(
            f"change {field}",
            partial(change.text, field),
            partial(change.write, field),
            hint=sheet.say(hint),
        )
        for field, hint in hints.items()
    }
    owner = writing.job(sheet.book, _owner(sheet))
    parts["segment"] = next(s.name for s in owner.segments if s.id == segment)
    sheet.add_sentence(column, say.CHANGE, parts, "work", into=flow)


def _owner(sheet: Form) -> JobId:
    assert sheet.job is not None
    return sheet.job


def _now(words: Words, edit: Callable[[], Edited]) -> Edited:
    """Make an edit that the book may give no occasion for.

    Raises NotTaken where it gives none.
    """
    try:
        return edit()
    except NotNow as no:
        raise NotTaken("because", reason=words.trouble(no.code, **no.facts)) from None


# What is done with steps.


def do_with_step(sheet: Form, what: str) -> None:
    """Add a stage, an answer or a trial fit behind the chosen step; copy, remove or move it."""
    words, segment, step = sheet.words, sheet.segment, sheet.step
    if words is None or step is None or sheet.book is None:
        return
    doing: dict[str, Callable[[Book], Edited]] = {
        "stage": lambda b: writing.stage_after(b, step, segment, words),
        "answer": lambda b: writing.answer_after(b, step, words),
        "fit": lambda b: writing.fit_after(b, step, words),
        "again": lambda b: copy_step(b, step),
        "remove": lambda b: remove_step(b, step),
        "earlier": lambda b: writing.moved_step(b, step, segment, -1),
        "later": lambda b: writing.moved_step(b, step, segment, 1),
    }
    before = {each.id for each in writing.job(sheet.book, _owner(sheet)).steps}
    next_step = _beside(sheet, step) if what == "remove" else step
    edited = doing[what](sheet.book)
    new = [s.id for s in writing.job(edited.book, _owner(sheet)).steps if s.id not in before]
    sheet.step = new[0] if new else next_step
    sheet.edited.emit(edited, "")
    sheet.moved.emit(sheet)


def _beside(sheet: Form, step: StepId) -> StepId | None:
    """Return the step that is chosen once this one is gone."""
    assert sheet.book is not None
    mine = [s.id for s in writing.steps_of(writing.job(sheet.book, _owner(sheet)), sheet.segment)]
    at = mine.index(step) if step in mine else 0
    rest = [each for each in mine if each != step]
    return rest[min(at, len(rest) - 1)] if rest else None


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
        return words.say(window_words.ANYBODY)
    return words.series(names.get(person, person) for person in pin.people)
