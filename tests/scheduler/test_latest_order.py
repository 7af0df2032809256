"""By when the first order must go out, counted back by hand."""

from dataclasses import replace
from decimal import Decimal

from scheduler.latest_order import latest_orders
from shared.book import Book, Kind, MaterialKind, MaterialNeed
from shared.ids import JobId, MaterialId
from tests.builders import a_book, a_gate, a_job, a_material, a_stage, a_supplier, a_window, on
from tests.scheduler.normals import solved

HERON = JobId("heron")


def a_carving() -> Book:
    """Give carving that starts at the latest on Thursday 29 January, and foam that it takes.

    8 h x 8 / 6.5 = 9.846 h: 40 quarters back from Friday's last shift, which has 32 of them.
    """
    foam = (MaterialNeed(material=MaterialId("foam"), quantity=Decimal(2)),)
    job = a_job(
        steps=(a_stage("carve", kind=Kind.FOAM, materials=foam), a_gate()),
        windows=(a_window(start="2026-01-05 00:00", end="2026-01-30 18:00"),),
    )
    material = replace(a_material("foam"), kind=MaterialKind.FOAM, unit="m3")
    return a_book(job, suppliers=(a_supplier(),), materials=(material,))


def test_the_first_order_goes_out_so_long_before_the_latest_start() -> None:
    book = a_carving()
    outcome = solved(book)
    (job,) = outcome.jobs
    (order,) = latest_orders(book, outcome, HERON)

    assert job.latest_start is not None
    assert job.latest_start.date() == on("2026-01-29")
    assert order.dates.need == on("2026-01-29")
    assert order.dates.receive_by == on("2026-01-28")
    # Monday to Wednesday are its three working days to the dispatch, which arrives at once.
    assert order.dates.order_by == on("2026-01-23")


def test_nothing_is_ordered_for_a_job_without_material_or_that_is_not_there() -> None:
    book = a_carving()
    outcome = solved(book)

    assert latest_orders(replace(book, materials=()), outcome, HERON) == ()
    assert latest_orders(book, outcome, JobId("goose")) == ()
