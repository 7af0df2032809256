"""Books in the shape of the samples with few and plain steps, for tests of single edits."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, Route, Stage, Standing
from shared.ids import PersonId, RouteId
from tests.books.commissions import PIECES, Commission, at, job, sized, two_days
from tests.books.crew import equipment, people, places, workshop
from tests.books.making import local_van, segment, steps_for

START = date(2027, 1, 18)


def _route() -> Route:
    """Write the basic way of making out for a piece of two metres."""
    piece = segment("route", "piece", ("2", "1.5", "1.5"))
    steps = steps_for("route", (piece,), local_van("route", (), 120, 180))
    bare = tuple(
        replace(s, segments=()) if isinstance(s, Stage) and s.segments else s for s in steps
    )
    return Route(id=RouteId("carved-and-skinned"), name="carved and skinned", steps=bare)


def _book(name: str, crew_count: int, scale: str) -> Book:
    return Book(
        name=name,
        workshop=workshop(name),
        as_of=at(START, 7, 30),
        places=places(Decimal(scale)),
        equipment=equipment(2),
        people=people(crew_count),
        routes=(_route(),),
    )


def _crew(*names: str) -> tuple[PersonId, ...]:
    return tuple(PersonId(name) for name in names)


def small() -> Book:
    """Make a library's owl of four segments for a workshop of five."""
    parts = (
        segment("owl", "Head", ("1.4", "1.2", "1.1")),
        segment("owl", "Body", ("2.4", "1.8", "1.6")),
        segment("owl", "Left wing", ("1.9", "0.9", "0.7")),
        segment("owl", "Right wing", ("1.9", "0.9", "0.7")),
    )
    owl = Commission(
        id="owl",
        name="Reading owl",
        segments=parts,
        crew=_crew("dilys", "edda"),
        client_name="Brambleford library",
        drive_minutes=150,
        fit_minutes=210,
    )
    made = job(owl, two_days(date(2027, 4, 13)))
    return replace(_book("Copse Lane workshop", 5, "1"), jobs=(made,))


def full() -> Book:
    """Make twelve jobs of about six hundred stages for a workshop of twelve."""
    book = _book("Copse Lane works", 12, "2.5")
    rng = Random(5)
    pairs = (("goran", "kofi"), ("edda", "hilde"), ("cato", "mirek"), ("ivo", "leila"))
    known = {p.id for p in book.people}
    jobs = []
    for index, (word, name, parts) in enumerate(PIECES[:12]):
        opens = date(2027, 4, 20) + timedelta(days=14 * index)
        crew = tuple(p for p in _crew(*pairs[index % 4]) if p in known)
        made = Commission(
            id=word,
            name=name,
            segments=sized(word, parts, rng),
            crew=crew,
            client_name=f"{name}'s client",
            answer_days=(10, 5, 10)[index % 3],
            drive_minutes=60 + 30 * (index % 7),
            fit_minutes=150 + 30 * (index % 5),
        )
        standing = Standing.PENCILLED if index == 9 else Standing.FIRM
        until = date(2027, 3, 12) if index == 9 else None
        jobs.append(job(made, two_days(opens, 3), standing=standing, pencilled_until=until))
    return replace(book, jobs=tuple(jobs))


def impossible() -> Book:
    """Make a job whose window shuts before its cures and its client's days could run."""
    book = _book("Foundry Street", 6, "1")
    pear = Commission(
        id="pear",
        name="Market pear",
        segments=(
            segment("pear", "Upper half", ("2.1", "2.0", "1.5")),
            segment("pear", "Lower half", ("2.4", "2.2", "1.6")),
        ),
        crew=_crew("dilys", "femi"),
        client_name="Mill market",
    )
    shells = Commission(
        id="acorn",
        name="Acorn seats",
        segments=(
            segment("acorn", "Cup", ("1.6", "1.6", "0.8")),
            segment("acorn", "Nut", ("1.8", "1.5", "1.5")),
        ),
        crew=_crew("dilys", "femi"),
        client_name="Elder Row school",
    )
    jobs = (job(pear, two_days(date(2027, 2, 16))), job(shells, two_days(date(2027, 5, 11))))
    return replace(book, jobs=jobs)
