"""`countback legs`: the ready-made legs there are, and one written into a job."""

import json
import re
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import Json, finding_objects, words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.keeping import Keeping, locked
from app.cli.run import MET, REFUSED
from app.words import Words
from app.words import legs as say
from app.words import routes as routes_say
from app.words.brought import in_words
from shared.book import Book, Job, Journey, Leg
from shared.errors import DiskError
from shared.examine import examine
from shared.files.disk import load
from shared.files.read import read_book
from shared.findings import Finding
from shared.journeys import (
    PROGRAM_LEGS,
    ReadyLegs,
    blanks_of,
    known_legs,
    ready_legs,
    sources_of_legs,
)
from shared.trade import figure

_INDENT = "    "
_FIGURE = re.compile(r"\b[A-Z]{2,3}[0-9]+[a-z]?\b")


def run(asked: Asked, console: Console) -> int:
    if not asked.words:
        if asked.called:
            raise Usage("legs_without_job")
        return _listed(asked, console)
    path = Path(asked.words[0])
    if len(asked.words) == 1:
        raise Usage("legs_without_job")
    if not asked.called:
        return _told(asked, console, path)
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        return _written(asked, console, path, kept)


def _listed(asked: Asked, console: Console) -> int:
    words = words_for(None)
    for ready in known_legs():
        _say_ready(console, words, in_words(words, ready))
    if asked.json:
        told = {"legs": [_ready_object(ready) for ready in known_legs()]}
        console.say(json.dumps(told, ensure_ascii=False))
    return MET


def _say_ready(console: Console, words: Words, ready: ReadyLegs) -> None:
    console.wrapped(console.strong(words.say(say.LINE, id=ready.id, name=ready.name)))
    for journey in ready.journeys:
        legs = words.say(say.LISTED, legs=_names(words, journey.legs))
        console.wrapped(legs[:1].upper() + legs[1:], indent=_INDENT)
        if journey.travel:
            travel = words.say(say.TRAVEL, legs=_names(words, journey.travel))
            console.wrapped(travel, indent=_INDENT)
    told = [_figure_text(words, name) for name in _figures(ready)]
    console.wrapped(words.say(say.FIGURES, figures="; ".join(told)), indent=_INDENT)


def _names(words: Words, legs: tuple[Leg, ...]) -> str:
    return ", ".join(say.leg_name(words, leg) for leg in legs)


def _figures(ready: ReadyLegs) -> list[str]:
    asked = " ".join(source.figures for source in sources_of_legs(ready.id))
    return list(dict.fromkeys(_FIGURE.findall(asked)))


def _figure_text(words: Words, figure_id: str) -> str:
    row = figure(figure_id)
    told = {"id": row.id, "name": words.brought(row.name), "unit": row.unit}
    told["source"] = words.brought(row.source)
    return words.say(say.FIGURE, value=words.decimal(f"{row.amount}"), **told)


def _told(asked: Asked, console: Console, path: Path) -> int:
    """Say what legs a job has, and what of them is to be filled in."""
    read = read_book(load(path))
    book, words = read.book, words_for(read.book)
    if book is None:
        say_findings(console, words, read.findings)
        return REFUSED
    job = job_asked(book, asked.words[1])
    for journey in _journeys(job):
        console.wrapped(_journey_line(words, job, journey))
    if not _journeys(job):
        console.say(words.say(say.NO_JOURNEY, job=job.name))
    _say_blanks(console, words, path, job)
    if asked.json:
        console.say(json.dumps(_job_object(words, book, job, ()), ensure_ascii=False))
    return MET


def _journey_line(words: Words, job: Job, journey: Journey) -> str:
    legs = _names(words, journey.legs)
    if not journey.segments:
        return words.say(say.JOURNEY, name=journey.name, legs=legs)
    named = words.both(s.name for s in job.segments if s.id in journey.segments)
    return words.say(say.JOURNEY_OF, name=journey.name, segments=named, legs=legs)


