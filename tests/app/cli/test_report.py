import io
import json
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from app.cli.console import Console
from app.cli.report import plan_object, say_plan
from app.words import Words
from app.words.dues import due_line
from scheduler.dues import Due
from scheduler.outcome import CheckResult
from scheduler.rules import Rule
from shared.book import Book
from shared.ids import JobId, StepId
from tests.app.cli.outcomes import MET, MISSED, an_outcome
from tests.app.cli.shell import Terminal
from tests.builders import NOW, a_book, a_job, a_segment, a_stage, at, on

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
    "windows",
    "next_window",
]
PLAN_FIELDS = [
    "as_of",
    "revision",
    "checked",
    "verdict",
    "seconds",
    "levels",
    "bounds",
    "jobs",
    "dues",
]


@pytest.fixture
def book() -> Book:
    return a_book(a_job("heron"), a_job("moon"), revision=7)


def written(
    book: Book, *, is_own: bool = True, is_terminal: bool = False, dues: tuple[Due, ...] = ()
) -> str:
    out = Terminal() if is_terminal else io.StringIO()
    outcome, words = an_outcome(book, MET, MISSED), Words("en", book=book)
    say_plan(Console(out, out), words, book, outcome, 3.21, is_own=is_own, dues=dues)
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
        "    No other window is on offer.",
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
    out = io.StringIO()
    outcome = an_outcome(book, replace(MET, answered_by="The engineer"))
    say_plan(Console(out, out), Words("en", book=book), book, outcome, 3.21, is_own=False)

    assert "    The answer is that of The engineer." in out.getvalue().splitlines()


def test_columns_stay_within_120_characters_whatever_the_names(book: Book) -> None:
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
        "windows": [],
        "next_window": None,
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
    assert made.pop("jobs") == made.pop("dues") == []
    assert set(made.values()) == {None}


# Recoat times.


def a_due(**changes: Any) -> Due:
    usual = Due(
        job=JobId("heron"),
        coat=StepId("heron-prime"),
        next=StepId("heron-colour"),
        ended=at("2026-01-09 12:00"),
        ready=at("2026-01-10 00:00"),
        runs_out=at("2026-01-11 16:00"),
        day=on("2026-01-09"),
        last_day=on("2026-01-09"),
        is_over=False,
        ran_out=False,
        can_abrade=True,
    )
    return replace(usual, **changes)


def a_painted_book() -> Book:
    """Give a job whose fin is primed and coloured."""
    steps = (
        a_stage("heron-prime", name="prime", segments=("fin",)),
        a_stage("heron-colour", name="colour", segments=("fin", "tail")),
    )
    return a_book(a_job(segments=(a_segment("fin"), a_segment("tail")), steps=steps))


LINES = [
    (a_due(), "colour by Sun 11 Jan 16:00, so at the latest Fri 9 Jan; else it is abraded first."),
    (
        a_due(runs_out=at("2026-01-12 16:00"), last_day=on("2026-01-12")),
        "colour by Mon 12 Jan 16:00; else it is abraded first.",
    ),
    (
        a_due(can_abrade=False),
        "colour by Sun 11 Jan 16:00, so at the latest Fri 9 Jan; after that nothing holds on it.",
    ),
    (
        a_due(can_abrade=False, runs_out=at("2026-01-12 16:00"), last_day=on("2026-01-12")),
        "colour by Mon 12 Jan 16:00; after that nothing holds on it.",
    ),
    (
        a_due(abrade_starts=at("2026-01-12 08:00"), abrade_hours=Decimal(3)),
        "abraded before colour, 3 h, because its recoat time runs out Sun 11 Jan 16:00.",
    ),
    (
        a_due(
            runs_out=at("2025-12-30 16:00"),
            ran_out=True,
            abrade_starts=at("2026-01-05 08:00"),
            abrade_hours=Decimal("2.5"),
        ),
        "abraded before colour, 2½ h, because its recoat time ran out Tue 30 Dec 2025 16:00.",
    ),
]


@pytest.mark.parametrize(("due", "told"), LINES)
def test_a_coat_is_said_with_what_must_follow_by_when(due: Due, told: str) -> None:
    words = Words("en", book=a_painted_book())

    assert due_line(words, due, NOW) == f"Prime on Fin: {told}"


def test_the_next_few_recoat_times_stand_under_the_jobs() -> None:
    painted = a_painted_book()
    near = [a_due() for _ in range(7)]
    far = a_due(day=on("2026-01-20"))
    text = written(painted, dues=(*near, far))

    assert text.count("prime on Fin") == 5
    assert "\nRecoat times\n  Fri 9 Jan  Heron, prime on Fin: colour by " in text
    assert "\n  Two more with --json.\n" in text
    assert "Recoat times" not in written(painted, dues=(far,))
    assert "Recoat times" not in written(painted)
    assert "One more" in written(painted, dues=tuple(near[:6]))


def test_programs_get_every_recoat_time(book: Book) -> None:
    due = a_due(abrade_starts=at("2026-01-12 08:00"), abrade_hours=Decimal("2.5"))
    made = plan_object(Words("en"), an_outcome(book, MET), 1.0, (a_due(), due))

    assert json.loads(json.dumps(made)) == made
    told = made["dues"]
    assert isinstance(told, list)
    first, second = told
    assert first == {
        "job": "heron",
        "coat": "heron-prime",
        "next": "heron-colour",
        "ended": "2026-01-09T12:00:00Z",
        "ready": "2026-01-10T00:00:00Z",
        "runs_out": "2026-01-11T16:00:00Z",
        "day": "2026-01-09",
        "last_day": "2026-01-09",
        "is_over": False,
        "ran_out": False,
        "can_abrade": True,
        "starts": None,
        "abrade_starts": None,
        "abrade_minutes": None,
    }
    assert (second["abrade_starts"], second["abrade_minutes"]) == ("2026-01-12T08:00:00Z", 150)
