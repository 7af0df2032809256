"""Workbook and comma-separated text, read back with openpyxl, pandas and csv, cell by cell.

RFC 4180 for the text; OWASP, "CSV Injection", for what a cell mustn't begin with; ECMA-376 part 1,
section 18.3.1.4, for what a cell of a workbook holds.
"""

import csv
import io
import re
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from functools import cache
from typing import Any
from zipfile import ZipFile
from zoneinfo import ZoneInfo

import openpyxl
import pandas
import pytest

from app.exchange.csv_text import BOM, FORMULA_STARTS, csv_bytes
from app.exchange.given import Given
from app.exchange.tables import Cell, Table, tables
from app.exchange.text import plain
from app.exchange.workbook import LONGEST, workbook
from app.words import Words
from shared.book import Book, Stage
from shared.orders import buying
from tests.app.exchange.scenes import (
    AWKWARD,
    a_book,
    an_awkward_book,
    changed_since,
    give,
    told,
)

BOOKS: dict[str, Callable[[], Book]] = {"usual": a_book, "awkward": an_awkward_book}


@cache
def made(which: str, language: str = "en") -> tuple[Given, tuple[Table, ...]]:
    given = give(BOOKS[which](), language=language)
    return given, tables(given)


@cache
def book_of(which: str, language: str = "en") -> bytes:
    return workbook(*made(which, language))


def read_csv(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode(), newline=""), strict=True))


# Comma-separated text.


@pytest.mark.parametrize("which", BOOKS)
def test_every_line_ends_and_counts_its_fields_as_rfc_4180_says(which: str) -> None:
    given, found = made(which)
    for table in found:
        data = csv_bytes(given, table)
        rows = read_csv(data)
        assert data.endswith(b"\r\n")
        outside = re.sub(rb'"(?:[^"]|"")*"', b"", data)
        assert outside.count(b"\n") == outside.count(b"\r\n") == len(rows) == len(table.rows) + 1
        assert {len(row) for row in rows} == {len(table.columns) + 2}
        assert rows[0][:-2] == list(table.columns)


def as_read(cell: Cell) -> str:
    """A cell as a person reads it: without the apostrophe that guards it."""
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.strftime("%Y-%m-%d %H:%M")
    if isinstance(cell, date):
        return cell.strftime("%Y-%m-%d")
    return plain(str(cell))


@pytest.mark.parametrize("which", BOOKS)
def test_every_cell_is_read_back(which: str) -> None:
    given, found = made(which)
    for table in found:
        for row, wanted in zip(read_csv(csv_bytes(given, table))[1:], table.rows, strict=True):
            for text, cell in zip(row, wanted, strict=False):
                if isinstance(cell, int | Decimal):
                    assert Decimal(text) == cell
                else:
                    assert text.removeprefix("'") == as_read(cell)


def test_no_text_begins_as_a_formula_does_and_numbers_stay_numbers() -> None:
    given, _ = made("awkward")
    row: tuple[Cell, ...] = (*AWKWARD, "\t=1", "\n=1", "＝1+1", -3, Decimal("-2.5"), 0)  # noqa: RUF001
    table = Table(id="x", title="x", columns=("=a",) * len(row), rows=(row,))
    data = csv_bytes(given, table)
    head, cells, *_ = read_csv(data)

    assert head[0] == "'=a"
    assert cells[len(row) - 3 : len(row)] == ["-3", "-2.5", "0"]
    assert b",-3,-2.5,0," in data
    texts = cells[: len(row) - 3]
    assert not [text for text in texts if text.startswith(FORMULA_STARTS)]
    assert [text.replace("'", "") for text in texts] == [
        plain(str(cell)).replace("'", "") for cell in row[:-3]
    ]


@pytest.mark.parametrize("which", BOOKS)
def test_no_cell_of_any_table_begins_as_a_formula_does(which: str) -> None:
    given, found = made(which)
    for table in found:
        for row, wanted in zip(read_csv(csv_bytes(given, table))[1:], table.rows, strict=True):
            for text, cell in zip(row, wanted, strict=False):
                assert isinstance(cell, int | Decimal) or not text.startswith(FORMULA_STARTS)


def test_the_mark_of_utf_8_is_there_when_asked_for() -> None:
    given, (plan, *_) = made("usual")

    assert not csv_bytes(given, plan).startswith(BOM)
    marked = csv_bytes(given, plan, bom=True)
    assert marked == BOM + csv_bytes(given, plan)
    assert list(pandas.read_csv(io.BytesIO(marked)).columns[: len(plan.columns)]) == list(
        plan.columns
    )


# The workbook.


def excel(cell: Cell) -> Any:
    """What a cell holds when it is read: dates are moments, numbers floats or whole."""
    if cell is None or cell == "":
        return None
    if isinstance(cell, date) and not isinstance(cell, datetime):
        return datetime(cell.year, cell.month, cell.day)
    if isinstance(cell, Decimal):
        return float(cell)
    return plain(cell) if isinstance(cell, str) else cell


@pytest.mark.parametrize("which", BOOKS)
def test_openpyxl_reads_every_cell_back_in_its_type(which: str) -> None:
    _, found = made(which)
    read = openpyxl.load_workbook(io.BytesIO(book_of(which)))
    kinds = Counter[str]()

    assert read.sheetnames == ["about", "plan", "hours", "orders"]
    for table in found:
        rows = list(read[table.title].iter_rows())
        assert [cell.value for cell in rows[0]] == list(table.columns)
        assert len(rows) == len(table.rows) + 1
        for row, wanted in zip(rows[1:], table.rows, strict=True):
            for at, cell in enumerate(wanted):
                shown = row[at]
                assert shown.value == excel(cell), (table.id, at)
                assert shown.data_type != "f"
                if isinstance(cell, date):
                    assert shown.is_date
                kinds[shown.data_type] += 1
    assert kinds["d"] > 100
    assert kinds["n"] > 100
    assert kinds["s"] > 100


