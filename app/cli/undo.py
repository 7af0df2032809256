"""`countback undo`: the book as it was before it was last saved."""

from pathlib import Path

from app.cli.arguments import Asked
from app.cli.books import words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.keeping import locked
from app.cli.run import MET, REFUSED
from app.words import shell
from shared.errors import DiskError
from shared.files.undo import undo_file


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        undone = undo_file(path, kept.lock)
    words = words_for(undone.book)
    if undone.book is None:
        say_findings(console, words, undone.findings)
        console.say(words.say(shell.NOT_UNDONE))
        return REFUSED
    console.say(words.say(shell.UNDONE, path=path, revision=undone.book.revision))
    return MET
