"""`countback loads`: what could be sprayed at once, what that saves, and taking it."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import finding_objects, load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.keeping import keep_book, locked
from app.cli.moments import now_of
from app.cli.run import MET, REFUSED
from app.words import Words, shell
from app.words import loads as say
from app.words.voice import capital
from shared.book import Book
from shared.edits import take_load
from shared.errors import DiskError
from shared.findings import Finding
from shared.loads import NoLoad

if TYPE_CHECKING:
    from scheduler.loads import Effect, Load
    from scheduler.outcome import Outcome
    from shared.plan import Plan

ALL = "all"
EFFORT = 2
"""Placement passes for each plan that is compared."""
_INDENT = "    "


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    most = None if asked.pieces is None else asked.number("pieces", 1)
    if not asked.take:
        return _run(asked, console, path, most)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path):
        return _run(asked, console, path, most)


def _run(asked: Asked, console: Console, path: Path, most: int | None) -> int:
    read = load_book(path)
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    now, _ = now_of(asked, read.book)
    made = _Command(
        asked=asked, console=console, words=words_for(read.book), book=read.book, now=now, most=most
    )
    return made.take(path) if asked.take else made.tell()


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    say_findings(console, words, found)
    console.say(words.say(shell.NOT_PLANNED))
    if asked.json:
        listed = {"loads": [], "findings": finding_objects(words, found)}
        console.say(json.dumps(listed, ensure_ascii=False))
    return REFUSED


@dataclass(frozen=True, slots=True, kw_only=True)
class _Command:
    """What was asked of which book, as of when."""

    asked: Asked
    console: Console
    words: Words
    book: Book
    now: datetime
    most: int | None

    def _found(self, plan: "Plan | None" = None) -> "tuple[Load, ...]":
        from scheduler.loads import loads

        return loads(self.book, self.now, pieces_most=self.most, plan=plan)

    def tell(self) -> int:
        """Say of each load what it would save by itself."""
        found = self._found()
        effects: list[Effect] = []
        if found:
            found, effects = self._tried(found)
        self.console.pass_by("")
        self._say(found, effects)
        if self.asked.json:
            both = enumerate(zip(found, effects, strict=True), start=1)
            told = [_object(number, load, each) for number, (load, each) in both]
            self.console.say(json.dumps({"loads": told}, ensure_ascii=False))
        return MET

    def _tried(self, found: "tuple[Load, ...]") -> "tuple[tuple[Load, ...], list[Effect]]":
        """Return the loads as the plan without them has their cures, and what each changes."""
        from scheduler.loads import effect

        before = self._planned(self.book, 1, len(found) + 1)
        effects = []
        for number, load in enumerate(found, start=2):
            taken = take_load(self.book, load.steps).book
            after = self._planned(taken, number, len(found) + 1)
            effects.append(effect(before, after, load.job))
        return self._found(before.plan), effects

    def _planned(self, book: Book, number: int, count: int) -> "Outcome":
        from scheduler.request import SolveRequest
        from scheduler.solve import solve

        self.console.pass_by(self.words.say(say.TRYING, number=number, count=count))
        return solve(SolveRequest(book=book, now=self.now, effort=EFFORT, workers=1))

    def _say(self, found: Sequence["Load"], effects: Sequence["Effect"]) -> None:
        words, console = self.words, self.console
        if not found:
            console.say(words.say(say.NONE))
            return
        number = words.number_word(len(found))
        console.say(capital(words.say(say.HEAD, count=len(found), number=number)))
        for index, (load, each) in enumerate(zip(found, effects, strict=True), start=1):
            console.say()
            first = words.say(say.NUMBERED, number=index)
            console.wrapped(say.load_line(words, load), indent=_INDENT, first=first.ljust(4))
            job = words.names.of("job", load.job)
            lines = [say.booth_line(words, load), *say.effect_lines(words, each, job)]
            console.wrapped(" ".join(lines), indent=_INDENT)
        console.say()
        console.say(words.say(say.TAKE))

    def take(self, path: Path) -> int:
        """Take what was asked for and write the book; say what it comes to."""
        from scheduler.loads import effect

        found = self._found()
        chosen = _chosen(self.asked.take, found)
        book = self._with(chosen)
        keep_book(path, book)
        for load in chosen:
            line = say.load_line(self.words, load)
            self.console.wrapped(self.words.say(say.TAKEN, load=line))
        self.console.say(self.words.say(say.KEPT, path=path, revision=book.revision))
        before, after = self._planned(self.book, 1, 2), self._planned(book, 2, 2)
        self.console.pass_by("")
        told = effect(before, after, chosen[0].job)
        lines = [self.words.say(say.TOGETHER), *say.effect_lines(self.words, told)]
        self.console.wrapped(" ".join(lines))
        if self.asked.json:
            numbers = [found.index(load) + 1 for load in chosen]
            all_told = {"taken": numbers, "revision": book.revision, **_in_plan(told)}
            self.console.say(json.dumps(all_told, ensure_ascii=False))
        return MET

    def _with(self, chosen: Sequence["Load"]) -> Book:
        book = self.book
        for load in chosen:
            try:
                book = take_load(book, load.steps).book
            except NoLoad as trouble:
                facts = {key: str(fact) for key, fact in trouble.facts.items()}
                names = {key: self.words.names.of("step", fact) for key, fact in facts.items()}
                raise Usage(trouble.code, **names) from None
        return book


def _chosen(words: Sequence[str], found: Sequence["Load"]) -> list["Load"]:
    """Return the loads that were meant, each once, in the order of the list."""
    if not found:
        raise Usage("no_loads")
    wanted = set[int]()
    for word in words:
        if word == ALL:
            wanted |= set(range(len(found)))
        elif word.isascii() and word.isdigit() and 1 <= int(word) <= len(found):
            wanted.add(int(word) - 1)
        else:
            raise Usage("unknown_load", word=word, count=len(found))
    return [found[index] for index in sorted(wanted)]


def _object(number: int, load: "Load", told: "Effect") -> dict[str, object]:
    """Give a load and what it saves as an object for programs."""
    return {
        "number": number,
        **asdict(load),
        "booth_minutes": load.booth_minutes,
        **_in_plan(told),
        "earlier_minutes": told.earlier_minutes,
    }


def _in_plan(told: "Effect") -> dict[str, object]:
    return {
        "floor_minutes": told.floor_minutes,
        "missed_count": told.missed_count,
        "placed_count": told.placed_count,
    }
