"""`countback tell`: a plan becomes the one that people were told, and who is told what is said."""

import json
from datetime import datetime
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, load_plan, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked
from app.cli.moments import instant_typed
from app.cli.run import BROKEN, MET
from app.told_json import changes_object
from app.words import Words
from app.words import changes as say
from scheduler.check import check, made_from_matches
from scheduler.outcome import Breach
from scheduler.rules import Rule
from scheduler.told_changes import Changes, told_changes
from shared.book import Book
from shared.edits import Edited, tell_plan
from shared.errors import DiskError
from shared.findings import Finding
from shared.plan import Plan
from shared.worktime.zones import local_date

_INDENT = "    "
_GAP = "  "


def run(asked: Asked, console: Console) -> int:
    path, plan_path = (Path(word) for word in asked.words)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        read, read_plan = load_book(path), load_plan(plan_path)
        words = words_for(read.book or read.whole)
        if read.book is None or read_plan.plan is None:
            stopping = read.findings if read.book is None else read_plan.findings
            return _refused(asked, console, words, stopping)
        book, plan = read.book, read_plan.plan
        _check_belongs(book, plan)
        now = instant_typed(asked.now, book.workshop.zone) if asked.now else plan.now
        broken = _broken(book, plan, now)
        if broken:
            return _not_told(asked, console, words, broken)
        changes = told_changes(book, plan, now)
        edited = tell_plan(book, plan, now, asked.by or "")
        kept.keep(edited.book)
    return _said(asked, console, (path, book), edited, changes, now)


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(asked, console, words, found, say.NOT_TOLD, {"told": False})


def _check_belongs(book: Book, plan: Plan) -> None:
    """Refuse a plan of another state of the book: people would be told what isn't so."""
    if not made_from_matches(book, plan):
        made = plan.made_from.revision
        raise Usage("plan_of_another", made=made, revision=book.revision)


def _broken(book: Book, plan: Plan, now: datetime) -> list[Breach]:
    """Return what a plan breaks; that it tells otherwise for today and tomorrow is meant."""
    found = check(book, plan, now=now).breaches
    return [each for each in found if each.rule != Rule.TOLD.value]


def _not_told(asked: Asked, console: Console, words: Words, broken: list[Breach]) -> int:
    console.wrapped(console.alarm(words.say(say.BROKEN, count=len(broken))))
    for breach in broken:
        console.wrapped(words.breach(breach), indent=_INDENT, first=_GAP)
    if asked.json:
        rules = [breach.rule for breach in broken]
        console.say(json.dumps({"told": False, "breaches": rules}, ensure_ascii=False))
    return BROKEN


def _said(
    asked: Asked,
    console: Console,
    before: tuple[Path, Book],
    edited: Edited,
    changes: Changes,
    now: datetime,
) -> int:
    path, was = before
    book = edited.book
    words = words_for(book)
    assert book.told is not None
    today = local_date(now, words.zone)
    console.wrapped(say.told_line(words, book.told))
    if was.told is None:
        console.wrapped(words.say(say.FIRST_SHEET))
    else:
        console.say()
        console.wrapped(say.title(words, was.told, changes))
        for line in say.change_lines(words, changes, today):
            console.wrapped(line, indent=_INDENT, first=_GAP)
        console.say()
    console.wrapped(words.say(say.KEPT, path=path, revision=book.revision))
    if asked.json:
        told = {
            "told": True,
            "revision": book.revision,
            "sheet_number": book.told.sheet_number,
            "changes": changes_object(was, changes),
        }
        console.say(json.dumps(told, ensure_ascii=False))
    return MET
