"""The soak of generated workshops finds what is planted, and draws the same again."""

from dataclasses import replace
from datetime import timedelta
from random import Random

import pytest

from scheduler.outcome import Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book
from shared.files.write import write_book
from tests.books.eased import EASES
from tests.scheduler.tried_books import tiny_book
from tests.soak._workshops_drawn import SHAPED, Drawn, drawn
from tests.soak._workshops_given import texts
from tests.soak._workshops_pairs import Pair, refuted
from tests.soak._workshops_through import Run, broken, contradictions, unsaid
from tests.soak.workshops import one

KEPT_SEED = 1
"""A tiny book whose window is kept."""


def a_run(book: Book) -> Run:
    return Run(drawn=Drawn(kind="tried", book=book), draw=Random(1))


def answered(book: Book) -> Outcome:
    assert book.as_of is not None
    return solve(SolveRequest(book=book, now=book.as_of, effort=1, workers=1))


def test_twenty_rounds_see_every_shape_and_a_round_is_the_same_again() -> None:
    made = [drawn(3, number) for number in range(len(SHAPED))]

    assert len({each.kind for each in made}) >= len(SHAPED) - 1
    for number in (0, 5, 9):
        assert write_book(drawn(3, number).book) == write_book(made[number].book)
        assert write_book(drawn(4, number).book) != write_book(made[number].book)


def test_a_sound_answer_has_nothing_against_it_and_a_broken_plan_has() -> None:
    book = tiny_book(KEPT_SEED)
    outcome = answered(book)
    first = outcome.plan.placements[0]
    moved = replace(first, start=first.start - timedelta(days=9), end=first.end)
    plan = replace(outcome.plan, placements=(moved, *outcome.plan.placements[1:]))

    assert [*broken(book, outcome), *contradictions(book, outcome)] == []
    assert [*broken(book, replace(outcome, plan=plan))] != []


@pytest.mark.parametrize(
    "change",
    [
        {"verdict": Verdict.MISSES},
        {"verdict": Verdict.FITS, "missed_by_minutes": 45, "slack_minutes": None},
        {"verdict": Verdict.NOT_FOUND, "missed_by_minutes": 15, "bound_minutes": 30},
    ],
)
def test_verdicts_that_do_not_go_together_are_found(change: dict[str, object]) -> None:
    book = tiny_book(KEPT_SEED)
    outcome = answered(book)
    other = replace(outcome.jobs[0], **change)  # type: ignore[arg-type]

    assert [*contradictions(book, replace(outcome, jobs=(other, *outcome.jobs[1:])))] != []


def test_an_exception_is_found_with_its_place_and_the_way_goes_on() -> None:
    run = a_run(tiny_book(KEPT_SEED))

    with run.part("edit"):
        replace(run.book, no_such_field=1)  # type: ignore[call-arg]
    with run.part("next"):
        run.said.write("said")

    (line,) = run.found
    assert line.startswith("edit: ")
    assert "no_such_field" in line
    assert run.said.getvalue() == "said"


def test_a_sentence_without_its_fact_is_found() -> None:
    run = a_run(tiny_book(KEPT_SEED))
    run.said.write("Heron is late by {days}.\nNone is known.\nThe owl fits, {0}.\nDue on None.\n")

    unsaid(run)

    assert len(run.found) == 2
    assert [*texts((Pair(ease="more people", before=1, after=2), "last"))] == [
        "more people",
        "last",
    ]


def test_what_is_proved_of_an_easier_book_may_not_be_refuted_by_the_other() -> None:
    book = tiny_book(KEPT_SEED)
    easier = EASES["more people"](book, Random(1))
    assert easier is not None
    before, after = answered(book), answered(easier)
    cannot = tuple(replace(job, verdict=Verdict.CANNOT, bound_minutes=60) for job in after.jobs)

    assert [*refuted(before, after)] == []
    assert [*refuted(before, replace(after, jobs=cannot))] != []


def test_small_rounds_find_nothing() -> None:
    for number in (1, 17):
        assert one(1, number).lines == ()
