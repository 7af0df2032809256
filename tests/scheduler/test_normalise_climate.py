"""Cures and recoat times on the grid, held against counting quarter by quarter."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.grid import DAY_STEPS, Grid
from scheduler.model.alone import alone, generous
from scheduler.normalise import Normal
from scheduler.normalise.climate_hours import PlaceHours, days_of, wait_of
from scheduler.normalise.climate_walk import Walk
from scheduler.problem import Edge, Table, Wait
from scheduler.reasons import Reason
from shared.book import Abrade, Book, Kind, Reading, Stage
from shared.climate import Climate
from shared.ids import PlaceId
from shared.units import instant_of
from tests.builders import a_fact, a_stage, a_way, at
from tests.scheduler.climates import a_book_of, a_skin, all_day, bands, in_air, warmth
from tests.scheduler.normals import codes, edges_of, normal_of, position, stage_of

SPRING = datetime.fromisoformat("2026-03-28T12:00+00:00")
AUTUMN = datetime.fromisoformat("2026-10-24T12:00+00:00")
"""Days before British summer time began and ended in 2026 (Summer Time Order 2002)."""


def value(table: Table | None, t: int) -> int:
    assert table is not None
    return next(found for upto, found in table.knots if t <= upto)


def ready(normal: Normal, step: str, t: int) -> int:
    cure = stage_of(normal, step).cure
    return t + cure.least if cure.table is None else max(t + cure.least, value(cure.table, t))


def slow_ready(book: Book, normal: Normal, place: str | None, hours: float, t: int) -> int:
    """Count quarters, in floating point, until a cure written for 20 degrees is over."""
    climate, done = Climate(book), 0.0
    while done < hours - 1e-9:
        instant = instant_of(normal.origin, t)
        hour = climate.expected(None if place is None else PlaceId(place), instant)
        done += 2 ** ((float(hour.coldest) - 20) / 10) / 4
        t += 1
    return t


@pytest.mark.parametrize(
    ("celsius", "steps"),
    # 48 h at 20 degrees: twice as long ten degrees colder, half as long ten warmer.
    [(None, 192), (20, 192), (10, 384), (0, 768), (30, 96), (15, 272)],
)
def test_a_cure_at_one_temperature_is_one_wait(celsius: int | None, steps: int) -> None:
    book = a_book_of(a_skin())
    cure = stage_of(
        normal_of(book if celsius is None else in_air(book, warmth(celsius))), "skin"
    ).cure

    assert (cure.least, cure.table) == (steps, None)


def test_a_cure_for_another_temperature_where_nothing_is_known_goes_by_the_usual() -> None:
    warm, never = (
        a_skin("skin", cure_celsius=Decimal(30)),
        a_skin("late", cure_celsius=Decimal(999)),
    )
    normal = normal_of(a_book_of(warm, never))

    assert stage_of(normal, "skin").cure.least == 2 * 192
    assert stage_of(normal, "late").cure.least > normal.problem.horizon


def test_a_third_of_an_hour_in_decimals_cures_in_two_quarters() -> None:
    """No number of decimals makes it whole; the second quarter is only begun."""
    third = a_skin(cure_hours=Decimal("0.3333333333"))

    assert stage_of(normal_of(in_air(a_book_of(third), warmth(20))), "skin").cure.least == 2


def test_a_cure_of_no_temperature_is_the_same_in_any() -> None:
    book = in_air(a_book_of(a_skin(cure_celsius=None)), warmth(20, 5))

    assert stage_of(normal_of(book), "skin").cure.least == 192


@pytest.mark.parametrize("now", [SPRING, AUTUMN])
def test_cures_run_through_nights_weekends_and_clock_changes(now: datetime) -> None:
    readings = (
        Reading(at=now + timedelta(hours=20, minutes=40), celsius=Decimal(2)),
        Reading(at=now - timedelta(hours=1), celsius=Decimal(40)),
    )
    cold = warmth(21, "11.5", heated=(all_day("05:15", "19:00"),), spread_celsius=Decimal("0.5"))
    book = in_air(a_book_of(a_skin()), cold, readings=readings)
    normal = normal_of(book, now)

    for t in (0, 1, 7, 40, 81, 82, 83, 96, 200, 300, 1000):
        assert ready(normal, "skin", t) == slow_ready(book, normal, "bay", 48, t), t


def test_what_is_expected_is_followed_to_the_last_quarter_of_the_margin() -> None:
    """From 1 February on it is mild, so too on the morning on which what is known ends."""
    january = replace(warmth(5), months=(1,))
    mild = replace(warmth(20), months=tuple(range(2, 13)))
    grid = Grid(origin=at("2026-01-05 08:00"), horizon=28 * DAY_STEPS, zone="Europe/London")
    days = days_of(grid)
    hours = PlaceHours(Climate(in_air(a_book_of(a_skin()), january, mild)), None, days)

    fine = hours.without(lambda hour: hour.coldest < Decimal(15))

    assert fine == ((grid.up(at("2026-02-01 00:00")), days.count),)


def test_hours_of_which_none_is_left_change_no_cure() -> None:
    """January's warm days are over, and its last warm night was measured to be cold."""
    now = at("2026-01-31 20:30")
    night = [Reading(at=now + timedelta(hours=each), celsius=Decimal(5)) for each in range(4)]
    january, later = warmth(30, 25, months=(1,)), warmth(15, 5, months=tuple(range(2, 13)))
    book = in_air(a_book_of(a_skin()), january, later, readings=tuple(night))
    normal = normal_of(book, now)

    for t in (0, 13, 14, 40, 100, 300):
        assert ready(normal, "skin", t) == slow_ready(book, normal, "bay", 48, t), t


