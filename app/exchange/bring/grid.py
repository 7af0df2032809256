"""Tables of other programs as rows of cells: comma-separated text and workbooks. No Qt."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from xml.etree.ElementTree import ParseError, fromstring
from zipfile import BadZipFile, ZipFile

Cell = str | int | float | bool | date | datetime | time | timedelta
"""As the file has it; "" for nothing."""
_SEPARATORS = (",", ";", "\t")
_MOST_COLUMNS = 26
_LARGEST_BYTES = 256 << 20
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_DOC = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"


class NoTable(Exception):  # noqa: N818 - it says what happened
    """A file holds no table that can be read: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: str | int) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


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


def letter(column: int) -> str:
    """Return what a column, counted from 0, is called in a spreadsheet: A, B, ... Z, AA."""
    found = ""
    number = column + 1
    while number:
        number, rest = divmod(number - 1, _MOST_COLUMNS)
        found = chr(ord("A") + rest) + found
    return found


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
    head = tuple(str(cell).strip() for cell in filled[0].cells)
    while head and not head[-1]:
        head = head[:-1]
    return Grid(columns=head, lines=tuple(filled[1:]))


def _of_workbook(data: bytes) -> list[Line]:
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        if sum(each.file_size for each in ZipFile(io.BytesIO(data)).infolist()) > _LARGEST_BYTES:
            raise NoTable("too_large", most=_LARGEST_BYTES >> 20)
        sheet = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0)
        rows = sheet.to_python(skip_empty_area=False)
        errors = dict(_errors(data))
    except (CalamineError, BadZipFile, OSError, LookupError, ParseError) as trouble:
        raise NoTable("no_workbook", reason=str(trouble)) from trouble
    return [
        Line(
            number=number,
            cells=tuple(
                errors.get(f"{letter(at)}{number}", _tidy(cell)) for at, cell in enumerate(row)
            )
            if errors
            else tuple(_tidy(cell) for cell in row),
        )
        for number, row in enumerate(rows, start=1)
    ]


def _errors(data: bytes) -> Iterator[tuple[str, str]]:
    """Give the cells of the first sheet that hold an error, which come as empty otherwise.

    ECMA-376 part 1, sections 18.2.19 (sheet), 18.3.1.4 (c) and 18.18.11 (their types).
    """
    with ZipFile(io.BytesIO(data)) as archive:
        sheets = list(fromstring(archive.read("xl/workbook.xml")).iter(f"{_MAIN}sheet"))
        links = fromstring(archive.read("xl/_rels/workbook.xml.rels"))
        targets = {link.get("Id"): link.get("Target", "") for link in links}
        target = targets[sheets[0].get(f"{_DOC}id")]
        name = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        if b't="e"' not in (text := archive.read(name)):
            return
        for cell in fromstring(text).iter(f"{_MAIN}c"):
            if cell.get("t") == "e":
                yield cell.get("r", ""), cell.findtext(f"{_MAIN}v", "")


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
