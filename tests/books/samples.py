"""The sample books, in scenarios of our own with invented people.

`python -m tests.books sample --name NAME OUT` writes them again.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, OtherWork, Place, PlaceKind, Segment, Standing
from shared.edits import copy_route
from shared.ids import PersonId, PlaceId
from shared.routes import Names, program_route
from tests.books.commissions import PIECES, at, two_days
from tests.books.crossing import crossing
from tests.books.enquired import rush
from tests.books.route_samples import ROUTE_SAMPLES, first_revision
from tests.books.shops import HALLS, commissioned, driven, made_by, piece, shop

SKIN = Decimal("1.4")
"""Skin of a piece against half the surface of its box: common practice, no source."""
SEAM = Decimal(2)


def small() -> Book:
    """Make a library's owl of four segments, in a way of making of the workshop's own."""
    book = shop("Copse Lane workshop", 5, "1")
    basic = program_route("hollow")
    assert basic is not None
    book = copy_route(book, basic, Names(places=HALLS)).book
    parts = (
        piece("owl", "Head", ("1.2", "1", "0.9"), "4.2", "3.8"),
        piece("owl", "Body", ("1.6", "1.3", "1.1"), "6.6", "6.2"),
        piece("owl", "Left wing", ("1.6", "0.8", "0.5"), "3.4", "2.6"),
        piece("owl", "Right wing", ("1.6", "0.8", "0.5"), "3.4", "2.6"),
    )
    held = two_days(date(2027, 4, 13))
    book = commissioned(book, "owl", "Reading owl", "Brambleford library", held, parts)
    book = made_by(book, "owl", "hollow", crew=("dilys", "edda"))
    return first_revision(driven(book, "owl", 150, 210))


def sized(job: str, names: tuple[str, ...], rng: Random) -> tuple[Segment, ...]:
    """Give each named segment a size from a door's to a van's."""
    made = []
    for name in names:
        length = Decimal(rng.randrange(12, 23)) / 10
        width = Decimal(rng.randrange(8, 15)) / 10
        height = Decimal(rng.randrange(6, 14)) / 10
        skin = SKIN * (length * width + width * height + length * height)
        seam = SEAM * (width + height)
        box = (str(length), str(width), str(height))
        made.append(piece(job, name, box, f"{skin:.1f}", f"{seam:.1f}"))
    return tuple(made)


TIGHT = (
    ("snail", date(2027, 3, 15), "Brambleford library", ("goran", "hilde")),
    ("acorn", date(2027, 4, 13), "Elder Row school", ("dilys", "cato")),
    ("moon", date(2027, 4, 29), "Foundry hall", ("goran", "hilde")),
    ("plant", date(2027, 5, 14), "Mill market", ("dilys", "cato")),
)
"""Jobs of the tight sample: word, first day of the window, client, who travels."""


def tight() -> Book:
    """Make four jobs for a workshop of eight, one of whose windows holds only just."""
    book = shop("Tannery Yard", 8, "1.4")
    rng = Random(11)
    for index, (word, day, client, crew) in enumerate(TIGHT):
        name, parts = next((n, p) for w, n, p in PIECES if w == word)
        held = two_days(day)
        book = commissioned(book, word, name, client, held, sized(word, parts[:4], rng))
        book = made_by(book, word, "hollow", crew=crew)
        book = driven(book, word, 120 + 45 * index, 180 + 30 * index)
    cleaning = OtherWork(
        id="booth-filters",
        name="booth filters",
        start=at(date(2027, 3, 1), 7, 30),
        end=at(date(2027, 3, 1), 16),
        people=(PersonId("cato"),),
        places=(PlaceId("booth"),),
    )
    return first_revision(replace(book, other_work=(cleaning,)))


SECOND_BOOTH = Place(
    id=PlaceId("booth-2"),
    name="Small booth",
    kind=PlaceKind.BOOTH,
    whole=True,
    clear_out_minutes=30,
)


def full() -> Book:
    """Make twelve jobs of about a thousand stages for a workshop of twelve."""
    book = shop("Copse Lane works", 12, "2.5")
    book = replace(book, places=(*book.places, SECOND_BOOTH))
    rng = Random(5)
    crews = (("goran", "kofi"), ("edda", "hilde"), ("cato", "mirek"), ("ivo", "leila"))
    known = {str(person.id) for person in book.people}
    for index, (word, name, parts) in enumerate(PIECES[:12]):
        opens = date(2027, 4, 20) + timedelta(days=9 * index)
        standing = Standing.PENCILLED if index == 9 else Standing.FIRM
        book = commissioned(
            book, word, name, f"{name}'s client", two_days(opens, 3), sized(word, parts, rng),
            answer_days=(10, 5, 10)[index % 3], standing=standing,
        )  # fmt: skip
        crew = tuple(person for person in crews[index % 4] if person in known)
        book = made_by(book, word, "hollow", crew=crew)
        book = driven(book, word, 60 + 30 * (index % 7), 150 + 30 * (index % 5))
    jobs = tuple(
        replace(job, pencilled_until=date(2027, 3, 12))
        if job.standing is Standing.PENCILLED
        else job
        for job in book.jobs
    )
    return first_revision(replace(book, jobs=jobs))


def impossible() -> Book:
    """Make a job whose window shuts before its cures and its client's days could run."""
    book = shop("Foundry Street", 5, "1")
    pear = (
        piece("pear", "Upper half", ("1.7", "1.5", "1.2"), "7", "5"),
        piece("pear", "Lower half", ("1.8", "1.6", "1.3"), "7.6", "5"),
    )
    shells = (
        piece("acorn", "Cup", ("1.3", "1.3", "0.7"), "4.4", "4"),
        piece("acorn", "Nut", ("1.4", "1.2", "1.2"), "5.2", "4"),
    )
    crew = ("dilys", "edda")
    early, late = two_days(date(2027, 2, 16)), two_days(date(2027, 5, 11))
    book = commissioned(book, "pear", "Market pear", "Mill market", early, pear)
    book = driven(made_by(book, "pear", "hollow", crew=crew), "pear", 180, 240)
    book = commissioned(book, "acorn", "Acorn seats", "Elder Row school", late, shells)
    book = driven(made_by(book, "acorn", "hollow", crew=crew), "acorn", 180, 240)
    return first_revision(book)


SAMPLES: dict[str, Callable[[], Book]] = {
    "small": small,
    "tight": tight,
    "full": full,
    "impossible": impossible,
    **ROUTE_SAMPLES,
    "crossing": crossing,
    "rush": rush,
}
