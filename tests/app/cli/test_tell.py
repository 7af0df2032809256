"""`countback tell`: a plan told, refused, and taken back."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from shared.files.disk import load
from shared.files.read import read_book, read_plan
from shared.files.write import write_plan
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_person, at


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, replace(a_book(), people=(a_person("ana"), a_person("ben"))))


def planned(path: Path, *more: str) -> Path:
    plan = path.parent / "made.plan"
    assert countback("plan", path, "--seconds", "1", "--out", plan, *more).code == 0
    return plan


def test_a_told_plan_is_kept_in_the_book_and_undo_takes_it_back(path: Path) -> None:
    before = path.read_bytes()
    plan = planned(path)
    said = countback("tell", path, plan, "--by", "Mara", "--json")
    book = read_book(load(path)).book

    assert said.code == 0
    assert book is not None
    assert book.told is not None
    assert book.told.plan == read_plan(plan.read_bytes()).plan
    assert (book.told.told_by, book.told.sheet_number) == ("Mara", 1)
    assert said.out.splitlines()[:2] == [
        "From Mon 5 Jan 2026 08:00 on this is what people are told by Mara: sheet number 1.",
        "It is the first sheet, so nothing was told before that changes.",
    ]
    told = json.loads(said.out.splitlines()[-1])
    assert told == {"told": True, "revision": 2, "sheet_number": 1, "changes": None}
    assert countback("undo", path).code == 0
    undone = read_book(load(path)).book
    assert undone is not None
    assert undone.told is None
    assert len(before) == len(path.read_bytes())


def test_the_second_sheet_says_what_changes_and_plans_list_it(path: Path) -> None:
    assert countback("tell", path, planned(path)).code == 0
    said = countback("plan", path, "--seconds", "1", "--json")
    told = json.loads(said.out.splitlines()[-1])

    assert "Nothing has changed since the sheet of Mon 5 Jan 2026 08:00, number 1." in said.out
    assert (told["changes"]["sheet_number"], told["changes"]["each"]) == (1, [])
    again = countback("tell", path, planned(path))
    assert "sheet number 2" in again.out


def test_a_plan_of_another_state_of_the_book_is_told_to_nobody(path: Path) -> None:
    plan = planned(path)
    assert countback("tell", path, plan).code == 0
    said = countback("tell", path, plan)

    assert said.code == 2
    assert "plan it again" in said.err


def test_a_broken_plan_is_told_to_nobody(path: Path) -> None:
    plan = planned(path)
    made = read_plan(plan.read_bytes()).plan
    assert made is not None
    moved = tuple(
        replace(each, start=at("2026-01-04 08:00")) if each.people else each
        for each in made.placements
    )
    plan.write_bytes(write_plan(replace(made, placements=moved)))
    said = countback("tell", path, plan, "--json")

    assert said.code == 4
    assert "Nobody is told this plan" in said.out
    assert json.loads(said.out.splitlines()[-1])["told"] is False
    book = read_book(load(path)).book
    assert book is not None
    assert book.told is None
