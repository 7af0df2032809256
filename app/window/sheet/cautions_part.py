"""What to mind in the chosen step: in a few words, or in full with where each is from."""

from functools import partial

from PySide6.QtWidgets import QVBoxLayout

from app.window.bits import KeyWord
from app.window.sheet import writing
from app.window.sheet.blanks import Note
from app.window.sheet.blanks import Words as Fixed
from app.window.sheet.form import Form
from app.words import cautions as say
from shared.cautions import Caution, cautions_of


def cautions_shown(sheet: Form) -> tuple[Caution, ...]:
    """Return the cautions of the step that is written out."""
    if sheet.book is None or sheet.job is None or sheet.step is None:
        return ()
    job = writing.job(sheet.book, sheet.job)
    step = next((each for each in job.steps if each.id == sheet.step), None)
    return () if step is None else cautions_of(sheet.book, job, step)


def write_cautions(sheet: Form, column: QVBoxLayout) -> None:
    """Write the cautions of the chosen step; nothing where there are none."""
    found = cautions_shown(sheet)
    if not found or sheet.words is None:
        return
    words = sheet.words
    if sheet.is_in_full:
        lines = [f"{say.sentence(words, each)} {say.source(words, each)}" for each in found]
        lines.append(words.say(say.DEFERS))
        for line in lines:
            column.addWidget(Note(line, is_alarm=False))
        flow = sheet.add_flow(column)
    else:
        flow = sheet.add_flow(column)
        flow.addWidget(Fixed(say.names_line(words, found), pixels=13))
    word = words.say(say.DO_IN_SHORT if sheet.is_in_full else say.DO_IN_FULL)
    flow.addWidget(KeyWord(word, partial(_turn, sheet)))


def _turn(sheet: Form) -> None:
    sheet.is_in_full = not sheet.is_in_full
    sheet.refresh()
