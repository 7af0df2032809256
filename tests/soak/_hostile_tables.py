"""Spoiled tables and calendars: by cells, by lines, by the parts of a workbook."""

import csv
import io
import zlib
from random import Random
from typing import Literal
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from app.exchange.bring.fields import FIELDS
from tests.app.exchange.bring.made import as_xlsx
from tests.soak._hostile_odd import ALL, DAYS, MOMENTS, NUMBERS, TEXTS
from tests.soak._hostile_samples import timeless
from tests.soak._hostile_ways import ANY

_LONGEST_CELL = 32_000

# Comma-separated text.


def by_cells(data: bytes, rng: Random) -> bytes:
    text = data.decode("utf-8-sig", "replace")
    separator = ";" if text.count(";") > text.count(",") else ","
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    _spoil(rows, rng)
    out = io.StringIO(newline="")
    quoting: Literal[0, 1] = csv.QUOTE_ALL if rng.random() < 0.5 else csv.QUOTE_MINIMAL
    end = rng.choice(("\r\n", "\n", "\r", "\n\n"))
    mark = rng.choice((separator, separator, ",", ";", "\t", "|"))
    csv.writer(out, delimiter=mark, lineterminator=end, quoting=quoting).writerows(rows)
    return out.getvalue().encode("utf-8", "surrogatepass")


def _spoil(rows: list[list[str]], rng: Random) -> None:
    for _ in range(rng.choice((1, 1, 2, 5))):
        row = rng.choice(rows) if rows else []
        way = rng.randrange(10)
        if way == 0:
            row.extend([rng.choice(ALL)] * rng.choice((1, 3, 300)))
        elif way == 1 and rows:
            rows.extend([list(row)] * rng.choice((1, 2, 200)))
        elif way == 2:
            del row[rng.randrange(len(row) + 1) :]
        elif way == 3 and rows:
            rows[0] = [rng.choice(ALL) for _ in range(rng.choice((1, 5, 40)))]
        elif row:
            row[rng.randrange(len(row))] = rng.choice(ALL) + rng.choice(("", "", "\ud800"))


# Workbooks.

_TYPES = ("s", "n", "b", "e", "str", "inlineStr", "d", "x")
_REFS = ("A1", "XFD1048576", "A1048576", "ZZZZ1", "A0", "1A", "A99999999999", "", "B2", "$A$1")


def by_sheet_cells(data: bytes, rng: Random) -> bytes:
    """A workbook made of odd cells under usual names."""
    del data
    kind = rng.choice(list(FIELDS))
    fields = FIELDS[kind]
    rows: list[list[object]] = [[each.headers[0] for each in fields]]
    for _ in range(rng.randint(1, 6)):
        row: list[object] = [each.example for each in fields]
        for _ in range(rng.randint(1, 4)):
            row[rng.randrange(len(row))] = _cell(rng)
        rows.append(row)
    return timeless(as_xlsx(rows))


def _cell(rng: Random) -> object:
    from datetime import date, datetime, time, timedelta

    odd = "".join(c for c in rng.choice(ALL) if c.isprintable())[:_LONGEST_CELL]
    return rng.choice(
        (
            odd, odd, odd, 1e308, -1e308, 1e-308, 10**15, -1, 0.1, True, date(9999, 12, 31),
            datetime(9999, 12, 31, 23, 59), date(1900, 1, 1), datetime(2300, 1, 1, 8), time(23, 59),
            timedelta(days=-1), timedelta(days=4000), "#REF!", "=1/0", '=HYPERLINK("http://x","y")',
        )
    )  # fmt: skip


def by_members(data: bytes, rng: Random) -> bytes:
    """One file in a workbook is spoiled, left out, there twice, or another's."""
    try:
        with ZipFile(io.BytesIO(data)) as archive:
            parts = [(each.filename, archive.read(each)) for each in archive.infolist()]
    except (BadZipFile, zlib.error, OSError, EOFError, NotImplementedError):
        return data
    likely = [at for at, (name, _) in enumerate(parts) if "sheet" in name or "String" in name]
    at = rng.choice(likely) if likely and rng.random() < 0.7 else rng.randrange(len(parts))
    name, part = parts[at]
    way = rng.randrange(8)
    if way == 0:
        del parts[at]
    elif way == 1:
        parts.append((name, rng.choice(ANY)(part, rng)))
    elif way == 2:
        parts[at] = (name, rng.choice(parts)[1])
    elif way == 3:
        parts[at] = (rng.choice(("../../evil.xml", "/etc/x", "xl\\workbook.xml", name + "/")), part)
    elif way < 6:
        parts[at] = (name, _xml(part, rng))
    else:
        parts[at] = (name, rng.choice(ANY)(part, rng))
    return _zipped(parts, rng)


