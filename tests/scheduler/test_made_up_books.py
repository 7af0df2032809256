"""Made-up books hold together, and what is planted in them is what the check says."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check import check
from shared.examine import examine
from shared.files.read import read_book
from shared.files.write import write_book
from tests.books.samples import SAMPLES
from tests.books.shapes import SHAPES, Planted, planted_plan


@pytest.mark.parametrize("shape", [s for s in SHAPES if s != "planted-plan"])
@pytest.mark.parametrize("seed", [1, 2, 3, 77, 1234])
def test_every_shape_gives_a_book_without_a_finding_that_stops(shape: str, seed: int) -> None:
    book = SHAPES[shape](seed).book
    assert [f.code for f in examine(book) if f.stops] == []
    assert read_book(write_book(book)).book == book


@pytest.mark.parametrize("shape", list(SHAPES))
def test_the_same_seed_gives_the_same_book(shape: str) -> None:
    made: Callable[[int], Planted] = SHAPES[shape]
    assert write_book(made(5).book) == write_book(made(5).book)
    assert write_book(made(5).book) != write_book(made(6).book)


@pytest.mark.parametrize("seed", range(1, 9))
def test_a_planted_plan_is_sound_and_one_moved_step_is_not(seed: int) -> None:
    planted = planted_plan(seed)
    assert planted.plan is not None
    told = check(planted.book, planted.plan)
    assert (told.breaches, told.not_judged) == ((), ())
    first = planted.plan.placements[0]
    moved = replace(first, start=first.start - timedelta(days=400), end=first.end)
    broken = replace(planted.plan, placements=(moved, *planted.plan.placements[1:]))
    assert not check(planted.book, broken).sound


@pytest.mark.parametrize("name", list(SAMPLES))
def test_the_samples_on_disk_are_what_their_recipes_make(name: str) -> None:
    from importlib.resources import files

    on_disk = files("sample_jobs").joinpath(f"{name}.countback").read_bytes()
    assert on_disk == write_book(SAMPLES[name]())
