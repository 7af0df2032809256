"""`countback morning`: who does what, how sure it is, and a plan that can be told."""

from dataclasses import replace
from pathlib import Path

import pytest

from shared.book import ExtraHours
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.shell import a_file, countback
from tests.builders import a_book, a_person, a_told, at
from tests.scheduler.test_chance import a_tall_book
from tests.scheduler.told_work import first, plan_of, told_book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, replace(a_book(), people=(a_person("ana"), a_person("ben"))))


def test_it_says_who_does_what_and_programs_get_the_same(path: Path) -> None:
    before = path.read_bytes()
    said = countback("morning", path, "--json")
    told = said.last

    assert said.code == 0
    assert path.read_bytes() == before
    assert said.out.startswith("Every window is more likely kept than lost.\n")
    assert "Who does what, Mon 5 Jan 2026 and the next day of work" in said.out
    (job,) = told["jobs"]
    assert f"in time {job['chance']} times in 100." in said.out
    assert {tuple(each["people"]) for each in told["sheets"]} <= {
        ("ana",),
        ("ben",),
        ("ana", "ben"),
    }
    assert told["worth_coming"] == []
    assert "changes" not in told


def test_its_plan_can_be_told_and_is_kept_to_the_next_time(path: Path) -> None:
    plan = path.parent / "made.plan"
    assert countback("morning", path, "--out", plan).code == 0
    assert countback("tell", path, plan).code == 0
    book = read_book(load(path)).book
    assert book is not None
    assert book.told is not None
    said = countback("morning", path, "--json")
    assert "Nothing has changed since the sheet of" in said.out
    assert said.last["is_told_anew"] is False
    assert said.last["changes"]["each"] == []


def test_a_window_in_danger_is_said_first_and_ends_with_3(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_tall_book(window_days=1))
    said = countback("morning", path, "--now", "2026-01-05T08:00Z", "--json")
    assert said.code == 3
    assert said.out.startswith("One window is more likely lost than kept: Heron.")
    assert [job["in_danger"] for job in said.last["jobs"]] == [True]


def test_it_says_who_has_how_many_extra_hours_and_asks_by_name(tmp_path: Path) -> None:
    evening = ExtraHours(start=at("2025-12-16 16:00"), end=at("2025-12-16 19:00"))
    ahead = ExtraHours(start=at("2026-01-13 16:00"), end=at("2026-01-13 18:00"))
    people = (
        replace(a_person("ana"), overtime_taken=(evening, ahead)),
        replace(a_person("ben"), overtime_offered=(ahead,)),
    )
    told = a_told(plan_of(first("ana")))
    path = a_file(tmp_path, replace(told_book(), people=people, told=told))
    said = countback("morning", path, "--now", "2026-01-12T07:30", "--json")
    assert (
        "Extra hours of the last eight weeks, fewest first\n  Ben: 0 h.\n  Ana: 3 h, and 2 h"
        in (said.out)
    )
    assert "Ask Ana: is First for Fox done" in said.out
    assert [(each["person"], each["hours"]) for each in said.last["extra_hours"]] == [
        ("ben", 0.0),
        ("ana", 3.0),
    ]
    assert [(each["people"], each["by_name"]) for each in said.last["asks"]] == [(["ana"], True)]


def test_a_book_that_stops_is_not_planned(tmp_path: Path) -> None:
    bad = tmp_path / "bad.countback"
    bad.write_text("{}", encoding="utf-8")
    said = countback("morning", bad, "--json")
    assert said.code == 2
    assert said.last["jobs"] == []
