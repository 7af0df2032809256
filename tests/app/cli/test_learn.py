"""`countback learn`: what is on record, what is offered, what is taken, and taken back."""

from dataclasses import replace
from pathlib import Path

import pytest

from shared.book import Book, GateKind, Kind
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.shell import Said, a_file, countback
from tests.builders import a_gate, a_journey
from tests.shared.test_learning import new_job, of_hours, recorded


def whole(book: Book) -> Book:
    """Return the book with what a job needs to be without findings that stop."""
    job = book.jobs[0]
    more = (a_gate("load", GateKind.LOADING), a_journey("go"))
    return replace(book, jobs=(replace(job, steps=(*job.steps, *more)),))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, whole(of_hours(3, 3, 3, 3, 3)))


def book_at(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def test_it_says_the_factor_of_each_kind_and_writes_nothing(path: Path) -> None:
    before = path.read_bytes()
    said = countback("learn", path, "--json")
    assert said.code == 0, said.out + said.err
    assert path.read_bytes() == before
    text = " ".join(said.out.split())
    assert "5 finished stages are on record; on the whole hours are 0.88 times" in text
    assert (
        "Foam: 0.79 times the estimate (0.68 to 0.91); 5 records alone say 0.75, single ones "
        "spread by about 32 %. Offered: countback learn" in text
    )
    (kind,) = said.last["kinds"]
    assert (kind["kind"], kind["records"], kind["offered"], kind["taken"]) == (
        "foam",
        5,
        True,
        None,
    )
    assert (said.last["usual"], said.last["left_out"], said.last["taken"]) == (1.25, [], [])


def test_a_factor_is_taken_with_its_source_and_undo_takes_it_back(path: Path) -> None:
    said = countback("learn", path, "--take", "foam", "--json")
    assert said.code == 0, said.err
    assert said.out.startswith(
        "New estimates of foam are multiplied by 0.79 from now on, from 5 records."
    )
    (own,) = book_at(path).workshop.figures
    assert own.note == "own records, 5 of them"
    assert said.last["taken"] == ["foam"]
    assert said.last["revision"] == book_at(path).revision == 2
    estimate = countback("estimate", path, "--size", "1.2x1.4x1.3")
    assert "own records, 5 of them" in " ".join(estimate.out.split())
    again = countback("learn", path, "--take", "foam")
    assert (again.code, again.err) == (2, "The factor of foam is taken already, as it is.\n")
    assert countback("undo", path).code == 0
    assert book_at(path).workshop.figures == ()


@pytest.mark.parametrize(
    ("kind", "part"),
    [("wood", "is no kind of work"), ("paint", "Of paint nothing is on record")],
)
def test_what_cannot_be_taken_is_said(kind: str, part: str, path: Path) -> None:
    before = path.read_bytes()
    said: Said = countback("learn", path, "--take", kind)
    assert (said.code, said.out) == (2, "")
    assert part in said.err
    assert path.read_bytes() == before


def test_too_few_records_offer_nothing(tmp_path: Path) -> None:
    path = a_file(tmp_path, whole(of_hours(3, 3, 3, kind=Kind.PAINT)))
    assert "Nothing is offered before 5 records." in countback("learn", path).out
    said = countback("learn", path, "--take", "paint")
    assert said.code == 2
    assert "Of paint there are 3 records; 5 at least are wanted" in " ".join(said.err.split())


def test_errors_of_booking_are_shown(tmp_path: Path) -> None:
    path = a_file(tmp_path, whole(recorded({"good": 4, "short": 0.25})))
    said = countback("learn", path, "--json")
    assert "Records that can't be, left out" in said.out
    assert "Short for Fox: 0.25 h recorded, 4 h estimated: under a third." in said.out
    assert [each["why"] for each in said.last["left_out"]] == ["too_few"]


def test_an_empty_record_says_how_one_comes_about(tmp_path: Path) -> None:
    said = countback("learn", a_file(tmp_path, replace(new_job(whole(of_hours(4))), facts=())))
    assert said.code == 0
    assert said.out.startswith("Nothing is on record yet.")
