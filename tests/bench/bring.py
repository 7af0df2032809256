"""How long a large table takes to be brought in: ``python -m tests.bench bring [--rows N]``.

Stages as comma-separated text, as a workbook, and as one with as many columns again that nobody
reads; jobs, and people: each judged against a sample and made into the book with all of it.
"""

import argparse
import csv
import io
import json
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from time import perf_counter, process_time

from app.exchange.bring.bringing import bring_table
from shared.book import Book, Segment
from shared.examine import take_in
from tests.house.tree import ROOT

ROWS = 50_000
NOW = datetime(2027, 6, 1, 12, tzinfo=UTC)
SAMPLE = "sample_jobs/crossing.countback"
"""Its jobs and segments are named in the rows."""
Row = list[str]


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench bring", description=__doc__)
    parser.add_argument("--rows", type=int, default=ROWS)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(argv)
    book = take_in((ROOT / SAMPLE).read_bytes()).book
    assert book is not None
    stages = list(stage_rows(book, asked.rows))
    wide = [[*row, *(f"note {at}" for at in range(len(row)))] for row in stages]
    found = {
        "stages, text": measured(book, "stages", as_text(stages)),
        "stages, workbook": measured(book, "stages", as_workbook(stages)),
        "stages, workbook with as much besides": measured(book, "stages", as_workbook(wide)),
        "jobs, text": measured(book, "jobs", as_text(list(job_rows(asked.rows)))),
        "people, text": measured(book, "people", as_text(list(person_rows(asked.rows)))),
    }
    for name, (processor, clock) in found.items():
        print(f"{asked.rows} rows, {name}: {processor:.1f} s of the processor, {clock:.1f} s")
    if asked.json:
        print(json.dumps({"rows": asked.rows, "seconds": {n: p for n, (p, _) in found.items()}}))
    return 0


def measured(book: Book, kind: str, data: bytes) -> tuple[float, float]:
    """Bring a table in; processor seconds, and seconds by the clock."""
    began, clock = process_time(), perf_counter()
    judged = bring_table(book, kind, data, {}, NOW, "bench")
    took = process_time() - began, perf_counter() - clock
    if judged.edited is None:
        raise RuntimeError((kind, judged.troubles[:3], judged.findings[:3]))
    return took


def job_rows(count: int) -> Iterator[Row]:
    """Give a head and rows of jobs for as many sites."""
    yield [
        "job",
        "client",
        "site",
        "country",
        "window start",
        "window end",
        "standing",
        "pencilled until",
    ]
    for number in range(count):
        start = datetime(2028, 1, 3, 8) + timedelta(days=number % 700)
        ends = written(start + timedelta(days=3))
        name, site = f"Piece {number}", f"Square {number}"
        yield [
            name,
            "Town library",
            site,
            "Norway",
            written(start),
            ends,
            "pencilled",
            "2027-09-01",
        ]


def person_rows(count: int) -> Iterator[Row]:
    """Give a head and rows of people."""
    yield ["name", "skills", "rate", "works from"]
    for number in range(count):
        yield [f"Wren {number}", "carve, laminate", "31.50", "2027-03-01"]


def stage_rows(book: Book, count: int) -> Iterator[Row]:
    """Give a head and rows of new stages, spread over jobs and segments."""
    yield ["job", "segment", "stage", "kind", "skill", "hands", "hours", "cure hours", "places"]
    pieces: list[tuple[str, Segment]] = [(j.name, s) for j in book.jobs for s in j.segments]
    place, skill = book.places[0].name, book.people[0].skills[0].skill
    for number in range(count):
        job, segment = pieces[number % len(pieces)]
        yield [job, segment.name, f"work {number}", "foam", skill, "1", "1.5", "0", place]


def written(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def as_text(rows: list[Row]) -> bytes:
    made = io.StringIO(newline="")
    csv.writer(made).writerows(rows)
    return made.getvalue().encode()


def as_workbook(rows: list[Row]) -> bytes:
    from xlsxwriter import Workbook

    made = io.BytesIO()
    book = Workbook(made, {"in_memory": True})
    sheet = book.add_worksheet()
    for line, row in enumerate(rows):
        for at, cell in enumerate(row):
            sheet.write_string(line, at, cell)
    book.close()
    return made.getvalue()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
