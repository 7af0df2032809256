"""Books of every format ever written are planned, and the plan keeps every rule."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.examine import take_in

GOLDEN = Path(__file__).parents[1] / "golden"
SOUND = sorted(
    path.name for path in GOLDEN.glob("*.countback") if not path.name.startswith("every_field")
)
NOW = datetime(2027, 1, 18, 7, 30, tzinfo=UTC)


@pytest.mark.parametrize("name", SOUND)
def test_a_book_of_a_former_program_is_planned(name: str) -> None:
    book = take_in((GOLDEN / name).read_bytes()).book
    assert book is not None
    assert book.jobs
    outcome = solve(SolveRequest(book=book, now=book.as_of or NOW, effort=1))
    assert outcome.check.sound
    assert outcome.plan is not None
    placed = {each.step for each in outcome.plan.placements}
    placed |= {each.step for each in outcome.plan.trips}
    told = {fact.step for fact in book.facts}
    assert {step.id for job in book.jobs for step in job.steps} <= placed | told


def test_there_is_a_sound_book() -> None:
    assert len(SOUND) >= 2
