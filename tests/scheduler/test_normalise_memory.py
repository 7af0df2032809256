"""What a memory gives is what is given without one, whatever was edited in between."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from random import Random

import pytest

from scheduler.normalise import Memory, Normal, normalise
from shared.book import Leave, Stage
from tests.books.samples import SAMPLES
from tests.books.shapes import SHAPES
from tests.scheduler.drawn_edits import Question, edited

EDITS = 9
BOUND = 1500
"""A memory of a small book holds no more things than this, however often it is edited."""


def _answer(question: Question, memory: Memory | None = None) -> Normal:
    return normalise(
        question.book,
        question.now,
        question.asked,
        left_out=question.left_out,
        late=question.late,
        memory=memory,
    )


def _questions(question: Question, seed: str, count: int = EDITS) -> list[Question]:
    rng, found = Random(seed), [question]
    for _ in range(count):
        found.append(edited(found[-1], rng))
    return found


@pytest.mark.parametrize("shape", ["ruled", "small", "tiny", "planted-impossible"])
@pytest.mark.parametrize("seed", range(1, 5))
def test_a_memory_changes_no_answer_over_drawn_edits(shape: str, seed: int) -> None:
    planted = SHAPES[shape](seed)
    memory = Memory()
    for question in _questions(Question(book=planted.book, now=planted.now), f"{shape}{seed}"):
        assert _answer(question, memory) == _answer(question)


@pytest.mark.slow
@pytest.mark.parametrize("shape", ["ruled", "small", "workshop", "tiny", "planted-plan"])
@pytest.mark.parametrize("seed", range(100, 130))
def test_a_memory_changes_no_answer_over_many_drawn_edits(shape: str, seed: int) -> None:
    planted = SHAPES[shape](seed)
    memory = Memory()
    start = Question(book=planted.book, now=planted.now)
    for question in _questions(start, f"many {shape}{seed}", 20):
        assert _answer(question, memory) == _answer(question)


@pytest.mark.parametrize("name", ["crossing", "tight", "repair"])
def test_a_memory_changes_no_answer_over_drawn_edits_of_a_sample(name: str) -> None:
    book = SAMPLES[name]()
    assert book.as_of is not None
    memory = Memory()
    for question in _questions(Question(book=book, now=book.as_of), name):
        assert _answer(question, memory) == _answer(question)


def test_one_memory_may_be_used_for_several_books() -> None:
    memory = Memory()
    books = [SHAPES["ruled"](seed) for seed in (1, 2)]
    for planted in (*books, *books):
        question = Question(book=planted.book, now=planted.now)
        assert _answer(question, memory) == _answer(question)


def test_what_did_not_change_is_taken_over_as_it_is() -> None:
    planted = SHAPES["workshop"](3)
    first, *others = planted.book.jobs
    longer = tuple(
        replace(step, cure_hours=step.cure_hours + Decimal(1)) if isinstance(step, Stage) else step
        for step in first.steps
    )
    book = replace(planted.book, jobs=(replace(first, steps=longer), *others))
    memory = Memory()
    before = normalise(planted.book, planted.now, memory=memory)
    after = normalise(book, planted.now, memory=memory)
    same = {id(stage) for stage in before.problem.stages}
    kept = {name.job for name, stage in zip(after.stages, after.problem.stages, strict=True)
            if id(stage) in same}  # fmt: skip
    planned = {name.job.id for name in after.jobs} - {first.id}
    assert planned
    assert planned <= kept
    assert after == normalise(book, planted.now)


def test_who_is_away_on_days_that_a_job_does_not_look_at_changes_no_stage() -> None:
    planted = SHAPES["workshop"](3)
    start = planted.now + timedelta(days=2)
    ill = Leave(start=start, end=start + timedelta(days=3))
    person, *others = planted.book.people
    book = replace(planted.book, people=(replace(person, leave=(*person.leave, ill)), *others))
    memory = Memory()
    before = normalise(planted.book, planted.now, memory=memory)
    after = normalise(book, planted.now, memory=memory)
    assert after.problem.workers[0] != before.problem.workers[0] or (
        after.problem.calendars != before.problem.calendars
    )
    same = {id(stage) for stage in before.problem.stages}
    assert any(id(stage) in same for stage in after.problem.stages)
    assert after == normalise(book, planted.now)


def test_a_memory_does_not_grow_with_the_edits() -> None:
    planted = SHAPES["small"](2)
    memory = Memory()
    book = planted.book
    sizes: list[int] = []
    for hour in range(600):
        job = book.jobs[0]
        steps = tuple(
            replace(step, cure_hours=Decimal(hour), cure_celsius=Decimal(20))
            if isinstance(step, Stage) else step
            for step in job.steps
        )  # fmt: skip
        book = replace(book, jobs=(replace(job, steps=steps), *book.jobs[1:]))
        normalise(book, planted.now, memory=memory)
        sizes.append(memory.size)
    assert max(sizes) <= BOUND
