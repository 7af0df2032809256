"""Estimates like a past job so much larger: by hand, and into a way of making."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from shared.book import Book, Fact, FactKind, Job, Kind, Measure, Segment, Stage, Way
from shared.edits import take_route
from shared.estimate import (
    Estimate,
    FormulaCode,
    Quantity,
    estimate_of_job,
    estimate_of_segments,
)
from shared.estimate.like import POWERS, estimate_like, scaled_segment
from shared.estimate.likened import likened, past_options, past_route
from shared.estimate.recorded import recorded_hours
from shared.ids import PersonId, StepId
from shared.routes import PROGRAM_ROUTES, program_route
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_person,
    a_segment,
    a_stage,
    at,
)

CARVE = "heron-carve"
TIMES = Decimal("1.5")
SIZES: dict[str, Any] = {
    "length_m": Decimal(2),
    "width_m": Decimal(1),
    "height_m": Decimal(1),
    "surface_m2": Decimal(8),
    "volume_m3": Decimal(2),
    "joints_m": Decimal(4),
}


def a_past(route: str = "hollow", *options: str, **changes: object) -> Book:
    pieces = tuple(replace(a_segment(name), **SIZES) for name in ("left", "right"))
    book = a_book(a_job(segments=pieces, steps=()), **changes)
    way = program_route(route)
    assert way is not None
    ids = [piece.id for piece in pieces]
    return take_route(book, book.jobs[0].id, ids, way, options=options).book


def past(book: Book) -> Job:
    return book.jobs[0]


def grown(book: Book) -> tuple[Segment, ...]:
    return tuple(scaled_segment(each, TIMES) for each in past(book).segments)


def test_areas_go_by_the_square_volumes_by_the_cube_and_joints_by_the_length() -> None:
    book = a_past()
    before = {str(line.stage): line for line in estimate_of_job(book, past(book)).lines}
    found = {str(line.stage): line for line in estimate_like(book, past(book), TIMES).lines}

    grown_block = before["block"].hours.likely * TIMES**3
    assert abs(found["block"].hours.likely - grown_block) < Decimal("0.02")
    assert found["carve"].hours.likely == before["carve"].hours.likely * TIMES**2
    assert found["trial-fit"].hours.high == before["trial-fit"].hours.high * TIMES
    assert found["survey"].hours == before["survey"].hours
    # Half an hour of mixing and cleaning for each session does not grow.
    laid = before["laminate"].hours.likely - 1
    assert abs(found["laminate"].hours.likely - 1 - laid * TIMES**2) < Decimal("0.02")
    assert {line.formula.code for line in found.values()} == {FormulaCode.LIKE}


def test_quantities_grow_as_what_they_are_on_does() -> None:
    book = a_past()
    before = quantities(estimate_of_job(book, past(book)))
    found = quantities(estimate_like(book, past(book), TIMES))

    for material, measure in (("foam", Measure.VOLUME), ("bolt", Measure.JOINTS)):
        old, new = before[material], found[material]
        assert new.net.likely == old.net.likely * Fraction(TIMES) ** POWERS[measure]
        assert new.gross.likely / new.net.likely == old.gross.likely / old.net.likely
    parts = {str(take.stage): take.quantity.likely for take in found["filler"].takes}
    olds = {str(take.stage): take.quantity.likely for take in before["filler"].takes}
    for stage, power in (("fair", 2), ("fair-across-joints", 1)):
        assert parts[stage] == olds[stage] * Fraction(TIMES) ** power


def quantities(estimate: Estimate) -> dict[str, Quantity]:
    return {str(each.material.id): each for each in estimate.quantities}


def test_a_segment_grows_in_all_its_sizes() -> None:
    one = scaled_segment(replace(a_segment(), **SIZES, mass_low_kg=Decimal(8)), Decimal(2))

    assert [one.length_m, one.surface_m2, one.volume_m3, one.joints_m] == [4, 32, 16, 8]
    assert one.mass_low_kg == 32


def test_steps_of_no_way_of_making_grow_as_their_kind_does() -> None:
    steps = (a_stage("carve"), a_gate("fit"), a_journey())
    book = a_book(a_job(steps=steps))
    (line,) = estimate_like(book, past(book), TIMES).lines

    assert line.hours.likely == 8 * TIMES**2


def told(kind: FactKind, when: str, *people: str) -> Fact:
    names = tuple(PersonId(person) for person in people)
    return a_fact(kind.value, CARVE, kind=kind, at=at(when), people=names)


def test_recorded_hours_go_before_written_ones() -> None:
    """From Monday 8:00 to Tuesday 8:00 lie 8 hours of a shift, in which 6.5 are useful."""
    book = a_book(
        people=(a_person("ana"), a_person("ben", pace=Decimal("0.5"))),
        facts=(
            told(FactKind.RUNNING, "2026-01-05 08:00"),
            told(FactKind.DONE, "2026-01-06 08:00", "ana", "ben"),
        ),
    )
    hours = Decimal("6.5") * Decimal("1.5") / Decimal("1.05")
    found = recorded_hours(book)
    (line, *_) = estimate_like(book, past(book), Decimal(2)).lines

    assert abs(found[StepId(CARVE)] - hours) < Decimal("0.01")
    assert line.formula.code is FormulaCode.LIKE_RECORDED
    assert line.hours.low == line.hours.likely == line.hours.high == found[StepId(CARVE)] * 4


def test_the_end_alone_is_no_record_and_neither_is_work_of_nobody() -> None:
    done = told(FactKind.DONE, "2026-01-06 08:00", "ana")
    begun = told(FactKind.RUNNING, "2026-01-05 08:00")
    nobody = replace(done, people=())

    assert recorded_hours(a_book(facts=(done,))) == {}
    assert recorded_hours(a_book(facts=(begun,))) == {}
    assert recorded_hours(a_book(facts=(begun, nobody))) == {}


@pytest.mark.parametrize("route", PROGRAM_ROUTES)
def test_options_are_read_out_of_a_past_job(route: str) -> None:
    way = program_route(route)
    assert way is not None
    for options in ((), way.options[:1], way.options[-1:]):
        book = a_past(route, *options)
        assert past_route(book, past(book)) == way
        assert past_options(book, past(book), way) == options


@pytest.mark.parametrize("route", ["hollow", "hard-coat"])
def test_a_way_of_making_gets_the_hours_of_the_past_job(route: str) -> None:
    book = a_past(route)
    job = past(book)
    slow = tuple(
        replace(step, ways=tuple(map(doubled, step.ways)))
        if isinstance(step, Stage) and step.name == "carve"
        else step
        for step in job.steps
    )
    book = replace(book, jobs=(replace(job, steps=slow),))
    segments = grown(book)
    like = likened(book, past(book), TIMES, segments)
    wanted = {line.stage: line.hours for line in estimate_like(book, past(book), TIMES).lines}
    made = estimate_of_segments(book.workshop, like.route, segments, like.options)
    found = {line.stage: line.hours for line in made.lines}

    assert (like.left, like.unlike) == ((), ())
    assert found.keys() == wanted.keys()
    for stage, hours in found.items():
        steps = len(next(line for line in made.lines if line.stage == stage).shares)
        assert abs(hours.likely - wanted[stage].likely) <= steps * Decimal("0.5"), stage
        assert hours.low <= hours.likely <= hours.high


def doubled(way: Way) -> Way:
    hours = way.hours
    twice = replace(hours, low=2 * hours.low, likely=2 * hours.likely, high=2 * hours.high)
    return replace(way, hours=twice)


def test_what_has_no_like_is_told_and_hours_of_a_kind_are_kept() -> None:
    steps = (
        a_stage("rough out", hours=12),
        a_stage("thatch", kind=a_stage().kind, hours=4),
        a_gate("fit", ways=()),
        a_journey(),
    )
    book = a_book(a_job(steps=steps))
    segments = past(book).segments
    like = likened(book, past(book), Decimal(1), segments)
    made = estimate_of_segments(book.workshop, like.route, segments, like.options)
    carved = (line.hours.likely for line in made.lines if line.kind is Kind.FOAM)
    foam = sum(carved, Decimal(0))

    assert like.route.id == PROGRAM_ROUTES[0]
    assert like.left == ()
    assert abs(foam - 16) <= 1
    assert "laminate" in like.unlike
