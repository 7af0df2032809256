"""Tiny books in which the weather alone decides, and one change of it breaks the plan."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.check import check
from scheduler.check.climate_waits import cured_in
from scheduler.check.clock import instant, seconds
from scheduler.check.weather import Weather
from scheduler.cured import Cures, cured
from scheduler.outcome import Outcome, Verdict
from scheduler.reasons import Reason
from scheduler.request import SolveRequest
from scheduler.rules import Rule
from scheduler.solve import solve
from shared.book import Abrade, Book, FactKind, Kind, Pin, PlaceKind, Reading, Stage
from shared.climate import Climate
from shared.ids import PlaceId, StepId
from shared.plan import Plan
from tests.builders import a_fact, a_floor, a_place, a_stage, a_way, an_after, at, on
from tests.scheduler.check.change import step_changed
from tests.scheduler.climates import a_skin, all_day, bands, heating, in_air, warmth
from tests.scheduler.normals import job_of, of_steps, placed, solved

HOUR = timedelta(hours=1)
RUB = Abrade(ways=(a_way("rub", hours=2, skill="fill"),))


def a_book_of(*steps: Stage, **places: Any) -> Book:
    """Give a job of these stages, in a bay and a booth."""
    booth = replace(a_place("booth", PlaceKind.BOOTH), **places)
    return replace(of_steps(*steps), places=(a_place(), booth, a_floor()))


def skin_and_sand(**more: Any) -> Book:
    return a_book_of(a_skin(**more), a_stage("sand", Kind.FILL, hours=4))


def gap(outcome: Outcome, before: str, after: str) -> timedelta:
    return placed(outcome, after).start - placed(outcome, before).end


def retimed(plan: Plan, step: str, by: timedelta) -> Plan:
    """Give a plan with a step, and all after it, moved."""
    start = next(each.start for each in plan.placements if each.step == step)
    moved = tuple(
        replace(each, start=each.start + by, end=each.end + by) if each.start >= start else each
        for each in plan.placements
    )
    return replace(plan, placements=moved)


def broken(book: Book, plan: Plan) -> set[tuple[str, str]]:
    return {(found.rule, found.where) for found in check(book, plan).breaches}


# Least waits.


@pytest.mark.parametrize(
    ("celsius", "least", "most"), [(20, 48, 72), (10, 96, 120), (0, 192, 240), (30, 24, 48)]
)
def test_the_colder_the_place_the_longer_the_wait(celsius: int, least: int, most: int) -> None:
    """Twice as long for every ten degrees colder: figure PL07."""
    outcome = solved(in_air(skin_and_sand(), warmth(celsius)))

    assert outcome.check.sound
    assert HOUR * least <= gap(outcome, "skin", "sand") < HOUR * most


def test_what_follows_before_the_reckoned_cure_is_over_is_named() -> None:
    book = in_air(skin_and_sand(), warmth(14, 14))
    plan = solved(book).plan
    ready = cured(book, plan)[StepId("skin")].ready
    late = next(each.start for each in plan.placements if each.step == "sand") - ready

    assert broken(book, retimed(plan, "sand", -late)) <= {("duration", "sand"), ("hours", "sand")}
    early = retimed(plan, "sand", -late - timedelta(minutes=15))
    assert ("cure", "sand") in broken(book, early)
    assert ("cure", "sand") not in broken(in_air(book, warmth(15)), early)


def test_a_reading_makes_the_wait_longer_than_was_expected() -> None:
    book = in_air(skin_and_sand(), warmth(20))
    plan = solved(book).plan
    end = next(each.end for each in plan.placements if each.step == "skin")
    cold = tuple(Reading(at=end + HOUR * each, celsius=Decimal(0)) for each in range(24))
    measured = in_air(book, warmth(20), readings=cold)

    assert ("cure", "sand") in broken(measured, plan)
    assert solved(measured).check.sound
    assert check(book, plan).sound


def test_a_cure_that_takes_years_is_waited_for_through_four_hundred_days() -> None:
    """At -100 degrees 48 hours become 2 ** 12 times as many, 22 years; the bound is our own."""
    book = in_air(skin_and_sand(), warmth(-100))
    end = at("2026-01-06 12:00")
    over = end + timedelta(days=400)

    ready = cured_in(
        Weather(Climate(book), book.workshop.zone),
        PlaceId("bay"),
        Decimal(48),
        Decimal(20),
        seconds(end),
    )

    assert instant(ready) == over


def test_what_is_done_and_never_cures_holds_up_even_what_takes_no_time() -> None:
    """At 100 degrees of frost 48 h become years; then not even the plan's last step is for it."""
    done = a_fact(step="skin", at=at("2026-01-05 00:00"), place=PlaceId("bay"))
    outcome = solved(replace(in_air(a_book_of(a_skin()), warmth(-100)), facts=(done,)))

    assert [(one.step, one.code) for one in outcome.plan.unplaced] == [
        ("journey", Reason.FOLLOWS_UNPLACED),
        ("loading", Reason.NOT_PLACED),
    ]


