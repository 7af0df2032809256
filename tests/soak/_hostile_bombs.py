"""Files that are small and unfold: each is judged as it is, not spoiled further."""

import io
from collections.abc import Callable
from functools import cache
from zipfile import ZIP_DEFLATED, ZipFile

from tests.app.exchange.bring.made import as_xlsx
from tests.soak._hostile_tables import LAUGHS, OUTSIDE

_HEAD = b'{"countback": {"kind": "book", "format": 1}, "name": "x", '
_SHEET = "xl/worksheets/sheet1.xml"
_SPACE = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def _workbook(changed: dict[str, bytes]) -> bytes:
    """A usual workbook with some of its files exchanged."""
    out = io.BytesIO()
    usual = as_xlsx([["name", "skills"], ["Wren", "carve"]])
    with ZipFile(io.BytesIO(usual)) as before, ZipFile(out, "w", ZIP_DEFLATED) as made:
        for name in dict.fromkeys((*before.namelist(), *changed)):
            made.writestr(name, changed[name] if name in changed else before.read(name))
    return out.getvalue()


def _sheet(rows: bytes, before: bytes = b"") -> bytes:
    inside = b"<sheetData>" + rows + b"</sheetData>"
    return b"<worksheet " + _SPACE + b">" + before + inside + b"</worksheet>"


def _cell(at: str, value: bytes = b"<v>1</v>", kind: bytes = b"n") -> bytes:
    return b'<c r="%s" t="%s">%s</c>' % (at.encode(), kind, value)


def _far_apart() -> bytes:
    far = b'<row r="1048576">' + _cell("XFD1048576") + b"</row>"
    return _workbook({_SHEET: _sheet(b'<row r="1">' + _cell("A1") + b"</row>" + far)})


def _wide() -> bytes:
    rows = (b'<row r="%d">' % at + _cell(f"XFD{at}") + b"</row>" for at in range(1, 3000))
    return _workbook({_SHEET: _sheet(b"".join(rows))})


def _far_row() -> bytes:
    far = b'<row r="99999999999">' + _cell("A99999999999") + b"</row>"
    return _workbook({_SHEET: _sheet(b'<row r="1">' + _cell("A1") + b"</row>" + far)})


def _dimensions() -> bytes:
    said = b'<dimension ref="A1:XFD1048576"/>'
    return _workbook({_SHEET: _sheet(b'<row r="1">' + _cell("A1") + b"</row>", said)})


def _blank(megabytes: int) -> bytes:
    return _workbook({_SHEET: _sheet(b" " * (megabytes << 20))})


def _many_cells() -> bytes:
    row = b"".join(b"<c><v>1</v></c>" for _ in range(200))
    return _workbook({_SHEET: _sheet((b"<row>" + row + b"</row>") * 15_000)})


def _one_text_often(length: int, count: int) -> bytes:
    """One long text of the workbook that every cell of the sheet names."""
    texts = b"<sst " + _SPACE + b"><si><t>" + b"x" * length + b"</t></si></sst>"
    cells = (_cell(f"A{at}", b"<v>0</v>", b"s") for at in range(1, count))
    rows = b"".join(b"<row>" + each + b"</row>" for each in cells)
    return _workbook({_SHEET: _sheet(rows), "xl/sharedStrings.xml": texts})


def _counted() -> bytes:
    texts = b"<sst " + _SPACE + b' count="4294967295" uniqueCount="4294967295"></sst>'
    return _workbook({"xl/sharedStrings.xml": texts})


def _counted_styles() -> bytes:
    count = b' count="4294967295"'
    inside = b"".join(b"<%s%s></%s>" % (each, count, each) for each in (b"numFmts", b"cellXfs"))
    return _workbook({"xl/styles.xml": b"<styleSheet " + _SPACE + b">" + inside + b"</styleSheet>"})


def _laughing(name: str) -> Callable[[], bytes]:
    def make() -> bytes:
        inside = b'<row><c t="str"><v>&lol9;</v></c></row>'
        return _workbook({name: LAUGHS + _sheet(inside)})

    return make


def _outside() -> bytes:
    return _workbook({_SHEET: OUTSIDE + _sheet(b'<row><c t="str"><v>&x;</v></c></row>')})


def _nested_xml() -> bytes:
    return _workbook({_SHEET: _sheet(b"<row>" * 200_000 + b"</row>" * 200_000)})


def _calendar(*events: str, count: int = 1) -> bytes:
    inside = "".join(f"BEGIN:VEVENT\r\n{each}\r\nEND:VEVENT\r\n" for each in events) * count
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n{inside}END:VCALENDAR\r\n".encode()


