"""`countback levers` and `plan --try`: what is offered, taken, taken back, refused."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from shared.book import Book, Kind, Standing
from shared.files.disk import load
from shared.files.read import read_book
from tests.app.cli.shell import a_file, countback
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_person,
    a_stage,
    a_window,
    a_workshop,
)
from tests.scheduler.levers.test_search import EVENINGS, EXACT, SATURDAY

HERON = "heron"


def fairing(person_hours: str = "47.5") -> Book:
    """Give a book in which fairing takes 5½ hours more than there are, with hours on offer."""
    window = a_window("held", "2026-01-05 00:00", "2026-01-12 10:00")
    stage = a_stage("fair", Kind.FILL, hours=person_hours)
    ana = a_person(rate_per_hour=Decimal(20), overtime_offered=(SATURDAY, *EVENINGS))
    job = a_job(steps=(stage, a_gate()), windows=(window,))
    return a_book(job, people=(ana,), workshop=a_workshop(**EXACT, currency="GBP"))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return a_file(tmp_path, fairing())


def book_in(path: Path) -> Book:
    book = read_book(load(path)).book
    assert book is not None
    return book


def test_ways_out_are_told_cheapest_first_and_nothing_is_written(path: Path) -> None:
    before = path.read_bytes()
    said = countback("levers", path, HERON, "--seconds", "20", "--json")
    told = said.last

    assert said.code == 3
    assert path.read_bytes() == before
    assert "1. For 159.50 GBP; nothing on the list is cheaper." in said.out
    assert "Ana works on Sat 10 Jan from 07:30 to 13:00, 5½ h: 159.50 GBP." in said.out
    assert "2. For 174 GBP." in said.out
    assert "nothing is written" in said.out
    assert [way["price"] for way in told["ways"]] == [159.5, 174.0]
    assert [way["proved_cheapest"] for way in told["ways"]] == [True, False]
    assert all(way["verdicts"][HERON] in ("fits", "tight") for way in told["ways"])
    (change,) = told["ways"][0]["changes"]
    assert (change["kind"], change["id"][:13]) == ("overtime", "overtime:ana:")
    assert (told["taken"], told["revision"], told["kept"]) == (None, None, False)


def test_the_nth_is_taken_as_one_edit_and_undo_takes_it_back(path: Path) -> None:
    before = book_in(path)
    said = countback("levers", path, HERON, "--apply", "2", "--seconds", "20", "--json")
    after = book_in(path)

    assert said.code == 0
    assert said.last["taken"] == 2
    assert said.last["revision"] == after.revision == before.revision + 1
    assert after.people[0].overtime_taken == EVENINGS
    assert "The second way out is taken" in said.out
    assert countback("plan", path, "--seconds", "1").code == 0
    assert countback("undo", path).code == 0
    assert replace(book_in(path), revision=before.revision) == before


def test_a_number_that_was_not_offered_is_refused_and_nothing_is_written(path: Path) -> None:
    before = path.read_bytes()
    said = countback("levers", path, HERON, "--apply", "3", "--seconds", "20")

    assert said.code == 2
    assert "There is no way out number 3; 2 were found." in said.err
    assert path.read_bytes() == before


def test_a_job_is_meant_by_the_beginning_of_its_name_or_refused(path: Path) -> None:
    assert countback("levers", path, "her", "--seconds", "20").code == 3
    said = countback("levers", path, "owl")

    assert said.code == 2
    assert "No job, or more than one, is called “owl”" in said.err


def test_a_job_that_keeps_its_window_needs_nothing(tmp_path: Path) -> None:
    said = countback("levers", a_file(tmp_path, fairing("30")), HERON, "--json")

    assert said.code == 0
    assert "Heron keeps its window as the book stands" in said.out
    assert (said.last["kept"], said.last["ways"]) == (True, [])


def test_a_job_without_a_way_out_says_what_is_proved(tmp_path: Path) -> None:
    stuck = countback("levers", a_file(tmp_path, fairing("90")), HERON, "--json")
    bare = replace(fairing(), people=(a_person(),))
    none = countback("levers", a_file(tmp_path, bare, "bare.countback"), HERON)

    assert (stuck.code, stuck.last["ways"], stuck.last["stuck"]) == (3, [], True)
    assert "Cannot, whatever we do of the list: all 4 things on it together" in stuck.out
    assert "Nothing is offered in the book" in none.out


def test_a_book_that_stops_is_refused(tmp_path: Path) -> None:
    broken = replace(fairing(), people=(a_person(), a_person()))
    said = countback("levers", a_file(tmp_path, broken), HERON, "--json")

    assert said.code == 2
    assert said.last["ways"] == []


def test_a_window_is_tried_and_the_book_stays_as_it_is(path: Path) -> None:
    before = path.read_bytes()
    later = f"{HERON}=2026-01-05T00:00/2026-01-13T18:00"
    said = countback("plan", path, "--try", later, "--seconds", "1", "--json")

    assert said.code == 0
    assert path.read_bytes() == before
    assert said.last["jobs"][0]["verdict"] in ("fits", "tight")
    assert said.last["revision"] == book_in(path).revision
    assert said.last["tried"] == [
        {"job": HERON, "start": "2026-01-05T00:00:00Z", "end": "2026-01-13T18:00:00Z"}
    ]
    assert "Tried with Heron in the window" in said.out
    assert countback("plan", path, "--seconds", "1").code == 3


def test_a_window_is_tried_by_the_clock_of_the_site(tmp_path: Path) -> None:
    book = fairing("30")
    job = book.jobs[0]
    site = replace(job.site, zone="Europe/Oslo", country="NO", subdivision=None)
    abroad = replace(job, site=site)
    path = a_file(tmp_path, replace(book, jobs=(abroad,)))
    asked = f"{HERON}=2026-01-05T08:00/2026-01-13T18:00"
    said = countback("plan", path, "--try", asked, "--seconds", "1", "--json")

    assert said.last["tried"][0]["start"] == "2026-01-05T07:00:00Z"


@pytest.mark.parametrize(
    "typed",
    [
        "heron",
        "heron=2026-01-05T08:00",
        "=2026-01-05T08:00/2026-01-06T08:00",
        "heron=2026-01-06T08:00/2026-01-05T08:00",
        "owl=2026-01-05T08:00/2026-01-06T08:00",
        "heron=then/2026-01-06T08:00",
    ],
)
def test_what_is_no_window_of_a_job_is_refused(path: Path, typed: str) -> None:
    assert countback("plan", path, "--try", typed).code == 2


def test_a_plan_of_a_window_that_is_only_tried_is_not_kept(path: Path, tmp_path: Path) -> None:
    plan = tmp_path / "made.plan"
    asked = f"{HERON}=2026-01-05T08:00/2026-01-13T18:00"
    said = countback("plan", path, "--try", asked, "--out", plan)

    assert said.code == 2
    assert not plan.exists()


def test_an_enquiry_is_tried_without_being_asked_for_besides(path: Path) -> None:
    book = book_in(path)
    enquiry = replace(book.jobs[0], standing=Standing.ENQUIRY)
    path = a_file(path.parent, replace(book, jobs=(enquiry,)))
    asked = f"{HERON}=2026-01-05T08:00/2026-01-13T18:00"
    said = countback("plan", path, "--try", asked, "--seconds", "1", "--json")

    assert [job["id"] for job in said.last["jobs"]] == [HERON]