def test_a_place_is_held_through_the_reckoned_cure() -> None:
    begun = an_after("skin", from_start=True)
    other = a_stage("other", Kind.FILL, hours=1, places=("booth",), after=(begun,))
    held = a_book_of(a_skin(stays=True, places=("booth",), cure_hours=24), other)
    warm, cold = in_air(held, warmth(30)), in_air(held, warmth(10))
    soon, late = solved(warm), solved(cold)

    assert HOUR * 12 <= gap(soon, "skin", "other") < HOUR * 48 <= gap(late, "skin", "other")
    assert {rule for rule, _ in broken(cold, soon.plan)} >= {"place_full"}


@pytest.mark.parametrize(
    ("friday", "monday", "hours"),
    [
        # Noon on Friday to 07:30 on Monday. British summer time began on 29 March 2026 and ended
        # on 25 October (Summer Time Order 2002).
        ("2026-03-27 08:00", "2026-03-30 06:30", "66.5"),
        ("2026-10-23 07:00", "2026-10-26 07:30", "68.5"),
        ("2026-11-06 08:00", "2026-11-09 07:30", "67.5"),
    ],
)
def test_cures_count_elapsed_hours_through_the_nights_when_the_clock_changes(
    friday: str, monday: str, hours: str
) -> None:
    for more in (0, 15):
        cure = Decimal(hours) + Decimal(more) / 60
        outcome = in_its_week(skin_and_sand(cure_hours=cure, pin=Pin(start=at(friday))), friday)

        assert outcome.check.sound
        assert placed(outcome, "sand").start == at(monday) + timedelta(minutes=more)


def in_its_week(book: Book, now: str) -> Outcome:
    """Solve a book as of a moment, its window three weeks later, at 20 degrees by day and night."""
    (job,) = in_air(book, warmth(20)).jobs
    start = at(now) + timedelta(weeks=3)
    window = replace(job.windows[0], start=start, end=start + timedelta(weeks=1))
    book = replace(in_air(book, warmth(20)), jobs=(replace(job, windows=(window,)),))
    return solve(SolveRequest(book=book, now=at(now), effort=3))


# Limits.


def test_a_ten_degree_night_stops_lay_up_rather_than_stretching_it() -> None:
    """Below 15 degrees lay-up is blocked, not slow: figure PL05."""
    nights = warmth(20, 10)
    stretched = solved(in_air(skin_and_sand(), nights))
    stopped = solved(in_air(skin_and_sand(coldest_celsius=Decimal(15)), nights))

    assert stretched.verdict is Verdict.FITS
    assert gap(stretched, "skin", "sand") > HOUR * 60
    assert stopped.verdict is Verdict.CANNOT
    assert Reason.TOO_COLD in [clash.code for clash in job_of(stopped, "heron").reasons]
    assert {one.step for one in stopped.plan.unplaced} >= {"skin"}
    assert stopped.check.sound


def test_lay_up_waits_for_days_that_are_warm_enough() -> None:
    cold = tuple(
        Reading(at=at("2026-01-05 00:30") + HOUR * each, celsius=Decimal(14))
        for each in range(24 * 4)
    )
    free = in_air(skin_and_sand(cure_celsius=None), warmth(18), readings=cold)
    held = step_changed(free, "skin", coldest_celsius=Decimal(15))

    assert placed(solved(free), "skin").start.date() == on("2026-01-05")
    assert broken(held, solved(free).plan) == {("temperature", "skin")}
    assert placed(solved(held), "skin").start >= at("2026-01-09 00:00")


