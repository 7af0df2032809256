"""The journey on the grid: legs, sailings, opening and access hours, departures counted back."""

from dataclasses import replace
from datetime import datetime
from random import Random

import pytest

from scheduler.grid import DAY_STEPS, Grid
from scheduler.journey import Road, departures, latest_ride, ride, road_of
from shared.book import Departure, Leg, LegKind, Site, Window
from shared.worktime import Shift
from tests.builders import a_journey, a_leg, a_shift, a_site, a_window, at

NIGHT = a_shift("22:00", "05:00", days=tuple(range(7)), breaks=())
OSLO_CUSTOMS = a_shift("08:00", "15:30", breaks=())


def grid_from(origin: str, days: int = 60) -> Grid:
    return Grid(origin=at(origin), horizon=days * DAY_STEPS, zone="Europe/London")


def a_sailing(*times: tuple[str, str], check_in_minutes: int = 0) -> Leg:
    departures = tuple(
        Departure(leaves=at(leaves), arrives=at(arrives), check_in_minutes=check_in_minutes)
        for leaves, arrives in times
    )
    return a_leg(LegKind.SAILING, minutes=0, departures=departures)


def a_road(grid: Grid, *legs: Leg, window: Window | None = None, site: Site | None = None) -> Road:
    return road_of(a_journey(legs=legs), site or a_site(), window or a_window(), grid)


def latest(grid: Grid, road: Road) -> datetime | None:
    found = latest_ride(road)
    return None if found is None else grid.instant(found.leaves)


def ends(grid: Grid, road: Road, leaves: str) -> list[datetime]:
    found = ride(road, grid.up(at(leaves)))
    assert found is not None
    return [grid.instant(end) for end in found.ends]


def test_the_latest_departure_leaves_just_enough_for_road_and_site() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    road = a_road(grid, a_leg(minutes=130), a_leg(LegKind.ASSEMBLE, minutes=50, inside=True))

    # 130 and 50 minutes are 9 and 4 quarters, rounded up; the window ends on 6 March at 18:00.
    assert latest(grid, road) == at("2026-03-06 14:45")


def test_what_is_elapsed_on_the_road_runs_through_a_clock_change() -> None:
    """Clocks in Great Britain go forward on 28 March 2027 at 1:00 UTC (Summer Time Act 1972)."""
    grid = grid_from("2027-03-20 00:00", 12)
    window = a_window(start="2027-03-28 00:00", end="2027-03-28 10:00")
    access = (a_shift("06:00", "11:00", days=(6,), breaks=()),)
    site_work = a_leg(LegKind.ASSEMBLE, minutes=120, inside=True)
    road = a_road(grid, a_leg(minutes=360), site_work, window=replace(window, access=access))

    # Access from 6:00 to 11:00 on the wall is 5:00 to 10:00 UTC.
    assert latest(grid, road) == at("2027-03-28 02:00")
    assert ends(grid, road, "2027-03-27 22:00") == [
        at("2027-03-28 04:00"),
        at("2027-03-28 07:00"),
    ]


def test_work_over_two_nights_goes_on_when_access_opens_again() -> None:
    """Night hours over midnight belong to the day they open."""
    grid = grid_from("2027-04-01 00:00", 30)
    window = a_window(start="2027-04-12 20:00", end="2027-04-14 04:00")
    site = a_site(zone="UTC")
    work = a_leg(LegKind.ASSEMBLE, minutes=9 * 60, inside=True)
    road = a_road(
        grid, a_leg(minutes=360), work, window=replace(window, access=(NIGHT,)), site=site
    )

    # Night two, from 22:00, holds 6 h to the window's end; so 3 h of night one are needed.
    assert latest(grid, road) == at("2027-04-12 20:00")
    assert ends(grid, road, "2027-04-12 12:00")[-1] == at("2027-04-14 00:00")


def test_nothing_inside_starts_before_the_window() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    road = a_road(grid, a_leg(minutes=60), a_leg(LegKind.ASSEMBLE, minutes=60, inside=True))

    assert ends(grid, road, "2026-03-01 10:00") == [at("2026-03-01 11:00"), at("2026-03-02 09:00")]


