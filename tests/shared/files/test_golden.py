"""Files of every format ever written are read as they were meant, for ever."""

import dataclasses
import json
from collections.abc import Iterator
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from shared.book import FORMAT, Book, FactKind, Gate, Held, Journey, Kind, Stage
from shared.examine import examine, take_in
from shared.files.codec import Listed, record_of
from shared.files.describe import every_record
from shared.files.read import read_book, read_plan
from shared.files.scalars import Words
from shared.files.write import digest, write_book, write_plan
from shared.plan import Plan
from shared.value import Value
from tests.golden.__main__ import main as write_golden
from tests.shared.files.trees import bytes_of, changed, tree_of

GOLDEN = Path(__file__).parents[2] / "golden"
BOOKS = sorted(path.name for path in GOLDEN.glob("*.countback"))
PLANS = sorted(path.name for path in GOLDEN.glob("*.plan"))
RECORDS = [each for root in (Book, Plan) for each in every_record(record_of(root))]


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
        assert list(GOLDEN.glob(f"*.format{number}.plan"))


@pytest.mark.parametrize("name", BOOKS)
def test_every_book_ever_written_is_read_whole_looked_over_and_written_again(name: str) -> None:
    read = read_book(_bytes(name))
    assert read.book is not None
    assert {each.code for each in read.findings} <= {"unknown_field"}
    examine(read.book)
    again = write_book(read.book)
    assert read_book(again).book == read.book
    if f".format{FORMAT}." in name:
        assert again == _bytes(name), "an added field must be one that may be left out"


@pytest.mark.parametrize("name", PLANS)
def test_every_plan_ever_written_is_read_whole_and_written_again(name: str) -> None:
    plan = read_plan(_bytes(name)).plan
    assert plan is not None
    again = write_plan(plan)
    assert read_plan(again).plan == plan
    if f".format{FORMAT}." in name:
        assert again == _bytes(name)


# Nothing that a book can hold is without such a file.


def _held(value: object) -> Iterator[tuple[str, str]]:
    """Give the class and the name of every field that holds something."""
    if isinstance(value, tuple):
        for each in value:
            yield from _held(each)
    elif isinstance(value, Value):
        for field in dataclasses.fields(value):
            inside = getattr(value, field.name)
            if inside not in (None, (), ""):
                yield type(value).__name__, field.name
                yield from _held(inside)


def _held_by_files() -> set[tuple[str, str]]:
    books = [read_book(_bytes(name)).book for name in BOOKS if f".format{FORMAT}." in name]
    plans = [read_plan(_bytes(name)).plan for name in PLANS if f".format{FORMAT}." in name]
    return {found for each in (*books, *plans) for found in _held(each)}


def test_every_field_holds_something_in_some_file() -> None:
    known = {(record.cls.__name__, field.name) for record in RECORDS for field in record.fields}
    held = _held_by_files()
    assert len(known) > 500
    assert sorted(known - held) == [], "write another file, see tests/golden/README.md"
    removed = {each for each in held - known if each[1] != "kept"}
    assert sorted(removed) == [], "what was written is read for ever"


def test_a_file_that_is_there_is_never_written_over() -> None:
    before = _bytes("every_field_2.format1.countback")
    with pytest.raises(FileExistsError):
        write_golden("every_field_2")
    assert _bytes("every_field_2.format1.countback") == before


def _words_now() -> dict[str, list[str]]:
    found = {}
    for record in RECORDS:
        for field in record.fields:
            codec = field.codec.item if isinstance(field.codec, Listed) else field.codec
            if isinstance(codec, Words):
                found[f"{record.cls.__name__}.{field.name}"] = list(codec.by_word)
    return found


def test_every_word_that_could_ever_stand_in_a_field_is_still_taken() -> None:
    kept = json.loads(_bytes(f"words.format{FORMAT}.json"))
    now = _words_now()
    assert len(now) > 20
    gone = {field: set(words) - set(now.get(field, ())) for field, words in kept.items()}
    assert {field: words for field, words in gone.items() if words} == {}
    added = {field: set(words) - set(kept.get(field, ())) for field, words in now.items()}
    missing = {field: words for field, words in added.items() if words}
    assert missing == {}, f"add the new words to words.format{FORMAT}.json"


def test_a_book_at_work_keeps_what_people_were_told_and_what_they_told() -> None:
    read = take_in(_bytes("told.format1.countback"))
    book = read.book
    assert book is not None
    assert [found for found in read.findings if found.stops] == []
    assert book.told is not None
    assert (book.told.sheet_number, book.told.told_by) == (1, "Edda")
    assert len(book.told.plan.placements) == 75
    told = {(fact.kind, fact.held_by, fact.told_by) for fact in book.facts}
    assert (FactKind.HELD, Held.CLIENT, "Femi") in told
    assert (FactKind.RUNNING, Held.TOOL, "Femi") in told
    assert (FactKind.DONE, None, "Edda") in told
    (left,) = [fact for fact in book.facts if fact.held_by is Held.TOOL]
    assert left.remaining_hours == Decimal("6.5")


# What comes from a later program.


@pytest.mark.parametrize("name", [*BOOKS, *PLANS])
def test_a_later_format_is_told_and_nothing_of_it_is_taken(name: str) -> None:
    data = bytes_of(changed(tree_of(_bytes(name)), ("countback", "format"), FORMAT + 1))
    read = read_book(data) if name in BOOKS else read_plan(data)
    assert read.newer
    assert [found.code for found in read.findings] == ["newer_format"]
    assert getattr(read, "book", None) is None
    assert getattr(read, "plan", None) is None