def test_pandas_reads_dates_as_dates_and_numbers_as_numbers() -> None:
    given, (plan, hours, orders) = made("usual")
    sheets = pandas.read_excel(io.BytesIO(book_of("usual")), sheet_name=None, engine="openpyxl")
    shown = sheets["plan"]

    assert list(sheets) == ["about", "plan", "hours", "orders"]
    assert str(shown["start"].dtype).startswith("datetime64")
    assert list(shown["start"]) == [row[4] for row in plan.rows]
    assert sheets["hours"]["hours at work"].sum() == pytest.approx(
        float(sum(Decimal(str(row[6])) for row in hours.rows))
    )
    assert str(sheets["orders"]["here by"].dtype).startswith("datetime64")
    assert list(sheets["orders"]["quantity"]) == [float(str(row[6])) for row in orders.rows]
    assert given.book.name in list(sheets["about"].iloc[:, 0])


@pytest.mark.parametrize("which", BOOKS)
def test_no_cell_holds_a_formula_or_a_link(which: str) -> None:
    with ZipFile(io.BytesIO(book_of(which))) as archive:
        for name in archive.namelist():
            text = archive.read(name).decode()
            assert "<f>" not in text
            assert "<f " not in text
            assert "hyperlink" not in text
            assert "http" not in re.sub(r'xmlns(:\w+)?="[^"]*"|Type="[^"]*"', "", text)


def test_the_same_plan_gives_the_same_workbook() -> None:
    assert workbook(*made("usual")) == book_of("usual")


def test_a_text_that_is_too_long_for_a_cell_is_cut_and_says_so() -> None:
    given, _ = made("usual")
    table = Table(id="x", title="x", columns=("a",), rows=(("ü" * (LONGEST + 5),),))
    read = openpyxl.load_workbook(io.BytesIO(workbook(given, [table])))
    text = read["x"]["A2"].value

    assert isinstance(text, str)
    assert len(text) == LONGEST
    assert text.endswith("ü…")


def test_a_workbook_speaks_german() -> None:
    read = openpyxl.load_workbook(io.BytesIO(book_of("usual", "de")))

    assert read.sheetnames == ["Angaben", "Plan", "Stunden", "Bestellungen"]
    assert read["Plan"]["A1"].value == "Auftrag"


# What stands in them.


def test_the_plan_has_a_row_for_every_placement_and_leg() -> None:
    given, (plan, *_) = made("usual")
    book, zone = given.book, ZoneInfo(given.book.workshop.zone)
    steps = {step.id: step for job in book.jobs for step in job.steps}
    found = defaultdict(list)
    for row in plan.rows:
        found[str(row[-1])].append(row)

    legs = sum(len(trip.legs) for trip in given.plan.trips)
    assert len(plan.rows) == len(given.plan.placements) + legs
    for placed in given.plan.placements:
        wanted = [
            placed.start.astimezone(zone).replace(tzinfo=None),
            placed.end.astimezone(zone).replace(tzinfo=None),
        ]
        (row,) = [r for r in found[placed.step] if [r[4], r[5]] == wanted]
        step = steps[placed.step]
        names = {p.id: p.name for p in book.people}
        assert (row[7] or "") == ", ".join(names[p] for p in placed.people)
        if isinstance(step, Stage):
            (way,) = [w for w in step.ways if w.id == placed.way]
            assert row[11:14] == (way.hours.low, way.hours.likely, way.hours.high)
    starts = [row[4] for row in plan.rows]
    assert starts == sorted(starts, key=str)


def test_the_hours_of_a_day_are_within_the_shift_and_sum_up() -> None:
    given, (_, hours, _) = made("usual")
    shift = Decimal(str(given.book.workshop.shift_hours))
    a_day = defaultdict[object, Decimal](Decimal)
    for day, person, *_, time, _ in hours.rows:
        a_day[day, person] += Decimal(str(time))

    assert max(a_day.values()) <= shift
    first = min(given.plan.placements, key=lambda p: (p.start, p.step))
    mine = [row for row in hours.rows if row[7] == first.step]
    span = first.end - first.start
    assert sum(Decimal(str(row[6])) for row in mine) <= len(first.people) * span / timedelta(
        hours=1
    )


def test_the_orders_are_those_of_the_buying_list() -> None:
    given, (*_, orders) = made("usual")
    wanted = buying(given.book, given.plan, given.now).orders

    assert len(wanted) > 0
    assert [(row[0], row[1], row[6], row[8], row[11]) for row in orders.rows] == [
        (each.dates.order_by, each.dates.receive_by, each.quantity, each.packs, each.cost)
        for each in wanted
    ]


def test_an_old_plan_says_so_in_every_table_and_in_the_workbook() -> None:
    book = changed_since(told(a_book()))
    given = give(book, language="en")
    (mark,) = given.marks
    empty = replace(tables(given)[2], rows=())

    assert mark == "OLD PLAN. The book has changed since it was made: revision 1, now 3."
    for table in (*tables(given), empty):
        rows = read_csv(csv_bytes(given, table))
        assert len(rows) > 1
        assert {row[-1] for row in rows[1:]} == {mark}
        assert {row[-2] for row in rows[1:]} == {given.made}
    read = openpyxl.load_workbook(io.BytesIO(workbook(given, tables(given))))
    assert read["about"]["A1"].value == mark
    assert Words("de", book=book).say("x") == "x"
