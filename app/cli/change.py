"""`countback change`: what changes on a segment after the yes, tried before it is taken."""

from app.cli.arguments import Asked
from app.cli.console import Console
from app.cli.meant import segment_meant
from app.cli.trying import percent_typed, run_trial, typed
from shared.book import Book
from shared.edits import Edited, change_after_yes


def run(asked: Asked, console: Console) -> int:
    what = typed(asked, "what", "TEXT")
    typed(asked, "share", "PERCENT")
    percent = percent_typed(asked, "share")

    def edit(book: Book) -> Edited:
        assert percent is not None
        segment = segment_meant(book, asked.words[1])
        return change_after_yes(book, segment.id, what, percent, answer=asked.asks_anew)

    return run_trial(asked, console, edit)