@settings(max_examples=25, deadline=None)
@given(
    st.decimals(-5, 35, places=1),
    st.decimals(-5, 35, places=1),
    st.decimals(0, 4, places=1),
    st.integers(0, 3000),
    st.integers(1, 90),
)
def test_no_cure_is_too_short_and_none_a_quarter_too_long(
    day: Decimal, night: Decimal, spread: Decimal, t: int, hours: int
) -> None:
    book = in_air(
        a_book_of(a_skin(cure_hours=hours)), warmth(str(day), str(night), spread_celsius=spread)
    )
    normal = normal_of(book)
    found = ready(normal, "skin", t)

    assert found in {(exact := slow_ready(book, normal, "bay", hours, t)), exact + 1}


def test_the_table_rises_and_reaches_the_horizon() -> None:
    normal = normal_of(in_air(a_book_of(a_skin()), warmth(32, 15)))
    cure = stage_of(normal, "skin").cure
    assert cure.table is not None
    uptos, values = zip(*cure.table.knots, strict=True)

    assert list(uptos) == sorted(set(uptos))
    assert list(values) == sorted(set(values))
    assert uptos[-1] == normal.problem.horizon
    assert cure.least == min(value - upto for upto, value in cure.table.knots)
    assert all(ready(normal, "skin", t) == value(cure.table, t) for t in range(500))


def test_a_table_reaches_the_last_end_though_little_cures_till_then() -> None:
    """After two quarters it is too cold for a while: all that end then are ready at once."""
    ready = np.array([8, 9, 10, 10, 10, 10], dtype=np.int32)
    table = wait_of([ready]).table

    assert [value(table, t) for t in range(6)] == ready.tolist()


def test_a_table_holds_what_is_ready_a_quarter_past_midnight() -> None:
    """Where step 0 is midnight, and the last cure is over a quarter of an hour past the next."""
    ready = np.array([8, DAY_STEPS + 1], dtype=np.int32)
    table = wait_of([ready]).table

    assert [value(table, t) for t in range(2)] == ready.tolist()


def test_stages_alike_share_a_table() -> None:
    book = in_air(a_book_of(a_skin("one"), a_skin("two")), warmth(21, 12))
    normal = normal_of(book)

    assert stage_of(normal, "one").cure.table is stage_of(normal, "two").cure.table is not None


def test_where_it_may_lie_in_several_places_the_wait_is_the_longest() -> None:
    skin = a_skin(places=("bay", "booth"))
    book = in_air(
        a_book_of(skin),
        warmth(20, 10, place=PlaceId("bay")),
        warmth(12, 12, place=PlaceId("booth")),
    )
    normal = normal_of(book)

    for t in range(0, 400, 9):
        each = [slow_ready(book, normal, place, 48, t) for place in ("bay", "booth")]
        assert ready(normal, "skin", t) == max(each)
    assert len({slow_ready(book, normal, place, 48, 3) for place in ("bay", "booth")}) == 2


