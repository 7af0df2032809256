"""That a book taken from a file is held apart only in what is otherwise, and loses nothing."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given, settings

from shared.book import Book, Job, Stage
from shared.edits import take_others, take_rescued
from shared.edits.shared_parts import with_parts_of
from shared.files.read import read_book
from shared.files.write import write_book
from tests.books.samples import tight
from tests.strategies import books, values_of


def read(data: bytes) -> Book:
    book = read_book(data).book
    assert book is not None
    return book


@settings(max_examples=25)
@given(books(), values_of(Job))
def test_a_book_with_parts_of_another_is_written_as_it_was(one: Book, job: Job) -> None:
    anew = read(write_book(replace(one, people=one.people[::-1])))
    for jobs in ((job, *anew.jobs[1:]), (*anew.jobs, job), anew.jobs[1:]):
        other = replace(anew, jobs=jobs)
        assert write_book(with_parts_of(one, other)) == write_book(other)


@settings(max_examples=25)
@given(books())
def test_a_book_read_again_is_the_very_book(book: Book) -> None:
    first = read(write_book(book))
    assert with_parts_of(first, read(write_book(first))) is first


def test_only_what_is_otherwise_is_held_anew() -> None:
    mine = read(write_book(tight()))
    data = write_book(replace(mine, jobs=(replace(mine.jobs[2], name="other"), *mine.jobs[:2])))
    taken = take_others(mine, read(data)).book
    assert taken.jobs[0].name == "other"
    assert taken.jobs[0].steps is mine.jobs[2].steps, "though it was moved"
    assert taken.jobs[1] is mine.jobs[0]
    assert taken.people is mine.people
    assert write_book(replace(taken, revision=mine.revision)) == data


def test_hours_written_otherwise_stay_as_they_are_written() -> None:
    def with_hours(likely: str) -> Book:
        book = read(write_book(tight()))
        stage = next(each for each in book.jobs[0].steps if isinstance(each, Stage) and each.ways)
        assert stage.ways[0].hours is not None
        hours = replace(stage.ways[0].hours, likely=Decimal(likely))
        changed = replace(stage, ways=(replace(stage.ways[0], hours=hours), *stage.ways[1:]))
        steps = tuple(changed if each is stage else each for each in book.jobs[0].steps)
        return replace(book, jobs=(replace(book.jobs[0], steps=steps), *book.jobs[1:]))

    one, other = with_hours("9.5"), with_hours("9.50")
    assert one == other
    taken = take_rescued(one, other).book
    assert "9.50" in repr(taken.jobs[0])
    assert "9.50" not in repr(one.jobs[0])
