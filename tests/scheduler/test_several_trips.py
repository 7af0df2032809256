"""Several journeys of one job that share a van or people: back first, then a duty or a rest.

Every plan here has passed the check, which reads journeys by its own code.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.outcome import Outcome, Verdict
from shared.book import (
    After,
    Book,
    Equipment,
    EquipmentKind,
    Journey,
    Leg,
    LegKind,
    Means,
    Step,
)
from shared.ids import EquipmentId, PersonId, StepId
from shared.plan import Trip
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_leg,
    a_person,
    a_stage,
    a_window,
    an_equipment,
)
from tests.scheduler.normals import job_of, solved, trip_of

HOUR = timedelta(hours=1)
PEOPLE = (a_person("ana"), a_person("ben"), a_person("cy"), a_person("dot"))
VAN = an_equipment("van", kind=EquipmentKind.VEHICLE, gross_t=Decimal("3.5"))
LORRY = an_equipment("lorry", kind=EquipmentKind.VEHICLE, gross_t=Decimal("3.5"))
OWN = (
    Means(id="own", vehicles=(EquipmentId("van"),), driven_by=(PersonId("ana"),), own_account=True),
)
LOADED = (After(step=StepId("loading")),)
FIRST_OVER = (After(step=StepId("first")),)


def there_and_back(drive: int, site: int, *, judged: bool) -> tuple[Leg, ...]:
    way = a_leg(LegKind.DRIVE, 0, driving_minutes=drive, country="GB")
    return (
        way if judged else a_leg(LegKind.DRIVE, drive),
        a_leg(LegKind.ASSEMBLE, site, inside=True),
        a_leg(LegKind.RETURN, drive),
    )


def journey(step: str, *legs: Leg, after: tuple[After, ...], **said: Any) -> Journey:
    usual: dict[str, Any] = {"crew": ("ana", "ben"), "vehicles": ("van",)}
    return a_journey(step, legs=legs, after=after, **{**usual, **said})


def a_delivery(*journeys: Journey, things: Sequence[Equipment] = (VAN, LORRY)) -> Book:
    steps: tuple[Step, ...] = (a_stage("carve", hours=8), a_gate(), *journeys)
    job = a_job(steps=steps, windows=(a_window("heron-window"),))
    return a_book(job, people=PEOPLE, equipment=tuple(things))


def twice(drive: int, site: int, *, judged: bool, after: tuple[After, ...], **said: Any) -> Book:
    """Two trips of the same van with the same two people."""
    legs = there_and_back(drive, site, judged=judged)
    if judged:
        said = {"means": OWN, "vehicles": (), **said}
    return a_delivery(
        journey("first", *legs, after=LOADED, **said), journey("last", *legs, after=after, **said)
    )


def both(outcome: Outcome) -> tuple[Trip, Trip]:
    first, last = sorted(
        (trip_of(outcome, "first"), trip_of(outcome, "last")), key=lambda trip: trip.start
    )
    assert job_of(outcome, "heron").verdict is Verdict.FITS
    return first, last


@pytest.mark.parametrize("judged", [False, True])
@pytest.mark.parametrize("after", [LOADED, FIRST_OVER])
def test_a_van_goes_twice_on_one_day_with_the_same_two(
    judged: bool, after: tuple[After, ...]
) -> None:
    """2 h there, 1 h on site, 2 h home, twice: 10 h, or 10:45 with a break, are one duty."""
    first, last = both(solved(twice(120, 60, judged=judged, after=after)))

    pause = timedelta(minutes=45) if judged else timedelta()
    assert last.start - first.back == pause
    assert last.back - first.start <= 13 * HOUR


@pytest.mark.parametrize("judged", [False, True])
def test_what_is_more_than_a_day_has_the_rest_of_the_workshop_between(judged: bool) -> None:
    """2 h there, 3 h on site, 2 h home, twice: 14 h are no duty."""
    first, last = both(solved(twice(120, 180, judged=judged, after=FIRST_OVER)))

    assert last.start >= first.free == first.back + 11 * HOUR


def test_who_would_be_at_the_wheel_too_long_rests_between() -> None:
    """3 h there and home, twice, are 12 h: on one day, but more than 10 h of driving (DR13a)."""
    first, last = both(solved(twice(180, 15, judged=True, after=FIRST_OVER)))

    assert last.start >= first.free


def test_two_vans_with_a_crew_each_go_at_once() -> None:
    legs = there_and_back(120, 60, judged=False)
    others = {"crew": ("cy", "dot"), "vehicles": ("lorry",)}
    first, last = both(
        solved(
            a_delivery(
                journey("first", *legs, after=LOADED),
                journey("last", *legs, after=LOADED, **others),
            )
        )
    )

    assert first.start == last.start


def test_a_journey_of_others_goes_on_where_the_first_ends() -> None:
    legs = there_and_back(120, 60, judged=False)
    others = {"crew": ("cy", "dot"), "vehicles": ("lorry",)}
    first, last = both(
        solved(
            a_delivery(
                journey("first", *legs, after=LOADED),
                journey("last", *legs, after=FIRST_OVER, **others),
            )
        )
    )

    assert first.end == last.start < first.back


def test_one_van_of_two_is_free_for_the_second_journey() -> None:
    legs = there_and_back(120, 60, judged=False)
    book = a_delivery(
        journey("first", *legs, after=LOADED),
        journey("last", *legs, after=LOADED, crew=("cy", "dot")),
        things=(replace(VAN, count=2),),
    )
    one_van = replace(book, equipment=(VAN,))

    first, last = both(solved(book))
    assert first.start == last.start
    first, last = both(solved(one_van))
    assert last.start == first.back


@pytest.mark.parametrize("judged", [False, True])
def test_who_goes_twice_has_rested_before_the_whole_of_it(judged: bool) -> None:
    """The bench of the day before and both journeys are no one day."""
    outcome = solved(twice(120, 60, judged=judged, after=FIRST_OVER))
    first, last = both(outcome)

    worked = [
        place.end
        for place in outcome.plan.placements
        if PersonId("ana") in place.people and place.end <= first.start
    ]
    assert not judged or all(last.back - end >= 11 * HOUR for end in worked)


class TestLoadAndGo:
    """A lorry that may not stand, among several."""

    @pytest.mark.parametrize("after", [LOADED, FIRST_OVER])
    @pytest.mark.parametrize("judged", [False, True])
    def test_both_are_loaded_right_before_they_leave(
        self, judged: bool, after: tuple[After, ...]
    ) -> None:
        others: dict[str, Any] = {"crew": ("cy", "dot"), "vehicles": ("lorry",)}
        if judged:
            others = {
                "crew": ("cy", "dot"),
                "means": (
                    replace(OWN[0], vehicles=(EquipmentId("lorry"),), driven_by=(PersonId("cy"),)),
                ),
            }
        mine = {"means": OWN} if judged else {}
        legs = there_and_back(120, 60, judged=judged)
        short = there_and_back(60, 30, judged=judged)
        book = a_delivery(
            journey("first", *legs, after=LOADED, stands_most_minutes=30, **mine),
            journey("last", *short, after=after, stands_most_minutes=30, **others),
        )
        outcome = solved(book)
        first, last = both(outcome)

        loaded = next(one.end for one in outcome.plan.placements if one.step == "loading")
        assert first.start - loaded <= 0.5 * HOUR
        if after == LOADED:
            assert last.start == first.start

    def test_only_the_one_that_may_not_stand_is_held_to_it(self) -> None:
        """Each has its own loading; only the second one may not stand."""
        legs = there_and_back(120, 60, judged=False)
        others: dict[str, Any] = {"crew": ("cy", "dot"), "vehicles": ("lorry",)}
        gates = (
            a_gate("load-a", after=(After(step=StepId("carve")),)),
            a_gate("load-b", after=(After(step=StepId("carve")),)),
        )
        after_a, after_b = ((After(step=gate.id),) for gate in gates)
        steps = (
            a_stage("carve", hours=8),
            *gates,
            journey("first", *legs, after=after_a, **others),
            journey("last", *legs, after=after_b, stands_most_minutes=0),
        )
        job = a_job(steps=steps, windows=(a_window("heron-window"),))
        outcome = solved(a_book(job, people=PEOPLE, equipment=(VAN, LORRY)))

        loaded = {one.step: one.end for one in outcome.plan.placements}
        assert trip_of(outcome, "last").start == loaded[StepId("load-b")]

    def test_two_that_are_loaded_apart_stay_and_nothing_is_said_to_be_proved(self) -> None:
        legs = there_and_back(120, 60, judged=False)
        others: dict[str, Any] = {"crew": ("cy", "dot"), "vehicles": ("lorry",)}
        gates = (
            a_gate("load-a", after=(After(step=StepId("carve")),)),
            a_gate("load-b", after=(After(step=StepId("carve")),)),
        )
        after_a, after_b = ((After(step=gate.id),) for gate in gates)
        steps = (
            a_stage("carve", hours=8),
            *gates,
            journey("first", *legs, after=after_a, stands_most_minutes=0, **others),
            journey("last", *legs, after=after_b, stands_most_minutes=0),
        )
        job = a_job(steps=steps, windows=(a_window("heron-window"),))
        outcome = solved(a_book(job, people=PEOPLE, equipment=(VAN, LORRY)))

        assert outcome.plan.trips == ()
        assert job_of(outcome, "heron").verdict is not Verdict.CANNOT
        assert outcome.proved_levels == 0