def test_what_is_done_cures_from_its_end_where_it_was_done() -> None:
    """Twelve of 48 h are over at 20 degrees; the bay is at 10, so 72 h more are to come."""
    skin, done = a_skin(places=("bay", "booth")), at("2026-01-05 00:00")
    book = in_air(a_book_of(skin), warmth(10), readings=_warm_half_day("bay"))
    in_bay = replace(book, facts=(a_fact(step="skin", at=done, place=PlaceId("bay")),))
    anywhere = replace(book, facts=(a_fact(step="skin", at=done),))

    assert _release(in_bay) == done + timedelta(hours=84)
    assert _release(anywhere) == done + timedelta(hours=96)


def test_what_is_done_has_cured_to_the_second() -> None:
    """Two days at the temperature that the cure is written for, from any second on."""
    skin, done = a_skin(places=("bay",)), at("2026-01-05 07:10") + timedelta(seconds=1)
    walk = Walk(in_air(a_book_of(skin), warmth(20)))

    ready = walk.cured(skin, PlaceId("bay"), done, done + timedelta(days=9))

    assert ready == done + timedelta(hours=48)


def _warm_half_day(place: str) -> tuple[Reading, ...]:
    start = at("2026-01-05 00:30")
    return tuple(
        Reading(at=start + timedelta(hours=each), celsius=Decimal(20), place=PlaceId(place))
        for each in range(12)
    )


def _release(book: Book) -> datetime:
    normal = normal_of(book)
    return instant_of(normal.origin, stage_of(normal, "wrap").release)


def test_a_done_stage_that_stays_holds_its_place_through_its_cure() -> None:
    done = a_fact(step="skin", at=at("2026-01-05 00:00"), place=PlaceId("bay"))
    book = replace(in_air(a_book_of(a_skin(stays=True)), warmth(10)), facts=(done,))
    normal = normal_of(book)
    (busy,) = normal.problem.rooms[[room.place for room in normal.rooms].index(PlaceId("bay"))].busy

    assert instant_of(normal.origin, busy[1]) == at("2026-01-05 00:00") + timedelta(hours=96)


# Greatest waits.

PU = bands((21, 48), (27, 48), (32, 36), (38, 24), (43, 12), (49, 2))
"""Polyurethane over polyurethane, by the hottest surface (US Unified Facilities Guide
Specifications, coatings 09971 and 09973, table of recoat windows)."""


def a_coat(step: str = "coat", **more: Any) -> Stage:
    changes: dict[str, Any] = {"in_one_go": True, "recoat_bands": PU, "places": ("booth",), **more}
    return a_stage(step, Kind.PAINT, hours=3, **changes)


def coat_edge(book: Book) -> Edge:
    (found,) = edges_of(normal_of(book), "coat", "wrap")
    return found


@pytest.mark.parametrize(
    ("celsius", "hours"), [(None, 48), (18, 48), (27, 48), (28, 36), (35, 24), (44, 2), (50, 0)]
)
def test_a_recoat_time_at_one_temperature_is_one_wait(celsius: int | None, hours: int) -> None:
    book = a_book_of(a_coat(recoat_hours=Decimal(1)))
    edge = coat_edge(book if celsius is None else in_air(book, warmth(celsius)))

    assert (edge.most, edge.most_table) == (4 * hours, None)


def test_the_recoat_time_goes_by_the_hottest_hour_that_is_touched() -> None:
    """18 degrees but for an hour of 35: 48 h up to it, 24 h past it, and always up to it."""
    hot = Reading(at=at("2026-01-07 12:30"), celsius=Decimal(35))
    book = in_air(a_book_of(a_coat()), warmth(18), readings=(hot,))
    normal = normal_of(book)
    (edge,) = edges_of(normal, "coat", "wrap")
    assert edge.most is None

    for end, latest in [
        ("2026-01-05 12:00", "2026-01-07 12:00"),
        ("2026-01-05 13:00", "2026-01-07 12:00"),
        ("2026-01-06 13:00", "2026-01-07 13:00"),
        ("2026-01-07 12:45", "2026-01-08 12:45"),
        ("2026-01-07 13:00", "2026-01-09 13:00"),
    ]:
        t = (at(end) - normal.origin) // timedelta(minutes=15)
        assert instant_of(normal.origin, value(edge.most_table, t)) == at(latest), end


