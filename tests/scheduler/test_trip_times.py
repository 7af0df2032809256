"""A trip from the times of its legs: over with the last before the way home, back, rested."""

from datetime import timedelta
from decimal import Decimal

from scheduler.trip_times import trip_of
from shared.book import Leg, LegKind
from shared.plan import LegTime, Trip
from tests.builders import a_job, a_journey, a_leg, at

SIX = at("2026-03-03 06:00")
REST = Decimal(11)
HOME = a_leg(LegKind.RETURN)


def a_trip(legs: tuple[Leg, ...], *minutes: int, back_minutes: int = 50) -> Trip:
    """minutes: what each leg that is told took, one after the other from six."""
    told, now = [], SIX
    for each in minutes:
        end = now + timedelta(minutes=each)
        told.append(LegTime(start=now, end=end))
        now = end
    journey = a_journey(legs=legs, back_minutes=back_minutes)
    return trip_of(REST, a_job(), journey, SIX, tuple(told))


def hours(trip: Trip) -> list[str]:
    return [f"{each:%d %H:%M}" for each in (trip.end, trip.back, trip.free)]


def test_the_way_home_is_as_long_as_was_said_rounded_up() -> None:
    found = a_trip((a_leg(), a_leg(LegKind.ASSEMBLE)), 60, 120)

    assert hours(found) == ["03 09:00", "03 10:00", "03 21:00"]


def test_the_way_home_is_the_legs_that_lead_there() -> None:
    found = a_trip((a_leg(), a_leg(LegKind.ASSEMBLE), HOME, HOME), 60, 120, 30, 50)

    assert hours(found) == ["03 09:00", "03 10:30", "03 21:30"]


def test_of_what_was_not_gone_on_with_the_last_leg_that_is_told_counts() -> None:
    assert hours(a_trip((a_leg(), a_leg(LegKind.ASSEMBLE)), 60)) == [
        "03 07:00",
        "03 08:00",
        "03 19:00",
    ]
    assert hours(a_trip((a_leg(), a_leg(LegKind.ASSEMBLE)))) == ["03 06:00", "03 07:00", "03 18:00"]
