"""Tables to be filled in: the names of the columns, and one row as an example. No Qt."""

import csv
import io

from app.exchange.bring.fields import FIELDS


def template_csv(kind: str, *, german: bool = False) -> bytes:
    """Return a table of a kind with an example, as comma-separated text with the mark of UTF-8."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator="\r\n")
    writer.writerows(_rows(kind, german=german))
    return b"\xef\xbb\xbf" + made.getvalue().encode()


def template_workbook(kind: str, *, german: bool = False) -> bytes:
    """Return the same as a workbook; every cell is a text, as it can be typed."""
    from xlsxwriter import Workbook

    made = io.BytesIO()
    book = Workbook(made, {"in_memory": True})
    sheet = book.add_worksheet(kind)
    bold = book.add_format({"bold": True})
    for line, row in enumerate(_rows(kind, german=german)):
        for at, cell in enumerate(row):
            sheet.write_string(line, at, cell, None if line else bold)
    sheet.autofit()
    book.close()
    return made.getvalue()


def _rows(kind: str, *, german: bool) -> list[list[str]]:
    fields = FIELDS[kind]
    named = [each.headers[1 if german and len(each.headers) > 1 else 0] for each in fields]
    return [named, [each.example for each in fields]]
