"""Tables of other programs as rows of cells: comma-separated text and workbooks. No Qt."""

import csv
import io
from dataclasses import dataclass

from app.exchange.bring.cells import Cell, NoTable
from app.exchange.bring.sheet import sheet_rows

_SEPARATORS = (",", ";", "\t")
MOST_COLUMNS = 200
LONGEST_NAME = 120
"""Characters of a column's name that are looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A row: its number in the file, counted from 1, and its cells."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A table: the names of its columns and its rows, without those that are empty."""

    columns: tuple[str, ...]
    lines: tuple[Line, ...]


def read_grid(data: bytes) -> Grid:
    """Read a table, the names of its columns in its first row that holds anything.

    Raises
    ------
    NoTable
        If there is none.
    """
    is_zip = data.startswith(b"PK")
    rows = _of_workbook(data) if is_zip else _of_text(data)
    filled = [line for line in rows if any(cell != "" for cell in line.cells)]
    if not filled:
        raise NoTable("empty")
    head = [str(cell).strip()[:LONGEST_NAME] for cell in filled[0].cells]
    while head and not head[-1]:
        head.pop()
    if len(head) > MOST_COLUMNS:
        raise NoTable("too_many_columns", count=len(head), most=MOST_COLUMNS)
    return Grid(columns=tuple(head), lines=tuple(filled[1:]))


def _of_workbook(data: bytes) -> list[Line]:
    rows = enumerate(sheet_rows(data), start=1)
    return [Line(number=number, cells=tuple(map(_tidy, row))) for number, row in rows]


def _of_text(data: bytes) -> list[Line]:
    text = _decoded(data)
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(_SEPARATORS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    rows = []
    start = 1
    try:
        for row in reader:
            rows.append(Line(number=start, cells=tuple(_tidy(cell) for cell in row)))
            start = reader.line_num + 1
    except csv.Error as trouble:
        raise NoTable("broken_text", row=start, reason=str(trouble)) from trouble
    return rows


def _decoded(data: bytes) -> str:
    """Return a text: by its mark of byte order, as UTF-8, else as western Windows writes it."""
    for mark, name in (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if data.startswith(mark):
            return _strictly(data, name)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return _strictly(data, "cp1252")


def _strictly(data: bytes, name: str) -> str:
    try:
        return data.decode(name)
    except UnicodeDecodeError as trouble:
        raise NoTable("no_text", at=trouble.start) from trouble


def _tidy(cell: Cell) -> Cell:
    return cell.strip() if isinstance(cell, str) else cell