def _zipped(parts: list[tuple[str, bytes]], rng: Random) -> bytes:
    import warnings

    out = io.BytesIO()
    how = rng.choice((ZIP_DEFLATED, ZIP_STORED))
    with warnings.catch_warnings(), ZipFile(out, "w") as made:
        warnings.simplefilter("ignore")
        for name, part in parts:
            made.writestr(ZipInfo(name), part, how)
    return out.getvalue()


def _xml(part: bytes, rng: Random) -> bytes:
    """A value, a type or a place of a cell, or the head of the file."""
    way = rng.randrange(6)
    if way == 0:
        return _between(part, b"<v>", b"</v>", _odd_value(rng), rng)
    if way == 1:
        return _between(part, b' r="', b'"', rng.choice(_REFS).encode(), rng)
    if way == 2:
        return part.replace(b' t="s"', f' t="{rng.choice(_TYPES)}"'.encode(), rng.randint(1, 3))
    if way == 3:
        return _between(part, b' s="', b'"', rng.choice(NUMBERS).encode(), rng)
    if way == 4:
        return _between(part, b"<t>", b"</t>", _odd_value(rng), rng)
    head = rng.choice((LAUGHS, OUTSIDE, b'<?xml version="1.0" encoding="utf-16"?>', b"\xff\xfe"))
    body = part.partition(b"?>")[2] or part
    return head + body


def _odd_value(rng: Random) -> bytes:
    text = rng.choice((*ALL, "&lol9;", "&x;", "&#0;", "&#xD800;"))
    return text.encode("utf-8", "surrogatepass") if rng.random() < 0.3 else escape(text).encode()


def _between(part: bytes, opened: bytes, closed: bytes, odd: bytes, rng: Random) -> bytes:
    places = part.count(opened)
    if not places:
        return part
    pieces = part.split(opened)
    at = rng.randrange(1, places + 1)
    inside, mark, rest = pieces[at].partition(closed)
    del inside
    pieces[at] = odd + mark + rest
    return opened.join(pieces)


LAUGHS = (
    b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY lol "lol">'
    + b"".join(
        b'<!ENTITY lol%d "%s">' % (at, (b"&lol%d;" % (at - 1) if at > 1 else b"&lol;") * 10)
        for at in range(1, 10)
    )
    + b"]>"
)
OUTSIDE = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY x SYSTEM "file:///etc/passwd">]>'

# Calendars.

_STARTS = (
    "DTSTART:20270705T090000Z", "DTSTART;VALUE=DATE:20270705", "DTSTART:00010101T000000",
    "DTSTART:99991231T235959Z", "DTSTART;TZID=Shop:20270705T090000", "DTSTART:", "DTSTART:soon",
    "DTSTART;TZID=../../etc/passwd:20270705T090000", "DTSTART;VALUE=TIME:090000",
    "DTSTART;VALUE=PERIOD:20270705T090000Z/PT1H", "DTSTART;VALUE=DATE:22000101",
    "DTSTART;TZID=Nowhere/Land:20270705T090000", "DTSTART;VALUE=URI:x", "DTSTART:-0270705",
)  # fmt: skip
_ENDS = (
    "DTEND:20270705T080000Z", "DTEND:99991231T235959Z", "DURATION:P9999999999D", "DURATION:-PT1H",
    "DURATION:P1W2DT3H", "DURATION:", "DTEND;VALUE=DATE:20990101", "DTEND;VALUE=PERIOD:x/y",
    "DURATION:PT99999999999999999S", "DTEND;VALUE=DATE:21991231", "DURATION:P99999999D",
    "DURATION;VALUE=DATE:20270101",
)  # fmt: skip
_FREQ = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY", "HOURLY", "MINUTELY", "SECONDLY", "NEVER", "")
_RULE_PARTS = (
    "INTERVAL=0", "INTERVAL=-1", "INTERVAL=1", "INTERVAL=99999999999",
    "INTERVAL=" + "9" * 4400, "COUNT=0", "COUNT=-5", "COUNT=1000000000", "COUNT=x",
    "UNTIL=99991231T235959Z", "UNTIL=20280101", "UNTIL=20280101T000000", "UNTIL=x", "BYDAY=MO,TU",
    "BYDAY=99MO", "BYDAY=-1SU", "BYDAY=XX", "BYMONTH=2;BYMONTHDAY=30", "BYMONTH=13", "BYMONTH=0",
    "BYMONTHDAY=31", "BYMONTHDAY=-31", "BYYEARDAY=366", "BYYEARDAY=-366", "BYWEEKNO=53",
    "BYWEEKNO=-53;BYDAY=SU", "BYSETPOS=-1", "BYSETPOS=366", "BYHOUR=25", "BYHOUR=0,1,2,3",
    "BYMINUTE=" + ",".join(map(str, range(60))), "BYSECOND=" + ",".join(map(str, range(60))),
    "WKST=SU", "WKST=XX", "BYEASTER=0", "X-A=1", "RSCALE=HEBREW", "SKIP=FORWARD", "FREQ=DAILY",
    "BYMONTH=" + ",".join(map(str, range(1, 13))) * 50,
)  # fmt: skip
_OTHERS = (
    "EXDATE:20270705T090000Z", "EXDATE;VALUE=DATE:20270705,20270706", "EXDATE:x", "EXDATE:",
    "RDATE:20270801T090000Z", "RDATE;VALUE=PERIOD:20270801T090000Z/PT1H", "STATUS:CANCELLED",
    "STATUS:", "SUMMARY:=1+1", "SUMMARY;LANGUAGE=de:\\n\\,\\;", "EXRULE:FREQ=DAILY", "UID:",
    "SUMMARY:" + "x" * 2000, "RECURRENCE-ID:20270705T090000Z", "X-" + "A" * 300 + ":1", "BEGIN:",
    "BEGIN:VALARM", "END:VALARM", "END:VEVENT", "BEGIN:VEVENT", "BEGIN:VCALENDAR", "ATTACH:x",
    "GEO:1;2;3", "TRIGGER:x", "PRIORITY:x", "ORGANIZER;CN=\"a\":mailto:x", "BEGIN:VTIMEZONE",
    ";:", ":", "=", ";;;;", "SUMMARY;X=\":y", "DTSTAMP:x", "SEQUENCE:" + "9" * 5000,
)  # fmt: skip
_ZONES = (
    "TZOFFSETTO:+9999", "TZOFFSETTO:+2400", "TZOFFSETFROM:-235959", "TZOFFSETTO:x", "TZID:",
    "TZID:Europe/London", "DTSTART:00010101T000000", "RRULE:FREQ=SECONDLY", "RDATE:x", "TZNAME:",
    "RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "TZOFFSETTO:+000000000001", "TZID:../../x",
    "RRULE:FREQ=DAILY;UNTIL=99991231T000000Z", "RRULE:FREQ=YEARLY;INTERVAL=0",
)  # fmt: skip


