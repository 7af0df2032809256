"""`countback held`: a step has not begun, whatever the sheet says, and what held it up."""

from app.cli.arguments import Asked
from app.cli.console import Console
from app.cli.floor import Told, held_by_typed, run_told
from app.cli.meant import step_meant
from app.cli.trying import typed
from app.words import floor as say
from shared.edits import Edited, tell_held


def run(asked: Asked, console: Console) -> int:
    typed(asked, "because", "CAUSE")
    return run_told(asked, console, _held)


def _held(told: Told) -> tuple[Edited | None, list[str]]:
    why = held_by_typed(told.asked, told.words)
    assert why is not None
    step = step_meant(told.book, told.asked.words[1])
    edited = tell_held(told.book, step.id, why, told.now, told.by, told.at)
    fact = edited.book.facts[-1]
    return edited, [say.held_line(told.words, told.job(fact), step.id, fact.at, told.who, why)]
