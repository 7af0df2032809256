"""`countback learn`: recorded hours against estimates by kind, and factors taken from them."""

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked_if
from app.cli.run import MET
from app.words import Words
from app.words import changes as changes_say
from app.words import learn as say
from app.words.voice import capital
from shared.book import Book, Kind
from shared.edits import NotNow, take_factor
from shared.edits.lookup import job_of_step
from shared.errors import DiskError
from shared.estimate.learning import Learning, learning_of
from shared.estimate.record import RECORD_LEAST

if TYPE_CHECKING:
    from shared.estimate.learning import Learned

_INDENT = "    "
_GAP = "  "


def run(asked: Asked, console: Console) -> int:
    path, kinds = Path(asked.words[0]), _kinds(asked)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked_if(path, asked, bool(kinds)) as kept:
        read = load_book(path)
        if read.book is None:
            words = words_for(read.whole)
            return say_refused(asked, console, words, read.findings, say.NOT_LEARNED, {"kinds": []})
        words, found = words_for(read.book), learning_of(read.book)
        book = _taken(words, read.book, found, kinds)
        if kept is not None:
            kept.keep(book)
    if kinds:
        for kind in kinds:
            console.wrapped(say.took_line(words, found.of(kind)))
        facts = {"path": path, "revision": book.revision}
        console.wrapped(words.say(changes_say.KEPT, **facts))
    else:
        _say(console, words, book, found, path)
    if asked.json:
        told = learning_object(learning_of(book), kinds, book.revision)
        console.say(json.dumps(told, ensure_ascii=False))
    return MET


def _kinds(asked: Asked) -> tuple[Kind, ...]:
    for word in asked.take:
        if word not in tuple(Kind):
            raise Usage("unknown_kind", word=word, kinds=", ".join(Kind))
    return tuple(Kind(word) for word in dict.fromkeys(asked.take))


def _taken(words: Words, book: Book, found: Learning, kinds: tuple[Kind, ...]) -> Book:
    """Return the book with the factors of some kinds taken, all as one edit."""
    made = book
    counts = {each.kind: each.count for each in found.kinds}
    for kind in kinds:
        try:
            made = take_factor(made, kind, say.source(words, counts.get(kind, 0))).book
        except NotNow as trouble:
            facts = {**trouble.facts, "kind": say.kind_name(words, kind)}
            raise Usage(trouble.code, **facts) from None
    return replace(made, revision=book.revision + 1) if kinds else book


def _say(console: Console, words: Words, book: Book, found: Learning, path: Path) -> None:
    first, *more = say.head_lines(words, found)
    console.wrapped(console.strong(first))
    for line in more:
        console.wrapped(line)
    if found.kinds:
        console.say()
    for each in found.kinds:
        first, *more = say.kind_lines(words, each, str(path), RECORD_LEAST)
        console.wrapped(first, indent=_INDENT, first=_GAP)
        for line in more:
            console.wrapped(line, indent=_INDENT)
    if found.left_out:
        console.say()
        console.say(words.say(say.ODD_TITLE))
    for odd in found.left_out:
        line = say.odd_line(words, odd, job_of_step(book, odd.step).id)
        console.wrapped(capital(line), indent=_INDENT, first=_GAP)
    if found.kinds:
        console.say()
        console.wrapped(words.say(say.NEVER_SILENT))


def learning_object(found: Learning, taken: tuple[Kind, ...], revision: int) -> Json:
    """Give what records say, for programs."""
    return {
        "revision": revision,
        "usual": found.usual,
        "factor": float(found.whole),
        "records": found.count,
        "taken": [kind.value for kind in taken],
        "kinds": [_kind_object(each) for each in found.kinds],
        "left_out": [
            {
                "step": each.step,
                "kind": each.kind.value,
                "why": each.why.value,
                "hours": float(each.hours),
                "likely": round(float(each.likely), 2),
            }
            for each in found.left_out
        ],
    }


def _kind_object(found: "Learned") -> Json:
    return {
        "kind": found.kind.value,
        "records": found.count,
        "factor": float(found.factor),
        "low": float(found.low),
        "high": float(found.high),
        "spread": round(found.spread, 4),
        "ratio": round(found.ratio, 4),
        "weight": round(found.weight, 3),
        "taken": None if found.taken is None else float(found.taken),
        "offered": found.is_offered,
    }
