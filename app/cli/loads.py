"""`countback loads`: what could be sprayed at once, what that saves, and taking it."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import Keeping, locked
from app.cli.moments import now_of
from app.cli.run import MET
from app.words import Words, shell
from app.words import loads as say
from shared.book import Book
from shared.errors import DiskError
from shared.findings import Finding
from shared.loads import NoLoad

if TYPE_CHECKING:
    from scheduler.load_effects import Effect
    from scheduler.loads import Proposal
    from shared.plan import Plan

ALL = "all"
_INDENT = "    "
Made = TypeVar("Made")


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    most = None if asked.pieces is None else asked.number("pieces", 1)
    if not asked.take:
        return _run(asked, console, path, most)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        return _run(asked, console, path, most, kept)


def _run(
    asked: Asked, console: Console, path: Path, most: int | None, kept: Keeping | None = None
) -> int:
    read = load_book(path)
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    now, _ = now_of(asked, read.book)
    made = _Command(
        asked=asked, console=console, words=words_for(read.book), book=read.book, now=now, most=most
    )
    return made.tell() if kept is None else made.take(path, kept)


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(asked, console, words, found, shell.NOT_PLANNED, {"loads": []})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Command:
    """What was asked of which book, as of when."""

    asked: Asked
    console: Console
    words: Words
    book: Book
    now: datetime
    most: int | None

    def tell(self) -> int:
        """Say of each proposal what it would save by itself."""
        from scheduler.load_effects import Trials

        count = len(self._found()) + 1
        trials = self._trying(1, count, lambda: Trials(self.book, self.now)) if count > 1 else None
        found = self._found(None if trials is None else trials.plan)
        effects: list[Effect | None] = []
        for number, proposal in enumerate(found, start=2):
            assert trials is not None
            effects.append(self._trying(number, count, partial(trials.of, (proposal,))))
        self.console.pass_by("")
        self._say(found, effects)
        if self.asked.json:
            both = enumerate(zip(found, effects, strict=True), start=1)
            told = [_object(number, proposal, each) for number, (proposal, each) in both]
            self.console.say(json.dumps({"loads": told}, ensure_ascii=False))
        return MET

    def _found(self, plan: "Plan | None" = None) -> "tuple[Proposal, ...]":
        from scheduler.loads import proposals

        return proposals(self.book, self.now, pieces_most=self.most, plan=plan)

    def _trying(self, number: int, count: int, work: Callable[[], Made]) -> Made:
        self.console.pass_by(self.words.say(say.TRYING, number=number, count=count))
        return work()

    def _say(self, found: "Sequence[Proposal]", effects: "Sequence[Effect | None]") -> None:
        words, console = self.words, self.console
        if not found:
            console.say(words.say(say.NONE))
            return
        number = words.number_word(len(found))
        console.say(words.say(say.HEAD, count=len(found), number=number))
        for index, (proposal, each) in enumerate(zip(found, effects, strict=True), start=1):
            console.say()
            first = words.say(say.NUMBERED, number=index)
            console.wrapped(say.loads_line(words, proposal), indent=_INDENT, first=first.ljust(4))
            job = words.names.of("job", proposal.job)
            lines = [say.booth_line(words, proposal), *say.effect_lines(words, each, job)]
            console.wrapped(" ".join(lines), indent=_INDENT)
        console.say()
        console.say(words.say(say.TAKE))

    def take(self, path: Path, kept: Keeping) -> int:
        """Take what was asked for and write the book; say what it comes to."""
        found = self._found()
        chosen = _chosen(self.asked.take, found)
        book = self._with(chosen)
        kept.keep(book)
        for proposal in chosen:
            line = say.loads_line(self.words, proposal)
            self.console.wrapped(self.words.say(say.TAKEN, load=line))
        self.console.say(self.words.say(say.KEPT, path=path, revision=book.revision))
        told = self._together(chosen)
        lines = [self.words.say(say.TOGETHER), *say.effect_lines(self.words, told)]
        self.console.wrapped(" ".join(lines))
        if self.asked.json:
            numbers = [found.index(proposal) + 1 for proposal in chosen]
            all_told = {"taken": numbers, "revision": book.revision, **_in_plan(told)}
            self.console.say(json.dumps(all_told, ensure_ascii=False))
        return MET

    def _together(self, chosen: "Sequence[Proposal]") -> "Effect | None":
        from scheduler.load_effects import Trials

        trials = self._trying(1, 2, lambda: Trials(self.book, self.now))
        told = self._trying(2, 2, lambda: trials.of(chosen))
        self.console.pass_by("")
        return told

    def _with(self, chosen: "Sequence[Proposal]") -> Book:
        from scheduler.loads import take

        book = self.book
        for proposal in chosen:
            try:
                book = take(book, proposal)
            except NoLoad as trouble:
                facts = {key: str(fact) for key, fact in trouble.facts.items()}
                names = {key: self.words.names.of("step", fact) for key, fact in facts.items()}
                raise Usage(trouble.code, **names) from None
        return book


def _chosen(words: Sequence[str], found: "Sequence[Proposal]") -> "list[Proposal]":
    """Return the proposals that were meant, each once, in the order of the list."""
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


def _object(number: int, proposal: "Proposal", told: "Effect | None") -> dict[str, object]:
    """Give a proposal and what it saves as an object for programs."""
    return {
        "number": number,
        **asdict(proposal),
        "booth_minutes": proposal.booth_minutes,
        **_in_plan(told),
        "earlier_minutes": None if told is None else told.earlier_minutes,
    }


def _in_plan(told: "Effect | None") -> dict[str, object]:
    return {
        name: None if told is None else getattr(told, name)
        for name in ("floor_minutes", "missed_count", "placed_count")
    }
