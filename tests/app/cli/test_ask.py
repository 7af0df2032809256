"""`countback ask`: four blanks on an empty machine, beside a book's jobs, and what is refused."""

from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from shared.book import Standing
from shared.edits import take_route
from shared.files.read import read_book
from shared.routes import program_route
from tests.app.cli.shell import Said, a_file, countback
from tests.app.cli.test_report import JOB_FIELDS
from tests.builders import (
    SKILLS,
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_segment,
    a_stage,
    a_window,
    an_equipment,
)

NOW = ("--now", "2026-11-25T09:00")
BLANKS = ("--size", "2.4x2.1x2.6", "--by", "2027-04-30", "--country", "Norway")
DATES = ("latest_start", "latest_answer", "latest_loading", "verdict", "slack_minutes")
ROUTE_SKILLS = ("foam", "laminate", "finish", "spray", "fit")


def asked(*more: str | Path) -> Said:
    return countback("ask", "Lily pad", *BLANKS, *NOW, *more)


@cache
def alone(*more: str) -> Said:
    """Ask on an empty machine, each question once."""
    return asked(*more)


def test_four_blanks_are_answered_and_what_is_assumed_is_said_in_one_line() -> None:
    said = alone("--json")

    assert said.code == 0
    lines = said.out.splitlines()
    assert lines[0].startswith("Lily pad fits, with ")
    assert "Lily pad: 2.4 × 2.1 × 2.6 m, by Fri 30 Apr 2027, Norway." in said.out
    for word in ("Start by", "Order by", "Answer by", "Loaded by"):
        assert sum(line.strip().startswith(word) for line in lines) == 1
    flat = " ".join(said.out.split())
    assert (
        "five people who do everything, 6.5 useful hours of 8, one booth, 150 m² of floor" in flat
    )
    assert "10 working days for the client’s answer, a yes with changes; 2 working days" in flat
    assert "people=5,useful_hours=6.5,shift_hours=8,booths=1,floor_m2=150,vans=1" in flat
    assert "found, not proved" in flat


def test_programs_get_the_fields_of_a_plan_and_the_answer_beside() -> None:
    made = alone("--json").last
    (job,) = made["jobs"]

    assert [field for field in JOB_FIELDS if field not in job] == []
    assert made["asked"] == job["id"] == "lily-pad"
    assert job["verdict"] == made["verdict"] == "fits"
    assert made["checked"] is True
    assert made["latest_order"]["material"] == "foam"
    assert made["latest_order"]["day"] < job["latest_start"][:10]
    assert job["latest_start"] < job["latest_answer"] < job["latest_loading"]
    assert made["country"] == "NO"
    assert len(made["segments"]) == 4
    assert made["assumed"]["values"]["people"] == "5"
    assert made["estimate"]["hours"]["likely"] > 100
    assert made["others"] == []


def test_its_dates_are_those_of_plan_on_the_book_that_was_assumed(tmp_path: Path) -> None:
    out = tmp_path / "lily.countback"
    made = asked("--json", "--out", out).last
    planned = countback("plan", out, "--json", "--seconds", "1")

    assert planned.code == 0
    (job,), (other,) = made["jobs"], planned.last["jobs"]
    assert {date: job[date] for date in DATES} == {date: other[date] for date in DATES}
    book = read_book(out.read_bytes()).book
    assert book is not None
    assert book.jobs[0].standing is Standing.PENCILLED


def test_the_line_of_what_is_assumed_can_be_typed_again() -> None:
    first = alone("--json").last
    same = asked("--json", "--assume", first["assumed"]["line"]).last
    other = asked("--json", "--assume", "people=2,answer_days=20,changes=0,home=GB").last

    assert same["jobs"][0]["latest_start"] == first["jobs"][0]["latest_start"]
    assert other["jobs"][0]["latest_answer"] != first["jobs"][0]["latest_answer"]
    assert other["assumed"]["values"] == {
        **first["assumed"]["values"],
        **{"people": "2", "answer_days": "20", "changes": "0", "home": "GB"},
    }


def test_what_can_not_be_is_said_to_be_proved() -> None:
    said = countback("ask", "Lily pad", *BLANKS[:2], "--by", "2026-12-20", "--country", "NO", *NOW)

    assert said.code == 3
    assert said.out.startswith("Lily pad: cannot. ")
    assert "That is proved, with what is assumed here." in said.out
    assert "Start by      too late already" in said.out
    assert "Order by      too late already" in said.out


def test_feet_and_inches_are_shown_back_in_metres() -> None:
    size = ("--size", "8ft x 7ft x 8ft 6in")
    said = countback("ask", "Lily pad", *size, *BLANKS[2:], *NOW)

    assert "Lily pad: 2.438 × 2.134 × 2.591 m" in said.out


def test_quiet_says_the_verdict_alone() -> None:
    said = asked("--quiet")

    assert said.code == 0
    assert len(said.out.splitlines()) == 2


def a_shop() -> Any:
    """Give a book of two people who do everything and a job that is soon due."""
    job = a_job(
        steps=(a_stage("carve", hours=40), a_gate()),
        windows=(a_window(start="2026-11-25 00:00", end="2027-01-15 18:00"),),
    )
    return a_book(
        job,
        people=tuple(a_person(name, skills=(*SKILLS, *ROUTE_SKILLS)) for name in ("ana", "ben")),
        places=(a_place("bay", slots=6), a_floor(area_m2=400)),
        equipment=(an_equipment("van"),),
        as_of=None,
    )


