"""Due lines: which coat must be followed by when; abrading that is planned; cures as reckoned."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any

import pytest

from scheduler.check.climate_waits import coat_by, ready_after
from scheduler.check.world import World
from scheduler.cured import Cures, cured
from scheduler.dues import Due, dues
from shared.book import (
    Abrade,
    Book,
    Closure,
    FactKind,
    GateKind,
    Kind,
    Reading,
    RecoatBand,
    Stage,
    Temperature,
)
from shared.ids import PlaceId, StepId
from shared.plan import Placement, Plan
from shared.units import ceil_to_step, floor_to_step
from shared.worktime import Shift
from tests.builders import (
    NOW,
    a_fact,
    a_gate,
    a_placement,
    a_plan,
    a_shift,
    a_stage,
    a_way,
    a_workshop,
    an_after,
    at,
    clock,
    on,
)
from tests.scheduler.normals import of_steps, placed, solved

ABRADE = Abrade(ways=(a_way("rub", hours=3, skill="fill"), a_way("wipe", hours=1, skill="fill")))


def a_coat(step: str = "primer", recoat: int | None = 48, **changes: Any) -> Stage:
    usual = a_stage(step, Kind.PAINT, hours=4, cure_hours=12)
    hours = None if recoat is None else Decimal(recoat)
    return replace(usual, **{"recoat_hours": hours, "abrade": ABRADE, **changes})


def at_work(step: str, start: str, end: str, **changes: Any) -> Placement:
    return replace(a_placement(step, start, end), **changes)


def of_plan(book: Book, *placements: Placement) -> Plan:
    return a_plan(book, placements=placements, trips=())


FRIDAY = ("2026-01-09 08:00", "2026-01-09 12:00")


def told(
    *steps: Any, ended: tuple[str, str] = FRIDAY, now: datetime = NOW, **changes: Any
) -> list[Due]:
    """Give the due lines of steps of which only the first stands in the plan."""
    book = replace(of_steps(*steps), **changes)
    return list(dues(book, of_plan(book, at_work(steps[0].id, *ended)), now))


def test_a_coat_is_due_by_the_end_of_its_recoat_time() -> None:
    (due,) = told(a_coat(), a_coat("colour", recoat=None))

    assert (due.coat, due.next) == ("primer", "colour")
    assert due.ended == at("2026-01-09 12:00")
    assert due.ready == at("2026-01-10 00:00")
    assert due.runs_out == at("2026-01-11 12:00")
    # A Sunday: the working day before it is the Friday, and so is the last with working hours.
    assert (due.day, due.last_day) == (on("2026-01-09"), on("2026-01-09"))
    assert (due.is_over, due.can_abrade, due.is_abraded) == (False, True, False)
    assert due.starts is None


@pytest.mark.parametrize(
    ("recoat", "day", "last_day"),
    [
        (68, "2026-01-09", "2026-01-12"),  # Monday 08:00, half an hour after the shift begins
        (67, "2026-01-09", "2026-01-09"),  # Monday 07:00, before it
        (72, "2026-01-09", "2026-01-12"),  # Monday 12:00
        (92, "2026-01-12", "2026-01-13"),  # Tuesday 08:00
    ],
)
def test_the_line_stands_on_the_working_day_before(recoat: int, day: str, last_day: str) -> None:
    (due,) = told(a_coat(recoat=recoat), a_coat("colour", recoat=None))

    assert (due.day, due.last_day) == (on(day), on(last_day))


def test_closures_holidays_and_night_shifts_count() -> None:
    shut = a_workshop(closures=(Closure(first=on("2026-01-08"), last=on("2026-01-11")),))
    nights = a_workshop(shifts=(a_shift("22:00", "06:00"),))
    idle = a_workshop(shifts=())
    steps = (a_coat(recoat=68), a_coat("colour", recoat=None))
    ended = ("2026-01-07 08:00", "2026-01-07 12:00")

    (due,) = told(*steps, ended=ended, workshop=shut)
    assert (due.day, due.last_day) == (on("2026-01-07"), on("2026-01-07"))
    # Good Friday and Easter Monday 2026 (Banking and Financial Dealings Act 1971, schedule 1).
    (due,) = told(*steps, ended=("2026-04-04 08:00", "2026-04-04 12:00"))
    assert due.runs_out == at("2026-04-07 08:00")
    assert (due.day, due.last_day) == (on("2026-04-02"), on("2026-04-07"))
    # Friday's shift reaches to Saturday at six; Saturday is no working day.
    (due,) = told(*steps, workshop=nights)
    assert (due.day, due.last_day) == (on("2026-01-09"), on("2026-01-09"))
    (due,) = told(*steps, workshop=idle)
    assert (due.day, due.last_day) == (on("2026-01-12"), on("2026-01-12"))


def test_days_are_those_of_the_workshop_s_zone() -> None:
    # 23:30 in London is the next morning in Auckland: Saturday there.
    there = a_workshop(zone="Pacific/Auckland", country="NZ", subdivision=None)
    (due,) = told(
        a_coat(recoat=24),
        a_coat("colour", recoat=None),
        ended=("2026-01-08 19:30", "2026-01-08 23:30"),
        workshop=there,
    )

    assert due.runs_out == at("2026-01-09 23:30")
    assert (due.day, due.last_day) == (on("2026-01-09"), on("2026-01-09"))


NONE: dict[str, tuple[Any, ...]] = {
    "no recoat time": (a_coat(recoat=None), a_coat("colour")),
    "nothing after it": (a_coat(),),
    "only sanding back after it": (a_coat(), a_stage("strip", Kind.FILL, takes_off=True)),
    "counted from its start": (
        a_coat(),
        a_coat("colour", after=(an_after("primer", from_start=True),)),
    ),
}


@pytest.mark.parametrize("steps", NONE.values(), ids=NONE)
def test_what_need_not_be_followed_has_no_line(steps: tuple[Any, ...]) -> None:
    found = told(*steps)

    assert [due.next for due in found if due.next != "loading"] == []


def test_a_step_that_has_begun_and_a_time_that_has_run_out_have_none() -> None:
    steps = (a_coat(), a_coat("colour", recoat=None))
    begun = replace(a_fact(step="colour"), kind=FactKind.RUNNING)

    assert told(*steps, facts=(begun,)) == []
    assert told(*steps, now=at("2026-01-11 12:00")) == []
    assert len(told(*steps, now=at("2026-01-11 11:59"))) == 1
    assert [due.is_over for due in told(*steps, now=at("2026-01-09 12:00"))] == [True]


def test_every_step_after_it_has_a_line_and_a_gate_is_one() -> None:
    fit = a_gate("fit", GateKind.TRIAL_FIT, after=("primer",))
    colour = a_coat("colour", recoat=None, after=(an_after("primer"), an_after("primer", 30)))

    assert [due.next for due in told(a_coat(), colour, fit)] == ["colour", "fit"]


def test_jobs_that_are_not_planned_and_coats_without_a_place_in_it_have_none() -> None:
    book = of_steps(a_coat(), a_coat("colour", recoat=None))
    plan = of_plan(book, at_work("primer", *FRIDAY))

    assert dues(book, replace(plan, jobs=()), NOW) == ()
    assert dues(book, replace(plan, placements=()), NOW) == ()


def test_an_abrade_stage_is_said_with_its_hours_where_this_coat_calls_for_it() -> None:
    other = a_coat("other", recoat=400, after=())
    book = of_steps(
        a_coat(),
        other,
        a_coat("colour", recoat=None, after=(an_after("primer"), an_after("other"))),
    )
    rub = at_work("colour", "2026-01-12 08:00", "2026-01-12 11:00", part="abrade", way="rub")
    placements = (
        at_work("primer", *FRIDAY),
        at_work("other", *FRIDAY),
        rub,
        at_work("colour", "2026-01-12 11:00", "2026-01-12 15:00"),
    )

    first, second = dues(book, of_plan(book, *placements), NOW)

    assert (first.coat, first.is_abraded) == ("primer", True)
    assert first.abrade_hours == 3
    assert first.abrade_starts == at("2026-01-12 08:00")
    assert first.starts == at("2026-01-12 11:00")
    assert (second.coat, second.is_abraded) == ("other", False)
    assert second.abrade_hours is None
    # Also once its time is over; the other's line goes on.
    later = dues(book, of_plan(book, *placements), at("2026-01-11 13:00"))
    assert [due.coat for due in later] == ["primer", "other"]


def test_abrading_that_the_engine_brings_in_has_its_line() -> None:
    one_go: dict[str, Any] = {"in_one_go": True, "cure_hours": Decimal(20)}
    book = of_steps(a_coat(recoat=10, **one_go), a_coat("colour", recoat=None, **one_go))
    outcome = solved(book)

    (due,) = dues(book, outcome.plan, NOW)

    assert due.is_abraded
    assert due.abrade_starts == placed(outcome, "colour", part="abrade").start
    assert due.abrade_hours in {1, 3}
    assert due.runs_out == placed(outcome, "primer").end + timedelta(hours=10)


# Cures and recoat times by the temperature of the place.


def a_cold_shop() -> Any:
    """Give a shop of 20 degrees by day and 10 by night."""
    warm = Temperature(
        months=tuple(range(1, 13)), day_celsius=Decimal(20), night_celsius=Decimal(10)
    )
    return a_workshop(temperatures=(warm,))


def test_a_cure_that_goes_by_temperature_is_as_long_as_it_is_reckoned() -> None:
    """Factor 2 for 10 degrees (figure PL07): an hour by night does half an hour's work."""
    coat = a_coat(cure_celsius=Decimal(20))
    (due,) = told(coat, a_coat("colour", recoat=None), workshop=a_cold_shop())

    # Eight hours to 20:00, then four at half the pace.
    assert due.ready == at("2026-01-10 04:00")


