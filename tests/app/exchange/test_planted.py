"""Whatever stands in a book, what is given out runs nothing, and stays in its folder.

OWASP, "CSV Injection", for cells that programs take for formulas, also behind a separator of other
countries; ECMA-376 part 1, section 18.18.11, for the types of cells; the HTML standard as html5lib
reads it; RFC 5545 section 3.1 for lines; the names that files can't have, or that are devices, as
the documentation of Windows lists them ("Naming Files, Paths, and Namespaces").
"""

import csv
import io
import re
import unicodedata
from collections import Counter
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element, fromstring
from zipfile import ZipFile

import html5lib
import openpyxl
import pytest
from icalendar import Calendar

from app.exchange.calendar import Feed, Whose, calendar, feeds
from app.exchange.csv_text import FORMULA_STARTS, csv_bytes
from app.exchange.entries import entries
from app.exchange.files import feed_file, write_files
from app.exchange.given import Given
from app.exchange.page import page
from app.exchange.tables import tables
from app.exchange.text import plain
from app.exchange.workbook import workbook
from tests.app.exchange.planted import planted
from tests.app.exchange.scenes import give

FORMULAS = (
    "=1+1", "=cmd|' /C calc'!A0", "@SUM(A1)", "+1", "-1", "\t=1", "\r=1", "\n=1", "＝1",  # noqa: RUF001
    "x;=1+1", 'x;"=1+1', "x\n=1+1", "x\t@SUM(A1)", 'x";=1', "x;;-1", "x; =1",
)  # fmt: skip
TAGS = (
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "' onmouseover='alert(1)",
    "]]><script>", "&lt;b&gt;", "&#60;b&#62;", "</style><script>x</script>", "<!--", "-->",
    "</title><base href=//x>", "javascript:alert(1)", '<a href="javascript:alert(1)">x</a>',
    "<svg/onload=x>", "<b", "\x00<i>", "</li></ul></body>", "\u2028<u>",
)  # fmt: skip


@cache
def given_with(texts: tuple[str, ...] = ("plain",), first: int = 0) -> Given:
    return give(planted(texts, first))


# Tables.


@pytest.mark.parametrize("first", [0, 5])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_no_cell_of_text_is_a_formula_by_whichever_separator_it_is_read(
    first: int, separator: str
) -> None:
    given = given_with(FORMULAS, first)
    count = 0
    for table in tables(given):
        data = csv_bytes(given, table).decode()
        for row in csv.reader(io.StringIO(data, newline=""), delimiter=separator):
            for cell in row:
                count += 1
                bare = cell.lstrip('"')
                is_number = re.fullmatch(r"-?[0-9.]+(,.*)?", bare) is not None
                assert is_number or not bare.startswith(FORMULA_STARTS), cell
    assert count > 100


@pytest.mark.parametrize("first", [0, 5])
def test_every_text_of_a_workbook_is_a_cell_of_text(first: int) -> None:
    given = given_with(FORMULAS, first)
    data = workbook(given, tables(given))
    kinds = Counter[str]()
    for sheet in openpyxl.load_workbook(io.BytesIO(data)):
        for row in sheet.iter_rows():
            for cell in row:
                kinds[cell.data_type] += 1
                if isinstance(cell.value, str):
                    assert cell.data_type == "s"
    with ZipFile(io.BytesIO(data)) as archive:
        for name in archive.namelist():
            tags = {each.tag.partition("}")[2] for each in fromstring(archive.read(name)).iter()}
            assert not tags & {"f", "hyperlink", "externalLink", "ddeLink"}, name

    assert set(kinds) <= {"s", "n", "d"}
    assert kinds["s"] > 100


# The page.


def shape(data: bytes) -> list[tuple[str, tuple[str, ...]]]:
    """Every element and comment in its order, with the names of its attributes."""
    tree: Element = html5lib.parse(data, namespaceHTMLElements=False)
    return [(str(each.tag), tuple(sorted(each.keys()))) for each in tree.iter()]


@pytest.mark.parametrize("texts", [TAGS, TAGS[::-1], (" ".join(TAGS),)])
def test_a_text_makes_no_element_and_no_attribute_of_the_page(texts: tuple[str, ...]) -> None:
    data = page(given_with(texts))
    wanted = shape(page(given_with()))

    assert shape(data) == wanted
    assert len(wanted) > 50
    tree: Element = html5lib.parse(data, namespaceHTMLElements=False)
    shown = re.sub(r"\s+", " ", "".join(tree.itertext()))
    assert any(re.sub(r"\s+", " ", plain(text)).strip() in shown for text in texts)


# Calendars.


def properties(given: Given) -> list[list[tuple[str, tuple[str, ...]]]]:
    """What the parts of some calendars are called, and the names of all their properties."""
    found = entries(given)
    some = {each.whose: each for each in feeds(given.book)}.values()
    return [
        [(part.name or "", tuple(sorted(part))) for part in Calendar.from_ical(data).walk()]
        for data in (calendar(given, each, found) for each in some)
    ]


LINES = (
    "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nATTACH:file:///etc/passwd\r\n",
    "x\nATTENDEE:mailto:x@example.org\n",
    "x\rURL:http://example.org",
    "\\nURL:x",
    ";VALUE=URI:x",
    "\x00\x85ATTACH:x",
    "\u2028ATTACH:x",
)


@pytest.mark.parametrize("texts", [LINES, (" ".join((*LINES, *TAGS)),)])
def test_a_text_makes_no_line_of_a_calendar(texts: tuple[str, ...]) -> None:
    found = properties(given_with(texts))

    assert found == properties(given_with())
    assert sum(map(len, found)) > 30


# Names of files.

AWKWARD_IDS = (
    "../../x", "/etc/x", "..", ".", "C:\\x", "a\\b", "a/b", "NUL", "con", "COM1.txt", "a\x00b",
    "x" * 300, "ü" * 300, "龍" * 100, "a b", "a.", "a ", "~", "$HOME", "-rf", "%2e%2e", "a:b", "a?",
    "A", "a", "É", "é", "e\u0301", "\u202egnp", "x" * 299 + "y", "", "\n", "|", "*",
)  # fmt: skip
DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
LONGEST_NAME = 255
"""Bytes of a file's name on the usual file systems."""


def test_names_of_calendars_are_names_of_files_and_never_twice_the_same() -> None:
    names = [
        feed_file(Feed(whose=whose, id=identity, name="../x"))
        for whose in Whose
        for identity in AWKWARD_IDS
    ]

    for name in names:
        assert re.fullmatch(r"[A-Za-z0-9_.~%-]+\.ics", name), name
        assert len(name.encode()) <= LONGEST_NAME - len(".countback-12345678")
        assert not DEVICES.fullmatch(name)
        assert not name.startswith(("-", "."))
    same = Counter(unicodedata.normalize("NFC", name).casefold() for name in names)
    assert max(same.values()) == 1


def test_nothing_is_written_outside_of_the_folder(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "out"
    out.parent.mkdir()
    names = [feed_file(Feed(whose=Whose.JOB, id=each, name=each)) for each in AWKWARD_IDS]
    count = write_files(out, dict.fromkeys(names, b"x"), is_folder=True)

    assert count == len(AWKWARD_IDS)
    assert sorted(each.name for each in out.iterdir()) == sorted(names)
    assert [each for each in tmp_path.rglob("*") if each.is_file() and each.parent != out] == []
