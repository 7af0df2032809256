"""The schema, the page and the reader say the same."""

import json
import random
import runpy
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from shared.book import Book
from shared.files import codec, describe, schema
from shared.files.codec import record_of
from shared.files.read import read_book, read_plan
from shared.files.write import write_book, write_plan
from shared.plan import Plan
from shared.value import Value
from tests.builders import a_book, a_plan
from tests.shared.files.trees import (
    bytes_of,
    changed,
    every_path,
    filled_book,
    filled_plan,
    part_at,
    tree_of,
    without,
)
from tests.strategies import books, plans

FILES = Path(codec.__file__).parent
PAGE = (FILES / "FORMAT.md").read_text(encoding="utf-8")
ODD: tuple[Any, ...] = (None, True, 0, -3, 2.5, 10**12, "", "x", [], {}, [0], [{}], "2026-01-05")


@dataclass(frozen=True, slots=True, kw_only=True)
class _MayBeNone(Value):
    number: int | None = 5


def _checker(kind: str) -> Any:
    text = (FILES / f"{kind}.schema.json").read_text(encoding="utf-8")
    found = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(found)
    return jsonschema.Draft202012Validator(found)


BOOKS = _checker("book")
PLANS = _checker("plan")


@pytest.mark.parametrize("kind", ["book", "plan"])
def test_the_schema_beside_the_reader_is_the_one_its_classes_make(kind: str) -> None:
    text = (FILES / f"{kind}.schema.json").read_text(encoding="utf-8")
    assert text == schema.schema_text(kind), (
        f"run: python -m shared.files.schema {kind} > shared/files/{kind}.schema.json"
    )


def test_the_tables_of_the_page_are_those_its_classes_make() -> None:
    inside = PAGE.split(describe.FIRST_MARK)[1].split(describe.LAST_MARK)[0]
    assert inside.strip() == describe.tables().strip(), "run: python -m shared.files.describe"


def test_the_page_names_every_field_and_word() -> None:
    for each in (*describe.every_record(record_of(Book)), *describe.every_record(record_of(Plan))):
        section = PAGE.split(f"### {each.cls.__name__}\n")[1].split("\n###")[0]
        for field in each.fields:
            assert f"| `{field.name}` |" in section
    for name in ("countback", "kind", "format", "host", "pid", "who", "since", "token"):
        assert f"`{name}`" in PAGE


@given(books())
@settings(max_examples=30)
def test_every_written_book_fits_the_schema(book: Book) -> None:
    assert list(BOOKS.iter_errors(tree_of(write_book(book)))) == []


@given(plans())
@settings(max_examples=30)
def test_every_written_plan_fits_the_schema(plan: Plan) -> None:
    assert list(PLANS.iter_errors(tree_of(write_plan(plan)))) == []


def test_the_usual_and_the_filled_ones_fit_the_schema() -> None:
    for book in (a_book(), filled_book()):
        assert list(BOOKS.iter_errors(tree_of(write_book(book)))) == []
    for plan in (a_plan(), filled_plan()):
        assert list(PLANS.iter_errors(tree_of(write_plan(plan)))) == []


def _mutants(tree: Any, seed: int, count: int) -> list[Any]:
    rng = random.Random(seed)
    paths = [path for path in every_path(tree) if path and "zz_unknown" not in path]
    made = []
    for _ in range(count):
        path = rng.choice(paths)
        pick = rng.randrange(3)
        if pick == 0:
            made.append(without(tree, path))
        elif pick == 1:
            made.append(changed(tree, path, part_at(tree, rng.choice(paths))))
        else:
            made.append(changed(tree, path, rng.choice(ODD)))
    return made


def test_what_the_schema_refuses_the_reader_refuses() -> None:
    refused = 0
    for mutant in _mutants(tree_of(write_book(filled_book())), seed=1, count=250):
        if not BOOKS.is_valid(mutant):
            refused += 1
            assert read_book(bytes_of(mutant)).book is None, next(BOOKS.iter_errors(mutant)).message
    for mutant in _mutants(tree_of(write_plan(filled_plan())), seed=2, count=150):
        if not PLANS.is_valid(mutant):
            refused += 1
            assert read_plan(bytes_of(mutant)).plan is None
    assert refused > 150


def test_a_class_with_a_sort_that_no_file_holds_is_our_bug() -> None:
    with pytest.raises(TypeError, match="no book holds"):
        codec.codec_of(float)
    wanted: Any = str
    with pytest.raises(TypeError, match="no value of a book"):
        codec.record_of(wanted)
    with pytest.raises(TypeError, match="may be None and so must be by default"):
        codec.record_of(_MayBeNone)


def test_schema_and_tables_are_written_by_one_command(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["schema", "plan"])
    runpy.run_path(str(FILES / "schema.py"), run_name="__main__")
    assert capsys.readouterr().out == schema.schema_text("plan")
    runpy.run_path(str(FILES / "describe.py"), run_name="__main__")
    assert capsys.readouterr().out == describe.tables()