def test_a_recoat_time_by_bands_goes_by_the_hottest_hour() -> None:
    bands = (
        RecoatBand(upto_celsius=Decimal(15), most_hours=Decimal(48)),
        RecoatBand(upto_celsius=Decimal(25), most_hours=Decimal(24)),
    )
    coat = a_coat(recoat=None, recoat_bands=bands)
    colour = a_coat("colour", recoat=None)

    (warm,) = told(coat, colour, workshop=a_cold_shop())
    (night,) = told(
        coat, colour, ended=("2026-01-09 16:00", "2026-01-09 20:00"), workshop=a_cold_shop()
    )

    assert warm.runs_out == at("2026-01-10 12:00")
    # From 8 on it is 20 degrees: 24 hours from the end, not 48.
    assert night.runs_out == at("2026-01-10 20:00")


@pytest.mark.parametrize("seed", range(12))
def test_cures_and_recoat_times_are_those_that_the_check_reckons(seed: int) -> None:
    """The check walks from hour to hour by its own code."""
    rng = Random(seed)
    places = (PlaceId("bay"), None)
    heated = (Shift(days=(0, 1, 2, 3, 4), start=clock("07:00"), end=clock("15:20")),)
    shop = a_workshop(
        temperatures=tuple(
            Temperature(
                months=tuple(range(1, 13)),
                place=place,
                day_celsius=Decimal(rng.randrange(12, 30)),
                night_celsius=Decimal(rng.randrange(2, 18)),
                spread_celsius=Decimal(rng.randrange(4)),
                heated=heated if rng.random() < 0.5 else (),
            )
            for place in places
        ),
        readings=(Reading(at=at("2026-03-29 04:20"), celsius=Decimal(rng.randrange(5, 40))),),
    )
    bands = tuple(
        RecoatBand(upto_celsius=Decimal(upto), most_hours=Decimal(most))
        for upto, most in ((15, 60), (22, 30), (90, 11))
    )
    coat = a_coat(
        recoat=None,
        cure_celsius=Decimal(20),
        cure_hours=Decimal(rng.randrange(1, 60)),
        recoat_bands=bands,
    )
    book = replace(of_steps(coat, a_coat("colour")), workshop=shop)
    start = at("2026-03-28 00:00") + timedelta(minutes=15 * rng.randrange(200))
    place = rng.choice(places)

    plan = of_plan(book, replace(a_placement("primer"), end=start, start=start, place=place))
    mine = cured(book, plan)[coat.id]
    world = World(book, plan, int(start.timestamp()))
    second = ready_after(world, coat, int(start.timestamp()))
    assert mine.ready == ceil_to_step(datetime.fromtimestamp(second, NOW.tzinfo))

    latest = mine.coat_by
    assert latest is not None
    assert latest == floor_to_step(latest)
    fine = coat_by(world, coat, int(start.timestamp()), int(latest.timestamp()))
    assert fine is None or int(latest.timestamp()) <= fine
    over = int((latest + timedelta(minutes=15)).timestamp())
    late = coat_by(world, coat, int(start.timestamp()), over)
    assert late is not None
    assert over > late


def test_what_is_reckoned_of_a_coat_is_taken_over_and_let_go_with_it() -> None:
    book = of_steps(a_coat("primer"), a_coat("colour"))
    plan = solved(book).plan
    first = Cures(book)
    known = first.of(plan)
    again = Cures(book, first)
    assert all(again.of(plan)[step] is figures for step, figures in known.items())
    job = book.jobs[0]
    less = replace(book, jobs=(replace(job, steps=job.steps[:1]),))
    assert Cures(less, first)._known.keys() == {StepId("primer")}
