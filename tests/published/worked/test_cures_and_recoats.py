"""Cures in a colder shop and recoat times over a weekend, against worked cases.

Figures: a classification society's rules for plastic hulls (48 h of cure), US Unified Facilities
Guide Specifications, coatings 09971 and 09973 (polyurethane over polyurethane: least and greatest
wait by the hottest surface that lasts an hour; no longer wait than the table's), a published
laminating guide (no lay-up below 15 degrees). The cases are computed from these.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check import check
from scheduler.cured import Cured, cured
from scheduler.outcome import Outcome, Verdict
from scheduler.reasons import Reason
from shared.book import Abrade, Book, Kind, Pin, Reading
from shared.ids import StepId
from shared.trade import figure
from shared.trade.recoat import polyurethane_bands, polyurethane_cure, polyurethane_windows
from tests.builders import a_shift, a_stage, a_way, at
from tests.published.trade_rows import outside
from tests.scheduler.climates import a_skin, in_air, warmth
from tests.scheduler.normals import codes, job_of, normal_of, of_steps, placed, solved

HOUR = timedelta(hours=1)
FRIDAY_16, SUNDAY_16 = at("2026-01-09 16:00"), at("2026-01-11 16:00")
SATURDAY_16, MONDAY_8 = at("2026-01-10 16:00"), at("2026-01-12 08:00")


# 48 h at 20 degrees, the shop at 15, 10 and 30.


def skinned(celsius: int, **more: Any) -> Book:
    skin = a_skin(cure_hours=figure("PL06").amount, **more)
    return in_air(of_steps(skin, a_stage("sand", Kind.FILL)), warmth(celsius))


@pytest.mark.parametrize(
    ("celsius", "hours"),
    [
        (15, outside("WC02a").amount),
        (10, outside("PL06").amount * outside("PL07").amount),
        (30, outside("WC02b").amount),
    ],
)
def test_48_hours_at_20_degrees_in_a_shop_that_is_colder_or_warmer(
    celsius: int, hours: Decimal
) -> None:
    book = skinned(celsius)
    plan = solved(book).plan
    found = cured(book, plan)[StepId("skin")]
    exact = (found.ready - found.end) / HOUR

    assert float(hours) - 0.005 <= exact < float(hours) + 0.25
    assert placed(solved(book), "sand").start >= found.ready


def test_ten_degrees_stop_lay_up_and_fifteen_do_not() -> None:
    limit = outside("PL05").amount
    cold = solved(skinned(10, coldest_celsius=limit))

    assert cold.verdict is Verdict.CANNOT
    assert Reason.TOO_COLD in [clash.code for clash in job_of(cold, "heron").reasons]
    assert codes(normal_of(skinned(15, coldest_celsius=limit))) == []


# A coat of polyurethane ends on Friday at 16:00; the next shift begins on Monday at 08:00.


def coated(*readings: Reading, abrades: bool = True) -> Book:
    hours, at_celsius = polyurethane_cure()
    rub = Abrade(ways=(a_way("rub", hours=1, skill="fill"),))
    first = a_stage(
        "first",
        Kind.PAINT,
        hours=4,
        in_one_go=True,
        cure_hours=hours,
        cure_celsius=at_celsius,
        recoat_bands=polyurethane_bands(),
        abrade=rub if abrades else None,
        pin=Pin(start=FRIDAY_16 - 4 * HOUR),
    )
    second = a_stage("second", Kind.PAINT, hours=4, in_one_go=True)
    shift = a_shift("08:00", "16:00", breaks=())
    return in_air(of_steps(first, second), warmth(18), shifts=(shift,), readings=readings)


def sunny(start: datetime) -> tuple[Reading, ...]:
    """Two hours of sun, which warms the coat to 35 degrees."""
    return tuple(Reading(at=start + HOUR * each, celsius=Decimal(35)) for each in (0, 1))


def figures(book: Book) -> tuple[Outcome, Cured]:
    outcome = solved(book)
    assert outcome.check.sound
    assert placed(outcome, "first").end == FRIDAY_16
    return outcome, cured(book, outcome.plan)[StepId("first")]


def test_over_the_weekend_the_window_shuts_and_an_abrade_stage_is_needed() -> None:
    outcome, found = figures(coated())

    assert timedelta(hours=float(outside("WC07").amount)) == MONDAY_8 - FRIDAY_16
    assert found.coat_by == SUNDAY_16
    assert placed(outcome, "second", part="abrade").start == MONDAY_8
    assert placed(outcome, "second").start >= MONDAY_8 + HOUR


def test_without_abrading_there_is_no_second_coat() -> None:
    outcome, _ = figures(coated(abrades=False))

    assert "second" in [one.step for one in outcome.plan.unplaced]


def test_a_second_coat_on_monday_without_abrading_is_named() -> None:
    book = coated()
    plan = solved(book).plan
    placements = tuple(each for each in plan.placements if not each.part)
    (found,) = [
        breach
        for breach in check(book, replace(plan, placements=placements)).breaches
        if breach.rule == "recoat"
    ]

    assert dict(found.facts)["latest"] == SUNDAY_16.isoformat()


def test_two_hours_of_sun_on_saturday_shut_it_on_saturday() -> None:
    outcome, found = figures(coated(*sunny(at("2026-01-10 12:00"))))
    window = next(one for one in polyurethane_windows() if one.warmest_celsius >= 35)

    assert (int(window.least_hours), int(window.most_hours)) == (3, 24)
    assert found.coat_by == FRIDAY_16 + timedelta(hours=24) == SATURDAY_16
    assert found.ready >= FRIDAY_16 + timedelta(hours=3)
    assert placed(outcome, "second", part="abrade").start == MONDAY_8


def test_two_hours_of_sun_on_sunday_shut_it_as_they_begin() -> None:
    """By then 24 h are over."""
    _, found = figures(coated(*sunny(at("2026-01-11 12:00"))))

    assert found.coat_by == at("2026-01-11 12:00")