def test_lay_up_comes_soon_enough_before_it_gets_cold() -> None:
    """From the 7th at 15:00 it is cold: it cures from the 5th, for 48 h, or a week later."""
    week = tuple(
        Reading(at=at("2026-01-07 15:30") + HOUR * each, celsius=Decimal(5))
        for each in range(24 * 7)
    )
    free = in_air(skin_and_sand(cure_celsius=None), warmth(20), readings=week)
    held = step_changed(free, "skin", coldest_celsius=Decimal(15))
    noon = at("2026-01-05 12:00")

    assert placed(solved(held), "skin").end <= at("2026-01-05 15:00")
    late = solve(SolveRequest(book=free, now=noon, effort=3)).plan
    assert broken(held, late) == {("temperature", "skin")}
    stopped = solve(SolveRequest(book=held, now=noon, effort=3))
    assert stopped.check.sound
    assert placed(stopped, "skin").start >= at("2026-01-14 15:00")


@pytest.mark.parametrize(
    ("rule", "limit", "amount", "reading"),
    [
        ("temperature", "coldest_celsius", 15, {"celsius": Decimal("14.9")}),
        ("temperature", "warmest_celsius", 30, {"celsius": Decimal("30.1")}),
        ("humidity", "most_humidity_percent", 70, {"humidity_percent": Decimal("70.1")}),
        ("dew_point", "dew_point_margin_celsius", 3, {"humidity_percent": Decimal(84)}),
    ],
)
def test_one_hour_in_the_cure_past_a_limit_breaks_the_plan(
    rule: str, limit: str, amount: int, reading: dict[str, Decimal]
) -> None:
    changes: dict[str, Any] = {limit: Decimal(amount)}
    air = warmth(20, humidity_percent=Decimal(50))
    book = in_air(skin_and_sand(**changes), air)
    plan = solved(book).plan
    skin = next(each for each in plan.placements if each.step == "skin")
    usual: dict[str, Any] = {"celsius": Decimal(20), **reading}

    for when, is_broken in [
        (skin.start - timedelta(minutes=16), skin.start.minute > 15),
        (skin.start, True),
        (skin.end + HOUR * 47, True),
        (skin.end + HOUR * 49, False),
    ]:
        odd = in_air(book, air, readings=(Reading(at=when, **usual),))
        assert ((rule, "skin") in broken(odd, plan)) is is_broken, when
        assert solved(odd).check.sound


def test_the_hour_that_breaks_a_limit_is_told() -> None:
    book = in_air(skin_and_sand(coldest_celsius=Decimal(15)), warmth(20))
    plan = solved(book).plan
    cold = Reading(at=at("2026-01-06 03:20"), celsius=Decimal("9.50"))
    breaches = check(in_air(book, warmth(20), readings=(cold,)), plan).breaches
    (found,) = [each for each in breaches if each.rule == Rule.TEMPERATURE]

    assert (
        dict(found.facts).items()
        >= {
            "place": "Bay",
            "hour": "2026-01-06T03:00:00+00:00",
            "celsius": "9.5",
            "limit": "15",
        }.items()
    )


def test_what_is_under_way_breaks_no_limit() -> None:
    skin = skin_and_sand(coldest_celsius=Decimal(15), in_one_go=False)
    fact = a_fact(
        step="skin",
        kind=FactKind.RUNNING,
        at=at("2026-01-05 07:30"),
        way="bench",
        place=PlaceId("bay"),
        people=("ana",),
        remaining_hours=Decimal(2),
    )

    assert solved(replace(in_air(skin, warmth(10)), facts=(fact,))).check.sound


# Heating.


def test_heating_is_a_way_out_only_once_it_is_taken() -> None:
    book = in_air(skin_and_sand(coldest_celsius=Decimal(15)), warmth(20, 10))
    offered = solved(replace(book, offers=(heating(16, taken=False),)))
    taken = solved(replace(book, offers=(heating(16),)))

    assert offered.verdict is solved(book).verdict is Verdict.CANNOT
    assert taken.verdict is Verdict.FITS
    assert taken.check.sound
    assert not taken.check.not_judged


