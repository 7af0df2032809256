"""Journeys of one job, one after another: which of them are one duty, and what that forbids.

The plans are the engine's own and sound; each change breaks one rule.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest

from scheduler.check import check
from scheduler.outcome import Breach
from shared.book import After, Book
from shared.ids import PersonId, StepId
from shared.plan import Plan, Trip
from tests.builders import an_other_work
from tests.scheduler.check.change import named
from tests.scheduler.normals import solved, trip_of
from tests.scheduler.test_several_trips import (
    FIRST_OVER,
    OWN,
    a_delivery,
    journey,
    there_and_back,
    twice,
)

HOUR = timedelta(hours=1)


def planned(drive: int, site: int, *, judged: bool) -> tuple[Book, Plan]:
    book = twice(drive, site, judged=judged, after=FIRST_OVER)
    return book, solved(book).plan


def trips(plan: Plan) -> tuple[Trip, Trip]:
    first, last = sorted(plan.trips, key=lambda trip: trip.start)
    return first, last


def leaving(plan: Plan, start: datetime) -> Plan:
    """Return a plan whose last trip leaves at another moment, else unchanged."""
    last = max(plan.trips, key=lambda trip: trip.start)
    by = start - last.start

    def moved(each: Any, *names: str) -> Any:
        return replace(each, **{name: getattr(each, name) + by for name in names})

    trip = replace(
        moved(last, "start", "end", "back", "free"),
        legs=tuple(moved(leg, "start", "end") for leg in last.legs),
        stretches=tuple(moved(each, "start", "end") for each in last.stretches),
    )
    return replace(plan, trips=tuple(trip if each == last else each for each in plan.trips))


def limits(book: Book, plan: Plan) -> set[object]:
    found: tuple[Breach, ...] = check(book, plan).breaches
    return {dict(breach.facts).get("limit") for breach in found}


def figures(book: Book, plan: Plan) -> set[object]:
    """The figures of the tables that are told with what is broken."""
    return {dict(breach.facts).get("figure") for breach in check(book, plan).breaches}


@pytest.mark.parametrize("judged", [False, True])
def test_both_are_sound_on_one_day_and_with_a_rest_between(judged: bool) -> None:
    for site in (60, 180):
        book, plan = planned(120, site, judged=judged)
        assert named(book, plan) == set()


def test_the_second_may_not_leave_before_van_and_people_are_back() -> None:
    book, plan = planned(120, 60, judged=False)
    first, last = trips(plan)

    assert last.start == first.back
    early = leaving(plan, first.back - timedelta(minutes=15))
    assert {rule for rule, _ in named(book, early)} == {"person_twice", "equipment_full", "rest"}


def test_more_than_a_day_of_it_needs_the_rest_between() -> None:
    """Twice seven hours; at once they are fourteen."""
    book, plan = planned(120, 180, judged=False)
    first, _ = trips(plan)

    assert named(book, leaving(plan, first.free)) == set()
    short = leaving(plan, first.free - timedelta(minutes=15))
    assert {rule for rule, _ in named(book, short)} == {"rest"}
    assert {rule for rule, _ in named(book, leaving(plan, first.back))} == {"rest"}


def test_whoever_drives_again_has_had_a_break() -> None:
    """45 minutes, DR01b."""
    book, plan = planned(120, 60, judged=True)
    first, _ = trips(plan)

    early = leaving(plan, first.back + timedelta(minutes=30))
    assert {rule for rule, _ in named(book, early)} == {"driving"}
    assert limits(book, early) == {"unbroken_driving"}
    assert figures(book, early) == {"DR01b"}


def test_a_third_time_at_the_wheel_has_a_break_of_its_own() -> None:
    """45 minutes, DR01b, after the second as after the first."""
    legs = there_and_back(60, 15, judged=True)
    book = a_delivery(
        *(
            journey(step, *legs, after=(After(step=StepId(before)),), means=OWN, vehicles=())
            for before, step in pairwise(("loading", "first", "second", "third"))
        )
    )
    plan = solved(book).plan
    first, second, third = sorted(plan.trips, key=lambda trip: trip.start)
    assert [second.start - first.back, third.start - second.back] == [0.75 * HOUR] * 2

    early = leaving(plan, second.back + timedelta(minutes=30))
    assert named(book, early) == {("driving", third.step)}
    assert limits(book, early) == {"unbroken_driving"}


def test_what_is_driven_on_a_duty_counts_together() -> None:
    """Four times 2 h 40 at the wheel, ways home with them, are more than ten hours (DR13a)."""
    book, plan = planned(160, 15, judged=True)
    first, last = trips(plan)

    assert last.start >= first.free
    at_once = leaving(plan, first.back + timedelta(minutes=45))
    assert limits(book, at_once) >= {"daily_driving"}
    assert "DR01b" not in figures(book, at_once), "the breaks were long enough"
    assert {rule for rule, _ in named(book, at_once)} == {"driving"}


def test_the_bench_before_and_both_journeys_are_one_day() -> None:
    """Ben works from 8 to 7 hours before; that is soon enough for the first one alone."""
    book, plan = planned(120, 60, judged=True)
    first, last = trips(plan)
    work = an_other_work("other", start=first.start - 8 * HOUR, end=first.start - 7 * HOUR)
    busy = replace(book, other_work=(replace(work, people=(PersonId("ben"),), places=()),))

    assert named(busy, plan) == {("one_day", last.step)}


def test_the_gap_in_a_duty_is_not_the_benches() -> None:
    book, plan = planned(120, 60, judged=True)
    first, last = trips(plan)
    work = an_other_work("other", start=first.back, end=last.start)
    busy = replace(book, other_work=(replace(work, people=(PersonId("ben"),), places=()),))

    assert ("rest", first.step) in named(busy, plan) or ("rest", last.step) in named(busy, plan)
    assert trip_of(solved(busy), str(last.step)).start != last.start
