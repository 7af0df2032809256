"""`countback make`: a way of making written into a job, for some of its segments."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.keeping import Keeping, locked
from app.cli.routes import route_asked
from app.cli.run import MET, REFUSED
from app.words import routes as say
from shared.book import Book, Job, Kind, Route, Segment, Stage
from shared.edits import take_route
from shared.errors import DiskError
from shared.examine import examine
from shared.ids import PersonId, PlaceId
from shared.routes import PROGRAM_ROUTES, Names, unknown_words

ALL = "all"
ESTIMATED = "measure_missing"
"""The finding of a size that isn't written down."""


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0])
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        return _run(asked, console, path, kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meant:
    """What was asked for, found in the book."""

    job: Job
    segments: tuple[Segment, ...]
    route: Route
    names: Names


def _run(asked: Asked, console: Console, path: Path, kept: Keeping) -> int:
    read = load_book(path)
    if read.book is None:
        words = words_for(read.whole)
        say_findings(console, words, read.findings)
        console.say(words.say(say.NOT_WRITTEN))
        return REFUSED
    book, meant = read.book, _meant(asked, read.book)
    chosen = [segment.id for segment in meant.segments]
    made = take_route(
        book, meant.job.id, chosen, meant.route, options=asked.options, names=meant.names
    ).book
    words = words_for(made)
    before = {(each.code, each.facts) for each in examine(book)}
    new = tuple(each for each in examine(made) if (each.code, each.facts) not in before)
    if any(each.stops for each in new):
        say_findings(console, words, new)
        console.say(words.say(say.NOT_WRITTEN))
        return REFUSED
    kept.keep(made)
    _tell(console, path, meant, book, made)
    estimated = tuple(each for each in new if each.code == ESTIMATED)
    if estimated:
        say_findings(console, words, estimated)
    return MET


def _tell(console: Console, path: Path, meant: _Meant, book: Book, made: Book) -> None:
    words = words_for(made)
    job = next(each for each in made.jobs if each.id == meant.job.id)
    told = {
        "count": len(job.steps) - len(meant.job.steps),
        "job": job.name,
        "route": meant.route.name,
        "segments": words.both(segment.name for segment in meant.segments),
    }
    console.wrapped(words.say(say.MADE, path=path, revision=made.revision, **told))
    strange = unknown_words(book, meant.route, meant.names)
    if strange:
        console.wrapped(words.say(say.LEFT_OUT, words=words.both(strange)))


def _meant(asked: Asked, book: Book) -> _Meant:
    job = _job(book, asked.words[1])
    segments = _segments(job, asked.words[2:])
    route = route_asked(book, asked.route or PROGRAM_ROUTES[0])
    for option in asked.options:
        if option not in route.options:
            known = ", ".join(route.options)
            raise Usage("unknown_route_option", word=option, route=route.id, options=known)
    _refuse_made(job, segments)
    return _Meant(job=job, segments=segments, route=route, names=names_asked(asked, book))


def _job(book: Book, word: str) -> Job:
    found = [job for job in book.jobs if word in (job.id, job.name)]
    if len(found) != 1:
        raise Usage("unknown_job", word=word, jobs=", ".join(job.id for job in book.jobs))
    return found[0]


def _segments(job: Job, typed: Iterable[str]) -> tuple[Segment, ...]:
    chosen: dict[str, Segment] = {}
    for word in typed:
        found = [s for s in job.segments if word in (s.id, s.name, ALL)]
        if not found:
            known = ", ".join(segment.id for segment in job.segments)
            raise Usage("unknown_segment", word=word, job=job.name, segments=known)
        chosen |= {segment.id: segment for segment in found}
    return tuple(chosen.values())


def _refuse_made(job: Job, segments: tuple[Segment, ...]) -> None:
    """Refuse to write the making of a segment twice."""
    made = {each for step in job.steps if isinstance(step, Stage) for each in step.segments}
    for segment in segments:
        if segment.id in made:
            raise Usage("segment_made", segment=segment.name)


def names_asked(asked: Asked, book: Book) -> Names:
    """Give what a workshop calls what a way of making speaks of; raises Usage."""
    places: dict[Kind, tuple[PlaceId, ...]] = {}
    for word, typed in _pairs(asked.places, "--in"):
        known = [place.id for place in book.places]
        wanted = tuple(PlaceId(each) for each in typed.split(","))
        strange = next((place for place in wanted if place not in known), None)
        if strange is not None:
            raise Usage("unknown_place", word=strange, places=", ".join(known))
        if word not in {kind.value for kind in Kind}:
            raise Usage("unknown_kind", word=word, kinds=", ".join(kind.value for kind in Kind))
        places[Kind(word)] = wanted
    crew = tuple(PersonId(each) for each in asked.crew)
    people = [person.id for person in book.people]
    nobody = next((person for person in crew if person not in people), None)
    if nobody is not None:
        raise Usage("unknown_person", word=nobody, people=", ".join(people))
    return Names(words=dict(_pairs(asked.called, "--as")), places=places, crew=crew)


def _pairs(typed: Iterable[str], option: str) -> list[tuple[str, str]]:
    pairs = []
    for text in typed:
        word, sign, meant = text.partition("=")
        if not (word and sign and meant):
            raise Usage("no_pair", word=text, option=option)
        pairs.append((word, meant))
    return pairs
