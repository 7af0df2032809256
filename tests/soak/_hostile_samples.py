"""Good files of every kind that the program reads, to be spoiled."""

import io
import json
from functools import cache
from random import Random
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from app.exchange.bring.fields import FIELDS
from app.exchange.bring.templates import template_csv, template_workbook
from app.exchange.files import calendar_files, table_files, workbook_file
from shared.files.lock import host_name
from shared.files.write import write_book, write_plan
from tests.app.exchange.bring.made import a_table, as_csv, as_xlsx
from tests.app.exchange.scenes import a_book, an_awkward_book, give
from tests.house.tree import ROOT
from tests.shared.files.trees import filled_book, filled_plan

KINDS = ("book", "plan", "csv", "xlsx", "ics", "copy", "settings", "lock", "enquiry")
LARGEST = 512 * 1024
GONE = 4_194_303
"""A process that no system has: above what numbers usually go to."""

_ENTRIES = """BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//x//x//EN
BEGIN:VTIMEZONE
TZID:Shop
BEGIN:STANDARD
DTSTART:19701025T030000
TZOFFSETFROM:+0200
TZOFFSETTO:+0100
RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:19700329T020000
TZOFFSETFROM:+0100
TZOFFSETTO:+0200
RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU
END:DAYLIGHT
END:VTIMEZONE
BEGIN:VEVENT
UID:1
DTSTART;VALUE=DATE:20271224
DTEND;VALUE=DATE:20280103
SUMMARY:Winter
END:VEVENT
BEGIN:VEVENT
UID:2
DTSTART;TZID=Shop:20270705T080000
DURATION:PT8H
RRULE:FREQ=WEEKLY;COUNT=6;BYDAY=MO,WE
EXDATE;TZID=Shop:20270707T080000
SUMMARY:course
END:VEVENT
BEGIN:VEVENT
UID:3
DTSTART;VALUE=DATE:20270601
RRULE:FREQ=MONTHLY;UNTIL=20271201;BYDAY=1FR
SUMMARY:stocktaking
END:VEVENT
END:VCALENDAR
"""


@cache
def samples(kind: str) -> tuple[bytes, ...]:
    """Give the good files of a kind, the smallest first, none larger than LARGEST."""
    found = {
        "book": _books,
        "plan": _plans,
        "csv": _tables,
        "xlsx": _workbooks,
        "ics": _calendars,
        "copy": _copies,
        "settings": _settings,
        "lock": _locks,
        "enquiry": _enquiries,
    }[kind]()
    return tuple(sorted((each for each in found if len(each) <= LARGEST), key=len))


def _books() -> list[bytes]:
    files = (*sorted(ROOT.glob("sample_jobs/*.countback")), *ROOT.glob("tests/golden/*.countback"))
    return [*(file.read_bytes() for file in files), write_book(filled_book()), write_book(a_book())]


def _plans() -> list[bytes]:
    plan = a_book().plan
    assert plan is not None
    golden = [file.read_bytes() for file in sorted(ROOT.glob("tests/golden/*.plan"))]
    return [*golden, write_plan(plan), write_plan(filled_plan())]


def _tables() -> list[bytes]:
    rng = Random(1)
    made = [template_csv(kind, german=german) for kind in FIELDS for german in (False, True)]
    made += [as_csv(a_table(kind, rng, 12).grid(german=False)) for kind in FIELDS]
    made += [as_csv(a_table(kind, rng, 6).grid(german=True), separator=";") for kind in FIELDS]
    return [*made, *table_files(give(an_awkward_book()), bom=False).values()]


def _workbooks() -> list[bytes]:
    rng = Random(2)
    made = [template_workbook(kind) for kind in FIELDS]
    made += [as_xlsx(a_table(kind, rng, 8).grid(german=False)) for kind in FIELDS]
    return [timeless(each) for each in (*made, *workbook_file(give(a_book())).values())]


def timeless(data: bytes) -> bytes:
    """Give a workbook with the same bytes whenever it was made."""
    made = io.BytesIO()
    with ZipFile(io.BytesIO(data)) as before, ZipFile(made, "w", ZIP_DEFLATED) as after:
        for name in before.namelist():
            if name != "docProps/core.xml":
                after.writestr(ZipInfo(name), before.read(name), ZIP_DEFLATED)
    return made.getvalue()


def _calendars() -> list[bytes]:
    given = calendar_files(give(an_awkward_book()), None)
    return [_ENTRIES.replace("\n", "\r\n").encode(), *sorted(given.values(), key=len)[:4]]


def _copies() -> list[bytes]:
    """What a copy is of: of a program on this machine that is gone."""
    about = {
        "of": "x.countback",
        "base": "0" * 64,
        "host": host_name(),
        "pid": GONE,
        "started": "1",
    }
    return [json.dumps({**about, "of": of}, indent=2).encode() for of in ("", "x.countback")]


def _locks() -> list[bytes]:
    since = "2027-05-01T08:00:00Z"
    made = {"host": host_name(), "pid": GONE, "who": "Zita", "since": since, "token": "0" * 32}
    return [json.dumps(each, indent=2).encode() for each in (made, {**made, "host": "elsewhere"})]


def _enquiries() -> list[bytes]:
    tree = json.loads((ROOT / "sample_jobs/small.countback").read_bytes())
    return [json.dumps(job, indent=1).encode() for job in tree["jobs"][:3]]


def _settings() -> list[bytes]:
    made = {
        "look": "dark", "contrast": "system", "language": "de", "text_percent": 115,
        "recent": ["a.countback", "b.countback"], "solve_seconds": 20, "who": "Zita",
    }  # fmt: skip
    return [json.dumps(made, indent=2).encode()]
