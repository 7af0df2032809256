"""The workshops that benches plan: of the size asked for, the same again, and worth planning."""

import pytest

from scheduler.aims import levels
from scheduler.normalise import normalise
from shared.book import Book, Kind, Stage
from shared.examine import take_in
from shared.files.write import write_book
from tests.bench._warm import Warm
from tests.books.sized import Size, sized_book

WORK_PERCENT = (30, 60)
"""Work against hours on shift before the last window, at the least and at the most."""


@pytest.mark.parametrize(("stages", "people"), [(200, 12), (600, 12), (604, 12), (1200, 24)])
def test_a_book_has_the_stages_and_people_asked_for(stages: int, people: int) -> None:
    book = sized_book(Size(stages=stages, people=people))
    assert book.as_of is not None

    problem = normalise(book, book.as_of).problem

    assert abs(len(problem.stages) - stages) <= 6
    assert len(problem.workers) == people
    assert len({worker.calendar for worker in problem.workers}) > people // 2


def test_the_same_seed_gives_the_same_book_and_another_one_another() -> None:
    size = Size(stages=200)

    assert write_book(sized_book(size)) == write_book(sized_book(size))
    assert write_book(sized_book(size)) != write_book(sized_book(Size(stages=200, seed=2)))


def test_a_book_is_read_back_without_a_finding_against_it() -> None:
    book = sized_book(Size(stages=200))

    read = take_in(write_book(book))

    assert read.book == book


def test_every_kind_of_work_is_in_every_job() -> None:
    for job in sized_book(Size(stages=300, seed=3)).jobs:
        assert {step.kind for step in job.steps if isinstance(step, Stage)} >= set(Kind) - {
            Kind.COAT
        }


def test_windows_are_so_much_closer() -> None:
    usual, tight = (sized_book(Size(stages=600, tight_percent=tight)) for tight in (0, 14))
    assert usual.as_of is not None

    for was, now in zip(usual.jobs[1:], tight.jobs[1:], strict=True):
        days, closer = (job.windows[0].start - usual.as_of for job in (was, now))
        assert 0.78 * days <= closer <= 0.94 * days


@pytest.mark.parametrize("seed", [1, 2])
def test_a_first_plan_misses_some_windows_and_not_all(seed: int) -> None:
    book = sized_book(Size(stages=684, jobs=12, seed=seed))

    normal, schedule, _ = Warm().first(book)

    reached = levels(normal.problem, schedule)
    assert len(book.jobs) == 12
    assert 0 < reached[0] < len(book.jobs)
    least, most = WORK_PERCENT
    assert least <= _work_percent(book) <= most


def _work_percent(book: Book) -> int:
    assert book.as_of is not None
    problem = normalise(book, book.as_of).problem
    until = max(job.latest or 0 for job in problem.jobs)
    work = sum(
        stage.ways[0].work * stage.ways[0].hands_count
        for stage in problem.stages
        if not stage.optional
    )
    on_shift = sum(
        max(0, min(end, until) - start)
        for worker in problem.workers
        if worker.calendar is not None
        for start, end in problem.calendars[worker.calendar].open
    )
    return round(100 * work / on_shift)
