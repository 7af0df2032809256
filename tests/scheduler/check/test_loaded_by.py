"""By when a job must be loaded, counted back from Friday 18:00 by hand, each leg at its least."""

from datetime import time
from decimal import Decimal

import pytest

from scheduler.check.clock import instant
from scheduler.check.latest import loaded_by
from shared.book import Booking, Departure, Leg, LegKind, Timetable
from tests.builders import a_gate, a_job, a_journey, a_leg, a_shift, a_stage, a_window, at

ON_SITE = a_leg(LegKind.ASSEMBLE, 120, inside=True)


def by(*legs: Leg, access: tuple[str, str] | None = None) -> str | None:
    shifts = () if access is None else (a_shift(*access, days=tuple(range(7)), breaks=()),)
    window = a_window(start="2026-03-02 00:00", end="2026-03-06 18:00", access=shifts)
    job = a_job(steps=(a_stage(), a_gate(), a_journey(legs=legs)), windows=(window,))
    found = loaded_by(job)
    return None if found is None else f"{instant(found):%d %H:%M}"


@pytest.mark.parametrize(
    ("leg", "hours"),
    [
        (a_leg(minutes=90), "06 14:30"),
        (a_leg(driving_minutes=45), "06 15:15"),
        # 130 km at 65 km/h (TR22b, common practice), 100 km at 80 km/h.
        (a_leg(minutes=0, distance_km=Decimal(130)), "06 14:00"),
        (a_leg(minutes=0, distance_km=Decimal(100), speed_kmh=Decimal(80)), "06 14:45"),
    ],
)
def test_a_drive_takes_its_time_at_the_wheel(leg: Leg, hours: str) -> None:
    assert by(leg, ON_SITE) == hours


def test_work_on_site_takes_its_minutes_or_is_shared_out() -> None:
    by_three = a_leg(LegKind.ASSEMBLE, 0, inside=True, person_hours=Decimal(6), hands=3)

    assert by(a_leg(minutes=60), ON_SITE) == "06 15:00"
    assert by(a_leg(minutes=60), by_three) == "06 15:00"


def test_what_cures_on_site_is_put_up_sooner() -> None:
    cured = a_leg(LegKind.ASSEMBLE, 120, inside=True, cure_hours=Decimal(3))

    assert by(a_leg(minutes=60), cured) == "06 12:00"


def test_what_has_a_slot_is_over_with_it() -> None:
    slot = Booking(start=at("2026-03-06 09:00"), end=at("2026-03-06 12:00"))

    assert by(a_leg(minutes=60), a_leg(LegKind.LIFT, 60, slots=(slot,)), ON_SITE) == "06 10:00"


@pytest.mark.parametrize(
    ("minutes", "hours"), [(120, "06 13:00"), (480, "06 07:00"), (600, "05 13:00")]
)
def test_work_goes_on_in_access_hours_only(minutes: int, hours: str) -> None:
    """Access 8 to 16: ten hours are eight on Friday and two on Thursday."""
    site = a_leg(LegKind.ASSEMBLE, minutes, inside=True)

    assert by(a_leg(minutes=60), site, access=("08:00", "16:00")) == hours


def test_the_way_home_and_what_is_done_behind_the_site_need_not_fit() -> None:
    assert by(a_leg(minutes=60), ON_SITE, a_leg(LegKind.RETURN, 600)) == "06 15:00"


def test_a_ship_is_caught_that_lands_in_time_and_one_checks_in_before_it() -> None:
    """Ashore by 15:00 at the latest for an hour's drive and the two on site."""
    ships = tuple(
        Departure(leaves=at(f"2026-03-06 {off}"), arrives=at(f"2026-03-06 {there}"))
        for off, there in (("08:00", "12:00"), ("11:00", "15:00"), ("11:15", "15:15"))
    )
    sea = a_leg(LegKind.SAILING, 0, departures=ships)

    assert by(a_leg(minutes=60), sea, a_leg(minutes=60), ON_SITE) == "06 10:00"


def test_a_timetable_is_read_back_to_the_last_day_that_lands_in_time() -> None:
    """Tuesdays and Thursdays at 20:00, ashore at 7:00 the day after, an hour at the quay."""
    table = Timetable(
        weekdays=(2, 4),
        leaves=time(20),
        arrives=time(7),
        zone="UTC",
        days_later=1,
        check_in_minutes=60,
    )
    sea = a_leg(LegKind.SAILING, 0, timetable=(table,))
    late = a_leg(LegKind.ASSEMBLE, 600, inside=True)

    assert by(a_leg(minutes=60), sea, a_leg(minutes=60), ON_SITE) == "05 18:00"
    assert by(a_leg(minutes=60), sea, a_leg(minutes=121), late) == "03 18:00"
