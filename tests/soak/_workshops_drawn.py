"""The book of each round: a shape by its number, the rest by the draw, and what is laid over it.

Twenty rounds one after the other see every shape.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from random import Random

from shared.book import Book, Closure, Leave, Pin, Stage, Standing
from shared.examine import examine
from tests.books.clashes import KINDS, planted_clash
from tests.books.edges import EDGES
from tests.books.edited import done, ill, longer, planned, smaller, sooner
from tests.books.samples import SAMPLES
from tests.books.shapes import SHAPES, Planted
from tests.scheduler.drawn_edits import Question, edited
from tests.scheduler.tried_books import tiny_book

SMALLER = tuple(name for name in SAMPLES if name != "full")
SEEDS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A book to put through everything. planted: None where nothing more is known of it.

    laid: what was laid over its shape, by name.
    """

    kind: str
    book: Book
    planted: Planted | None = None
    laid: tuple[str, ...] = ()


def _of_shape(name: str) -> Callable[[Random], Drawn]:
    def make(draw: Random) -> Drawn:
        planted = SHAPES[name](draw.randrange(SEEDS))
        return Drawn(kind=name, book=planted.book, planted=planted)

    return make


def _of_edge(name: str) -> Callable[[Random], Drawn]:
    return lambda draw: Drawn(kind=name, book=EDGES[name](draw))


def _tried(draw: Random) -> Drawn:
    return Drawn(kind="tried", book=tiny_book(draw.randrange(SEEDS)))


def _clash(draw: Random) -> Drawn:
    kind = draw.choice(sorted(KINDS))
    planted = planted_clash(kind, draw.randrange(SEEDS))
    return Drawn(kind=f"clash-{kind}", book=planted.book, planted=planted)


def _sample(draw: Random) -> Drawn:
    """Give a sample with its windows some days otherwise."""
    name = draw.choice(SMALLER)
    book = SAMPLES[name]()
    jobs = []
    for job in book.jobs:
        by = timedelta(days=draw.choice((-14, -5, 0, 0, 3, 7)))
        windows = (replace(w, start=w.start + by, end=w.end + by) for w in job.windows)
        jobs.append(replace(job, windows=tuple(windows)))
    return Drawn(kind=name, book=replace(book, jobs=tuple(jobs)))


def _far(draw: Random) -> Drawn:
    """Give the sample over the sea, as of another day."""
    book = SAMPLES["crossing"]()
    assert book.as_of is not None
    as_of = book.as_of + timedelta(days=draw.randrange(-10, 40), hours=draw.choice((0, 7)))
    return Drawn(kind="far", book=replace(book, as_of=as_of))


def _told(draw: Random) -> Drawn:
    """Give a book that is planned and told, a little edited since, some days on."""
    shape = draw.choice(("tiny", "tiny", "tiny", "small", "workshop"))
    was = planned(SHAPES[shape](draw.randrange(SEEDS)).book)
    edit = draw.choice((longer, ill, sooner, done, smaller))
    book = edit(was, draw)
    as_of = was.now + timedelta(days=draw.choice((0, 1, 1, 2, 9)), minutes=draw.choice((0, 50)))
    return Drawn(kind="told", book=replace(book, as_of=as_of))


SHAPED: tuple[Callable[[Random], Drawn], ...] = (
    _tried,
    _of_edge("bare"),
    _of_shape("tiny"),
    _of_edge("hands"),
    _clash,
    _of_edge("done"),
    _sample,
    _of_shape("ruled"),
    _of_edge("past"),
    _of_edge("elsewhere"),
    _of_shape("small"),
    _of_edge("bought"),
    _of_shape("workshop"),
    _of_edge("access"),
    _of_shape("planted-plan"),
    _far,
    _of_edge("large"),
    _told,
    _of_shape("planted-impossible"),
    _of_edge("many"),
)


def drawn(seed: int, number: int) -> Drawn:
    """Give the book of a round."""
    draw = Random(f"{seed}/{number}")
    made = SHAPED[number % len(SHAPED)](draw)
    for name, lay in LAID.items():
        if made.planted is None and draw.random() < SHARE:
            made = replace(made, book=lay(made.book, draw), laid=(*made.laid, name))
    return made


SHARE = 0.15