def _written(asked: Asked, console: Console, path: Path, kept: Keeping) -> int:
    from shared.edits import take_legs

    # A journey that is still to be filled in may stop a book, and is written all the same.
    read = read_book(load(path))
    book, words = read.book, words_for(read.book)
    if book is None:
        say_findings(console, words, read.findings)
        console.say(words.say(routes_say.NOT_WRITTEN))
        return REFUSED
    job, ready = job_asked(book, asked.words[1]), in_words(words, _ready_asked(asked))
    _refuse_few(job, ready)
    made = take_legs(book, job.id, ready).book
    job = next(each for each in made.jobs if each.id == job.id)
    before = {(each.code, each.path, each.facts) for each in examine(book)}
    new = tuple(e for e in examine(made) if (e.code, e.path, e.facts) not in before)
    kept.keep(made)
    count = len(_journeys(job))
    told = {"job": job.name, "legs": ready.name, "revision": made.revision}
    number = words.number_word(count)
    console.wrapped(words.say(say.WRITTEN, path=path, count=count, number=number, **told))
    for journey in _journeys(job):
        console.wrapped(_journey_line(words, job, journey))
    _say_blanks(console, words, path, job)
    if asked.json:
        console.say(json.dumps(_job_object(words, made, job, new), ensure_ascii=False))
    return MET


def _say_blanks(console: Console, words: Words, path: Path, job: Job) -> None:
    blanks = [(each, blank) for each in _journeys(job) for blank in blanks_of(each)]
    if not blanks:
        if _journeys(job):
            console.wrapped(words.say(say.FILLED_IN, path=path, job=job.id))
        return
    console.say(words.say(say.TO_FILL_IN))
    for journey, blank in blanks:
        line = say.blank_line(words, journey.name or journey.id, blank)
        console.wrapped(line, indent=_INDENT, first="  ")


def job_asked(book: Book, word: str) -> Job:
    """Give the job of an id or a name; raises Usage."""
    found = [job for job in book.jobs if word in (job.id, job.name)]
    if len(found) != 1:
        raise Usage("unknown_job", word=word, jobs=", ".join(job.id for job in book.jobs))
    return found[0]


def _ready_asked(asked: Asked) -> ReadyLegs:
    word = asked.called[-1]
    found = ready_legs(word)
    if found is None:
        raise Usage("unknown_legs", word=word, legs=", ".join(PROGRAM_LEGS))
    return found


def _refuse_few(job: Job, ready: ReadyLegs) -> None:
    """Refuse to share out fewer pieces than there are journeys."""
    wanted, there = len(ready.journeys), _journeys(job)
    over = there[0].segments if there else ()
    if len(there) < wanted and len(over or job.segments) < wanted:
        raise Usage("too_few_pieces", job=job.name, count=wanted)


def _journeys(job: Job) -> list[Journey]:
    return [step for step in job.steps if isinstance(step, Journey)]


def _ready_object(ready: ReadyLegs) -> Json:
    return {
        "id": ready.id,
        "name": ready.name,
        "journeys": [
            {"id": j.id, "legs": [_leg_object(leg) for leg in j.legs]} for j in ready.journeys
        ],
        "numbers": [
            {"journey": n.step, "field": n.field, "number": n.number, "figures": n.figures}
            for n in sources_of_legs(ready.id)
        ],
    }


def _leg_object(leg: Leg) -> Json:
    return {"kind": leg.kind.value, "name": leg.name, "inside": leg.inside}


def _job_object(words: Words, book: Book, job: Job, found: tuple[Finding, ...]) -> Json:
    return {
        "job": job.id,
        "revision": book.revision,
        "journeys": [
            {
                "id": journey.id,
                "segments": list(journey.segments),
                "legs": [_leg_object(leg) for leg in journey.legs],
                "to_fill_in": [
                    {"what": blank.kind.value, "leg": blank.leg, "name": blank.name}
                    for blank in blanks_of(journey)
                ],
            }
            for journey in _journeys(job)
        ],
        "findings": finding_objects(words, found),
    }
