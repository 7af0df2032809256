"""Books after a mishap or a change after the yes: planned, sound, nothing before the repairs."""

from random import Random

import pytest

from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import FactKind, Journey, Stage
from shared.edits import again_from
from shared.ids import StepId
from shared.order import touched
from shared.repairs import Cause
from tests.books.plain import small
from tests.shared.test_edits_redo import (
    any_edit,
    any_progress,
    head_steps,
    new_steps,
    step_of,
    with_done,
)


@pytest.mark.parametrize("seed", range(8))
def test_whatever_comes_in_is_planned_before_what_is_left_on_the_piece(seed: int) -> None:
    rng = Random(seed)
    book = any_progress(rng)
    found = any_edit(book, rng)
    if found is None:
        return
    segment, after = found
    job = after.book.jobs[0]
    assert after.book.as_of is not None
    outcome = solve(SolveRequest(book=after.book, now=after.book.as_of, effort=1))
    new = {step.id for step in new_steps(book, after)}
    told_of = {fact.step for fact in book.facts if fact.kind is not FactKind.PICTURES}
    ends = [each.end for each in outcome.plan.placements if each.step in new]
    left = {
        step.id
        for step in job.steps
        if segment in touched(job, step) and step.id not in told_of | new
    }
    begun = {s.id for s in job.steps if isinstance(s, Stage) and s.id in told_of}
    starts = [p.start for p in outcome.plan.placements if p.step in left]

    assert not outcome.check.breaches
    assert len(ends) == len(new)
    assert not begun & new
    if any(isinstance(step, Journey) and step.id in left for step in job.steps):
        assert starts
    ordered = [each for each in outcome.plan.placements if each.step in {"owl.loading"}]
    assert all(each.start >= max(ends) for each in ordered)


def test_a_recoat_time_that_ran_out_long_ago_does_not_forbid_the_repair() -> None:
    book = with_done(small(), head_steps(small())[:-1])
    step = next(s for s in head_steps(small()) if step_of(book, s).name == "lacquer")
    after = again_from(book, StepId(step), Cause.RUN).book
    assert after.as_of is not None
    outcome = solve(SolveRequest(book=after, now=after.as_of, effort=1))

    assert not outcome.plan.unplaced
    assert not outcome.check.breaches
