import io
import json

import pytest

from app.cli.console import Console
from app.cli.report import plan_object, say_plan
from app.words import Words
from scheduler.outcome import CheckResult
from scheduler.rules import Rule
from shared.book import Book
from tests.app.cli.outcomes import MET, MISSED, an_outcome
from tests.app.cli.shell import Terminal
from tests.builders import a_book, a_job

JOB_FIELDS = [
    "id",
    "name",
    "verdict",
    "missed_by_minutes",
    "missed_by_working_minutes",
    "bound_minutes",
    "slack_minutes",
    "latest_start",
    "latest_answer",
    "answered_by",
    "latest_loading",
    "chance",
    "reason",
]
PLAN_FIELDS = ["as_of", "revision", "checked", "verdict", "seconds", "levels", "jobs"]


@pytest.fixture
def book() -> Book:
    return a_book(a_job("heron"), a_job("moon"), revision=7)


def written(book: Book, *, is_own: bool = True, is_terminal: bool = False) -> str:
    out = Terminal() if is_terminal else io.StringIO()
    outcome = an_outcome(book, MET, MISSED)
    say_plan(Console(out, out), Words("en", book=book), book, outcome, 3.21, is_own=is_own)
    return out.getvalue()


def test_a_planned_book_is_a_sentence_a_table_and_what_it_comes_to(book: Book) -> None:
    assert written(book).splitlines() == [
        "Moon misses its window by 2 days. The other one fits.",
        "As of Mon 5 Jan 2026 08:00, which the book itself names.",
        "",
        "Job                       Verdict              To spare              Window",
        "                          Latest start         Latest answer         Start loading by",
        "Heron                     fits, but only just  1¼ days               "
        "Mon 2 Mar 08:00 to Fri 6 Mar 18:00",
        "                          Tue 20 Jan 08:00     Mon 2 Feb 17:00       "
        "Fri 27 Feb 14:30, loaded by 16:00",
        "Moon                      misses               late by 2 days        "
        "Mon 2 Mar 08:00 to Fri 6 Mar 18:00",
        " " * 69 + "loaded by Fri 27 Feb 16:00",
        "    Even alone in the workshop it is loaded 1 h late at best.",
        "",
        "Checked: sound.",
        "No window is missed. The wished buffers are short by 6 h, all jobs together. "
        "Pieces stand on the",
        "floor for 10 days, all of them together. "
        "The first three of the eight aims are proved to be met as",
        "well as can be.",
        "Planned in 3.2 s from revision 7.",
    ]


def test_whoever_answers_instead_of_the_client_is_named(book: Book) -> None:
    from dataclasses import replace

    out = io.StringIO()
    outcome = an_outcome(book, replace(MET, answered_by="The engineer"))
    say_plan(Console(out, out), Words("en", book=book), book, outcome, 3.21, is_own=False)

    assert "    The answer is that of The engineer." in out.getvalue().splitlines()


def test_columns_stay_within_120_characters_whatever_the_names(book: Book) -> None:
    from dataclasses import replace

    out = io.StringIO()
    long = replace(MET, name="The very long name of a very large commission")
    outcome = an_outcome(book, long)
    say_plan(Console(out, out), Words("en", book=book), book, outcome, 3.21, is_own=False)
    lines = out.getvalue().splitlines()

    assert max(map(len, lines)) <= 120
    assert any(line.startswith("The very long name of a…  fits") for line in lines)
    assert "As of Mon 5 Jan 2026 08:00." in lines


def test_only_what_is_missed_has_the_alarm_colour(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    text = written(book, is_terminal=True)

    assert "\x1b[1;31mmisses\x1b[0m" in text
    assert text.count("\x1b[1;31m") == 1


def test_programs_get_exactly_the_agreed_fields(book: Book) -> None:
    outcome = an_outcome(book, MET, MISSED)
    made = plan_object(Words("en", book=book), outcome, 3.2109)

    assert json.loads(json.dumps(made)) == made
    assert list(made) == PLAN_FIELDS
    assert made["as_of"] == "2026-01-05T08:00:00Z"
    assert (made["revision"], made["checked"], made["verdict"]) == (7, True, "misses")
    assert made["levels"] == [0, 0, 0, 24, 0, 0, 0, 960]
    jobs = made["jobs"]
    assert isinstance(jobs, list)
    assert all(list(job) == JOB_FIELDS for job in jobs)
    assert jobs[0] == {
        "id": "heron",
        "name": "Heron",
        "verdict": "tight",
        "missed_by_minutes": 0,
        "missed_by_working_minutes": 0,
        "bound_minutes": 0,
        "slack_minutes": 600,
        "latest_start": "2026-01-20T08:00:00Z",
        "latest_answer": "2026-02-02T17:00:00Z",
        "answered_by": None,
        "latest_loading": "2026-02-27T16:00:00Z",
        "chance": None,
        "reason": None,
    }
    assert (jobs[1]["slack_minutes"], jobs[1]["latest_start"]) == (None, None)
    assert "alone in the workshop" in jobs[1]["reason"]


def test_what_is_not_all_judged_is_not_checked(book: Book) -> None:
    check = CheckResult(not_judged=(Rule.TURNS,))
    made = plan_object(Words("en"), an_outcome(book, MET, check=check), 1.0)

    assert made["checked"] is False


def test_without_an_outcome_every_field_is_there_and_null() -> None:
    made = plan_object(Words("en"), None, None)

    assert list(made) == PLAN_FIELDS
    assert made.pop("jobs") == []
    assert set(made.values()) == {None}
