"""`countback away`: answers listed, one taken and taken back, and what can't be asked."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from shared.book import Book, Leave
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.shell import a_file, countback
from tests.builders import a_material, a_place, a_supplier, an_equipment, at
from tests.scheduler.test_away import two_pieces


@pytest.fixture
def path(tmp_path: Path) -> Path:
    book = two_pieces()
    ana = replace(
        book.people[0],
        leave=(Leave(start=at("2026-02-02 00:00"), end=at("2026-02-03 00:00"), reason="dentist"),),
    )
    changed = replace(
        book,
        people=(ana, *book.people[1:]),
        places=(*book.places, a_place("booth")),
        equipment=(an_equipment(),),
        suppliers=(a_supplier(),),
        materials=(a_material(),),
    )
    return a_file(tmp_path, changed)


def read(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


ILL = ("ana", "2026-01-06", "2026-01-08", "--seconds", "20")


def test_answers_are_listed_and_nothing_is_written(path: Path) -> None:
    data = path.read_bytes()
    said = countback("away", path, *ILL, "--json")
    told = json.loads(said.out.splitlines()[-1])

    assert said.code == 0
    assert path.read_bytes() == data
    assert said.out.splitlines()[:3] == [
        "Ana is away from Tue 6 Jan to Thu 8 Jan.",
        "One piece of work is touched:",
        "   First on One for Fox, Tue 6 Jan 07:30 to 16:00",
    ]
    assert [way["changes"] for way in told["ways"]] == [
        [{"kind": "waits", "id": "first"}],
        [{"kind": "taken_over", "id": "first"}],
        [{"kind": "taken_over", "id": "first"}, {"kind": "swapped", "id": "second"}],
    ]
    assert all(
        (way["price"], way["proved_cheapest"], way["verdicts"]) == (0, True, {"fox": "fits"})
        for way in told["ways"]
    )
    assert (told["taken"], told["revision"]) == (None, None)
    assert told["away"]["end"].startswith("2026-01-09T00:00")


def test_a_reason_is_never_said(path: Path) -> None:
    for verb in (("away", path, *ILL), ("plan", path, "--seconds", "1")):
        said = countback(*verb, "--json")
        assert "dentist" not in said.out + said.err


def test_the_nth_is_taken_told_and_taken_back(path: Path) -> None:
    said = countback("away", path, *ILL, "--apply", "3", "--json")
    book = read(path)

    assert said.code == 0
    assert book.told is not None
    assert book.told.sheet_number == 4
    assert book.people[0].leave[-1] == Leave(
        start=at("2026-01-06 00:00"), end=at("2026-01-09 00:00")
    )
    assert "Answer 3 is taken" in said.out
    assert "sheet number 4" in said.out
    told = json.loads(said.out.splitlines()[-1])
    assert (told["taken"], told["revision"]) == (3, book.revision)
    plan = countback("plan", path, "--seconds", "1")
    assert "Nothing has changed since the sheet" in plan.out
    assert countback("undo", path).code == 0
    undone = read(path)
    assert undone.told is not None
    assert (undone.told.sheet_number, len(undone.people[0].leave)) == (3, 1)


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        (("booth", "2026-01-06", "2026-01-06"), "Booth is not to be had on Tue 6 Jan."),
        (("Lor", "2026-01-06", "2026-01-06"), "Lorry is not to be had on Tue 6 Jan."),
        (
            ("primer", "2026-01-05T12:00", "2026-01-07T11:00"),
            "The delivery of Primer comes on Wed 7 Jan 11:00 only.",
        ),
    ],
)
def test_places_things_and_deliveries_may_be_missing(
    path: Path, asked: tuple[str, ...], line: str
) -> None:
    said = countback("away", path, *asked)

    assert said.code == 0
    assert said.out.splitlines()[0] == line


@pytest.mark.parametrize(
    ("asked", "trouble"),
    [
        (("zoe", "2026-01-06", "2026-01-08"), "Nobody and nothing here is called zoe"),
        (("ana", "2026-01-06", "2026-01-02"), "can't be back by"),
        (("ana", "Tuesday", "2026-01-08"), "Tuesday"),
        (("ana", "2026-01-06", "2026-01-08", "--apply", "9"), "no answer number 9"),
    ],
)
def test_what_can_not_be_asked_is_refused(path: Path, asked: tuple[str, ...], trouble: str) -> None:
    said = countback("away", path, *asked)

    assert said.code == 2
    assert trouble in said.err
