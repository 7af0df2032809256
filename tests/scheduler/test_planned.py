"""How jobs stand in a plan that was kept, against what the engine said when it made it."""

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.check import check
from scheduler.outcome import JobOutcome, Verdict
from scheduler.planned import outcome_of
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.files.read import read_book

SAMPLES = ("small", "tight", "crossing", "rush", "impossible")


def bare(told: JobOutcome) -> JobOutcome:
    return replace(told, verdict=Verdict.FITS, bound_minutes=0, reasons=(), rung=None, beside=())


@pytest.mark.parametrize("name", SAMPLES)
def test_they_stand_as_the_engine_said(name: str) -> None:
    book = read_book(Path(f"sample_jobs/{name}.countback").read_bytes()).book
    assert book is not None
    assert book.as_of is not None
    made = solve(SolveRequest(book=book, now=book.as_of, effort=0, workers=1))
    found = outcome_of(book, made.plan, check(book, made.plan))

    assert [bare(told) for told in found.jobs] == [bare(told) for told in made.jobs]
    for told, was in zip(found.jobs, made.jobs, strict=True):
        is_kept = was.verdict in (Verdict.FITS, Verdict.TIGHT)
        assert told.verdict is was.verdict if is_kept else told.verdict is Verdict.NOT_FOUND


def test_a_job_of_which_the_plan_has_no_loading_is_left_out() -> None:
    book = read_book(Path("sample_jobs/tight.countback").read_bytes()).book
    assert book is not None
    assert book.as_of is not None
    plan = solve(SolveRequest(book=book, now=book.as_of, effort=0, workers=1)).plan
    first = plan.jobs[0]
    less = replace(plan, placements=tuple(p for p in plan.placements if p.job != first))
    found = outcome_of(book, less, check(book, plan))

    assert first not in {told.id for told in found.jobs}
    assert len(found.jobs) == len(plan.jobs) - 1
