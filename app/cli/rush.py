"""`countback rush`: an enquiry beside the book, what it does and costs, and when it could be."""

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from app import clock
from app.cli.arguments import Asked, Usage
from app.cli.books import Json, load_book, words_for
from app.cli.console import Console
from app.cli.enquiries import enquiries_asked
from app.cli.findings import say_refused
from app.cli.moments import now_of
from app.cli.run import MET, MISSED
from app.cli.rush_object import rush_object
from app.words import Words, owner_rush, shell
from app.words import levers as levers_say
from app.words import rush as say
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from shared.book import Book, Job, Standing
from shared.examine import examine
from shared.files.disk import load
from shared.files.read import Read, read_book
from shared.files.write import write_book
from shared.findings import Finding
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.rush import Rush

USUAL_SECONDS = 10
_INDENT = "    "
_GAP = "  "


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    found = _with_enquiry(read.book, asked.words[1])
    if not isinstance(found, tuple):
        return _refused(asked, console, words_for(found.whole or read.book), found.findings)
    book, job = found
    if job.held_window is None:
        raise Usage("no_window_held", job=job.name)
    stopping = tuple(each for each in examine(book) if each.stops)
    if stopping:
        return _refused(asked, console, words_for(book), stopping)
    from scheduler.rush import rush

    now, is_own = now_of(asked, book)
    words = words_for(book)
    started = clock.ticks()

    def first(without: Outcome, with_: Outcome) -> None:
        _say_first(console, words, job, without, with_)

    request = SolveRequest(
        book=book, now=now, seconds=asked.number("seconds", USUAL_SECONDS), workers=1
    )
    answer = rush(request, job.id, on_first=first, clock=clock.ticks)
    seconds = clock.ticks() - started
    _say(console, words, answer, seconds)
    moment = words.moment(now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    if asked.json:
        told = rush_object(words, answer, seconds)
        console.say(json.dumps(told, ensure_ascii=False))
    return MET if answer.wished.taking.value in ("take", "only_just") else MISSED


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    fields = ("verdict", "without", "with", "earliest_honest_date")
    nothing: Json = {**dict.fromkeys(fields), **owner_rush.least_object(None)}
    return say_refused(asked, console, words, found, shell.NOT_PLANNED, nothing)


def _with_enquiry(book: Book, word: str) -> tuple[Book, Job] | Read:
    """Give the book with the enquiry that is meant: one of its own, or the job of a file.

    Raises
    ------
    Usage, DiskError
        If a word means none of the book's enquiries and is no file either, or the file holds no
        job.
    """
    path = Path(word)
    if not path.is_file():
        (job_id,) = enquiries_asked(book, (word,))
        return book, next(job for job in book.jobs if job.id == job_id)
    try:
        made = json.loads(load(path))
    except (ValueError, RecursionError):
        raise Usage("not_a_job", path=word) from None
    if not isinstance(made, dict) or "id" not in made or "steps" not in made:
        raise Usage("not_a_job", path=word)
    if any(job.id == made["id"] for job in book.jobs):
        raise Usage("job_there", job=made["id"])
    whole = json.loads(write_book(book))
    whole.setdefault("jobs", []).append({**made, "standing": Standing.ENQUIRY.value})
    read = read_book(json.dumps(whole).encode())
    if read.book is None:
        return read
    return replace(read.book, revision=book.revision), read.book.jobs[-1]


def _say_first(console: Console, words: Words, job: Job, without: Outcome, with_: Outcome) -> None:
    """Say the first look beside the answer, where somebody waits for it."""
    told = next(each for each in with_.jobs if each.id == job.id)
    console.tell(
        words.say(
            say.FIRST,
            job=job.name,
            with_it=words.verdict_line(told),
            without=words.book_line(without.jobs),
        )
    )


def _say(console: Console, words: Words, found: "Rush", seconds: float) -> None:
    today = local_date(found.with_.outcome.now, words.zone)
    console.wrapped(console.strong(say.head_line(words, found, round(seconds))))
    console.say()
    console.say(words.say(say.HEAD, job=found.job.name))
    for line in say.side_lines(words, found):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    console.say()
    console.wrapped(say.honest_line(words, found, today))
    _say_ways(console, words, found)
    console.say()
    console.wrapped(words.say(say.CLIENT, text=say.client_text(words, found, today)))
    console.say()
    console.say(words.say(owner_rush.TITLE))
    for line in owner_rush.pricing_lines(words, found.wished.pricing):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    for promise in found.promises:
        if promise is not found.wished:
            line = say.promise_line(words, found, promise, today)
            line = owner_rush.with_least(words, line, promise.pricing)
            console.wrapped(line, indent=_INDENT, first=_GAP)
    console.say()
    console.wrapped(words.check_line(found.with_.outcome.check))


def _say_ways(console: Console, words: Words, found: "Rush") -> None:
    ways = found.ways
    if ways is None:
        return
    today = local_date(found.with_.outcome.now, words.zone)
    for number, way in enumerate(ways.ways, 1):
        console.wrapped(levers_say.way_line(words, way, number, ways.at_least), first=_GAP)
        for lever in way.levers:
            console.wrapped(levers_say.lever_line(words, lever, today), indent=_INDENT)
    if not ways.ways:
        count = len(ways.levers)
        template = levers_say.NO_LEVERS if not count else levers_say.NONE_FOUND
        console.wrapped(words.say(template, count=count, number=words.number_word(count)))
