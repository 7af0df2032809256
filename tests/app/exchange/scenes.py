"""Plans to give out: of made-up workshops, with private things in them, and with awkward names."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache

from app.exchange.given import Given, given
from app.words import Words
from shared.book import Book, Fact, FactKind, Leave, OtherWork, Person
from shared.edits import tell_plan
from shared.files.write import digest
from shared.ids import FactId, PersonId
from shared.plan import MadeFrom, Plan
from tests.books.shapes import planted_plan
from tests.builders import a_material, a_supplier, so_much

REASON = "broken-arm-4711"
NOTE = "quarrelled-with-the-client-4712"
PRICES = (Decimal("48213.37"), Decimal("61.83"), Decimal("917.19"))
"""What a job brings, what an hour costs, what a day late costs."""
AWKWARD = (
    "=1+1",
    "+49 30 1234",
    "-2+3+cmd|' /C calc'!A0",
    '@SUM(A1:A9);"',
    '<script>alert("x")</script> & co',
    "comma, semicolon; back\\slash\nnew line\ttab",
    "Straße über Ölmühle, 龍の門, 🦉" * 6,
)


def replanned(book: Book, plan: Plan) -> Plan:
    """The plan as one that was made from this very state of the book."""
    return replace(plan, made_from=MadeFrom(revision=book.revision, digest=digest(book)))


def give(book: Book, plan: Plan | None = None, language: str = "en") -> Given:
    wanted = plan or book.plan
    assert wanted is not None
    return given(book, wanted, wanted.now, Words(language, book=book))


@cache
def a_book(seed: int = 4) -> Book:
    """A workshop with a plan of three jobs, somebody who is away, other work, and orders."""
    made = planted_plan(seed)
    assert made.plan is not None
    start = made.now - timedelta(hours=12)
    away = Leave(start=start, end=start + timedelta(days=3), reason=REASON)
    more = Person(id=PersonId("zita"), name="Zita", leave=(away,), rate_per_hour=PRICES[1])
    first = made.book.jobs[0]
    step = first.steps[0]
    with_paint = replace(step, materials=(so_much("7.5"),))  # type: ignore[arg-type]
    job = replace(
        first,
        steps=(with_paint, *first.steps[1:]),
        price=PRICES[0],
        late_cost_per_day=PRICES[2],
    )
    cleaning = OtherWork(
        id="filters",
        name="booth filters",
        start=made.now + timedelta(hours=1),
        end=made.now + timedelta(hours=3),
        people=(PersonId("zita"),),
    )
    fact = Fact(
        id=FactId("note"),
        kind=FactKind.MATERIAL,
        step=first.steps[1].id,
        at=start,
        told_by="Zita",
        note=NOTE,
    )
    book = replace(
        made.book,
        people=(*made.book.people, more),
        jobs=(job, *made.book.jobs[1:]),
        facts=(*made.book.facts, fact),
        other_work=(*made.book.other_work, cleaning),
        materials=(*made.book.materials, a_material(pack_size=Decimal(5))),
        suppliers=(*made.book.suppliers, a_supplier()),
    )
    return replace(book, plan=replanned(book, made.plan))


@cache
def an_awkward_book(seed: int = 4) -> Book:
    """The same with names that other programs could take for something else."""
    book = a_book(seed)
    assert book.plan is not None
    names = [AWKWARD[at % len(AWKWARD)] for at in range(200)]
    changed = replace(
        book,
        jobs=tuple(
            replace(job, name=f"{name}{at}")
            for at, (job, name) in enumerate(zip(book.jobs, names, strict=False))
        ),
        people=tuple(
            replace(one, name=f"{name}{at}")
            for at, (one, name) in enumerate(zip(book.people, names, strict=False))
        ),
        places=tuple(
            replace(one, name=f"{name}{at}")
            for at, (one, name) in enumerate(zip(book.places, names, strict=False))
        ),
        materials=tuple(
            replace(one, name=f"{name}{at}")
            for at, (one, name) in enumerate(zip(book.materials, names, strict=False))
        ),
    )
    return replace(changed, plan=replanned(changed, book.plan))


def told(book: Book) -> Book:
    """The book in whose last edit people were told its plan."""
    assert book.plan is not None
    return tell_plan(book, book.plan, book.plan.now).book


def changed_since(book: Book) -> Book:
    """The book one edit later, with the plan from before."""
    return replace(book, revision=book.revision + 1, name=f"{book.name}, changed")