_DAY = "DTSTART;VALUE=DATE:20270705\r\nRRULE:FREQ="
_BOMBS: tuple[tuple[str, str, Callable[[], bytes]], ...] = (
    ("xlsx", "far apart", _far_apart),
    ("xlsx", "wide", _wide),
    ("xlsx", "a row that no sheet has", _far_row),
    ("xlsx", "dimensions", _dimensions),
    ("xlsx", "90 MB of nothing", lambda: _blank(90)),
    ("xlsx", "120 MB of nothing", lambda: _blank(120)),
    ("xlsx", "3 million cells", _many_cells),
    ("xlsx", "a long text often", lambda: _one_text_often(1 << 20, 2000)),
    ("xlsx", "a cell's text often", lambda: _one_text_often(30_000, 20_000)),
    ("xlsx", "counts", _counted),
    ("xlsx", "counts of styles", _counted_styles),
    ("xlsx", "laughs in the sheet", _laughing(_SHEET)),
    ("xlsx", "laughs in the texts", _laughing("xl/sharedStrings.xml")),
    ("xlsx", "laughs in the workbook", _laughing("xl/workbook.xml")),
    ("xlsx", "laughs in the styles", _laughing("xl/styles.xml")),
    ("xlsx", "from outside", _outside),
    ("xlsx", "nested", _nested_xml),
    ("ics", "never by day", lambda: _calendar(_DAY + "DAILY;BYMONTH=2;BYMONTHDAY=30")),
    ("ics", "never by second", lambda: _calendar(_DAY + "SECONDLY;BYMONTH=2;BYMONTHDAY=30")),
    ("ics", "never by week", lambda: _calendar(_DAY + "WEEKLY;BYMONTH=2;BYMONTHDAY=30", count=99)),
    ("ics", "interval 0", lambda: _calendar(_DAY + "YEARLY;INTERVAL=0;BYMONTH=2;BYMONTHDAY=30")),
    ("ics", "every second", lambda: _calendar("DTSTART:20270705T090000Z\r\nDURATION:PT1S\r\n"
                                              "RRULE:FREQ=SECONDLY")),
    ("ics", "every day often", lambda: _calendar(_DAY + "DAILY", count=3000)),
    ("ics", "all seconds of a day", lambda: _calendar(
        _DAY + "DAILY;" + ";".join(
            f"{name}={','.join(map(str, range(most)))}"
            for name, most in (("BYHOUR", 24), ("BYMINUTE", 60), ("BYSECOND", 60))
        ), count=20)),
    ("ics", "nested", lambda: b"BEGIN:VEVENT\r\n" * 20_000 + b"END:VEVENT\r\n" * 20_000),
    ("ics", "nested zones", lambda: b"BEGIN:VCALENDAR\r\n" * 5000),
    ("ics", "folded", lambda: _calendar("SUMMARY:" + "x\r\n " * 300_000)),
    ("ics", "one line", lambda: _calendar("SUMMARY:" + "x" * 4_000_000)),
    ("ics", "parameters", lambda: _calendar("SUMMARY" + ";X=y" * 50_000 + ":z")),
    ("ics", "left out", lambda: _calendar(
        _DAY + "DAILY\r\nEXDATE;VALUE=DATE:" + ",".join(["20270705"] * 20_000))),
    ("csv", "brackets", lambda: b"(" * 120_000 + b",name\r\nx,y\r\n"),
    ("csv", "columns", lambda: b",".join(b"n%d" % at for at in range(40_000)) + b"\r\n1,2\r\n"),
    ("csv", "long names", lambda: b",".join([b"ab" * 2000] * 100) + b"\r\n1,2\r\n"),
    ("csv", "spaces in a moment", lambda: (
        b"job,client,country,window start,window end\r\nA,B,Norway,x" + b" " * 120_000
        + b"y,2027-01-01 08:00\r\n")),
    ("csv", "one cell", lambda: b'name,skills\r\nA,"' + b"x," * 250_000 + b'"\r\n'),
    ("csv", "a cell without end", lambda: b'name,skills\r\nA,"' + b"x\r\n" * 150_000),
    ("csv", "skills", lambda: b'name,skills\r\nA,"' + b"x," * 60_000 + b'"\r\n'),
    ("csv", "people", lambda: b"name\r\n" + b"".join(b"n%d\r\n" % at for at in range(10_000))),
    ("csv", "nobody", lambda: b"job,stage,people,begun,done\r\n"
        + b"x,y,z,2027-01-01 08:00,2027-01-01 09:00\r\n" * 10_000),
    ("csv", "empty lines", lambda: b"\r\n" * 250_000),
    ("csv", "separators", lambda: b"," * 500_000),
    ("csv", "zones", lambda: b"job,weekdays,leaves,arrives,zone\r\n" + b"".join(
        b"Heron,daily,07:00,08:00,zone%d\r\n" % at for at in range(8_000))),
    ("book", "unknown fields", lambda: _HEAD + b",".join(
        b'"nam%d": 1' % at for at in range(40_000)) + b"}"),
    ("book", "unknown words", lambda: _HEAD + b'"people": [' + b",".join(
        b'{"id": "%d", "name": "x", "skills": [{"skill": "x", "level": "cann"}]}' % at
        for at in range(6_000)) + b"]}"),
    ("book", "deep", lambda: b"[" * 500_000),
    ("book", "deep in an unknown field", lambda: (
        _HEAD + b'"zz": ' + b"[" * 900 + b"]" * 900 + b"}")),
    ("book", "one number", lambda: b"9" * 500_000),
    ("book", "one fraction", lambda: _HEAD + b'"revision": 0.' + b"9" * 400_000 + b"}"),
    ("book", "empty lists", lambda: _HEAD + b'"jobs": [' + b"[]," * 160_000 + b"[]]}"),
    ("book", "same ids", lambda: _HEAD + b'"people": [' + b",".join(
        [b'{"id": "a", "name": "x"}'] * 18_000) + b"]}"),
    ("settings", "deep", lambda: b"[" * 200_000),
    ("settings", "large", lambda: b'{"recent": ["' + b"x" * 30_000_000 + b'"]}'),
    ("copy", "deep", lambda: b'{"a":' * 100_000),
    ("enquiry", "deep", lambda: b'{"id": "q", "steps": ' + b"[" * 900 + b"]" * 900 + b"}"),
    ("lock", "deep", lambda: b"[" * 60_000),
)  # fmt: skip
NAMES = tuple((kind, name) for kind, name, _ in _BOMBS)


@cache
def bomb(at: int) -> tuple[str, str, bytes]:
    """Give one of them: its kind, its name and its bytes."""
    kind, name, make = _BOMBS[at]
    return kind, name, make()