def test_heating_that_is_taken_has_its_price() -> None:
    book = in_air(of_steps(a_skin()), warmth(20, 20))
    dear = replace(heating(21), price=Decimal("120.50"))

    assert solved(replace(book, offers=(replace(dear, taken=False),))).levels[6] == 0
    assert solved(replace(book, offers=(dear,))).levels[6] == 12050


def test_a_plan_that_counts_on_heating_breaks_without_it() -> None:
    book = in_air(skin_and_sand(coldest_celsius=Decimal(15)), warmth(20, 10))
    plan = solved(replace(book, offers=(heating(16),))).plan

    assert broken(book, plan) >= {("temperature", "skin")}


def test_heating_shortens_a_cure() -> None:
    book = in_air(skin_and_sand(), warmth(20, 10))
    heated = replace(book, offers=(heating(20, all_day("20:00", "08:00")),))

    assert gap(solved(heated), "skin", "sand") < HOUR * 60 < gap(solved(book), "skin", "sand")


# Greatest waits.


def coats(abrade: Abrade | None = RUB, **more: Any) -> Book:
    """Give two coats of paint; another place keeps the painter for two days in between."""
    changes: dict[str, Any] = {"in_one_go": True, "places": ("booth",)}
    first = a_stage(
        "first",
        Kind.PAINT,
        hours=4,
        cure_hours=6,
        cure_celsius=Decimal(25),
        recoat_bands=bands((21, 48), (27, 48), (32, 36), (38, 12)),
        abrade=abrade,
        **changes,
    )
    return a_book_of(replace(first, **more), a_stage("second", Kind.PAINT, hours=4, **changes))


def is_abraded(outcome: Outcome) -> bool:
    assert outcome.check.sound
    return "abrade" in [each.part for each in outcome.plan.placements]


@pytest.mark.parametrize(("celsius", "abraded"), [(20, False), (30, False), (36, True)])
def test_abrading_comes_in_where_it_is_too_warm_to_wait_for_the_next_shift(
    celsius: int, abraded: bool
) -> None:
    assert is_abraded(solved(in_air(coats(), warmth(celsius)))) is abraded


def test_without_abrading_too_warm_a_night_leaves_no_second_coat() -> None:
    outcome = solved(in_air(coats(None), warmth(36)))

    assert "second" in [one.step for one in outcome.plan.unplaced]
    assert outcome.verdict is not Verdict.FITS


def test_a_warm_hour_in_between_shuts_the_recoat_time() -> None:
    book = in_air(coats(None), warmth(20))
    plan = solved(book).plan
    first = next(each for each in plan.placements if each.step == "first")
    hot = Reading(at=first.end + HOUR * 2, celsius=Decimal(36), place=PlaceId("booth"))
    elsewhere = replace(hot, place=PlaceId("bay"))

    assert ("recoat", "second") in broken(in_air(book, warmth(20), readings=(hot,)), plan)
    assert not broken(in_air(book, warmth(20), readings=(elsewhere,)), plan)
    assert solved(in_air(coats(None), warmth(20), readings=(hot,))).check.sound


def test_the_recoat_time_of_a_coat_that_is_done_goes_by_its_hours() -> None:
    done = a_fact(step="first", at=at("2026-01-04 19:00"), place=PlaceId("booth"))
    book = replace(in_air(coats(), warmth(20)), facts=(done,))
    hot = Reading(at=at("2026-01-05 02:30"), celsius=Decimal(36))
    shut = replace(in_air(coats(), warmth(20), readings=(hot,)), facts=(done,))
    plan = solved(book).plan

    assert not is_abraded(solved(book))
    assert is_abraded(solved(shut))
    assert ("recoat", "second") in broken(shut, plan)


# All of it together.


