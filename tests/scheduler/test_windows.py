"""Windows on offer beside the one held: which could be kept, and which is named next."""

from dataclasses import replace
from decimal import Decimal

import pytest

from scheduler.outcome import InReach, JobOutcome, Verdict
from shared.book import Book, Window
from shared.ids import WindowId
from tests.builders import a_book, a_gate, a_job, a_journey, a_stage, a_way, a_window
from tests.scheduler.normals import job_of, solved

HELD = a_window("held", start="2026-01-05 00:00", end="2026-01-06 09:00")
"""Carving of eight hours ends on Tuesday at 10:00 at the soonest."""


def offered(name: str, end: str, price: int = 0) -> Window:
    """Give a window that begins on Monday."""
    return a_window(name, start="2026-01-05 00:00", end=end, price=Decimal(price))


def a_carving(*windows: Window, window: str | None = None) -> Book:
    job = a_job(steps=(a_stage("carve"), a_gate()), windows=windows)
    return a_book(replace(job, window=None if window is None else WindowId(window)))


def reaches(told: JobOutcome) -> dict[str, InReach]:
    return {each.id: each.in_reach for each in told.windows}


def test_a_job_with_one_window_has_no_other() -> None:
    told = job_of(solved(a_carving(HELD)), "heron")

    assert told.verdict is Verdict.CANNOT
    assert (told.windows, told.next_window) == ((), None)


def test_the_next_is_the_first_that_loading_makes() -> None:
    early = offered("early", "2026-01-06 09:45", price=1)
    first = offered("first", "2026-01-06 10:00", price=400)
    late = replace(
        a_window("late", start="2026-01-07 00:00", end="2026-01-09 00:00"), price=Decimal(0)
    )
    told = job_of(solved(a_carving(HELD, late, early, first)), "heron")

    assert told.verdict is Verdict.CANNOT
    assert [each.id for each in told.windows] == ["early", "first", "late"]
    assert list(reaches(told).values()) == [
        InReach.NEVER, InReach.AS_PLANNED, InReach.AS_PLANNED
    ]  # fmt: skip
    assert told.next_window == "first"
    assert [each.price for each in told.windows] == [1, 400, 0]


def test_a_job_that_keeps_its_window_is_told_of_others_and_of_no_next() -> None:
    wide = a_window("wide", start="2026-01-05 00:00", end="2026-01-30 18:00")
    told = job_of(solved(a_carving(wide, HELD)), "heron")

    assert told.verdict is Verdict.FITS
    assert reaches(told) == {"held": InReach.NEVER}
    assert told.next_window is None


def test_the_window_held_need_not_be_the_first() -> None:
    told = job_of(solved(a_carving(offered("a", "2026-01-30 18:00"), HELD, window="held")), "heron")

    assert told.next_window == "a"


def test_what_only_an_empty_workshop_makes_is_told_apart() -> None:
    """One person, two jobs with two days: one of them is late, and alone it would not be."""
    window = a_window("w", start="2026-01-05 00:00", end="2026-01-06 12:00")
    other = replace(window, id=WindowId("same"))
    jobs = [
        a_job(
            name,
            steps=(a_stage(f"{name}.carve"), a_gate(f"{name}.load")),
            windows=(replace(window, id=WindowId(f"{name}.w")), replace(other, id=WindowId(name))),
        )
        for name in ("heron", "finch")
    ]
    outcome = solved(a_book(*jobs), effort=800)
    (late,) = [job for job in outcome.jobs if job.verdict not in (Verdict.FITS, Verdict.TIGHT)]

    assert list(reaches(late).values()) == [InReach.ALONE]
    assert str(late.next_window) == str(late.id)


@pytest.mark.parametrize(
    ("end", "reach"), [("13:45", InReach.NEVER), ("14:00", InReach.AS_PLANNED)]
)
def test_a_journey_counts_as_it_does_for_the_window_held(end: str, reach: InReach) -> None:
    """Loaded on Tuesday at 10:00, then two hours on the road and two of putting up."""
    steps = (a_stage("carve"), a_gate(), a_journey())
    windows = (HELD, offered("on-offer", f"2026-01-06 {end}"))
    told = job_of(solved(a_book(a_job(steps=steps, windows=windows))), "heron")

    assert told.verdict is Verdict.CANNOT
    assert reaches(told) == {"on-offer": reach}


def test_what_stands_against_every_window_leaves_none() -> None:
    nobody = a_stage("carve", ways=(a_way(skill="thatch"),))
    job = a_job(steps=(nobody, a_gate()), windows=(HELD, offered("b", "2026-03-30 18:00")))
    told = job_of(solved(a_book(job)), "heron")

    assert told.verdict is Verdict.CANNOT
    assert reaches(told) == {"b": InReach.NEVER}
    assert told.next_window is None


def test_a_window_far_ahead_is_counted_back_from_too() -> None:
    far = a_window("far", start="2027-06-01 00:00", end="2027-06-03 00:00")
    told = job_of(solved(a_carving(HELD, far)), "heron")

    assert told.next_window == "far"