def test_beside_a_book_it_says_what_it_takes_from_the_others(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_shop())
    before = path.read_bytes()
    said = asked("--book", path, "--option", "self-coloured", "--json")
    made = said.last

    assert path.read_bytes() == before
    assert [other["id"] for other in made["others"]] == ["heron"]
    assert set(made["others"][0]["before"]) == {"verdict", "slack_minutes", "missed_by_minutes"}
    assert {job["id"] for job in made["jobs"]} == {"heron", "lily-pad"}
    assert "others" in said.out
    assert "The book has no material" in said.out
    assert said.code == (
        0 if all(job["verdict"] in ("fits", "tight") for job in made["jobs"]) else 3
    )


def test_the_book_with_the_enquiry_is_kept_in_a_new_file(tmp_path: Path) -> None:
    path, out = a_file(tmp_path, a_shop()), tmp_path / "new.countback"
    made = asked("--book", path, "--option", "self-coloured", "--out", out, "--json").last
    kept = read_book(out.read_bytes()).book
    planned = countback("plan", out, "--json", "--with", "Lily", *NOW, "--seconds", "1").last
    (job,) = [job for job in planned["jobs"] if job["id"] == "lily-pad"]
    (told,) = [job for job in made["jobs"] if job["id"] == "lily-pad"]

    assert kept is not None
    assert [each.standing for each in kept.jobs] == [Standing.FIRM, Standing.ENQUIRY]
    assert {date: job[date] for date in DATES[:3]} == {date: told[date] for date in DATES[:3]}


def test_like_a_past_job_of_the_book(tmp_path: Path) -> None:
    way = program_route("foam-kept")
    assert way is not None
    book = a_shop()
    piece = replace(a_segment("torso"), surface_m2=Decimal(6))
    past = a_job("past", segments=(piece,), steps=(), windows=book.jobs[0].windows)
    book = replace(book, jobs=(*book.jobs, past))
    book = take_route(book, past.id, [piece.id], way).book
    path = a_file(tmp_path, book)
    said = asked("--book", path, "--like", "past", "--times", "1.5", "--json")

    assert "Its hours are those of Past, 1.5 times as large." in said.out
    carve = next(e for e in said.last["estimate"]["lines"] if e["stage"] == "carve")
    # 6 m2 x 4 h, areas with the square.
    assert carve["hours"]["likely"] == pytest.approx(6 * 4 * 1.5**2, abs=2)


def test_all_that_is_wrong_is_told_at_once() -> None:
    said = countback(
        *("ask", " ", "--size", "2x3", "--by", "2020-01-01", "--country", "Norwey", *NOW),
        *("--assume", "people=0,cats=3,home=Atlantis", "--times", "2", "--json"),
    )
    found = said.last["findings"]

    assert said.code == 2
    assert said.last["jobs"] == []
    assert [each["path"] for each in found] == [
        *("WHAT", "--size", "--country", "--assume", "--assume", "--assume", "--by", "--times"),
    ]
    assert all(each["text"] and each["cure"] for each in found)
    country = next(each for each in found if each["path"] == "--country")
    assert country["cure"] == "Write Norway (NO), if that was meant."


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (BLANKS[2:], "blank_missing"),
        (BLANKS[:4], "blank_missing"),
        ((*BLANKS[:2], *BLANKS[4:]), "blank_missing"),
        ((*BLANKS[:2], "--by", "30.4.2027", *BLANKS[4:]), "bad_date"),
        ((*BLANKS[:2], "--by", "2027-02-30", *BLANKS[4:]), "bad_date"),
        ((*BLANKS[:2], "--by", "2026-11-24", *BLANKS[4:]), "date_over"),
        ((*BLANKS[:2], "--by", "2040-01-01", *BLANKS[4:]), "date_too_far"),
        ((*BLANKS[:4], "--country", "Xqzzt"), "unknown_country_named"),
        ((*BLANKS[:4], "--country", "Norwey"), "unknown_country_like"),
        ((*BLANKS, "--like", "heron", "--times", "2"), "like_without_book"),
        ((*BLANKS, "--assume", "people"), "bad_assumption"),
        ((*BLANKS, "--assume", "people=1.5"), "bad_assumption"),
        ((*BLANKS, "--assume", "floor_m2=NaN"), "bad_assumption"),
        ((*BLANKS, "--assume", "useful_hours=9"), "bad_assumption"),
        ((*BLANKS, "--assume", "dogs=1"), "unknown_assumption"),
        ((*BLANKS, "--option", "walked"), "unknown_route_option"),
    ],
)
def test_what_can_not_be_taken_has_its_code(words: tuple[str, ...], code: str) -> None:
    said = countback("ask", "Lily pad", *words, *NOW, "--json")

    assert said.code == 2
    found = [each for each in said.last["findings"] if each["code"] == code]
    assert found
    assert all(each["text"] and each["cure"] for each in found)


def test_a_file_that_is_there_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("mine", encoding="utf-8")
    said = asked("--out", path)

    assert said.code == 2
    assert path.read_text(encoding="utf-8") == "mine"


def test_a_book_that_stops_is_refused(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book(a_job(windows=())))

    assert asked("--book", path).code == 2


def test_where_nothing_can_be_counted_back_no_date_is_said() -> None:
    said = asked("--assume", "people=1")

    assert said.code == 3
    assert "Start by      not known" in said.out
    assert "Order by      not known" in said.out
    assert "too late already" not in said.out