@settings(max_examples=12, deadline=None)
@given(
    st.integers(8, 26),
    st.integers(4, 24),
    st.sampled_from([None, 10, 14]),
    st.sampled_from(["2026-03-26 09:10", "2026-10-22 09:25", "2026-01-05 08:00"]),
    st.lists(st.tuples(st.integers(-20, 200), st.integers(0, 40)), max_size=4),
)
def test_whatever_the_weather_the_plan_is_sound(
    day: int, night: int, coldest: int | None, now: str, measured: list[tuple[int, int]]
) -> None:
    moment = at(now)
    readings = tuple(
        Reading(at=moment + HOUR * after, celsius=Decimal(celsius)) for after, celsius in measured
    )
    limit = None if coldest is None else Decimal(coldest)
    skin = a_skin(coldest_celsius=limit, cure_hours=30, places=("bay", "booth"))
    first, second = coats().jobs[0].steps[:2]
    book = in_air(
        a_book_of(skin, first, second),  # type: ignore[arg-type]
        warmth(day, night, spread_celsius=Decimal("1.5")),
        warmth(day + 3, place=PlaceId("booth")),
        readings=readings,
    )
    (job,) = book.jobs
    window = replace(
        job.windows[0], start=moment + timedelta(days=30), end=moment + timedelta(days=40)
    )
    book = replace(book, jobs=(replace(job, windows=(window,)),))

    outcome = solve(SolveRequest(book=book, now=moment, effort=2))

    assert outcome.check.sound, outcome.check
    ready = cured(book, outcome.plan)
    starts = {each.step: each.start for each in outcome.plan.placements if not each.part}
    if {"skin", "first"} <= starts.keys():
        assert starts[StepId("first")] >= ready[StepId("skin")].ready


# The figures that people see.


def test_the_figures_shown_are_reckoned_from_where_the_step_ends() -> None:
    book = in_air(coats(), warmth(25, place=PlaceId("booth")), warmth(5, place=PlaceId("bay")))
    plan = solved(book).plan
    first = next(each for each in plan.placements if each.step == "first")
    found = cured(book, plan)

    assert found[StepId("first")].end == first.end
    assert found[StepId("first")].ready == first.end + HOUR * 6
    assert found[StepId("first")].coat_by == first.end + HOUR * 48
    assert found[StepId("first")].hours == 6
    assert set(found) == {"first"}


def test_figures_that_were_reckoned_hold_no_longer_than_the_temperatures() -> None:
    """48 hours at 20 degrees are 96 at ten (factor 2 for ten degrees, figure PL07)."""
    warm, cold = in_air(skin_and_sand(), warmth(20)), in_air(skin_and_sand(), warmth(10))
    plan = solved(cold).plan
    before = Cures(warm)

    assert before.of(plan)[StepId("skin")].hours == 48
    assert Cures(cold, before).of(plan)[StepId("skin")].hours == 96


def test_the_figures_of_what_is_done_go_by_where_it_was_told_to_be() -> None:
    fact = a_fact(step="skin", at=at("2026-01-05 07:10"), place=PlaceId("booth"))
    book = in_air(skin_and_sand(), warmth(20), warmth(10, place=PlaceId("booth")))
    book = replace(book, facts=(fact,))
    found = cured(book, solved(book).plan)[StepId("skin")]

    assert (found.ready, found.coat_by) == (at("2026-01-09 07:15"), None)


def test_a_step_without_temperatures_has_the_figures_it_was_given() -> None:
    book = a_book_of(
        a_skin(cure_celsius=None, cure_hours=Decimal("1.1"), recoat_hours=Decimal("9.9"))
    )
    plan = solved(book).plan
    (end,) = [each.end for each in plan.placements if each.step == "skin"]
    found = cured(book, plan)[StepId("skin")]

    assert found.ready == end + timedelta(minutes=75)
    assert found.hours == 2
    assert found.coat_by == end + timedelta(minutes=585)


def test_a_cold_place_beside_a_warm_one_proves_nothing() -> None:
    """In the bay the cure takes eight days, in the booth one; the window leaves three."""
    skin = a_skin(cure_hours=24, places=("bay", "booth"))
    book = in_air(
        a_book_of(skin, a_stage("sand", Kind.FILL, hours=4)),
        warmth(-10, place=PlaceId("bay")),
        warmth(20, place=PlaceId("booth")),
    )
    (job,) = book.jobs
    window = replace(job.windows[0], start=at("2026-01-08 08:00"), end=at("2026-01-08 18:00"))
    outcome = solved(replace(book, jobs=(replace(job, windows=(window,)),)))

    assert outcome.verdict is Verdict.NOT_FOUND
    only = replace(skin, ways=(a_way(hours=4, skill="laminate", places=("bay",)),))
    cold = replace(job, windows=(window,), steps=(only, *job.steps[1:]))
    assert solved(replace(book, jobs=(cold,))).verdict is Verdict.CANNOT
