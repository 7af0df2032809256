"""`countback why`: what it prints, the one object for programs, and a proof kept and followed."""

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.why.day_classes import USUAL
from shared.book import Book, FactKind, Standing
from tests.app.cli.shell import a_file, countback
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_person,
    a_stage,
    a_window,
    at,
    on,
)

FIELDS = ["job", "verdict", "rung", "chain", "anatomy"]
WEEK = "2026-01-30 18:00"


def a_carving(end: str, **changes: object) -> Book:
    """One job of carving, Monday 8:00 to Tuesday 10:00, and one that has all the time."""
    steps = (a_stage("carve"), a_gate())
    first = a_job(steps=steps, windows=(a_window(start="2026-01-05 00:00", end=end),))
    return a_book(first, **changes)


def test_a_job_that_misses_says_what_decides_and_what_its_days_are(tmp_path: Path) -> None:
    said = countback(
        "why", a_file(tmp_path, a_carving("2026-01-06 09:00")), "her", "--seconds", "1", "--json"
    )

    assert said.code == 3
    assert said.out.splitlines()[:4] == [
        "Heron: cannot. Its steps, one after the other, take 1 h too long.",
        "Proved by its own steps, one after the other, in an otherwise empty workshop.",
        "Whatever the plan, loading ends at least 1 h too late then.",
        "It holds even if every step goes as quickly as the lowest hours that are written.",
    ]
    assert "Carve can start at once, Mon 5 Jan 08:00." in said.out
    assert list(said.last) == FIELDS
    assert (said.last["job"], said.last["verdict"], said.last["rung"]) == (
        "heron",
        "cannot",
        "chain",
    )
    assert all(list(link) == ["kind", "id", "text"] for link in said.last["chain"])
    assert [link["kind"] for link in said.last["chain"]] == ["now", "after", "window"]
    anatomy = said.last["anatomy"]
    assert set(map(str, USUAL)) <= set(anatomy)
    assert sum(anatomy.values()) == 26 * 60
    assert anatomy["work"] == 10 * 60


def test_a_job_that_fits_says_so_and_adds_up_to_its_window(tmp_path: Path) -> None:
    said = countback("why", a_file(tmp_path, a_carving(WEEK)), "heron", "--seconds", "1", "--json")

    assert said.code == 0
    assert (said.last["verdict"], said.last["rung"]) == ("fits", "plan")
    elapsed = 25 * 24 * 60 + 10 * 60
    assert sum(said.last["anatomy"].values()) == elapsed
    assert "A plan that keeps the window was found and checked." in said.out


def test_a_job_that_nothing_lets_be_says_what_is_written(tmp_path: Path) -> None:
    book = a_carving(WEEK, people=(a_person(skills=("paint",)),))
    said = countback("why", a_file(tmp_path, book), "heron", "--seconds", "1", "--json")

    assert said.code == 3
    assert (said.last["verdict"], said.last["rung"]) == ("cannot", "legs")
    (link,) = said.last["chain"]
    assert (link["kind"], link["id"]) == ("person", "carve")
    assert link["text"] == "Carve needs carve, and nobody can do it."


def test_a_proof_is_kept_and_followed(tmp_path: Path) -> None:
    book, kept = a_file(tmp_path, a_carving("2026-01-06 09:00")), tmp_path / "proof"
    said = countback("why", book, "heron", "--seconds", "1", "--out", kept)
    assert f"The proof is kept in {kept}." in " ".join(said.out.split())

    followed = countback("check", book, kept, "--json")
    assert followed.code == 0
    assert followed.last == {
        "holds": True,
        "replayable": True,
        "by": "chain",
        "late_minutes": 60,
        "is_of_book": True,
        "troubles": [],
    }
    other = a_file(tmp_path, a_carving(WEEK), "other.countback")
    assert countback("check", other, kept).code == 4
    assert "It does not hold." in countback("check", other, kept).out


def test_without_a_proof_none_is_kept(tmp_path: Path) -> None:
    book, kept = a_file(tmp_path, a_carving(WEEK)), tmp_path / "proof"
    said = countback("why", book, "heron", "--seconds", "1", "--out", kept)

    assert "There is no proof to keep" in said.out
    assert not kept.exists()


@pytest.mark.parametrize(
    ("arguments", "code"),
    [(("otter",), "No job"), (("heron", "--out", "."), "folder"), ((), "why")],
)
def test_what_can_not_be_asked_is_refused(
    tmp_path: Path, arguments: tuple[str, ...], code: str
) -> None:
    said = countback("why", a_file(tmp_path, a_carving(WEEK)), *arguments)

    assert said.code == 2
    assert code in said.err


def test_a_job_that_is_not_planned_any_more_says_so(tmp_path: Path) -> None:
    book = a_carving(WEEK)
    (job,) = book.jobs
    over = replace(job, standing=Standing.PENCILLED, pencilled_until=on("2025-12-01"))
    said = countback("why", a_file(tmp_path, replace(book, jobs=(over,))), "heron")

    assert said.code == 2
    assert "Heron is not planned" in said.err


def test_an_enquiry_is_planned_beside_the_others(tmp_path: Path) -> None:
    book = a_carving(WEEK)
    (job,) = book.jobs
    asked = replace(job, standing=Standing.ENQUIRY)
    path = a_file(tmp_path, replace(book, jobs=(asked,)))
    said = countback("why", path, "heron", "--seconds", "1", "--json")

    assert (said.code, said.last["verdict"]) == (0, "fits")


def test_a_job_whose_lorry_has_gone_has_no_chain_left(tmp_path: Path) -> None:
    gone = a_fact(step="heron-journey", kind=FactKind.GONE, at=at("2026-01-05 06:00"))
    loaded = a_fact("loaded", "heron-loading")
    carved = a_fact("carved", "heron-carve")
    path = a_file(tmp_path, a_book(facts=(gone, loaded, carved)))
    said = countback("why", path, "heron", "--seconds", "1", "--json")

    assert said.code in (0, 3)
    assert said.last["chain"] == []


def test_a_book_is_not_written_over_by_a_proof(tmp_path: Path) -> None:
    book = a_file(tmp_path, a_carving("2026-01-06 09:00"))
    said = countback("why", book, "heron", "--out", book)

    assert said.code == 2
    assert "is no certificate" in said.err


def test_a_book_that_stops_is_refused(tmp_path: Path) -> None:
    book = tmp_path / "book.countback"
    book.write_text("{}")
    said = countback("why", book, "heron", "--json")

    assert said.code == 2
    assert list(said.last)[:5] == FIELDS
