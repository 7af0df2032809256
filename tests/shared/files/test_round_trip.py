"""What is written is what is read, byte for byte and value for value."""

import hashlib
import json
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings

from shared.book import Book
from shared.files.codec import Texts
from shared.files.read import read_book, read_plan
from shared.files.write import digest, write_book, write_plan
from shared.plan import Plan
from shared.worktime import Shift
from tests.builders import NOW, a_book, a_job, a_plan, a_stage, a_told, a_workshop, at
from tests.shared.files.trees import bytes_of, changed, every_path, filled_book, part_at, tree_of
from tests.strategies import books, plans


@given(books())
@settings(max_examples=30)
def test_a_book_written_and_read_is_the_same_book(book: Book) -> None:
    data = write_book(book)
    read = read_book(data)
    assert read.book == book
    assert not any(finding.stops for finding in read.findings)
    assert write_book(read.book) == data


@given(plans())
@settings(max_examples=30)
def test_a_plan_written_and_read_is_the_same_plan(plan: Plan) -> None:
    data = write_plan(plan)
    read = read_plan(data)
    assert read.plan == plan
    assert write_plan(read.plan) == data


def _plain_numbers(text: str) -> Any:
    return json.loads(text, parse_float=Decimal)


@given(books())
@settings(max_examples=20)
def test_the_bytes_are_json_as_the_standard_library_would_indent_it(book: Book) -> None:
    # RFC 8259 read by a parser that is not ours.
    text = write_book(book).decode()
    lines = json.dumps(_plain_numbers(text), indent=2, ensure_ascii=False, default=float)
    ours, theirs = text.split("\n"), lines.split("\n")
    assert len(ours) == len(theirs) + 1
    assert ours[-1] == ""
    assert [_before_value(line) for line in ours[:-1]] == [_before_value(line) for line in theirs]


def _before_value(line: str) -> str:
    return line.rstrip("-+.,eE0123456789")


def test_equal_books_have_equal_bytes_however_their_numbers_were_written() -> None:
    one = a_book(workshop=a_workshop(useful_hours=Decimal("6.50"), shift_hours=Decimal("8E+0")))
    other = a_book(workshop=a_workshop(useful_hours=Decimal("6.5"), shift_hours=Decimal(8)))
    assert one == other
    assert write_book(one) == write_book(other)


@pytest.mark.parametrize(
    ("number", "text"),
    [
        ("1E+3", "1000"),
        ("100", "100"),
        ("0.10", "0.1"),
        ("-0", "0"),
        ("0E-9", "0"),
        ("1E-60", "0." + "0" * 59 + "1"),
        ("0.1234567890123456789012345678901234567890", "0.123456789012345678901234567890123456789"),
    ],
)
def test_numbers_are_written_plainly_and_never_rounded(number: str, text: str) -> None:
    book = a_book(workshop=a_workshop(rest_hours=Decimal(number)))
    data = write_book(book)
    assert f'"rest_hours": {text},\n'.encode() in data
    assert read_book(data).book == book


def test_a_number_that_no_double_holds_comes_back_exactly() -> None:
    data = write_book(a_book()).replace(b'"rest_hours": 11', b'"rest_hours": 0.1000000000000000001')
    book = read_book(data).book
    assert book is not None
    assert book.workshop.rest_hours == Decimal("0.1000000000000000001")


def test_an_instant_with_any_offset_is_written_in_utc() -> None:
    # RFC 3339, section 4.1: local time is UTC plus the offset.
    data = write_book(a_book()).replace(b'"2026-01-05T08:00:00Z"', b'"2026-01-05T13:45:00+05:45"')
    read = read_book(data).book
    assert read is not None
    assert read.as_of == NOW
    assert read.as_of.tzinfo is UTC
    assert write_book(read) == write_book(a_book())


def test_a_plan_in_any_zone_is_the_same_file() -> None:
    plan = a_plan()
    moved = replace(plan, now=plan.now.astimezone(timezone(timedelta(hours=-9))))
    assert write_plan(moved) == write_plan(plan)


