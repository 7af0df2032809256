"""A sample with an enquiry: what it would do to the jobs there are, and what people hold out."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from shared.book import Book, Job, Segment, Standing, Window
from shared.ids import WindowId
from tests.books.commissions import at, two_days
from tests.books.offered import with_offers
from tests.books.route_samples import first_revision
from tests.books.shops import commissioned, driven, made_by, piece, shop

SNAIL = (
    piece("snail", "Shell", ("1.6", "1.2", "1.1"), "6.4", "5"),
    piece("snail", "Body", ("1.8", "0.9", "0.8"), "5.2", "4"),
)
MOON = (
    piece("moon", "Left half", ("1.9", "1.2", "0.9"), "6.8", "5"),
    piece("moon", "Right half", ("1.9", "1.2", "0.9"), "6.8", "5"),
)
BELL = (
    piece("bell", "Crown", ("1.1", "1.1", "0.9"), "4", "4"),
    piece("bell", "Waist", ("1.5", "1.5", "1"), "6.6", "5"),
    piece("bell", "Lip", ("1.7", "1.7", "0.6"), "6", "5"),
)
BEETLE = (
    piece("beetle", "Left case", ("1.7", "0.9", "0.6"), "4.4", "4"),
    piece("beetle", "Right case", ("1.7", "0.9", "0.6"), "4.4", "4"),
    piece("beetle", "Head", ("0.9", "0.9", "0.7"), "2.8", "3"),
)


def rush() -> Book:
    """Make three jobs, one of whose windows is missed as it stands, and a clock beetle asked for.

    Most people offer a Saturday or an evening, two hands could be hired; the beetle's client would
    also take one of two later windows.
    """
    book = shop("Alder Wharf workshop", 7, "1.3")
    book = _job(book, "snail", "Garden snail", "Brambleford library", date(2027, 3, 12), SNAIL)
    book = _job(book, "moon", "Foyer moon", "Foundry hall", date(2027, 3, 17), MOON)
    book = _job(book, "bell", "Harbour bell", "Mill market", date(2027, 3, 8), BELL)
    book = _job(book, "beetle", "Clock beetle", "Elder Row school", date(2027, 3, 30), BEETLE)
    jobs = tuple(_enquiry(job) if job.id == "beetle" else _priced(job) for job in book.jobs)
    return first_revision(with_offers(replace(book, jobs=jobs), 3))


CREWS = {"bell": ("asta", "cato")}
"""Who goes with a journey, where it isn't Dilys and Edda."""


def _job(
    book: Book, job: str, name: str, client: str, opens: date, parts: tuple[Segment, ...]
) -> Book:
    book = commissioned(book, job, name, client, two_days(opens), parts, answer_days=5)
    crew = CREWS.get(job, ("dilys", "edda"))
    return driven(made_by(book, job, "hollow", crew=crew), job, 120, 240)


def _priced(job: Job) -> Job:
    return replace(job, price=Decimal(14000), late_cost_per_day=Decimal(900))


def _enquiry(job: Job) -> Job:
    """Let the beetle be asked for, with two later windows on offer."""
    wished = job.windows[0]
    return replace(
        job,
        standing=Standing.ENQUIRY,
        asked_at=at(date(2027, 1, 15), 11),
        windows=(
            replace(wished, id=WindowId("wished")),
            _later("a-fortnight-later", date(2027, 4, 13)),
            _later("in-may", date(2027, 5, 4)),
        ),
        window=WindowId("wished"),
        price=Decimal(11500),
        late_cost_per_day=Decimal(600),
    )


def _later(name: str, opens: date) -> Window:
    return replace(two_days(opens), id=WindowId(name))
