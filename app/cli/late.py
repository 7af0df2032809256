"""`countback late`: so many person-hours of a step are still to do."""

from app.cli.arguments import Asked
from app.cli.console import Console
from app.cli.floor import Told, held_by_typed, hours_typed, run_told
from app.cli.meant import step_meant
from app.words import floor as say
from shared.edits import Edited, tell_left


def run(asked: Asked, console: Console) -> int:
    return run_told(asked, console, _late)


def _late(told: Told) -> tuple[Edited | None, list[str]]:
    step, hours = step_meant(told.book, told.asked.words[1]), hours_typed(told.asked.words[2])
    why = held_by_typed(told.asked, told.words)
    edited = tell_left(told.book, step.id, hours, told.now, told.by, why)
    job = told.job(edited.book.facts[-1])
    return edited, say.left_lines(told.words, job, step.id, hours, told.now, told.who, why)
