"""Certificates on the command line: kept by `why --out`, followed by `check`."""

import json
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.run import BROKEN, MET
from app.words import Words, shell
from app.words import certificate as say
from shared.book import Book
from shared.certificate import Certificate, ProofBy
from shared.errors import DiskError
from shared.files.certificates import is_certificate, read_certificate, write_certificate
from shared.files.disk import load, save

_INDENT = "    "
NOTHING: dict[str, object] = {"holds": None, "replayable": None, "by": None, "late_minutes": None}


def is_one(path: Path) -> bool:
    """Return whether a file that is there says that it is a certificate."""
    try:
        return is_certificate(load(path))
    except DiskError:
        return False


def check_out(out: str | None) -> Path | None:
    """Give the path to keep a certificate in, or None; raises Usage where something else is."""
    if out is None:
        return None
    path = Path(out)
    if path.is_dir():
        raise Usage("is_folder", path=out)
    if path.exists() and path.stat().st_size and not is_one(path):
        raise Usage("not_over_certificate", path=out)
    return path


def keep(console: Console, words: Words, found: Certificate | None, out: Path, book: str) -> None:
    """Keep a certificate and say so, or that there is none to keep."""
    if found is None:
        console.wrapped(words.say(say.NOTHING))
        return
    save(out, write_certificate(found))
    template = say.KEPT_SEARCH if found.by is ProofBy.SEARCH else say.KEPT
    console.wrapped(words.say(template, path=out, book=book))


def run(asked: Asked, console: Console) -> int:
    """Follow a certificate against its book, and say what came of it."""
    book_path, path = (Path(word) for word in asked.words)
    read, read_one = load_book(book_path), read_certificate(load(path))
    words = words_for(read.book or read.whole)
    if read.book is None or read_one.certificate is None:
        stopping = read.findings if read.book is None else read_one.findings
        return say_refused(asked, console, words, stopping, shell.NOT_CHECKED, NOTHING)
    return _judged(asked, console, read.book, read_one.certificate)


def _judged(asked: Asked, console: Console, book: Book, certificate: Certificate) -> int:
    from scheduler.check.certificate import check_certificate

    words = words_for(book)
    judged = check_certificate(book, certificate)
    console.wrapped(say.says_line(words, certificate))
    if not judged.is_of_book:
        console.wrapped(words.say(say.OTHER_BOOK))
    line = say.judged_line(words, certificate, judged)
    console.wrapped(line if judged.holds else console.alarm(line))
    if asked.json:
        told: dict[str, object] = {
            "holds": judged.holds,
            "replayable": judged.replayable,
            "by": certificate.by.value,
            "late_minutes": certificate.late_minutes,
            "is_of_book": judged.is_of_book,
            "troubles": [say.trouble_line(words, each) for each in judged.troubles],
        }
        console.say(json.dumps(told, ensure_ascii=False))
    return MET if judged.holds else BROKEN
