"""What `countback plan` says beside the plan: orders, dates, rivals, and cautions for programs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from app.words import Words
from app.words import dates as date_words
from app.words import orders as order_words
from shared.book import Book, Kind, Standing
from shared.dates import DateKind, JobDate
from shared.ids import JobId, MaterialId, StepId, SupplierId
from shared.orders import Buying, Dates, Order
from tests.app.cli.shell import a_file, countback
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_material,
    a_stage,
    a_supplier,
    a_window,
    on,
    so_much,
)

TODAY = date(2026, 1, 5)
BESIDE_FIELDS = ["cautions", "buying", "dates", "rivals", "changes", "asks"]
"""Behind those of the plan, in `plan --json`."""


def painted(job: str, hours: int = 8, **changes: Any) -> Any:
    paint = a_stage(f"{job}-paint", Kind.PAINT, hours=hours, materials=(so_much("7.5"),))
    return a_job(
        job, steps=(paint, a_gate(f"{job}-loading"), a_journey(f"{job}-journey")), **changes
    )


def a_bought_book(*jobs: Any) -> Book:
    return a_book(
        *(jobs or (painted("heron", deposit_due=on("2026-01-12")),)),
        materials=(a_material(pack_size=Decimal(5)),),
        suppliers=(a_supplier(),),
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, a_bought_book())


def test_orders_and_dates_stand_with_the_plan(path: Path) -> None:
    said = countback("plan", path, "--seconds", "1")
    lines = said.out.splitlines()

    assert said.code == 0
    orders, dates = lines.index("Orders"), lines.index("Next dates")
    assert lines[orders + 1].startswith("  Mon 29 Dec 2025  Primer, 2 × 5 l (7.5 l needed), from")
    text = " ".join(" ".join(lines[orders:dates]).split())
    assert "It should have gone out four working days ago." in text
    assert "four working days too late. Heron has" in text
    assert lines[dates + 1] == (
        "  Mon 12 Jan  Heron: the deposit is due; nothing is ordered before it is paid."
    )


def test_a_plain_book_has_nothing_beside_its_plan(tmp_path: Path) -> None:
    said = countback("plan", a_file(tmp_path, a_book()), "--seconds", "1", "--json")

    assert "Orders" not in said.out.split("{")[0]
    assert "Next dates" not in said.out
    assert said.last["buying"]["orders"] == []
    assert (said.last["dates"], said.last["rivals"]) == ([], [])


def test_programs_get_the_steps_with_their_cautions(path: Path) -> None:
    said = countback("plan", path, "--seconds", "1", "--json", "--quiet")
    (job,) = said.last["jobs"]
    paint, loading, journey = job["steps"]

    assert (paint["step"], loading["step"]) == ("heron-paint", "heron-loading")
    assert loading["latest_end"] == job["latest_loading"]
    assert paint["cautions"] == [{"id": "no_flame", "places": []}]
    assert journey["latest_start"] is None or journey["step"] == "heron-journey"
    assert set(said.last["cautions"]) == {"no_flame"}
    assert said.last["cautions"]["no_flame"]["source"].startswith("HSE")
    assert said.last["buying"]["orders"][0]["deposit_first"] == ["heron"]
    assert said.last["dates"] == [
        {"job": "heron", "kind": "deposit", "day": "2026-01-12", "is_over": False}
    ]


def test_a_refused_book_has_the_same_fields(tmp_path: Path) -> None:
    said = countback("plan", a_file(tmp_path, a_book(a_job(windows=()))), "--json")

    assert said.code == 2
    assert list(said.last)[-len(BESIDE_FIELDS) - 1 :] == [*BESIDE_FIELDS, "findings"]
    assert (said.last["cautions"], said.last["buying"], said.last["rivals"]) == ({}, None, [])


def test_two_pencilled_jobs_that_can_not_both_be_taken_say_so(tmp_path: Path) -> None:
    start, end = "2026-01-09 07:00", "2026-01-09 19:00"
    jobs = [
        replace(
            painted(job, 16, windows=(a_window(f"{job}-window", start=start, end=end),)),
            standing=Standing.PENCILLED,
            pencilled_until=on("2026-01-30"),
        )
        for job in ("heron", "otter")
    ]
    said = countback("plan", a_file(tmp_path, a_bought_book(*jobs)), "--seconds", "1", "--json")
    text = " ".join(said.out.split())

    assert said.code == 3
    (pair,) = said.last["rivals"]
    names = {each: each.capitalize() for each in ("heron", "otter")}
    job, other = names[pair["job"]], names[pair["other"]]
    assert (
        f"{job} and {other} are both pencilled, and no plan was found that keeps both windows; "
        f"without {other}, {job} keeps its own." in text
    )


# Sentences.


@pytest.mark.parametrize("kind", list(DateKind))
def test_every_kind_of_date_has_its_sentence(kind: DateKind) -> None:
    words = Words("en", book=a_book())
    line = date_words.date_line(words, JobDate(job=JobId("heron"), kind=kind, day=TODAY), TODAY)

    assert line.startswith("Mon 5 Jan  Heron: ")
    assert line.endswith(".")


def test_an_overdue_deposit_and_many_dates() -> None:
    words = Words("en", book=a_book())
    over = JobDate(job=JobId("heron"), kind=DateKind.DEPOSIT, day=on("2026-01-02"), is_over=True)
    lines = date_words.date_lines(words, [over] * 7, TODAY)

    assert lines[0] == (
        "Fri 2 Jan  Heron: the deposit was due and is not paid; nothing is ordered before."
    )
    assert (len(lines), lines[-1]) == (6, "Two more with --json.")


def test_only_orders_of_the_next_two_weeks_stand_with_the_plan() -> None:
    words = Words("en", book=a_bought_book())
    materials = {MaterialId("primer"): a_material(pack_size=Decimal(5))}

    def order(day: str) -> Order:
        dates = Dates(need=on("2026-02-09"), receive_by=on("2026-02-06"), order_by=on(day))
        return Order(
            material=MaterialId("primer"),
            supplier=SupplierId("harbour"),
            jobs=(JobId("heron"),),
            steps=(StepId("heron-paint"),),
            needed=Decimal(7),
            packs=2,
            quantity=Decimal(10),
            cost=None,
            dates=dates,
        )

    def lines(*days: str) -> list[str]:
        found = Buying(orders=tuple(order(day) for day in days))
        return order_words.soon_lines(words, found, materials, TODAY, {})

    assert lines("2026-01-20") == []
    nobody = Buying(orders=(replace(order("2026-01-19"), supplier=None),))
    assert order_words.soon_lines(words, nobody, materials, TODAY, {}) == []
    assert lines("2026-01-19") == ["Mon 19 Jan  Primer, 2 × 5 l (7 l needed), from Harbour."]
    many = lines(*["2026-01-19"] * 6)
    assert (len(many), many[-1]) == (6, "One more with countback orders or --json.")
