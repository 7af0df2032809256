"""Tables as a workbook (Office Open XML, XLSX) with dates as dates and texts as texts. No Qt."""

import io
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from app.exchange.given import Given
from app.exchange.tables import Cell, Table
from app.exchange.text import plain
from app.words import give as say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

LONGEST = 32_767
"""Characters of a cell; the program that opens the file cuts or refuses more."""
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
}
_DATE, _MOMENT = "yyyy-mm-dd", "yyyy-mm-dd hh:mm"
_WIDEST = 48


def workbook(given: Given, tables: "Iterable[Table]") -> bytes:
    """Return a workbook: what it is of on the first sheet, then one for each table.

    The same plan gives the same bytes.
    """
    from xlsxwriter import Workbook

    words = given.words
    made = io.BytesIO()
    book = Workbook(made, _OPTIONS)
    book.set_properties(
        {
            "title": plain(given.book.name),
            "author": "Countback",
            "comments": plain("\n".join((*given.marks, given.made))),
            "created": given.plan.now.astimezone(UTC).replace(tzinfo=None),
        }
    )
    formats = _Formats(book)
    about = book.add_worksheet(words.say(say.ABOUT))
    lines = (*given.marks, given.book.workshop.name, given.book.name, given.made)
    for at, line in enumerate(lines):
        is_mark = at < len(given.marks)
        about.write_string(at, 0, _text(line), formats.bold if is_mark else None)
    about.set_column(0, 0, 2 * _WIDEST)
    for table in tables:
        _fill(book.add_worksheet(table.title), table, formats)
    book.close()
    return made.getvalue()


class _Formats:
    def __init__(self, book: "Workbook") -> None:
        self.bold: Format = book.add_format({"bold": True})
        self.day: Format = book.add_format({"num_format": _DATE})
        self.moment: Format = book.add_format({"num_format": _MOMENT})


def _fill(sheet: "Worksheet", table: Table, formats: _Formats) -> None:
    for at, name in enumerate(table.columns):
        sheet.write_string(0, at, _text(name), formats.bold)
        shown = [_width(row[at]) for row in table.rows]
        sheet.set_column(at, at, min(_WIDEST, max([len(name), *shown]) + 2))
    for line, row in enumerate(table.rows, start=1):
        for at, cell in enumerate(row):
            _write(sheet, line, at, cell, formats)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, len(table.rows), len(table.columns) - 1)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0)


def _write(sheet: "Worksheet", line: int, at: int, cell: Cell, formats: _Formats) -> None:
    if cell is None or cell == "":
        return
    if isinstance(cell, datetime):
        sheet.write_datetime(line, at, cell, formats.moment)
    elif isinstance(cell, date):
        sheet.write_datetime(line, at, cell, formats.day)
    elif isinstance(cell, int | Decimal):
        sheet.write_number(line, at, cell)
    else:
        sheet.write_string(line, at, _text(cell))


def _width(cell: Cell) -> int:
    if isinstance(cell, datetime):
        return len(_MOMENT)
    return len(_DATE) if isinstance(cell, date) else len(str(cell or ""))


def _text(text: str) -> str:
    shown = plain(text)
    return shown if len(shown) <= LONGEST else shown[: LONGEST - 1] + "…"