def test_customs_closed_on_a_public_holiday_make_an_early_sailing_the_last() -> None:
    """Constitution Day, 17 May 2027, is a Monday (Norway, lov 26 April 1947 nr. 1)."""
    grid = grid_from("2027-05-10 00:00", 14)
    window = a_window(start="2027-05-17 00:00", end="2027-05-19 10:00")
    customs = a_leg(
        LegKind.BORDER, minutes=120, opens=(OSLO_CUSTOMS,), zone="Europe/Oslo", country="NO"
    )
    road = a_road(
        grid,
        a_leg(minutes=150),
        a_sailing(
            ("2027-05-15 16:00", "2027-05-16 18:00"),
            ("2027-05-18 16:00", "2027-05-19 18:00"),
            check_in_minutes=75,
        ),
        customs,
        a_leg(minutes=240),
        window=window,
        site=a_site(zone="Europe/Oslo", country="NO"),
    )

    assert latest(grid, road) == at("2027-05-15 12:15")
    assert ends(grid, road, "2027-05-15 12:15")[1:] == [
        at("2027-05-16 18:00"),
        at("2027-05-18 08:00"),  # Tuesday, 10:00 in Oslo
        at("2027-05-18 12:00"),
    ]


@pytest.mark.parametrize(
    ("check_in_minutes", "leaves"),
    [(0, "2026-03-02 09:00"), (60, "2026-03-02 08:00"), (50, "2026-03-02 08:00")],
)
def test_one_must_be_there_for_check_in(check_in_minutes: int, leaves: str) -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    boat = a_sailing(("2026-03-02 10:00", "2026-03-02 12:07"), check_in_minutes=check_in_minutes)
    road = a_road(grid, a_leg(minutes=60), boat, a_leg(minutes=30))

    assert latest(grid, road) == at(leaves)
    assert ends(grid, road, leaves)[1] == at("2026-03-02 12:15")


def test_a_later_sailing_that_arrives_sooner_is_taken() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    boats = a_sailing(
        ("2026-03-02 08:00", "2026-03-02 20:00"), ("2026-03-02 10:00", "2026-03-02 14:00")
    )
    road = a_road(grid, boats)

    assert ends(grid, road, "2026-03-02 06:00") == [at("2026-03-02 14:00")]


def test_after_the_last_sailing_nobody_gets_there() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    road = a_road(grid, a_sailing(("2026-03-02 10:00", "2026-03-02 12:00")))

    assert ride(road, grid.up(at("2026-03-02 10:15"))) is None
    assert latest(grid, road) == at("2026-03-02 10:00")


def test_a_border_takes_an_opening_that_holds_all_of_it() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    hours = (a_shift("08:00", "10:00", breaks=()), a_shift("13:00", "16:00", breaks=()))
    road = a_road(grid, a_leg(LegKind.BORDER, minutes=90, opens=hours))

    assert ends(grid, road, "2026-03-02 08:30") == [at("2026-03-02 10:00")]
    assert ends(grid, road, "2026-03-02 08:45") == [at("2026-03-02 14:30")]
    assert ends(grid, road, "2026-03-02 15:00") == [at("2026-03-03 09:30")]


def test_a_border_that_opens_as_the_clock_of_the_grid_begins_holds_all_of_it() -> None:
    """Open from midnight to midnight: who is there at 1:00 for 30 minutes is over it at 1:30."""
    grid = grid_from("2026-03-01 00:00", 10)
    hours = (a_shift("00:00", "00:00", days=tuple(range(7)), breaks=()),)
    road = a_road(grid, a_leg(LegKind.BORDER, minutes=30, opens=hours))

    assert ends(grid, road, "2026-03-01 00:00") == [at("2026-03-01 00:30")]
    assert ends(grid, road, "2026-03-01 01:00") == [at("2026-03-01 01:30")]


def test_a_crane_inside_works_only_while_both_site_and_crane_are_open() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    window = a_window(access=(a_shift("08:00", "12:00", breaks=()),))
    crane = (a_shift("10:00", "14:00", breaks=()),)
    road = a_road(grid, a_leg(LegKind.LIFT, minutes=180, inside=True, opens=crane), window=window)

    assert ends(grid, road, "2026-03-02 06:00") == [at("2026-03-03 11:00")]


def test_without_a_leg_inside_the_last_leg_ends_by_the_windows_end() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    road = a_road(grid, a_leg(minutes=60), a_leg(LegKind.UNLOAD, minutes=60))

    assert latest(grid, road) == at("2026-03-06 16:00")


def test_what_is_all_way_home_may_leave_till_the_windows_end() -> None:
    """Nothing of it has to be over by then; the window ends on 6 March at 18:00."""
    grid = grid_from("2026-03-01 00:00", 10)
    road = a_road(grid, a_leg(LegKind.RETURN, minutes=60), a_leg(LegKind.RETURN, minutes=60))

    assert latest(grid, road) == at("2026-03-06 18:00")


