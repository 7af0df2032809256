"""`countback orders`: what is said of each order, by which plan, and what programs get."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import Words
from app.words import orders as say
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Kind, MaterialKind
from shared.ids import JobId, MaterialId, StepId, SupplierId
from shared.orders import Buying, Coming, Dates, Order
from tests.app.cli.shell import a_file, countback
from tests.builders import (
    NOW,
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_material,
    a_plan,
    a_stage,
    a_supplier,
    so_much,
)

TODAY, LATER = date(2026, 1, 5), date(2026, 1, 12)


def a_bought_book(**changes: Any) -> Book:
    """Primer for a stage that can begin at once, and cannot be there before Friday."""
    paint = a_stage("heron-paint", Kind.PAINT, materials=(so_much("7.5"),))
    job = a_job(steps=(paint, a_gate("heron-loading"), a_journey("heron-journey")), **changes)
    primer = a_material(pack_size=Decimal(5), pack_price=Decimal("31.50"))
    return a_book(job, materials=(primer,), suppliers=(a_supplier(),))


def kept(book: Book) -> Book:
    """The book with a plan of its own, in which the stage is a week later."""
    later = replace(book, jobs=tuple(replace(job, not_before=LATER) for job in book.jobs))
    plan = solve(SolveRequest(book=later, now=NOW, effort=1)).plan
    return replace(book, plan=replace(plan, made_from=a_plan(book).made_from))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_bought_book())


def test_an_order_is_said_with_its_days_and_its_price(path: Path) -> None:
    before = path.read_bytes()
    said = countback("orders", path, "--seconds", "1", "--json")
    text = " ".join(said.out.split())

    assert said.code == 0
    assert said.err == ""
    assert said.out.startswith(
        "One order. One of them should have gone out already.\n\n  Mon 29 Dec"
    )
    assert "Primer, 2 × 5 l (7.5 l needed), from Harbour." in text
    assert "Here by Fri 2 Jan, for Heron." in text
    assert "Ordered today it comes Thu 8 Jan, four working days too late." in text
    assert "All of it comes to 63 EUR." in text
    assert "By a plan made for this" in text
    (order,) = said.last["orders"]
    assert (order["material"], order["packs"], order["unit"]) == ("primer", 2, "l")
    assert (order["order_by"], order["late_days"]) == ("2025-12-29", 4)
    assert (said.last["cost"], said.last["currency"]) == (63.0, "EUR")
    assert path.read_bytes() == before


def test_the_plan_of_the_book_is_used_while_it_is_of_its_state(tmp_path: Path) -> None:
    book = kept(a_bought_book())
    own = countback("orders", a_file(tmp_path, book), "--json")
    changed = replace(book, name="Another name")
    new = countback("orders", a_file(tmp_path, changed), "--seconds", "1", "--json")

    assert own.last["is_kept"]
    assert own.last["orders"][0]["need"] == "2026-01-12"
    assert "By the plan that the book holds." in own.out
    assert not new.last["is_kept"]
    assert new.last["orders"][0]["need"] == "2026-01-05"


def test_a_broken_plan_in_the_book_is_not_used(tmp_path: Path) -> None:
    book = kept(a_bought_book())
    assert book.plan is not None
    alone = replace(book.plan, placements=book.plan.placements[1:])
    said = countback(
        "orders", a_file(tmp_path, replace(book, plan=alone)), "--seconds", "1", "--json"
    )

    assert not said.last["is_kept"]


def test_as_of_another_moment_other_orders_are_overdue(tmp_path: Path) -> None:
    said = countback("orders", a_file(tmp_path, kept(a_bought_book())), "--now", "2026-01-06T08:00")

    assert "  Tue 6 Jan  Primer" in said.out
    assert "The order goes out today at the latest." in " ".join(said.out.split())


def test_a_book_without_materials_has_nothing_to_order(tmp_path: Path) -> None:
    said = countback("orders", a_file(tmp_path, a_book()), "--seconds", "1", "--json")

    assert said.code == 0
    assert said.out.startswith("Nothing is to be ordered.\n")
    assert (said.last["orders"], said.last["undated"]) == ([], [])


def test_a_book_that_is_not_understood_is_refused(tmp_path: Path) -> None:
    said = countback("orders", a_file(tmp_path, a_book(a_job(windows=()))), "--json")

    assert said.code == 2
    assert said.last["orders"] == []
    assert said.last["findings"][0]["code"] == "job_without_window"


# Sentences.


def an_order(order: dict[str, Any] | None = None, **dates: Any) -> Order:
    usual = Dates(need=date(2026, 1, 19), receive_by=date(2026, 1, 16), order_by=date(2026, 1, 13))
    made = Order(
        material=MaterialId("primer"),
        supplier=SupplierId("harbour"),
        jobs=(JobId("heron"),),
        steps=(StepId("heron-paint"),),
        needed=Decimal("7.50"),
        packs=2,
        quantity=Decimal(10),
        cost=None,
        dates=replace(usual, **dates),
    )
    return replace(made, **(order or {}))


def lines(order: Order, **job: Any) -> str:
    book = a_bought_book(**job)
    jobs = {each.id: each for each in book.jobs}
    return " ".join(say.order_lines(Words("en", book=book), order, jobs, TODAY))


def line(order: Order, **material: Any) -> str:
    words = Words("en", book=a_bought_book())
    return say.order_line(words, order, a_material(**material), TODAY)


def test_packs_blocks_and_what_comes_loose() -> None:
    foam = {"unit": "m3", "kind": MaterialKind.FOAM}

    assert line(an_order(), pack_size=Decimal("5.0")) == (
        "Tue 13 Jan  Primer, 2 × 5 l (7.5 l needed), from Harbour."
    )
    assert line(an_order(), **foam) == "Tue 13 Jan  Primer, 2 blocks (7.5 m³ needed), from Harbour."
    assert line(an_order({"packs": 1}), **foam).endswith("1 block (7.5 m³ needed), from Harbour.")
    assert line(an_order({"packs": None})) == "Tue 13 Jan  Primer, 7.5 l, from Harbour."
    nobody = an_order({"supplier": None, "packs": None}, order_by=None)
    assert line(nobody) == "no day  Primer, 7.5 l; nobody is named who delivers it."


@pytest.mark.parametrize(
    ("order", "dates", "told"),
    [
        ({}, {"order_by": TODAY}, "The order goes out today at the latest."),
        ({}, {"by_age": True}, "The foam's age under the hard coat decides the day."),
        ({}, {"order_by": None}, "No working day of Harbour is early enough."),
        ({"supplier": None}, {"order_by": None}, ""),
        ({"is_rest": True}, {}, "The store has no room for it before work on the rest has begun."),
        ({"cost": Decimal("31.50")}, {}, "Price: 31.50 EUR."),
        (
            {},
            {"made_not_before": date(2026, 1, 10), "not_before": date(2026, 1, 12)},
            "Made no earlier than Sat 10 Jan, so not delivered before Mon 12 Jan.",
        ),
        ({}, {"made_not_before": TODAY, "not_before": TODAY}, ""),
        (
            {},
            {
                "made_not_before": date(2026, 1, 20),
                "not_before": date(2026, 1, 20),
                "is_too_old": True,
            },
            "It is used for longer than it keeps: have what is used last made no earlier than "
            "Tue 20 Jan.",
        ),
        (
            {},
            {"overdue_days": 1, "arrives": date(2026, 1, 8)},
            "It should have gone out a working day ago. Ordered today it comes Thu 8 Jan, still "
            "in time.",
        ),
        (
            {},
            {"overdue_days": 2, "arrives": date(2026, 1, 19), "late_days": 1},
            "It should have gone out two working days ago. Ordered today it comes Mon 19 Jan, a "
            "working day too late.",
        ),
        (
            {},
            {"overdue_days": 2, "arrives": date(2026, 1, 8), "aged": date(2026, 2, 7)},
            "It should have gone out two working days ago. Ordered today the foam is old enough "
            "for its hard coat on Sat 7 Feb, which is too late.",
        ),
    ],
)
def test_what_is_said_of_an_order_besides(
    order: dict[str, Any], dates: dict[str, Any], told: str
) -> None:
    here = "Here by Fri 16 Jan, for Heron."

    assert lines(an_order(order, **dates)) == f"{here} {told}".strip()


@pytest.mark.parametrize(
    ("due", "told"),
    [
        (date(2026, 1, 12), "First the deposit of Heron, due Mon 12 Jan."),
        (date(2026, 1, 14), "First the deposit of Heron, which is due only Wed 14 Jan."),
        (date(2026, 1, 2), "First the deposit of Heron, which was due Fri 2 Jan."),
    ],
)
def test_the_deposit_comes_first(due: date, told: str) -> None:
    order = an_order({"deposit_first": (JobId("heron"),)})

    assert lines(order, deposit_due=due).endswith(told)


@pytest.mark.parametrize(("days", "told"), [(1, "a working day"), (3, "three working days")])
def test_what_is_on_order_and_late_is_said(days: int, told: str) -> None:
    coming = Coming(
        material=MaterialId("primer"),
        job=JobId("heron"),
        step=StepId("heron-paint"),
        quantity=Decimal(4),
        arrives=date(2026, 1, 20),
        receive_by=date(2026, 1, 16),
        late_days=days,
    )
    words = Words("en", book=a_bought_book())

    assert say.coming_line(words, coming, a_material(), TODAY) == (
        f"4 l of Primer on order comes Tue 20 Jan, {told} too late for Heron-paint of Heron."
    )


def test_what_has_no_price_and_no_day_is_counted() -> None:
    words = Words("en", book=a_bought_book())
    priced = an_order({"cost": Decimal("12.25")})

    assert say.total_line(words, Buying(orders=(an_order(),))) == ""
    assert say.total_line(words, Buying(orders=(priced,))) == "All of it comes to 12.25 EUR."
    assert say.total_line(words, Buying(orders=(priced, an_order()))) == (
        "What has a price comes to 12.25 EUR; the price of one order is not known."
    )
    assert say.undated_line(words, (StepId("heron-paint"),)) == (
        "One step takes material and stands in no plan, so nothing is ordered for it: Heron-paint."
    )
    many = tuple(StepId(f"s{number}") for number in range(8))
    assert say.undated_line(words, many).endswith("for them: s0, s1, s2, s3, s4, s5, ….")
