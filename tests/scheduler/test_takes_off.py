"""Work that takes off what is there: it waits for a cure, and no recoat time runs up to it."""

from dataclasses import replace
from decimal import Decimal

from scheduler.reasons import Reason
from shared.book import Book, Kind
from tests.builders import NOW, a_fact, a_stage, at
from tests.scheduler.check.change import named
from tests.scheduler.normals import codes, normal_of, of_steps, placed, solved, stage_of


def coated_on_thursday(*, takes_off: bool | None) -> Book:
    """Give a coat over since Thursday 07:00, whose recoat time of 40 h has run out."""
    book = of_steps(
        a_stage("coat", Kind.COAT, cure_hours=80, recoat_hours=Decimal(90)),
        a_stage("strip", Kind.FILL, takes_off=takes_off),
    )
    return replace(book, facts=(a_fact(step="coat", at=at("2026-01-01 07:00")),))


def test_what_takes_off_may_start_when_the_recoat_time_has_run_out() -> None:
    assert codes(normal_of(coated_on_thursday(takes_off=None))) == [Reason.RECOAT_OVER]
    assert codes(normal_of(coated_on_thursday(takes_off=True))) == []
    assert placed(solved(coated_on_thursday(takes_off=True)), "strip").start >= NOW


def test_what_takes_off_still_waits_for_the_cure() -> None:
    book = of_steps(
        a_stage("coat", Kind.COAT, cure_hours=80, recoat_hours=Decimal(90)),
        a_stage("strip", Kind.FILL, takes_off=True),
    )
    book = replace(book, facts=(a_fact(step="coat", at=at("2026-01-05 07:00")),))

    # 80 h after Monday 7:00 is Thursday 15:00, 79 h from now.
    assert stage_of(normal_of(book), "strip").release == 4 * 79
    assert placed(solved(book), "strip").start >= at("2026-01-08 15:00")


def test_a_plan_that_starts_past_a_recoat_time_is_only_sound_if_it_takes_off() -> None:
    book = coated_on_thursday(takes_off=True)
    plan = solved(book).plan

    assert not named(book, plan)
    assert ("recoat", "strip") in named(coated_on_thursday(takes_off=False), plan)
