"""Needs of material grow, join and are cut with the work that they are for."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from shared.book import Kind, Measure, RouteRule, Stage
from shared.edits import again_from, copy_job, take_load
from shared.ids import JobId, SegmentId, StepId
from shared.needs import grown_needs, joined_needs
from shared.repairs import Cause
from shared.routes.copying import copied_steps
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_route,
    a_segment,
    a_stage,
    a_way,
    on,
    so_much,
)


@given(st.decimals(Decimal("0.001"), 9999, places=3), st.fractions(Fraction(1, 99), 50))
def test_what_grows_is_never_less_than_it_should_be_nor_more_than_a_thousandth(
    quantity: Decimal, share: Fraction
) -> None:
    (grown,) = grown_needs((so_much(quantity),), share)
    exact = Fraction(quantity) * share

    assert exact <= Fraction(grown.quantity) < exact + Fraction(1, 1000)


def test_needs_of_one_material_are_one_need() -> None:
    found = joined_needs([(so_much(1), so_much(4, "mat")), (so_much("0.5"),), ()])

    assert found == (so_much("1.5"), so_much(4, "mat"))


def test_a_route_is_copied_with_what_its_sizes_take_and_sessions_share_it() -> None:
    stage = a_stage(
        "skin",
        Kind.LAMINATE,
        ways=(a_way("bench", hours=4, skill="laminate", materials=(so_much("0.2", "mat"),)),),
        materials=(so_much("1.2", "resin"),),
    )
    rule = RouteRule(step=StepId("skin"), per=Measure.SURFACE, session_hours=Decimal(6))
    route = a_route(steps=(stage,), rules=(rule,))
    head = a_segment("head", surface_m2=Decimal(3))
    copied = copied_steps(route, (head,), (), lambda step, _: StepId(f"head.{step}"))

    assert len(copied.steps) == 2
    for part in copied.steps:
        assert isinstance(part, Stage)
        assert part.materials == (so_much("1.8", "resin"),)
        assert part.ways[0].materials == (so_much("0.3", "mat"),)


def test_a_load_takes_what_its_stages_take() -> None:
    coats = tuple(
        a_stage(f"{piece}-coat", Kind.PAINT, segments=(piece,), name="coat", materials=needs)
        for piece, needs in (("fin", (so_much(1),)), ("tail", (so_much(2), so_much(3, "mat"))))
    )
    segments = (a_segment("fin"), a_segment("tail"))
    book = a_book(a_job(segments=segments, steps=(*coats, a_gate())))
    loaded = take_load(book, tuple(coat.id for coat in coats)).book.jobs[0].steps[0]

    assert isinstance(loaded, Stage)
    assert loaded.materials == (so_much(3), so_much(3, "mat"))


def test_what_is_done_again_takes_its_share_and_stripping_takes_none() -> None:
    skin = a_stage("skin", Kind.LAMINATE, hours=10, materials=(so_much(20),))
    book = a_book(a_job(steps=(skin, a_gate())), facts=(a_fact(step="skin"),))
    made = again_from(book, StepId("skin"), Cause.BROKEN, percent=Decimal(25)).book
    fresh = [s for s in made.jobs[0].steps if isinstance(s, Stage) and s.id != "skin"]

    assert [each.materials for each in fresh if each.kind is Kind.LAMINATE] == [(so_much(5),)]
    assert all(not each.materials for each in fresh if each.kind is not Kind.LAMINATE)


def test_a_copy_of_a_job_has_its_own_deposit_to_pay() -> None:
    job = a_job(deposit_due=on("2026-01-12"), deposit_paid=on("2026-01-09"))
    made = copy_job(a_book(job), JobId("heron"), "Another").book.jobs[1]

    assert (made.deposit_due, made.deposit_paid) == (on("2026-01-12"), None)
    assert made.segments[0].id != SegmentId("heron-torso")
