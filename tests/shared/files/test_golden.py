"""Files of every format ever written are read as they were meant, for ever."""

from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from shared.book import FORMAT, Gate, Journey, Kind, Stage
from shared.examine import take_in
from shared.files.read import read_book, read_plan
from shared.files.write import digest, write_book, write_plan

GOLDEN = Path(__file__).parents[2] / "golden"


def _bytes(name: str) -> bytes:
    return (GOLDEN / name).read_bytes()


def test_a_book_of_format_1_with_every_field_is_read_and_written_unchanged() -> None:
    data = _bytes("every_field.format1.countback")
    read = read_book(data)
    assert read.book is not None
    assert {finding.code for finding in read.findings} == {"unknown_field"}
    assert write_book(read.book) == data, "an added field must be one that may be left out"
    wanted = "e3ff3421b36d6876802b60ebcf28bb42fabad6747d1aa3b19fda6da425caf887"
    assert digest(read.book) == wanted


def test_a_book_of_format_1_means_what_it_meant() -> None:
    book = read_book(_bytes("every_field.format1.countback")).book
    assert book is not None
    assert book.as_of == datetime(2026, 2, 3, 4, 5, 6, tzinfo=UTC)
    assert book.workshop.shifts[0].days == (0, 6)
    stage, gate, journey = book.jobs[0].steps
    assert isinstance(stage, Stage)
    assert isinstance(gate, Gate)
    assert isinstance(journey, Journey)
    assert stage.kind is Kind.FOAM
    assert stage.ways[0].hours.likely == Decimal("2.25")
    assert journey.legs[0].departures[0].check_in_minutes == 3
    assert book.kept == (("zz_unknown", '{"a": [1.50, null, true]}'),)


def test_a_plan_of_format_1_is_read_and_written_unchanged() -> None:
    data = _bytes("every_field.format1.plan")
    plan = read_plan(data).plan
    assert plan is not None
    assert plan.trips[0].legs[0].end == datetime(2026, 2, 3, 4, 5, 6, tzinfo=UTC)
    assert write_plan(plan) == data


def test_a_sound_book_of_format_1_has_no_finding_and_keeps_its_digest() -> None:
    read = take_in(_bytes("small.format1.countback"))
    assert read.book is not None
    assert read.findings == ()
    wanted = "c6bfffb51f4b0a5df3ed9ee7b46a67484589da477ff1efb6c2a2bdb604880d02"
    assert digest(read.book) == wanted


def test_there_is_a_book_of_every_format() -> None:
    for number in range(1, FORMAT + 1):
        assert list(GOLDEN.glob(f"*.format{number}.countback"))
