"""What unfolds into too much, or never ends, is refused in words before it is taken up.

ECMA-376 part 1, section 18.3.1.4 (cells) and 18.4.9 (texts); part 2, section 7.3.3 (no DTD);
RFC 5545 section 3.3.10 (rules). The bounds are the program's own.
"""

import io
from collections.abc import Callable
from datetime import date, datetime
from zipfile import ZIP_DEFLATED, ZipFile

import pytest

from app.exchange.bring.bringing import bring_calendar, bring_table
from app.exchange.bring.cells import NoTable
from app.exchange.bring.grid import LONGEST_NAME, MOST_COLUMNS, read_grid
from app.exchange.bring.repeats import MOST_OF_ALL
from app.exchange.bring.sheet import LARGEST_BYTES, MOST_CELLS
from app.words import Words
from app.words import bring as say
from shared.files.write import write_book
from tests.app.exchange.bring.made import a_book, as_xlsx

SHEET = "xl/worksheets/sheet1.xml"
TEXTS = "xl/sharedStrings.xml"
SPACE = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
USUAL = as_xlsx([["name", "skills"], ["Wren", "carve"]])


def with_parts(changed: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with ZipFile(io.BytesIO(USUAL)) as before, ZipFile(out, "w", ZIP_DEFLATED) as made:
        for name in dict.fromkeys((*before.namelist(), *changed)):
            made.writestr(name, changed[name] if name in changed else before.read(name))
    return out.getvalue()


def sheet(cells: bytes) -> bytes:
    return b"<worksheet %s><sheetData>%s</sheetData></worksheet>" % (SPACE, cells)


def a_cell(at: str, kind: str = "n", value: str = "1") -> bytes:
    return f'<c r="{at}" t="{kind}"><v>{value}</v></c>'.encode()


def far(row: int, column: str) -> bytes:
    last = b'<row r="%d">%s</row>' % (row, a_cell(f"{column}{row}"))
    return with_parts({SHEET: sheet(b'<row r="1">' + a_cell("A1") + b"</row>" + last)})


def texts(length: int, count: int) -> bytes:
    cells = b"".join(a_cell(f"A{at}", "s", "0") for at in range(1, count))
    shared = b"<sst %s><si><t>%s</t></si></sst>" % (SPACE, b"x" * length)
    return with_parts({SHEET: sheet(b"<row>" + cells + b"</row>"), TEXTS: shared})


def refused(data: bytes) -> tuple[str, str]:
    """Why a table isn't read, and the sentence for that."""
    with pytest.raises(NoTable) as found:
        read_grid(data)
    trouble = found.value
    return trouble.code, Words().say(say.NO_TABLE[trouble.code], path="x", **trouble.facts)


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (lambda: far(1_048_576, "XFD"), "too_many_cells"),
        (lambda: far(MOST_CELLS + 1, "A"), "too_many_cells"),
        (lambda: far(80, "XFD"), "too_many_cells"),
        (lambda: far(99_999_999_999, "A"), "too_many_cells"),
        (lambda: far(1, "ZZZZ"), "no_workbook"),
        (lambda: with_parts({SHEET: sheet(b"<row>" + b"<c/>" * (MOST_CELLS + 1) + b"</row>")}),
         "too_many_cells"),
        (lambda: with_parts({SHEET: sheet(b" " * LARGEST_BYTES)}), "too_large"),
        (lambda: texts(1 << 20, 40), "too_large"),
        (lambda: texts(30_000, 1200), "too_large"),
        (lambda: with_parts({TEXTS: b'<sst %s uniqueCount="4294967295"></sst>' % SPACE}),
         "no_workbook"),
        (lambda: with_parts({SHEET: b"<!DOCTYPE x>" + sheet(b"")}), "no_workbook"),
        (lambda: with_parts({SHEET: sheet(b"<row>" + a_cell("A1", "s", "7") + b"</row>")}),
         "no_workbook"),
    ],
)  # fmt: skip
def test_a_workbook_that_unfolds_is_refused(make: Callable[[], bytes], code: str) -> None:
    data = make()
    found, sentence = refused(data)

    assert found == code
    assert "x" in sentence
    assert len(data) < 2_000_000


