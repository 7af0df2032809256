"""Outcomes for tests of what is said about them; nothing in them is worked out."""

from typing import Any

from scheduler.outcome import CheckResult, JobOutcome, Outcome, StepTimes, Verdict
from shared.book import Book
from shared.findings import Clash
from shared.ids import JobId, StepId
from tests.builders import NOW, a_plan, at

MET = JobOutcome(
    id=JobId("heron"),
    name="Heron",
    verdict=Verdict.TIGHT,
    slack_minutes=600,
    wished_buffer_minutes=960,
    latest_start=at("2026-01-20 08:00"),
    latest_answer=at("2026-02-02 17:00"),
    latest_loading=at("2026-02-27 16:00"),
    loading_end=at("2026-02-26 14:00"),
    steps=(
        StepTimes(
            step=StepId("heron-loading"),
            latest_start=at("2026-02-27 14:30"),
            latest_end=at("2026-02-27 16:00"),
        ),
    ),
)
MISSED = JobOutcome(
    id=JobId("moon"),
    name="Moon",
    verdict=Verdict.MISSES,
    missed_by_minutes=2880,
    missed_by_working_minutes=960,
    bound_minutes=60,
    latest_loading=at("2026-02-27 16:00"),
    reasons=(Clash(code="alone_too_long", facts=(("minutes", 60),), kind="solver"),),
)


def an_outcome(book: Book, *jobs: JobOutcome, **changes: Any) -> Outcome:
    usual: dict[str, Any] = {
        "revision": book.revision,
        "now": NOW,
        "plan": a_plan(book),
        "check": CheckResult(),
        "verdict": jobs[-1].verdict,
        "levels": (0, 0, 0, 24, 0, 0, 0, 960),
        "proved_levels": 3,
        "bounds": (0, 0, 0, 24, 0, 0, 0, 960),
        "jobs": jobs,
        "stopped": "time",
    }
    return Outcome(**{**usual, **changes})
