"""Spraying: the clearance of a booth, and isocyanates in an enclosed place only."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.outcome import Verdict
from scheduler.reasons import Reason
from shared.book import Act, Book, FactKind, Kind, Place, PlaceKind
from shared.ids import PersonId, PlaceId
from tests.builders import (
    a_book,
    a_fact,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_segment,
    a_stage,
    a_way,
    a_window,
    at,
)
from tests.scheduler.check.change import moved, named, place_changed, step_changed
from tests.scheduler.normals import codes, job_of, normal_of, placed, solved, stage_of

ENOUGH = 200
"""Effort for a proof."""


def a_booth(**changes: Any) -> Place:
    return a_place("booth", PlaceKind.BOOTH, **{"whole": True, **changes})


def sprayed(booth: Place, *acts: Act, **changes: Any) -> Book:
    """Give two pieces that are lacquered in one booth, an hour and a quarter each."""
    stages = [
        a_stage(
            f"lacquer-{piece}",
            Kind.LACQUER,
            segments=(piece,),
            hours=1,
            does=acts or None,
            ways=(a_way("gun", 1, skill="lacquer", places=(booth.id,), **changes),),
        )
        for piece in ("left", "right")
    ]
    job = a_job(segments=(a_segment("left"), a_segment("right")), steps=(*stages, a_gate()))
    people = (a_person("ana"), a_person("ben"))
    return a_book(job, places=(booth, a_floor()), people=people)


@pytest.mark.parametrize(("told", "kept"), [(0, 30), (5, 15), (45, 45)])
def test_a_booth_is_cleared_after_spraying(told: int, kept: int) -> None:
    """Measured and displayed, else 30 minutes (HSE, COSHH essentials, MR series)."""
    book = sprayed(a_booth(clear_out_minutes=told))
    outcome = solved(book)
    one, other = sorted(
        (placed(outcome, f"lacquer-{piece}") for piece in ("left", "right")),
        key=lambda each: each.start,
    )

    assert other.start - one.end == timedelta(minutes=kept)
    soon = timedelta(minutes=15)
    early = moved(outcome.plan, other.step, start=other.start - soon, end=other.end - soon)
    assert ("place_full", other.step) in named(book, early)


def test_a_booth_in_which_nobody_sprayed_and_a_bay_are_not_cleared() -> None:
    for book in (sprayed(a_booth(), Act.WET), sprayed(a_place("bay", whole=True), Act.SPRAY)):
        outcome = solved(book)
        starts = sorted(placed(outcome, f"lacquer-{piece}").start for piece in ("left", "right"))
        assert starts[1] - starts[0] == timedelta(minutes=75)


def test_the_clearance_of_a_booth_can_make_a_window_impossible() -> None:
    """From 8:00 twice an hour and a quarter, and half an hour between: 11:00, not 10:30."""
    book = sprayed(a_booth(clear_out_minutes=0))
    job = replace(book.jobs[0], windows=(a_window(end="2026-01-05 10:45"),))
    plain = sprayed(a_booth(clear_out_minutes=0), Act.WET)

    late = solved(replace(book, jobs=(job,)), effort=ENOUGH)
    assert job_of(late, "heron").verdict is Verdict.CANNOT
    kept = replace(plain.jobs[0], windows=job.windows)
    assert job_of(solved(replace(plain, jobs=(kept,))), "heron").verdict is Verdict.TIGHT


def test_a_booth_is_still_cleared_after_spraying_that_is_done() -> None:
    """It was done at 7:45, so the booth is free from 8:15 on."""
    fact = a_fact(step="lacquer-left", at=at("2026-01-05 07:45"), place=PlaceId("booth"))
    book = replace(sprayed(a_booth()), facts=(fact,))
    outcome = solved(book)

    assert placed(outcome, "lacquer-right").start == at("2026-01-05 08:15")
    early = moved(outcome.plan, "lacquer-right", start=at("2026-01-05 08:00"))
    assert ("place_full", "lacquer-right") in named(book, early)


ISOCYANATE = (Act.ISOCYANATE,)


@pytest.mark.parametrize(
    ("place", "whole_place", "is_allowed"),
    [
        (a_booth(), False, True),
        (a_booth(whole=False), True, True),
        (a_booth(whole=False), False, False),
        (a_booth(enclosed=False), False, False),
        (a_place("booth", PlaceKind.BAY, whole=True), True, False),
        (a_place("booth", PlaceKind.BAY, enclosed=True), False, False),
        (a_place("booth", PlaceKind.BAY, enclosed=True), True, True),
    ],
)
def test_isocyanates_are_sprayed_only_in_an_enclosed_place_taken_whole(
    place: Place, whole_place: bool, is_allowed: bool
) -> None:
    """Never in the open workshop (HSE, COSHH essentials, MR series)."""
    book = sprayed(place, *ISOCYANATE, whole_place=whole_place)
    outcome = solved(book)
    job = job_of(outcome, "heron")

    assert (Reason.OPEN_SPRAYING in codes(normal_of(book))) is not is_allowed
    assert (job.verdict is Verdict.CANNOT) is not is_allowed
    if not is_allowed:
        assert {reason.code for reason in job.reasons} == {Reason.OPEN_SPRAYING}
        assert {each.code for each in outcome.plan.unplaced} >= {Reason.OPEN_SPRAYING}
    harmless = step_changed(step_changed(book, "lacquer-left", does=()), "lacquer-right", does=())
    plan = solved(harmless).plan
    broken = {rule for rule, _ in named(book, plan)} - {"place_full"}
    assert broken == (set() if is_allowed else {"open_spraying"})


def test_isocyanates_without_a_place_are_sprayed_in_the_open() -> None:
    way = a_way("gun", 1, skill="lacquer")
    book = step_changed(sprayed(a_booth(), *ISOCYANATE), "lacquer-left", ways=(way,))

    assert codes(normal_of(book)) == [Reason.OPEN_SPRAYING]
    plan = solved(step_changed(book, "lacquer-left", does=())).plan
    assert ("open_spraying", "lacquer-left") in named(book, plan)


def test_where_one_place_is_enclosed_the_others_fall_away() -> None:
    way = a_way("gun", 1, skill="lacquer", places=("hall", "booth"))
    book = step_changed(sprayed(a_booth(), *ISOCYANATE), "lacquer-left", ways=(way,))
    outcome = solved(book)

    assert codes(normal_of(book)) == []
    assert placed(outcome, "lacquer-left").place == "booth"
    hall = moved(outcome.plan, "lacquer-left", place=PlaceId("hall"))
    assert ("open_spraying", "lacquer-left") in named(book, hall)


def test_a_sprayed_hard_coat_on_the_open_floor_is_a_fact_of_its_job() -> None:
    """Spray polyurethane and polyurea hold isocyanates as paint does; the other job is planned."""
    coat = a_stage(
        "heron-coat",
        Kind.COAT,
        hours=4,
        places=("bay",),
        does=(Act.SPRAY, Act.ISOCYANATE),
        in_one_go=True,
        watch_minutes=0,
    )
    heron = a_job(steps=(a_stage("heron-carve"), coat, a_gate("heron-loading")))
    book = a_book(heron, a_job("otter"))
    outcome = solved(book)

    assert job_of(outcome, "heron").verdict is Verdict.CANNOT
    assert job_of(outcome, "otter").verdict is Verdict.FITS
    assert placed(outcome, "heron-carve")
    enclosed = place_changed(book, "bay", enclosed=True, whole=True)
    assert job_of(solved(enclosed), "heron").verdict is Verdict.FITS


def test_isocyanates_under_way_in_the_open_stop_their_job() -> None:
    fact = a_fact(
        step="lacquer-left",
        kind=FactKind.RUNNING,
        people=(PersonId("ana"),),
        remaining_hours=Decimal(2),
        place=PlaceId("hall"),
    )
    book = replace(sprayed(a_booth(), *ISOCYANATE), facts=(fact,))

    assert codes(normal_of(book)) == [Reason.OPEN_SPRAYING]


def test_a_booth_is_cleared_after_isocyanates() -> None:
    """Who writes only isocyanates means that they are sprayed."""
    cleared = sprayed(a_booth(), *ISOCYANATE)

    assert stage_of(normal_of(cleared), "lacquer-left").ways[0].uses[0].after == 2
