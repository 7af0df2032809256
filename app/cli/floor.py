"""What happened on the floor, written down: each command is one edit and says it back."""

import json
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked, who_is_here
from app.cli.moments import instant_typed, now_of
from app.cli.run import MET
from app.outcome_json import instant_text
from app.words import Words
from app.words import changes as changes_say
from app.words import floor as say
from app.words.facts import facts_in_words
from shared.book import Book, Fact, Held
from shared.edits import Edited, NotNow
from shared.edits.lookup import job_of_step
from shared.errors import DiskError
from shared.examine import examine
from shared.ids import JobId

if TYPE_CHECKING:
    from datetime import datetime

_MOST_HOURS = 100_000


class Told:
    """What somebody tells of a book: the book, now, who tells it, and when it happened if typed."""

    def __init__(self, asked: Asked, book: Book) -> None:
        """Read when and who; raises Usage."""
        self.asked, self.book = asked, book
        self.words = words_for(book)
        self.now, _ = now_of(asked, book)
        self.by = asked.by or who_is_here()
        self.at: datetime | None = None
        if asked.at is not None:
            self.at = instant_typed(asked.at, book.workshop.zone)

    @property
    def who(self) -> str:
        """Return who tells it, for a sentence."""
        return self.by or self.words.say(changes_say.SOMEBODY)

    def job(self, fact: Fact) -> JobId:
        """Return the job of what was told."""
        return job_of_step(self.book, fact.step).id


Telling = Callable[[Told], tuple[Edited | None, list[str]]]
"""Gives an edit (None: there is nothing to note) and the lines that say it back."""


def run_told(asked: Asked, console: Console, tell: Telling) -> int:
    """Write down what happened and say it back.

    Raises
    ------
    DiskError, Usage
        If the book is not to be had, or it can't have happened so.
    """
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        read = load_book(path)
        if read.book is None:
            words = words_for(read.whole)
            return say_refused(asked, console, words, read.findings, say.NOT_TOLD, {"told": False})
        told = Told(asked, read.book)
        edited, lines = _told(told, tell)
        stopping = () if edited is None else [f for f in examine(edited.book) if f.stops]
        if stopping:
            nothing: Json = {"told": False}
            found = tuple(stopping)
            return say_refused(asked, console, told.words, found, say.NOT_TOLD, nothing)
        if edited is not None:
            kept.keep(edited.book)
    for line in lines:
        console.wrapped(line)
    if edited is not None:
        facts = {"path": path, "revision": edited.book.revision}
        console.wrapped(told.words.say(changes_say.KEPT, **facts))
    if asked.json:
        console.say(json.dumps(_object(read.book, edited), ensure_ascii=False))
    return MET


def _told(told: Told, tell: Telling) -> tuple[Edited | None, list[str]]:
    try:
        return tell(told)
    except NotNow as trouble:
        zone = told.book.workshop.zone
        facts = facts_in_words(told.words, trouble.facts.items(), zone)
        raise Usage(trouble.code, **facts) from None


def held_by_typed(asked: Asked, words: Words) -> Held | None:
    """Give what held work up, as it was typed; raises Usage."""
    word = asked.because
    if word is None:
        return None
    if word not in tuple(Held):
        raise Usage("unknown_cause", word=word, causes=words.series(Held))
    return Held(word)


def hours_typed(word: str) -> Decimal:
    """Give the person-hours that were typed, more than none; raises Usage."""
    try:
        hours = Decimal(word)
    except InvalidOperation:
        hours = Decimal("NaN")
    if not (hours.is_finite() and 0 < hours <= _MOST_HOURS):
        raise Usage("bad_hours", word=word)
    return hours


def _object(before: Book, edited: Edited | None) -> Json:
    """Give what was told for programs."""
    if edited is None:
        return {"told": False, "revision": before.revision, "facts": []}
    facts = edited.book.facts[len(before.facts) :]
    return {
        "told": True,
        "revision": edited.book.revision,
        "facts": [_fact_object(fact) for fact in facts],
    }


def _fact_object(fact: Fact) -> Json:
    left = fact.remaining_hours
    return {
        "id": fact.id,
        "kind": fact.kind.value,
        "step": fact.step,
        "at": instant_text(fact.at),
        "told_by": fact.told_by,
        "people": list(fact.people),
        "remaining_hours": None if left is None else float(left),
        "held_by": None if fact.held_by is None else fact.held_by.value,
    }