def test_a_window_whose_end_is_past_has_no_departure() -> None:
    grid = grid_from("2026-04-01 00:00", 10)

    assert latest_ride(a_road(grid, a_leg())) is None
    assert departures(a_road(grid, a_leg())) == ()


def test_a_missed_window_still_has_a_ride_that_ignores_its_end() -> None:
    grid = grid_from("2026-03-01 00:00", 30)
    road = a_road(grid, a_leg(minutes=60), a_leg(LegKind.ASSEMBLE, minutes=60, inside=True))
    late = ride(road, grid.up(at("2026-03-09 08:00")))

    assert late is not None
    assert not late.kept
    assert grid.instant(late.end) == at("2026-03-09 10:00")


def test_departures_reach_back_a_week_from_the_latest() -> None:
    grid = grid_from("2026-02-01 00:00", 60)
    road = a_road(grid, a_leg(minutes=60), a_leg(LegKind.ASSEMBLE, minutes=60, inside=True))

    last = grid.up(at("2026-03-06 16:00"))
    assert departures(road) == ((last - 7 * DAY_STEPS, last + 1),)
    assert departures(road, first=last - 3) == ((last - 3, last + 1),)


def random_shift(draw: Random) -> Shift:
    start, length = draw.randrange(24), draw.randrange(2, 10)
    end = (start + length) % 24
    days = tuple(day for day in range(7) if draw.random() < 0.8) or (0,)
    return a_shift(f"{start:02}:00", f"{end:02}:00", days=days, breaks=())


def random_road(seed: int, grid: Grid) -> Road:
    draw = Random(seed)
    boats = [
        (f"2026-03-0{day} 10:00", f"2026-03-0{day} {draw.randrange(12, 24)}:00")
        for day in range(1, 7)
        if draw.random() < 0.7
    ]
    legs = [
        a_leg(minutes=draw.randrange(30, 600)),
        a_sailing(*boats, check_in_minutes=draw.choice([0, 45])) if boats else a_leg(),
        a_leg(LegKind.BORDER, minutes=draw.randrange(15, 120), opens=(random_shift(draw),)),
        a_leg(LegKind.ASSEMBLE, minutes=draw.randrange(30, 900), inside=True),
    ]
    access = (random_shift(draw),) if draw.random() < 0.7 else ()
    return a_road(grid, *legs, window=replace(a_window(end="2026-03-08 18:00"), access=access))


@pytest.mark.parametrize("seed", range(30))
def test_the_latest_departure_is_the_last_of_all_that_are_in_time(seed: int) -> None:
    grid = grid_from("2026-03-01 00:00", 20)
    road = random_road(seed, grid)
    in_time = [
        leaves
        for leaves in range(10 * DAY_STEPS)
        if (found := ride(road, leaves)) is not None and found.kept
    ]
    found = latest_ride(road)

    assert (found.leaves if found else None) == (in_time[-1] if in_time else None)
    week = [leaves for leaves in in_time if leaves >= in_time[-1] - 7 * DAY_STEPS]
    assert week == [leaves for start, end in departures(road) for leaves in range(start, end)]


@pytest.mark.parametrize("seed", range(30, 50))
def test_who_leaves_later_never_arrives_sooner(seed: int) -> None:
    """So it is without drivers' hours; with them it need not be."""
    grid = grid_from("2026-03-01 00:00", 20)
    road = random_road(seed, grid)
    rides = [ride(road, leaves) for leaves in range(0, 8 * DAY_STEPS, 5)]
    arrivals = [found.end for found in rides if found is not None]

    assert arrivals == sorted(arrivals)
    assert all(rides[: len(arrivals)])


def test_a_sailing_that_the_next_one_overtakes_is_not_taken_whatever_sails_after_them() -> None:
    grid = grid_from("2026-03-01 00:00", 10)
    crossing = a_sailing(
        ("2026-03-02 06:00", "2026-03-03 15:00"),
        ("2026-03-02 08:00", "2026-03-02 20:00"),
        ("2026-03-03 08:00", "2026-03-04 20:00"),
    )
    road = a_road(grid, a_leg(minutes=60), crossing, a_leg(minutes=60))

    assert ends(grid, road, "2026-03-02 00:00")[1] == at("2026-03-02 20:00")
