"""What of a book is otherwise, thing by thing, and nothing where nothing is."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from shared.book import Book, FactKind, Leave, Stage
from shared.comparing import Difference, How, Sort, differences
from shared.edits import remove_job
from tests.builders import NOW, a_book, a_fact, a_job, a_person, a_stage

JOB = a_job("fox", steps=(a_stage("first"), a_stage("second")))
BOOK = a_book(JOB, a_job("owl"), people=(a_person("ana"),))


def _of(after: Book) -> list[tuple[Sort, How, str]]:
    return [(each.sort, each.how, each.id) for each in differences(BOOK, after)]


def test_the_same_book_with_another_revision_differs_in_nothing() -> None:
    assert differences(BOOK, replace(BOOK, revision=77)) == ()


def test_a_job_that_is_gone_is_named_as_it_was() -> None:
    (gone,) = differences(BOOK, remove_job(BOOK, BOOK.jobs[1].id).book)
    assert (gone.sort, gone.how, gone.name) == (Sort.JOB, How.GONE, BOOK.jobs[1].name)
    (new,) = differences(remove_job(BOOK, BOOK.jobs[1].id).book, BOOK)
    assert (new.sort, new.how) == (Sort.JOB, How.NEW)


def test_hours_of_a_stage_are_told_as_more_and_anything_else_as_changed() -> None:
    stage = JOB.steps[0]
    assert isinstance(stage, Stage)
    way = stage.ways[0]
    longer = replace(way, hours=replace(way.hours, likely=way.hours.likely + 3))
    after = _with_step(replace(stage, ways=(longer,)))
    (found,) = differences(BOOK, after)
    assert (found.sort, found.id, found.more) == (Sort.HOURS, "first", Decimal(3))
    assert found.thing == ("step", "first")

    assert _of(_with_step(replace(stage, name="Other"))) == [(Sort.STEP, How.OTHER, "first")]


def _with_step(step: Stage) -> Book:
    job = replace(JOB, steps=(step, *JOB.steps[1:]))
    return replace(BOOK, jobs=(job, *BOOK.jobs[1:]))


def test_steps_segments_windows_and_the_rest_of_a_job_are_each_told() -> None:
    window = JOB.windows[0]
    later = replace(window, end=window.end + timedelta(days=1))
    segment = replace(JOB.segments[0], name="Head")
    job = replace(JOB, name="Vixen", windows=(later,), segments=(segment,), steps=(JOB.steps[0],))
    assert _of(replace(BOOK, jobs=(job, *BOOK.jobs[1:]))) == [
        (Sort.WINDOW, How.OTHER, "fox"),
        (Sort.SEGMENT, How.OTHER, segment.id),
        (Sort.STEP, How.GONE, "second"),
        (Sort.JOB, How.OTHER, "fox"),
    ]


def test_people_their_leave_and_what_was_told() -> None:
    ana = BOOK.people[0]
    leave = Leave(start=NOW, end=NOW + timedelta(days=1))
    away = replace(ana, leave=(leave,), pace=Decimal("0.8"))
    fact = a_fact("it is done", "first", kind=FactKind.DONE)
    after = replace(BOOK, people=(away, a_person("ben")), facts=(fact,))
    assert _of(after) == [
        (Sort.FACT, How.NEW, fact.id),
        (Sort.LEAVE, How.OTHER, "ana"),
        (Sort.PERSON, How.OTHER, "ana"),
        (Sort.PERSON, How.NEW, "ben"),
    ]
    back = differences(after, BOOK)
    assert back[0].fact == fact
    assert back[0].how is How.GONE
    assert back[0].thing == ("step", "first")


@pytest.mark.parametrize(
    ("after", "sort"),
    [
        (replace(BOOK, name="Other"), Sort.WORKSHOP),
        (replace(BOOK, as_of=NOW + timedelta(days=1)), Sort.REST),
        (replace(BOOK, kept=(("later", "1"),)), Sort.REST),
    ],
)
def test_whatever_else_differs_is_told_as_something(after: Book, sort: Sort) -> None:
    assert [each.sort for each in differences(BOOK, after)] == [sort]


def test_no_field_of_a_book_is_forgotten() -> None:
    from dataclasses import fields

    compared = {"jobs", "facts", "people", "places", "suppliers", "materials", "deliveries"}
    compared |= {"name", "workshop", "told", "plan"}
    rest = {"as_of", "equipment", "offers", "other_work", "routes", "kept"}
    assert {each.name for each in fields(Book)} == compared | rest | {"revision"}
    assert isinstance(differences(BOOK, BOOK), tuple)
    assert Difference(sort=Sort.JOB, how=How.NEW).thing == ("job", "")
