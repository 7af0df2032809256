"""Where pieces stand that leave later than they were to."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from shared.book import Book
from shared.ids import PlaceId
from shared.notices.standing import Stands, stands
from shared.plan import Plan
from tests.builders import (
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_journey,
    a_place,
    a_placement,
    a_plan,
    a_segment,
    a_stage,
    a_trip,
    at,
)

WAS = a_trip()
LATER = replace(WAS, start=WAS.start + timedelta(days=14), end=WAS.end + timedelta(days=14))


def found(book: Book, **plan: Any) -> tuple[Stands, ...]:
    after: Plan = a_plan(book, **{"trips": (LATER,), **plan})
    return stands(book, book.jobs[0], (WAS,), after)


def test_a_finished_piece_stands_from_when_it_was_to_leave_until_it_does() -> None:
    (only,) = found(a_book())

    assert (only.place, only.segments) == ("hall", ("heron-torso",))
    assert (only.start, only.end) == (at("2026-03-02 06:00"), at("2026-03-16 06:00"))
    assert only.others == ()


def test_one_that_is_worked_on_longer_stands_from_its_last_work() -> None:
    late = a_placement(end="2026-03-10 12:00")
    (only,) = found(a_book(), placements=(late,))

    assert only.start == at("2026-03-10 12:00")


def test_one_that_leaves_no_later_or_is_stored_elsewhere_does_not_stand() -> None:
    away = a_segment("heron-torso", stored_elsewhere=True)

    assert found(a_book(), trips=(WAS,)) == ()
    assert found(a_book(a_job(segments=(away,)))) == ()
    assert found(a_book(places=(a_place(),))) == ()


def test_the_place_is_the_last_it_was_moved_to_else_its_own_else_the_first() -> None:
    places = (a_place(), a_floor(), a_floor("yard"))
    own = a_segment("heron-torso", stands=PlaceId("yard"))
    steps = (
        a_stage("heron-carve", moves_to=PlaceId("yard")),
        a_gate("heron-loading"),
        a_journey("heron-journey"),
    )

    for job in (a_job(segments=(own,)), a_job(steps=steps)):
        (only,) = found(a_book(job, places=places))
        assert only.place == "yard"


def test_what_else_stands_there_meanwhile_is_named() -> None:
    otter = a_job("otter")
    book = a_book(a_job(), otter)
    works = a_placement("otter-carve", "2026-03-04 08:00", "2026-03-05 09:00", job="otter")
    goes = replace(a_trip("otter-journey", "otter"), start=at("2026-03-20 06:00"))
    gone = replace(goes, start=at("2026-03-02 05:00"))
    early = replace(works, start=at("2026-02-20 08:00"), end=at("2026-02-21 08:00"))

    there = found(book, placements=(a_placement(), works), trips=(LATER, goes))
    left = found(book, placements=(a_placement(), early), trips=(LATER, gone))

    assert there[0].others == ("otter",)
    assert left[0].others == ()
