"""One command in this process, its answer and its exit code."""

import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app.cli.console import Console
from app.cli.run import run
from shared.book import Book
from shared.files.write import write_book


@dataclass(frozen=True)
class Said:
    code: int
    out: str
    err: str

    @property
    def last(self) -> Any:
        """The object on the last line."""
        return json.loads(self.out.splitlines()[-1])


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def countback(*arguments: str | Path, is_terminal: bool = False) -> Said:
    out, err = (Terminal(), Terminal()) if is_terminal else (io.StringIO(), io.StringIO())
    code = run([str(argument) for argument in arguments], Console(out, err))
    return Said(code, out.getvalue(), err.getvalue())


def a_file(folder: Path, book: Book, name: str = "book.countback") -> Path:
    path = folder / name
    path.write_bytes(write_book(book))
    return path