def by_entries(data: bytes, rng: Random) -> bytes:
    """A calendar of odd entries, some in a zone of its own."""
    del data
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:x"]
    if rng.random() < 0.4:
        lines += ["BEGIN:VTIMEZONE", "TZID:Shop", "BEGIN:STANDARD", "DTSTART:19700101T000000"]
        lines += ["TZOFFSETFROM:+0100", "TZOFFSETTO:+0100", *rng.sample(_ZONES, rng.randrange(4))]
        lines += ["END:STANDARD", "END:VTIMEZONE"]
    for _ in range(rng.choice((1, 1, 2, 30))):
        lines += ["BEGIN:VEVENT", *_entry(rng), "END:VEVENT"]
    lines += ["END:VCALENDAR", ""]
    return rng.choice(("\r\n", "\r\n", "\n")).join(lines).encode("utf-8", "surrogatepass")


def _entry(rng: Random) -> list[str]:
    made = [rng.choice(_STARTS[:2] if rng.random() < 0.6 else _STARTS)]
    if rng.random() < 0.4:
        made.append(rng.choice(_ENDS))
    if rng.random() < 0.6:
        parts = rng.sample(_RULE_PARTS, rng.randrange(4))
        made.append(";".join([f"RRULE:FREQ={rng.choice(_FREQ)}", *parts]))
    made += rng.sample(_OTHERS, rng.choice((0, 0, 1, 2)))
    if rng.random() < 0.2:
        made.append(f"SUMMARY:{rng.choice(TEXTS)}".replace("\n", "\\n"))
    rng.shuffle(made)
    return made


def by_lines(data: bytes, rng: Random) -> bytes:
    """Lines of a good calendar exchanged for odd ones, some folded very long."""
    lines = data.decode("utf-8", "replace").split("\r\n")
    for _ in range(rng.choice((1, 1, 2, 5))):
        at = rng.randrange(len(lines))
        name = lines[at].partition(":")[0]
        way = rng.randrange(5)
        if way == 0:
            lines[at] = f"{name}:{rng.choice(ALL)}"
        elif way == 1:
            lines.insert(at, rng.choice((*_STARTS, *_ENDS, *_OTHERS, *_ZONES)))
        elif way == 2:
            lines[at] = (
                f"{name};{rng.choice(('VALUE=DATE', 'TZID=x', 'VALUE=BINARY'))}:"
                + rng.choice((*DAYS, *MOMENTS, "20270101", "20270101T000000Z"))
            )
        elif way == 3:
            lines[at] += "\r\n " * rng.choice((1, 5, 20_000)) + "x"
        else:
            del lines[at]
            lines = lines or [""]
    return "\r\n".join(lines).encode("utf-8", "surrogatepass")
