"""`countback away`: somebody or something is away; ranked answers, and one of them taken."""

import json
from datetime import date, datetime, timedelta
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.enquiries import enquiries_asked
from app.cli.findings import say_refused
from app.cli.keeping import locked_if
from app.cli.meant import away_meant
from app.cli.moments import instant_typed, now_of
from app.cli.plan import USUAL_WORKERS
from app.cli.run import MET, MISSED
from app.told_json import answers_object
from app.words import away as say
from app.words.verdicts import is_met
from scheduler.away.hits import steps_with
from scheduler.away.search import answers
from scheduler.away.values import Answer, Answers
from scheduler.request import SolveRequest
from shared.absence import Absence, AwayKind
from shared.book import Book
from shared.errors import DiskError
from shared.ids import MaterialId
from shared.worktime.zones import local_date

USUAL_SECONDS = 3
_INDENT = "     "
_GAP = "   "
_A_DAY = timedelta(days=1)


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
        book = read.book
        now, _ = now_of(asked, book)
        found = _found(asked, book, now)
        taken = None if number is None else _taken(found, number)
        if taken is not None and kept is not None:
            kept.keep(taken.book)
    return _said(asked, console, (path, book), found, number)


def _found(asked: Asked, book: Book, now: datetime) -> Answers:
    request = SolveRequest(
        book=book,
        now=now,
        asked=enquiries_asked(book, asked.enquiries),
        seconds=asked.number("seconds", USUAL_SECONDS),
        workers=asked.number("workers", USUAL_WORKERS),
    )
    return answers(request, _absence(asked, book, now))


def _absence(asked: Asked, book: Book, now: datetime) -> Absence:
    kind, what = away_meant(book, asked.words[1])
    zone = book.workshop.zone
    start = max(now, instant_typed(asked.words[2], zone))
    end = instant_typed(asked.words[3], zone)
    if _is_day(asked.words[3]):
        end = instant_typed((end.date() + _A_DAY).isoformat(), zone)
    if end <= start:
        raise Usage("away_ends_first", start=asked.words[2], end=asked.words[3])
    is_late = kind is AwayKind.DELIVERY
    steps = steps_with(book, MaterialId(what)) if is_late else ()
    return Absence(kind=kind, id=what, start=start, end=end, steps=steps)


def _is_day(word: str) -> bool:
    try:
        date.fromisoformat(word)
    except ValueError:
        return False
    return True


def _taken(found: Answers, number: int) -> Answer:
    """Return the answer of a number; raises Usage."""
    if number > len(found.answers):
        raise Usage("no_such_answer", word=number, count=len(found.answers))
    return found.answers[number - 1]


def _said(
    asked: Asked, console: Console, named: tuple[Path, Book], found: Answers, number: int | None
) -> int:
    path, book = named
    words = words_for(book)
    today = local_date(found.now, words.zone)
    console.wrapped(console.strong(say.who_line(words, found.absence, today)))
    console.wrapped(say.hits_title(words, found))
    for line in say.hit_lines(words, found.hits, today):
        console.wrapped(line, indent=_INDENT, first=_GAP)
    if found.hits and not found.told:
        console.wrapped(words.say(say.NO_SHEET))
    if found.stuck:
        console.wrapped(words.say(say.STUCK))
    for at, answer in enumerate(found.answers, 1):
        console.say()
        console.wrapped(say.answer_line(words, answer, at))
        then = words_for(answer.book)
        for line in (
            *say.answer_lines(then, found, answer, today),
            *say.verdict_lines(then, found, answer),
        ):
            console.wrapped(line, indent=_INDENT, first=_GAP)
    console.say()
    taken = None if number is None else found.answers[number - 1]
    if taken is not None:
        facts = {"number": number, "path": path, "revision": taken.book.revision}
        console.wrapped(words.say(say.TAKEN, **facts))
        if taken.book.told is not None:
            console.wrapped(words.say(say.TOLD_NOW, sheet=taken.book.told.sheet_number))
    elif found.answers:
        console.wrapped(words.say(say.TRIED))
    if asked.json:
        console.say(json.dumps(answers_object(found, taken=number), ensure_ascii=False))
    jobs = (taken or found.answers[0]).jobs if found.answers else ()
    return MET if found.answers and all(is_met(job) for job in jobs) else MISSED
