"""An enquiry like a past job so many times as large."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from shared.asking.past import LikePast, LikePastFound, SizeMissing, like_past
from shared.book import Book, Job, Journey, Stage, Standing
from shared.estimate.like import estimate_like
from shared.examine import examine
from shared.worktime.zones import local_date
from tests.books.samples import SAMPLES

DAY = date(2027, 7, 6)


def the_book() -> Book:
    return SAMPLES["rush"]()


def asked(book: Book, **changes: object) -> LikePast:
    past = book.jobs[0]
    made = LikePast(
        what="Market pear",
        past=past,
        times=Decimal("1.5"),
        client=past.client,
        site=past.site,
        day=DAY,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def found(book: Book, **changes: object) -> LikePastFound:
    assert book.as_of is not None
    return like_past(book, asked(book, **changes), book.as_of)


def hours_of(job: Job) -> Decimal:
    stages = [step for step in job.steps if isinstance(step, Stage) and step.ways]
    return sum((stage.ways[0].hours.likely for stage in stages), Decimal(0))


def test_its_hours_are_those_of_the_past_job_grown_by_surface_volume_and_seams() -> None:
    book = the_book()
    made = found(book).job
    wanted = estimate_like(book, book.jobs[0], Decimal("1.5")).hours.likely

    assert abs(hours_of(made) - wanted) <= wanted / 20
    assert hours_of(made) > hours_of(book.jobs[0])


def test_its_window_begins_on_the_day_and_is_as_long_as_the_past_one() -> None:
    book = the_book()
    job = found(book).job
    past, made = book.jobs[0].held_window, job.held_window

    assert past is not None
    assert made is not None
    assert local_date(made.start, job.site.zone) == DAY
    assert made.end - made.start == past.end - past.start
    assert job.standing is Standing.ENQUIRY


def test_what_stays_as_large_keeps_its_sizes_and_is_understood() -> None:
    book = the_book()
    made = found(book, times=Decimal(1))

    assert [s.length_m for s in made.job.segments] == [s.length_m for s in book.jobs[0].segments]
    assert not [each for each in examine(made.book) if each.stops]
    assert any(isinstance(step, Journey) for step in made.job.steps)
    assert made.book.revision == book.revision


def test_what_passes_nowhere_is_cut_and_nothing_of_it_is_lost() -> None:
    book = the_book()
    whole = found(book, times=Decimal(1)).job
    large = found(book, times=Decimal(3)).job

    assert len(large.segments) > len(whole.segments)
    assert _volume(large) >= _volume(whole) * 27 * Fraction(99, 100)
    assert len({segment.id for segment in large.segments}) == len(large.segments)


def _volume(job: Job) -> Fraction:
    total = Fraction(0)
    for each in job.segments:
        sides = [Fraction(side or 0) for side in (each.length_m, each.width_m, each.height_m)]
        total += sides[0] * sides[1] * sides[2]
    return total


def test_without_sizes_nothing_is_so_many_times_as_large() -> None:
    book = the_book()
    bare = replace(book.jobs[0], segments=(replace(book.jobs[0].segments[0], length_m=None),))

    with pytest.raises(SizeMissing):
        found(book, past=bare)


def test_ids_are_fresh_beside_the_jobs_of_the_book() -> None:
    book = the_book()
    taken = {step.id for job in book.jobs for step in job.steps}
    job = found(book, what=book.jobs[0].name).job

    assert job.id not in {each.id for each in book.jobs}
    assert not taken & {step.id for step in job.steps}
