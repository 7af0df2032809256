"""Whole journeys whose site part and latest departure were computed apart from the program.

W01, W08, W10a and W10b of the worked journeys; each row's reason is told beside it. Nothing of any
limit is kept in reserve, as in their table.
"""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from shared.book import LegKind
from shared.delivery.delivery import Delivery
from shared.delivery.loading import latest_loading_start
from shared.ids import PersonId
from shared.plan import Because, Doing
from tests.builders import a_break, a_site, a_workshop
from tests.shared.delivery.journeys import (
    BERLIN,
    LONDON,
    at,
    delivery,
    drive,
    hired,
    inside,
    journey,
    latest,
    only,
    own_van,
    shift,
    window,
    worked,
)

THURSDAY = window(LONDON, "2027-03-18T07:00", "2027-03-18T18:00")


def inspected(**changes: Any) -> Delivery:
    """W01: three hours on the road, seven and a half on site; the inspector goes at 17:00."""
    legs = (
        drive(180),
        inside(LegKind.ASSEMBLE, 420),
        inside(LegKind.INSPECT, 30, opens=(shift("08:00", "17:00"),)),
    )
    return delivery(journey(*legs, **changes), THURSDAY)


def closed_road(**changes: Any) -> Delivery:
    """W08: six hours to a closure of two nights from 22:00 to 05:00, nine hours of work."""
    nights = window(LONDON, "2027-04-12T22:00", "2027-04-14T05:00", shift("22:00", "05:00"))
    return delivery(journey(drive(360), inside(LegKind.ASSEMBLE, 540), **changes), nights)


def by_own_van(hours: int) -> Delivery:
    """W10: five hours in the own van, so many on site from 08:00 to 18:00."""
    two_days = window(LONDON, "2027-03-17T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))
    legs = (drive(300), inside(LegKind.ASSEMBLE, hours * 60))
    return delivery(journey(*legs, means=(own_van(),)), two_days)


@pytest.mark.parametrize("crew", [(), (PersonId("ana"),)])
def test_site_work_before_the_inspector_goes_is_counted_back(crew: tuple[PersonId, ...]) -> None:
    """W01: 7.5 h and half an hour of break before 17:00: there by 09:00, leave at 06:00."""
    found = inspected(crew=crew)

    assert found.site_by(only(found)) == at(LONDON, "2027-03-18T09:00")
    run = latest(found)
    assert run.leaves == at(LONDON, "2027-03-18T06:00")
    assert run.gate == at(LONDON, "2027-03-18T09:00")
    assert run.end == at(LONDON, "2027-03-18T17:00")
    assert run.kept
    breaks = [each for each in run.stretches if each.because is Because.BREAK]
    assert sum((each.end - each.start for each in breaks), timedelta()) == timedelta(minutes=30)


def test_a_quarter_later_is_late_by_the_inspectors_next_day() -> None:
    """W01: who comes at 09:15 is inspected on the next day, after the window."""
    found = inspected()

    run = found.leaving(only(found), at(LONDON, "2027-03-18T06:15"))

    assert run is not None
    assert not run.kept
    assert run.end == at(LONDON, "2027-03-19T08:30")


def test_loading_begins_in_the_shift_of_the_day_before() -> None:
    """W01: two hours of loading in a shift from 07:30 to 16:00, to leave on Thursday at 06:00."""
    workshop = a_workshop(shifts=(shift("07:30", "16:00"),))

    found = latest_loading_start(workshop, at(LONDON, "2027-03-18T06:00"), Decimal(2))

    assert found == at(LONDON, "2027-03-17T14:00")


def test_loading_does_not_count_a_break_or_a_holiday() -> None:
    """Good Friday 26 March 2027 is a holiday in England, and half an hour a break, by hand."""
    hours = shift("07:30", "16:00", (0, 1, 2, 3, 4))
    midday = a_break("12:00", "12:30")
    workshop = a_workshop(
        shifts=(type(hours)(days=hours.days, start=hours.start, end=hours.end, breaks=(midday,)),)
    )

    found = latest_loading_start(workshop, at(LONDON, "2027-03-29T06:00"), Decimal(4))

    assert found == at(LONDON, "2027-03-25T11:30")


@pytest.mark.parametrize("crew", [(), (PersonId("ana"),)])
def test_work_goes_on_in_the_next_night(crew: tuple[PersonId, ...]) -> None:
    """W08: the second night holds 6.5 h and the break, so 2.5 h lie in the first."""
    found = closed_road(crew=crew)

    assert found.site_by(only(found)) == at(LONDON, "2027-04-13T02:30")
    run = latest(found)
    assert run.leaves == at(LONDON, "2027-04-12T19:45")
    assert run.gate == at(LONDON, "2027-04-13T02:30")
    assert run.kept
    assert run.end <= at(LONDON, "2027-04-14T05:00")


def test_who_comes_after_the_night_waits_for_the_next() -> None:
    """W08: arriving at 05:00 is waiting to 22:00."""
    found = closed_road()

    run = found.leaving(only(found), at(LONDON, "2027-04-12T22:15"))

    assert run is not None
    assert run.gate == at(LONDON, "2027-04-13T05:00")
    assert worked(run.stretches, 1)[0][0] == at(LONDON, "2027-04-13T22:00")


def test_six_hours_on_site_use_the_vans_duty_up() -> None:
    """W10a: five hours of road and six of work are the eleven hours of a duty (DR13)."""
    run = latest(by_own_van(6))

    assert run.leaves == at(LONDON, "2027-03-18T06:00")
    assert run.end == at(LONDON, "2027-03-18T18:00")
    assert run.choice.rules.id == "gb_domestic"
    assert run.choice.crew_rules is None


def test_seven_hours_on_site_want_a_night_on_the_way() -> None:
    """W10b: twelve hours are more than a duty; the rest is taken on the way."""
    run = latest(by_own_van(7))

    assert run.leaves == at(LONDON, "2027-03-17T18:30")
    assert run.end == at(LONDON, "2027-03-18T18:00")
    rest = [each for each in run.stretches if each.because is Because.DAILY_REST]
    assert [each.end - each.start for each in rest] == [timedelta(hours=11)]
    assert run.first_duty_ends == rest[0].start


def test_a_hired_driver_leaves_more_hours_for_the_site() -> None:
    """W10b with a hired driver: 5.75 h to the gate, then the fitters' own day of seven hours.

    They need 7 h and half an hour of break by 18:00, so 10:30 at the gate and 04:45 from home.
    """
    two_days = window(LONDON, "2027-03-17T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))
    found = delivery(journey(drive(300), inside(LegKind.ASSEMBLE, 420)), two_days)

    run = latest(found)

    assert run.gate == at(LONDON, "2027-03-18T10:30")
    assert run.leaves == at(LONDON, "2027-03-18T04:45")
    assert run.stretches[0].doing is Doing.DRIVE


def test_two_drivers_go_through_where_one_has_to_rest() -> None:
    """W06a: 18 h of wheels in 18 h, taken in turns (DR06); there on Wednesday at 12:00."""
    site = a_site(zone=BERLIN, country="DE", subdivision=None)
    week = window(BERLIN, "2027-04-12T08:00", "2027-04-14T12:00")
    means = (hired(drivers=2, rules=None),)

    run = latest(delivery(journey(drive(1080, "DE"), means=means), week, site))

    assert run.choice.rules.id == "eu_two_drivers"
    assert run.leaves == at(BERLIN, "2027-04-13T18:00")
    assert {each.wheel for each in run.stretches} == {1, 2}
