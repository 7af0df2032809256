"""Books and plans that a command names, read from disk."""

from pathlib import Path

from app.words import Words
from shared.book import Book
from shared.examine import take_in
from shared.files.disk import load
from shared.files.read import Read, ReadPlan, read_plan
from shared.findings import Finding

Json = dict[str, object]


def load_book(path: Path) -> Read:
    """Read a book and everything that is wrong in it; raises DiskError."""
    return take_in(load(path))


def load_plan(path: Path) -> ReadPlan:
    """Read a plan and everything that is wrong in it; raises DiskError."""
    return read_plan(load(path))


def finding_objects(words: Words, found: tuple[Finding, ...]) -> list[Json]:
    """Give findings for programs, each with its sentence and its cure."""
    return [_object(words, each) for each in found]


def _object(words: Words, found: Finding) -> Json:
    text, cure = words.finding(found)
    return {
        "code": found.code,
        "path": words.path(found.path),
        "name": found.name,
        "text": text,
        "cure": cure,
        "stops": found.stops,
    }


def words_for(book: Book | None) -> Words:
    """Give the catalogue for a book, or for none."""
    return Words(book=book)