def test_an_empty_after_says_something_and_no_after_says_nothing() -> None:
    follows_nothing = a_book(a_job(steps=(a_stage(after=()),)))
    follows_the_list = a_book(a_job(steps=(a_stage(),)))
    assert read_book(write_book(follows_nothing)).book == follows_nothing
    assert read_book(write_book(follows_the_list)).book == follows_the_list
    assert write_book(follows_nothing) != write_book(follows_the_list)


def test_days_of_a_shift_are_words_in_the_file() -> None:
    shift = Shift(days=(6, 0), start=time(22), end=time(6, 0, 30))
    data = write_book(a_book(workshop=a_workshop(shifts=(shift,))))
    told = tree_of(data)["workshop"]["shifts"]
    assert told == [{"days": ["sun", "mon"], "start": "22:00", "end": "06:00:30"}]


def test_a_byte_order_mark_is_passed_over() -> None:
    assert read_book(b"\xef\xbb\xbf" + write_book(a_book())).book == a_book()


def test_unknown_fields_survive_at_every_level() -> None:
    data = write_book(filled_book())
    tree = tree_of(data)
    objects = [path for path in every_path(tree) if _is_ours(tree, path)]
    assert len(objects) > 100
    for path in objects:
        grown = {**part_at(tree, path), "zz_extra": {"deep": [1, "ä", None]}}
        read = read_book(bytes_of(changed(tree, path, grown)))
        assert read.book is not None, path
        assert ("unknown_field", (*path, "zz_extra")) in [(f.code, f.path) for f in read.findings]
        back = tree_of(write_book(read.book))
        assert part_at(back, path)["zz_extra"] == {"deep": [1, "ä", None]}


def _is_ours(tree: Any, path: tuple[str | int, ...]) -> bool:
    return isinstance(part_at(tree, path), dict) and "zz_unknown" not in path


def test_unknown_numbers_come_back_digit_for_digit() -> None:
    digits = "3.14000" + "0" * 200
    data = write_book(a_book()).replace(b'"revision": 1', f'"revision": 1, "zz": {digits}'.encode())
    book = read_book(data).book
    assert book is not None
    assert f'"zz": {digits}\n'.encode() in write_book(book)


def test_the_digest_is_that_of_the_bytes_without_plan_and_revision() -> None:
    tree = tree_of(write_book(a_book()))
    del tree["revision"]
    bare = json.dumps(tree, indent=2, ensure_ascii=False) + "\n"
    assert digest(a_book()) == hashlib.sha256(bare.encode()).hexdigest()


def test_a_digest_with_texts_of_a_former_one_is_the_same() -> None:
    book = a_book()
    first, *others = book.jobs
    later = replace(book, jobs=(replace(first, name="Another"), *others), told=a_told())
    texts = Texts()
    for each in (book, later, book, replace(book, jobs=()), later, replace(later, people=())):
        assert digest(each, texts) == digest(each)


def test_taking_a_plan_in_leaves_the_digest_and_any_other_change_does_not() -> None:
    book = a_book()
    assert digest(replace(book, plan=a_plan(), revision=7)) == digest(book)
    assert digest(replace(book, told=a_told())) != digest(book)
    assert digest(replace(book, name="Another")) != digest(book)
    assert digest(replace(book, kept=(("new", "1"),))) != digest(book)


@pytest.mark.parametrize(
    "book",
    [
        a_book(as_of=datetime(2026, 1, 5, 8)),
        a_book(as_of=at("2300-01-01 00:00")),
        a_book(revision=10**12),
        a_book(workshop=a_workshop(rest_hours=Decimal("NaN"))),
        a_book(workshop=a_workshop(rest_hours=Decimal("1E+12"))),
        a_book(workshop=a_workshop(rest_hours=Decimal("1E-61"))),
        a_book(
            workshop=a_workshop(shifts=(Shift(days=(0,), start=time(7, 0, 0, 5), end=time(9)),))
        ),
        a_book(name="half of a character: \ud83d"),
        a_book(kept=(("name", '"twice"'),)),
        a_book(kept=(("new", "no JSON"),)),
    ],
)
def test_what_could_not_be_read_back_is_not_written(book: Book) -> None:
    with pytest.raises(ValueError, match=r"."):
        write_book(book)
