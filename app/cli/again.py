"""`countback again`: what a mishap calls for from a stage on, tried before it is taken."""

from app.cli.arguments import Asked, Usage
from app.cli.console import Console
from app.cli.meant import segment_meant, stage_meant
from app.cli.trying import percent_typed, run_trial, typed
from shared.book import Book
from shared.edits import Edited, again_from
from shared.repairs import Cause

CAUSES = tuple(cause for cause in Cause if cause is not Cause.CHANGE)


def run(asked: Asked, console: Console) -> int:
    cause, percent = _cause(asked), percent_typed(asked, "share")

    def edit(book: Book) -> Edited:
        stage = stage_meant(book, asked.words[1])
        on = None if asked.on is None else segment_meant(book, asked.on).id
        return again_from(book, stage.id, cause, segment=on, percent=percent)

    return run_trial(asked, console, edit)


def _cause(asked: Asked) -> Cause:
    word = typed(asked, "because", "CAUSE")
    if word not in CAUSES:
        raise Usage("unknown_cause", word=word, causes=", ".join(CAUSES))
    return Cause(word)