def test_too_hot_for_any_band_shuts_the_recoat_time_at_once() -> None:
    hot = Reading(at=at("2026-01-05 12:30"), celsius=Decimal(60))
    book = in_air(a_book_of(a_coat()), warmth(18), readings=(hot,))
    table = coat_edge(book).most_table

    assert [value(table, t) for t in (8, 15, 16, 17, 19, 20)] == [16, 16, 16, 17, 19, 212]


def test_a_band_that_allows_more_when_warmer_is_no_longer_than_one_when_cooler() -> None:
    book = in_air(a_book_of(a_coat(recoat_bands=bands((21, 10), (30, 44)))), warmth(25))

    assert coat_edge(book).most == 4 * 10


def test_the_recoat_time_is_the_shortest_of_the_places_and_lifted_by_abrading() -> None:
    abrade = Abrade(ways=(a_way("rub", hours=1, skill="fill"),))
    coat = a_coat(places=("bay", "booth"), abrade=abrade)
    cool, warm = warmth(18, place=PlaceId("bay")), warmth(35, 18, place=PlaceId("booth"))
    normal = normal_of(in_air(a_book_of(coat), cool, warm))
    (edge,) = [each for each in normal.problem.edges if each.insert is not None]

    assert edge.before == position(normal, "coat")
    assert (edge.most, edge.most_table) == (4 * 24, None)


def test_the_recoat_time_of_a_coat_that_is_done_goes_by_its_hours() -> None:
    hot = Reading(at=at("2026-01-05 12:30"), celsius=Decimal(35), place=PlaceId("booth"))
    fact = a_fact(step="coat", at=at("2026-01-05 02:00"), place=PlaceId("booth"))
    book = in_air(a_book_of(a_coat()), warmth(18), readings=(hot,))
    elsewhere = replace(fact, place=PlaceId("bay"))

    def start_by(fact: Any) -> datetime:
        normal = normal_of(replace(book, facts=(fact,)))
        found = stage_of(normal, "wrap").start_by
        assert found is not None
        return instant_of(normal.origin, found)

    assert start_by(fact) == at("2026-01-06 02:00")
    assert start_by(elsewhere) == at("2026-01-07 02:00")
    assert codes(normal_of(replace(book, facts=(replace(fact, at=at("2026-01-02 02:00")),)))) == [
        Reason.RECOAT_OVER
    ]


# Proofs.


def test_a_proof_takes_the_best_of_several_places() -> None:
    """Booth at 20 degrees by day and night, bay at 10: proofs count 48 h, plans 96."""
    skin = a_skin(places=("bay", "booth"))
    bay, booth = warmth(10, place=PlaceId("bay")), warmth(20, place=PlaceId("booth"))
    stage = stage_of(normal_of(in_air(a_book_of(skin), bay, booth)), "skin")

    assert (stage.cure.least, stage.quickest) == (4 * 96, Wait(least=4 * 48))
    alike = stage_of(normal_of(in_air(a_book_of(skin), warmth(10))), "skin")
    assert (alike.cure.least, alike.quickest) == (4 * 96, None)


def test_a_proof_leaves_out_a_recoat_time_that_is_longer_in_another_place() -> None:
    coat = a_coat(places=("bay", "booth"))
    bay, booth = warmth(18, place=PlaceId("bay")), warmth(35, place=PlaceId("booth"))
    problem = normal_of(in_air(a_book_of(coat), bay, booth)).problem
    alike = normal_of(in_air(a_book_of(coat), warmth(35))).problem

    assert [edge.most for edge in problem.edges if edge.most] == [4 * 24]
    assert [edge.most for edge in alone(problem, 0).edges if edge.most] == []
    assert [edge.most for edge in alone(alike, 0).edges if edge.most] == [4 * 24]
    assert generous(alike) is alike
