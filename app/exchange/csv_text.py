"""Tables as comma-separated text (RFC 4180), which no spreadsheet takes for formulas. No Qt."""

import csv
import io
import re
from datetime import date, datetime
from decimal import Decimal

from app.exchange.given import Given
from app.exchange.tables import Cell, Table
from app.exchange.text import plain
from app.words import give as say

BOM = b"\xef\xbb\xbf"
"""By it spreadsheets know UTF-8; other programs may take it for a part of the first column."""
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")  # noqa: RUF001
"""What a cell mustn't begin with: OWASP, "CSV Injection"; their wide forms there as well."""
_NEW_CELLS = re.compile(r'([;\t\n]["\s]*)(?=[=+\-@＝＋－＠])')  # noqa: RUF001
"""Where a program that takes another mark for the separator may see a cell begin."""


def csv_bytes(given: Given, table: Table, *, bom: bool = False) -> bytes:
    """Return a table as UTF-8, its first line the names of the columns.

    A text that begins as formulas do gets an apostrophe in front, also where one would begin for a
    program that separates by semicolons or tabs; numbers stay as they are. The
    last columns say of which plan it is and what must be said along with it: a table without rows
    gets one for that, where there is something to say.
    """
    words = given.words
    made = io.StringIO(newline="")
    writer = csv.writer(made, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow([*map(_text, table.columns), words.say(say.MADE), words.say(say.REMARK)])
    rows = table.rows
    if not rows and given.marks:
        rows = ((None,) * len(table.columns),)
    for row in rows:
        writer.writerow([*map(_cell, row), _text(given.made), _text(" ".join(given.marks))])
    return (BOM if bom else b"") + made.getvalue().encode()


def _cell(cell: Cell) -> str | float:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ", timespec="minutes")
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, Decimal):
        return int(cell) if cell == int(cell) else float(cell)
    return cell if isinstance(cell, int) else _text(cell)


def _text(text: str) -> str:
    shown = _NEW_CELLS.sub(r"\1'", plain(text))
    return f"'{shown}" if shown.startswith(FORMULA_STARTS) else shown