def test_cells_as_far_as_is_allowed_are_read_and_stand_in_their_places() -> None:
    grid = read_grid(far(MOST_CELLS // 26, "Z"))

    assert grid.columns == ("1.0",)
    (line,) = grid.lines
    assert (line.number, line.cells[25]) == (MOST_CELLS // 26, 1)


def test_only_what_was_counted_is_read() -> None:
    other = sheet(b"<row>" + a_cell("A1", "str", "other") + b"</row>")

    assert refused(with_parts({SHEET.upper(): other}))[0] == "no_workbook"
    assert refused(with_parts({SHEET.replace("/", "\\"): other}))[0] == "no_workbook"
    assert read_grid(with_parts({f"xl/{SHEET}": other})).columns == ("name", "skills")


def test_columns_are_bounded_and_so_are_their_names() -> None:
    many = b",".join(b"n%d" % at for at in range(MOST_COLUMNS + 1)) + b"\n1\n"

    assert refused(many)[0] == "too_many_columns"
    grid = read_grid(b"name," + b"(" * 100_000 + b"\nWren,x\n")
    assert [len(name) for name in grid.columns] == [4, LONGEST_NAME]


# Calendars.


def a_calendar(*rules: str, count: int = 1) -> bytes:
    day = "BEGIN:VEVENT\nDTSTART;VALUE=DATE:20270705\nRRULE:{}\nEND:VEVENT\n"
    inside = "".join(map(day.format, rules)) * count
    return f"BEGIN:VCALENDAR\nVERSION:2.0\n{inside}END:VCALENDAR\n".encode()


@pytest.mark.parametrize(
    ("rule", "code"),
    [
        ("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "comes_never"),
        ("FREQ=WEEKLY;BYMONTH=2;BYMONTHDAY=30", "comes_never"),
        ("FREQ=YEARLY;INTERVAL=0;BYMONTH=2;BYMONTHDAY=30", "comes_never"),
        ("FREQ=SECONDLY", "too_often"),
        ("FREQ=HOURLY;BYMONTH=2;BYMONTHDAY=30", "too_often"),
        ("FREQ=DAILY;BYHOUR=1,2;BYMINUTE=3", "too_often"),
        ("FREQ=DAILY;INTERVAL=" + "9" * 4400, "broken_entry"),
    ],
)
def test_a_rule_that_never_ends_is_a_trouble_of_its_entry(rule: str, code: str) -> None:
    found = bring_calendar(a_book(), "closures", a_calendar("FREQ=DAILY;COUNT=2", rule), None)

    assert [(each.row, each.code) for each in found.troubles] == [(2, code)]
    (line,) = [say.entry_line(Words(), t.row, t.code, t.facts) for t in found.troubles]
    assert line.startswith("Entry 2: It ")


def test_all_rules_of_a_calendar_share_their_steps() -> None:
    never = a_calendar("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", count=5)
    found = bring_calendar(a_book(), "closures", never, None)

    assert [each.code for each in found.troubles] == ["comes_never"] * 5


def test_a_calendar_may_come_to_so_many_times_and_no_more() -> None:
    with pytest.raises(NoTable) as refused:
        bring_calendar(a_book(), "leave", a_calendar("FREQ=DAILY", count=11), a_book().people[0])

    assert (refused.value.code, refused.value.facts) == ("too_many_times", {"most": MOST_OF_ALL})


def an_entry(*lines: str) -> bytes:
    inside = "\r\n".join(("BEGIN:VEVENT", *lines, "END:VEVENT"))
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n{inside}\r\nEND:VCALENDAR\r\n".encode()


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        (("DTSTART:00010101T000000",), "entry_ends_first"),
        (("DTSTART:00010101T000000", "DURATION:PT1H"), "entry_out_of_years"),
        (("DTSTART;VALUE=DATE:22000101",), "entry_out_of_years"),
        (("DTSTART:99991231T230000Z", "DURATION:PT2H"), "entry_out_of_years"),
        (("DTSTART:20270705T090000Z", "DURATION:P9999999D"), "entry_out_of_years"),
        (("DTSTART:20270705T090000Z", "DTSTART:20270706T090000Z"), "broken_entry"),
        (("DTSTART;VALUE=DATE:20270705", "DURATION:P1D", "DURATION:P2D"), "broken_entry"),
    ],
)
def test_an_entry_that_no_book_can_hold_is_a_trouble(lines: tuple[str, ...], code: str) -> None:
    found = bring_calendar(a_book(), "leave", an_entry(*lines), a_book().people[0])

    assert [each.code for each in found.troubles] == [code]


def test_the_name_of_a_closure_is_a_text_of_usual_length() -> None:
    entry = an_entry("DTSTART;VALUE=DATE:20270705", "SUMMARY:" + "x" * 500)
    found = bring_calendar(a_book(), "closures", entry, None)

    assert [each.code for each in found.troubles] == ["too_long"]


def test_a_day_that_no_book_can_hold_isn_t_taken_from_a_workbook_either() -> None:
    book = a_book()
    assert book.as_of is not None
    head = ["job", "client", "country", "window start", "window end", "not before"]
    row: list[object] = [
        "A",
        "B",
        "Norway",
        datetime(2027, 1, 1, 8),
        datetime(9999, 12, 31, 8),
        date(2300, 1, 1),
    ]
    found = bring_table(book, "jobs", as_xlsx([[*head], row]), {}, book.as_of, "Wren")

    assert [(each.column, each.code) for each in found.troubles] == [
        ("E", "not_a_day"),
        ("F", "not_a_day"),
    ]
    row[4:] = [datetime(2199, 12, 31, 8), date(2199, 12, 31)]
    found = bring_table(book, "jobs", as_xlsx([[*head], row]), {}, book.as_of, "Wren")
    assert found.edited is not None
    assert write_book(found.edited.book)
