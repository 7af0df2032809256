"""`countback move`: a window moved, tried before it is taken, with all the calls that it makes."""

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked_if
from app.cli.legs import job_asked
from app.cli.moments import instant_typed, now_of
from app.cli.move_object import move_object
from app.cli.report import plan_object
from app.cli.trying import Json, exit_code, say_verdict, solved_book
from app.moved import Moved, moved, moving
from app.words import Words, repairs
from app.words import move as say
from shared.book import Book, Job
from shared.errors import DiskError
from shared.examine import examine
from shared.findings import Finding
from shared.notices.calling import total_cost
from shared.worktime.zones import local_date

_INDENT = "    "
_GAP = "  "


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked_if(path, asked, asked.is_taken) as kept:
        read = load_book(path)
        if read.book is None:
            return _refused(asked, console, words_for(read.whole), read.findings)
        book = read.book
        job = job_asked(book, asked.words[1])
        start, end = (instant_typed(word, job.site.zone) for word in asked.words[2:4])
        if job.held_window is None:
            raise Usage("no_window_held", job=job.name)
        found = _tried(asked, console, book, job, (start, end))
        if not isinstance(found, Moved):
            return _refused(asked, console, words_for(book), found)
        if kept is not None:
            kept.keep(found.edited.book)
    return _said(asked, console, path, found)


def _tried(
    asked: Asked, console: Console, book: Book, job: Job, window: tuple[datetime, datetime]
) -> Moved | tuple[Finding, ...]:
    """Return what the move comes to, or the findings that stand against it."""
    now, _ = now_of(asked, book)
    before = solved_book(asked, console, book, now, job.id)
    edited = moving(book, job, *window, before.outcome.plan, now)
    stopping = tuple(each for each in examine(edited.book) if each.stops)
    if stopping:
        return stopping
    after = solved_book(asked, console, edited.book, now, job.id)
    return moved(book, job, edited, (before, after), now)


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    nothing = plan_object(words, None, None)
    told: Json = {"taken": False, "before": nothing, "after": nothing}
    return say_refused(asked, console, words, found, repairs.NOT_WRITTEN, told)


def _said(asked: Asked, console: Console, path: Path, found: Moved) -> int:
    book = found.edited.book
    words = words_for(book)
    now = found.after.outcome.now
    today = local_date(now, words.zone)
    console.wrapped(console.strong(say.head_line(words, found.new, found.was, found.now)))
    console.say()
    say_verdict(console, words, found.before, found.new.id, repairs.BEFORE)
    say_verdict(console, words, found.after, found.new.id, repairs.AFTER)
    _say_others(console, words, found)
    for each in found.stands:
        console.wrapped(say.stands_line(words, each, today))
    for journey in found.undated:
        name = words.names.of("step", journey)
        console.wrapped(words.say(say.UNDATED, journey=name))
    zone = found.new.site.zone
    dates = [
        say.redated_line(
            words, each.what, each.name, each.was, each.now, today, zone if each.is_there else None
        )
        for each in found.redated
    ]
    _listed(console, words.say(say.DATES), dates)
    papers = [say.due_line(words, each.was, each.now, today) for each in found.dues]
    _listed(console, words.say(say.PAPERS), papers)
    calls = [" ".join(say.call_lines(words, each, zone, today)) for each in found.calls]
    _listed(console, words.say(say.CALLS), calls or [words.say(say.NO_CALLS)])
    console.say()
    if calls:
        console.wrapped(say.total_line(words, total_cost(found.calls)))
        console.wrapped(words.say(say.BOOKED_STAYS))
    console.wrapped(words.check_line(found.after.outcome.check))
    facts = {"path": path, "revision": book.revision}
    console.wrapped(words.say(repairs.TAKEN if asked.is_taken else repairs.TRIED, **facts))
    if asked.json:
        told = move_object(words, found, is_taken=asked.is_taken)
        console.say(json.dumps(told, ensure_ascii=False))
    return exit_code(found.after)


def _say_others(console: Console, words: Words, found: Moved) -> None:
    """Say how other jobs stand that stood otherwise before."""
    for told in found.after.outcome.jobs:
        before = found.before.job(told.id)
        if told.id != found.new.id and (before is None or before.verdict is not told.verdict):
            say_verdict(console, words, found.after, told.id, repairs.OTHER)


def _listed(console: Console, title: str, lines: Sequence[str]) -> None:
    if not lines:
        return
    console.say()
    console.say(title)
    for line in lines:
        console.wrapped(line, indent=_INDENT, first=_GAP)
