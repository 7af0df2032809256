"""`countback levers`: the ways out for a job that misses, and one of them taken."""

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.keeping import locked_if
from app.cli.levers_object import levers_object
from app.cli.meant import job_meant
from app.cli.moments import now_of
from app.cli.plan import USUAL_WORKERS
from app.cli.run import MET, MISSED
from app.words import Words
from app.words import levers as say
from app.words.verdicts import is_met
from scheduler.request import SolveRequest
from shared.book import Book, Job, Standing
from shared.errors import DiskError
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.words.template import Template
    from scheduler.levers.values import WayOut, WaysOut
    from scheduler.outcome import JobOutcome

USUAL_SECONDS = 30
_INDENT = "      "
_GAP = "   "


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    number = None if asked.apply is None else asked.number("apply", 1)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked_if(path, asked, number is not None) as kept:
        read = load_book(path)
        if read.book is None:
            words = words_for(read.whole)
            return say_refused(asked, console, words, read.findings, say.NOT_WRITTEN, {"ways": []})
        job = job_meant(read.book, asked.words[1])
        found = _found(asked, console, read.book, job)
        taken = None if number is None else _taken(found, number)
        if taken is not None and kept is not None:
            kept.keep(taken.book)
    return _said(asked, console, (path, read.book), found, number)


def _found(asked: Asked, console: Console, book: Book, job: Job) -> "WaysOut":
    now, _ = now_of(asked, book)
    request = SolveRequest(
        book=book,
        now=now,
        asked=() if job.standing is Standing.FIRM else (job.id,),
        seconds=asked.number("seconds", USUAL_SECONDS),
        workers=asked.number("workers", USUAL_WORKERS),
    )
    # The solver takes a second to import: only who asks for ways out waits for it.
    from scheduler.levers.search import ways_out

    words = words_for(book)

    def hear(way: "WayOut") -> None:
        console.pass_by(words.say(say.FIRST, price=say.price_text(words, way.price)))

    console.pass_by(words.say(say.LOOKING))
    found = ways_out(request, job.id, on_way=hear)
    console.pass_by("")
    return found


def _taken(found: "WaysOut", number: int) -> "WayOut":
    """Return the way out of a number; raises Usage."""
    if number > len(found.ways):
        raise Usage("no_such_way", word=number, count=len(found.ways))
    return found.ways[number - 1]


def _said(
    asked: Asked, console: Console, named: tuple[Path, Book], found: "WaysOut", number: int | None
) -> int:
    path, book = named
    words = words_for(book)
    today = local_date(found.base.now, words.zone)
    _say_head(console, words, found)
    for at, way in enumerate(found.ways, 1):
        console.say()
        console.wrapped(say.way_line(words, way, at, found.at_least))
        _say_way(console, words, found, way, today)
    if found.free is not None:
        console.say()
        console.wrapped(words.say(say.FREE))
        _say_way(console, words, found, found.free, today)
    console.say()
    if found.levers and not found.is_kept:
        console.wrapped(say.listed_line(words, len(found.levers), found.trials))
    taken = None if number is None else found.ways[number - 1]
    if taken is not None and number is not None:
        facts = {"path": path, "revision": taken.book.revision}
        console.wrapped(words.say(say.TAKEN, number=say.ordinal(words, number), **facts))
    elif found.ways:
        console.wrapped(words.say(say.TRIED))
    if asked.json:
        told = levers_object(words, found, today, taken=number)
        console.say(json.dumps(told, ensure_ascii=False))
    jobs = found.base.jobs if taken is None else taken.jobs
    return MET if all(is_met(job) for job in jobs) else MISSED


def _say_head(console: Console, words: Words, found: "WaysOut") -> None:
    name = words.names.of("job", found.job)
    if found.is_kept:
        console.wrapped(console.strong(words.say(say.KEPT, job=name)))
        return
    console.wrapped(console.strong(words.verdict_line(found.told)))
    if found.ways:
        return
    count = len(found.levers)
    facts = {"count": count, "number": words.number(count)}
    template: Template = say.STUCK if found.stuck else say.NONE_FOUND
    console.wrapped(words.say(template, **facts) if count else words.say(say.NO_LEVERS))


def _say_way(console: Console, words: Words, found: "WaysOut", way: "WayOut", today: date) -> None:
    for lever in way.levers:
        console.wrapped(say.lever_line(words, lever, today), indent=_INDENT, first=_GAP)
    say_line: Callable[[JobOutcome], str] = words_for(way.book).verdict_line
    mine = next(each for each in way.jobs if each.id == found.job)
    console.wrapped(words.say(say.THEN, verdict=say_line(mine)), indent=_INDENT, first=_GAP)
    before = {each.id: each.verdict for each in found.base.jobs}
    others = [
        each
        for each in way.jobs
        if each.id != found.job and is_met(each) and before.get(each.id) is not each.verdict
    ]
    for each in others:
        line = words.say(say.BESIDES, verdict=say_line(each))
        console.wrapped(line, indent=_INDENT, first=_GAP)
