"""Mornings after a plan was told, in generated workshops whose plans once went wrong."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check import check
from scheduler.morning import Mornings
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book
from shared.edits import tell_plan
from tests.books.shapes import SHAPES
from tests.books.sized import Size, sized_book


def morning_after(book: Book) -> None:
    """Plan, tell, and plan the next morning of which nobody has said anything."""
    assert book.as_of is not None
    request = SolveRequest(book=book, now=book.as_of, effort=1, workers=1)
    plan = solve(request).plan
    now = book.as_of + timedelta(days=1)
    told = replace(tell_plan(book, plan, book.as_of, "Mira").book, as_of=now)

    found = Mornings(draws=16).plan(replace(request, book=told, now=now))

    rules = {breach.rule for breach in check(told, found.plan).breaches}
    assert not rules, rules
    assert not found.is_told_anew


@pytest.mark.parametrize("seed", [1, 2])
def test_what_was_told_for_yesterday_is_taken_as_done(seed: int) -> None:
    morning_after(SHAPES["tiny"](seed).book)


def test_what_was_let_go_for_a_stage_that_fits_nowhere_is_not_told_anew_in_silence() -> None:
    morning_after(sized_book(Size(stages=40, people=5, seed=663)))