def _shut(book: Book, draw: Random) -> Book:
    """Shut the workshop and the best of the places for a while, and send half the people away."""
    assert book.as_of is not None
    day = book.as_of.date() + timedelta(days=draw.randrange(0, 40))
    shut = Closure(
        first=day, last=day + timedelta(days=draw.choice((0, 4, 13))), name="stocktaking"
    )
    shop = replace(book.workshop, closures=(*book.workshop.closures, shut))
    away = Leave(start=book.as_of, end=book.as_of + timedelta(days=draw.choice((2, 15, 60))))
    crew = tuple(
        replace(one, leave=(*one.leave, away)) if at % 2 else one
        for at, one in enumerate(book.people)
    )
    places = tuple(
        replace(place, closures=(*place.closures, shut)) if at == 0 else place
        for at, place in enumerate(book.places)
    )
    return replace(book, workshop=shop, people=crew, places=places)


ODD_NAMES = ("", "{0}", "100 %s", 'A "quoted" one', "Łódź & Čo", "‮back", "x" * 140, "=1+1", "<b>")


def _odd_names(book: Book, draw: Random) -> Book:
    """Give everything a name that templates, files and tables could stumble over."""

    def odd() -> str:
        return draw.choice(ODD_NAMES)

    jobs = tuple(
        replace(
            job,
            name=odd(),
            client=replace(job.client, name=odd()),
            site=replace(job.site, name=odd()),
            segments=tuple(replace(segment, name=odd()) for segment in job.segments),
            steps=tuple(replace(step, name=odd()) for step in job.steps),
        )
        for job in book.jobs
    )
    return replace(
        book,
        name=odd(),
        jobs=jobs,
        people=tuple(replace(person, name=odd()) for person in book.people),
        places=tuple(replace(place, name=odd()) for place in book.places),
        equipment=tuple(replace(thing, name=odd()) for thing in book.equipment),
    )


def _edited(book: Book, draw: Random) -> Book:
    """Change some things as somebody may; where findings would stop the book, leave it."""
    assert book.as_of is not None
    if not book.jobs or not book.people or not book.places:
        return book
    question = Question(book=book, now=book.as_of)
    for _ in range(draw.randrange(1, 4)):
        question = edited(question, draw)
        if not (question.book.jobs and question.book.people):
            return book
    made = replace(question.book, as_of=question.now)
    return book if any(found.stops for found in examine(made)) else made


def _in_doubt(book: Book, draw: Random) -> Book:
    """Let jobs be asked for or pencilled, and wish for more buffer and surety."""
    assert book.as_of is not None
    until = book.as_of.date() + timedelta(days=draw.randrange(-3, 30))
    jobs = []
    for job in book.jobs:
        standing = draw.choice(tuple(Standing))
        wished = draw.choice((None, Decimal(0), Decimal(9)))
        jobs.append(
            replace(job, standing=standing, pencilled_until=until, wished_buffer_days=wished)
        )
    return replace(book, jobs=tuple(jobs))


def _of_one(book: Book, draw: Random) -> Book:
    """Let stages be done by somebody who is asked for by name, and in one go."""
    if not book.people:
        return book

    def named(stage: Stage) -> Stage:
        if draw.random() < 0.9:
            return stage
        return replace(stage, people=(draw.choice(book.people).id,), in_one_go=True)

    jobs = tuple(
        replace(job, steps=tuple(named(s) if isinstance(s, Stage) else s for s in job.steps))
        for job in book.jobs
    )
    return replace(book, jobs=jobs)


def _pinned(book: Book, draw: Random) -> Book:
    """Nail some stages down: a day, not before, or who does it."""
    assert book.as_of is not None
    now = book.as_of

    def pin(stage: Stage) -> Stage:
        if draw.random() < 0.85 or not book.people:
            return stage
        day = now.date() + timedelta(days=draw.randrange(1, 30))
        pins = (
            Pin(day=day),
            Pin(not_before=now + timedelta(days=draw.randrange(20), hours=5)),
            Pin(people=(draw.choice(book.people).id,)),
            Pin(start=now.replace(hour=10, minute=0) + timedelta(days=draw.randrange(1, 30))),
        )
        return replace(stage, pin=draw.choice(pins))

    jobs = tuple(
        replace(job, steps=tuple(pin(s) if isinstance(s, Stage) else s for s in job.steps))
        for job in book.jobs
    )
    return replace(book, jobs=jobs)


LAID: dict[str, Callable[[Book, Random], Book]] = {
    "shut": _shut,
    "edited": _edited,
    "in doubt": _in_doubt,
    "of one": _of_one,
    "pinned": _pinned,
    "odd names": _odd_names,
}
