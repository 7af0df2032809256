"""Edits of an enquiry: booked, pencilled, let go; each one step, each with a name for undo."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from shared.book import Book, Job, Standing
from shared.edits import LABELS, NoSuchThing, book_job, let_go, pencil_job
from shared.ids import JobId
from tests.books.samples import SAMPLES

UNTIL = date(2027, 2, 5)


def the_book() -> Book:
    return SAMPLES["rush"]()


def enquiry(book: Book) -> Job:
    return next(job for job in book.jobs if job.standing is Standing.ENQUIRY)


def made(book: Book, job: JobId) -> Job:
    return next(each for each in book.jobs if each.id == job)


def test_booking_makes_it_firm_and_changes_nothing_else() -> None:
    book = the_book()
    job = enquiry(book)
    edited = book_job(book, job.id)

    assert made(edited.book, job.id) == replace(job, standing=Standing.FIRM)
    assert edited.changed.jobs == {job.id}
    assert edited.book.revision == book.revision + 1
    assert edited.label.code in LABELS


def test_a_pencilled_job_that_is_booked_is_no_longer_held_until_a_day() -> None:
    book = the_book()
    job = enquiry(book)
    pencilled = pencil_job(book, job.id, UNTIL).book

    assert made(pencilled, job.id).pencilled_until == UNTIL
    assert made(pencilled, job.id).standing is Standing.PENCILLED
    assert made(book_job(pencilled, job.id).book, job.id).pencilled_until is None


def test_another_of_its_windows_is_held_as_it_is() -> None:
    book = the_book()
    job = enquiry(book)
    other = next(window for window in job.windows if window is not job.held_window)
    held = made(book_job(book, job.id, other).book, job.id)

    assert held.held_window == other
    assert held.windows == job.windows


def test_a_window_on_other_days_moves_and_work_begins_no_sooner_than_said() -> None:
    book = the_book()
    job = enquiry(book)
    last = job.windows[-1]
    later = replace(last, start=last.start + timedelta(days=9), end=last.end + timedelta(days=9))
    for edited in (
        book_job(book, job.id, later, UNTIL),
        pencil_job(book, job.id, UNTIL, later, UNTIL),
    ):
        held = made(edited.book, job.id)
        assert held.held_window == later
        assert held.not_before == UNTIL
        assert edited.book.revision == book.revision + 1


def test_letting_go_takes_it_out_and_leaves_all_others() -> None:
    book = the_book()
    job = enquiry(book)
    edited = let_go(book, job.id)

    assert edited.book.jobs == tuple(each for each in book.jobs if each.id != job.id)
    assert edited.label.code in LABELS


@pytest.mark.parametrize("edit", [book_job, let_go])
def test_nothing_is_done_with_what_is_not_there(edit: object) -> None:
    assert callable(edit)
    with pytest.raises(NoSuchThing):
        edit(the_book(), JobId("nobody"))
