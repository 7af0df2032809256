"""Tables that can be brought in, drawn from a seed, and ways to spoil single cells of them."""

import csv
import io
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from random import Random

import openpyxl

from app.exchange.bring.fields import FIELDS
from shared.book import Book, Stage
from shared.examine import take_in
from tests.house.tree import ROOT

Row = list[object]
KINDS = tuple(FIELDS)
BAD: dict[str, tuple[object, ...]] = {
    "text": ("", "\x01", "a" * 500, "#NAME?"),
    "number": ("twelve", "1.2.3", "1,234", "-5", "99999999999", "#REF!"),
    "day": ("2027-02-30", "31.4.2027", "03/04/2027", "soon", 12.5),
    "moment": ("2027-05-11", "11.5. 8 Uhr", "2027-05-11 25:00", "03/04/2027 08:00", "x"),
    "clock": ("25:00", "7", "noon", "07:61"),
    "word": ("perhaps", "42"),
}
SORTS = {
    "jobs": {
        "job": "text", "client": "text", "country": "word", "start": "moment", "end": "moment",
        "standing": "word", "not_before": "day", "answer_days": "number",
    },
    "stages": {
        "job": "word", "stage": "text", "kind": "word", "skill": "word", "hands": "number",
        "likely": "number", "cure": "number", "in_one_go": "word", "places": "word",
        "length": "number",
    },
    "people": {
        "name": "text", "pace": "number", "rate": "number", "works_from": "day",
        "under_18": "word",
    },
    "timetables": {
        "job": "word", "weekdays": "word", "leaves": "clock", "arrives": "clock",
        "days_later": "number", "zone": "word", "first": "day", "check_in": "number",
    },
    "hours": {
        "job": "word", "stage": "word", "people": "word", "begun": "moment", "done": "moment",
    },
}  # fmt: skip
"""Which cells are spoiled, and as what."""


@cache
def a_book() -> Book:
    found = take_in((ROOT / "sample_jobs/crossing.countback").read_bytes()).book
    assert found is not None
    return found


@dataclass
class Made:
    """A table: names of columns by field, rows by field."""

    kind: str
    rows: list[dict[str, object]]

    def grid(self, *, german: bool) -> list[Row]:
        fields = FIELDS[self.kind]
        named = [each.headers[1 if german and len(each.headers) > 1 else 0] for each in fields]
        return [[*named], *([row.get(each.id, "") for each in fields] for row in self.rows)]

    def column(self, field: str) -> int:
        return [each.id for each in FIELDS[self.kind]].index(field)


def stages_of(book: Book) -> list[tuple[str, str, str]]:
    """Job, segment and id of stages that are not done."""
    done = {fact.step for fact in book.facts}
    return [
        (job.name, "", step.id)
        for job in book.jobs
        for step in job.steps
        if isinstance(step, Stage) and step.id not in done
    ]


def a_table(kind: str, rng: Random, count: int) -> Made:
    book = a_book()
    crossed = next(
        job for job in book.jobs if any(getattr(leg, "timetable", ()) for s in job.steps
        for leg in getattr(s, "legs", ()))
    )  # fmt: skip
    assert book.as_of is not None
    rows: list[dict[str, object]] = []
    stages = stages_of(book)
    for at in range(count):
        start = datetime(2027, 6, 1, 8) + timedelta(days=rng.randrange(300))
        past = book.as_of.replace(tzinfo=None, hour=7, minute=30) - timedelta(days=20 + at % 300)
        made: dict[str, dict[str, object]] = {
            "jobs": {
                "job": f"Job {at}", "client": f"Client {rng.randrange(9)}", "site": "Yard",
                "country": rng.choice(["Norway", "DE", "Deutschland", "Japan"]),
                "start": start.strftime("%Y-%m-%d %H:%M"),
                "end": (start + timedelta(days=3)).strftime("%d.%m.%Y %H:%M"),
                "standing": rng.choice(["firm", "Anfrage", "enquiry", "fest", ""]),
                "not_before": rng.choice(["", "1.3.2027"]), "price": rng.choice(["", "12500.50"]),
                "answer_days": rng.choice(["", 5]),
            },
            "stages": {
                "job": rng.choice(book.jobs).name, "segment": f"Part {rng.randrange(4)}",
                "stage": f"work {at}", "kind": rng.choice(["foam", "Lack", "Fill and sand"]),
                "skill": rng.choice(book.people[0].skills).skill, "hands": rng.choice([1, 2]),
                "likely": rng.choice(["12.5", "12,5", 8]), "cure": rng.choice(["", 24]),
                "in_one_go": rng.choice(["", "yes", "nein"]),
                "places": rng.choice(book.places).name,
                "length": rng.choice(["", "2.4"]),
            },
            "people": {
                "name": f"Person {at}", "skills": "carve, laminate",
                "helps": rng.choice(["", "paint"]),
                "pace": rng.choice(["", "0.8", "1,2"]), "rate": rng.choice(["", 31.5]),
                "works_from": rng.choice(["", "2027-01-01"]), "under_18": rng.choice(["", "no"]),
            },
            "timetables": {
                "job": crossed.name, "weekdays": rng.choice(["Mon, Wed", "Di+Do", "daily"]),
                "leaves": "22:15", "arrives": "7.30", "days_later": 1, "zone": "Europe/London",
                "first": rng.choice(["", "2027-01-01"]), "check_in": rng.choice(["", 90]),
            },
            "hours": {
                "job": stages[at % len(stages)][0], "stage": stages[at % len(stages)][2],
                "people": book.people[at % len(book.people)].name,
                "begun": past.strftime("%Y-%m-%d %H:%M"),
                "done": (past + timedelta(hours=6)).strftime("%Y-%m-%d %H:%M"),
            },
        }  # fmt: skip
        rows.append(made[kind])
    return Made(kind=kind, rows=rows[: len(stages)] if kind == "hours" else rows)


def spoiled(made: Made, rng: Random) -> tuple[Made, set[tuple[int, int]]]:
    """The table with some of its cells spoiled, and which: rows of the file, columns from 0."""
    rows = [dict(row) for row in made.rows]
    spots: set[tuple[int, int]] = set()
    for at in rng.sample(range(len(rows)), rng.randint(1, min(4, len(rows)))):
        field, sort = rng.choice(sorted(SORTS[made.kind].items()))
        must = next(each for each in FIELDS[made.kind] if each.id == field).must
        wrong = [value for value in BAD[sort] if value != "" or must]
        rows[at][field] = rng.choice(wrong)
        spots.add((at + 2, made.column(field)))
    return Made(kind=made.kind, rows=rows), spots


def as_csv(grid: list[Row], *, separator: str = ",", encoding: str = "utf-8") -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, lineterminator="\r\n").writerows(grid)
    return out.getvalue().encode(encoding)


def as_xlsx(grid: list[Row]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in grid:
        sheet.append([None if cell == "" else cell for cell in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def written(folder: Path, name: str, data: bytes) -> Path:
    path = folder / name
    path.write_bytes(data)
    return path
