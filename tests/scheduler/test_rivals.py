"""Two pencilled jobs of which only one can be taken say so; others do not."""

from typing import Any

import pytest

from scheduler.outcome import Outcome, Verdict
from scheduler.rivals import Rivals, rivals
from shared.book import Book, Job, Standing
from shared.ids import JobId
from tests.builders import a_book, a_gate, a_job, a_journey, a_stage, a_window, on
from tests.scheduler.normals import solved

WINDOW = ("2026-01-09 07:00", "2026-01-09 19:00")


def a_week_of_work(job: str, hours: int, **changes: Any) -> Job:
    """A job for the only carver there is, to be put up on Friday."""
    steps = (
        a_stage(f"{job}-carve", hours=hours),
        a_gate(f"{job}-loading"),
        a_journey(f"{job}-ship"),
    )
    start, end = WINDOW
    usual: Any = {
        "steps": steps,
        "windows": (a_window(f"{job}-window", start=start, end=end),),
        "standing": Standing.PENCILLED,
        "pencilled_until": on("2026-01-30"),
        **changes,
    }
    return a_job(job, **usual)


def told(*jobs: Job) -> tuple[Book, Outcome]:
    book = a_book(*jobs)
    return book, solved(book)


def test_one_of_two_that_want_the_same_week_is_said_to_miss_because_of_the_other() -> None:
    book, outcome = told(a_week_of_work("heron", 16), a_week_of_work("otter", 16))
    (missing,) = [job.id for job in outcome.jobs if job.verdict is not Verdict.FITS]
    (kept,) = {"heron", "otter"} - {missing}

    assert rivals(book, outcome) == (Rivals(job=missing, other=JobId(kept)),)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (a_week_of_work("heron", 4), a_week_of_work("otter", 4)),
        (a_week_of_work("heron", 90), a_week_of_work("otter", 4)),
        (
            a_week_of_work("heron", 16, standing=Standing.FIRM, pencilled_until=None),
            a_week_of_work("otter", 16),
        ),
    ],
)
def test_jobs_that_both_fit_never_fit_or_are_firm_are_no_rivals(first: Job, second: Job) -> None:
    assert rivals(*told(first, second)) == ()
