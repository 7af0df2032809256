"""Whoever goes to the site by themselves, over a ferry of their own."""

from dataclasses import replace

import pytest

from scheduler.check import check
from shared.book import Book, Departure, Journey, LegKind
from shared.plan import Doing, Plan
from tests.builders import a_leg, a_told, at
from tests.scheduler.check.change import Pair, named, step_changed, trip_changed
from tests.scheduler.check.haul import haul_book, haul_plan, laid


def by_ferry(book: Book, plan: Plan, check_in: int = 15) -> Pair:
    """An hour to the quay, on board at 8:00, 8:15 to 9:00 at sea, on site by 10:00."""
    ship = Departure(
        leaves=at("2027-03-17 08:15"),
        arrives=at("2027-03-17 09:00"),
        check_in_minutes=check_in,
    )
    legs = (
        a_leg(driving_minutes=60, country="DE"),
        a_leg(LegKind.SAILING, 0, departures=(ship,)),
        a_leg(driving_minutes=45, country="NL"),
    )
    way = laid(
        "2027-03-17 07:00",
        (Doing.DRIVE, 0, 4, 0),
        (Doing.BOARD, 1, 1, 0),
        (Doing.SEA, 1, 3, 0),
        (Doing.LAND, 1, 1, 0),
        (Doing.DRIVE, 2, 3, 0),
    )
    book = step_changed(book, "haul", travel=legs)
    return book, trip_changed(plan, travel=way, crew_from=at("2027-03-17 07:00"))


def broken(check_in: int) -> set[str]:
    book = haul_book()
    found = check(*by_ferry(book, haul_plan(book), check_in)).breaches
    return {each.rule for each in found if each.where == "haul"}


def test_a_ferry_of_their_own_is_reached_from_the_legs_before_it() -> None:
    assert "sailing" not in broken(check_in=15)
    assert "travel" not in broken(check_in=15)


def from_the_quay(book: Book, plan: Plan) -> Pair:
    """They live at the quay: on board from 8:00 on, over the sea as above."""
    book, plan = by_ferry(book, plan)
    journey = next(step for step in book.jobs[0].steps if isinstance(step, Journey))
    way = tuple(replace(each, leg=each.leg - 1) for each in plan.trips[0].travel[1:])
    book = step_changed(book, "haul", travel=journey.travel[1:])
    return book, trip_changed(plan, travel=way, crew_from=way[0].start)


def test_a_ferry_that_the_way_begins_with_is_reached_when_that_begins() -> None:
    book = haul_book()
    found = {each.rule for each in check(*from_the_quay(book, haul_plan(book))).breaches}

    assert "sailing" not in found
    assert "travel" not in found


def test_a_way_of_no_minutes_is_a_quarter_at_the_wheel() -> None:
    book = haul_book()
    short = step_changed(book, "haul", travel=(a_leg(driving_minutes=0, country="DE"),))
    way = laid("2027-03-17 09:45", (Doing.DRIVE, 0, 1, 0))
    plan = trip_changed(haul_plan(book), travel=way, crew_from=at("2027-03-17 09:45"))

    assert "leg_length" not in {each.rule for each in check(short, plan).breaches}


@pytest.mark.parametrize(("minutes", "holds"), [(0, True), (15, True), (16, False)])
def test_what_they_do_on_their_way_is_a_quarter_where_it_is_no_longer(
    minutes: int, *, holds: bool
) -> None:
    """They wait for somebody from 8:45 to 9:00, and drive on."""
    way = laid("2027-03-17 08:45", (Doing.WORK, 0, 1, 0), (Doing.DRIVE, 1, 4, 0))
    legs = (a_leg(LegKind.WAIT, minutes), a_leg(driving_minutes=60, country="DE"))
    book = step_changed(haul_book(), "haul", travel=legs)
    plan = trip_changed(haul_plan(book), travel=way, crew_from=way[0].start)

    assert named(book, plan) == (set() if holds else {("leg_length", "haul")})


def test_they_are_at_its_quay_in_time_to_check_in() -> None:
    assert "sailing" in broken(check_in=16)


def test_who_misses_their_ferry_is_told_from_the_quay_to_where_they_go_ashore() -> None:
    """They are there at 8:00, and off it a quarter after it is alongside at 9:00."""
    book = haul_book()
    found = check(*by_ferry(book, haul_plan(book), check_in=16)).breaches
    (facts,) = [dict(each.facts) for each in found if each.rule == "sailing"]

    assert (facts["start"], facts["end"]) == tuple(
        at(f"2027-03-17 {each}").isoformat() for each in ("08:00", "09:15")
    )


@pytest.mark.parametrize(
    ("leaves", "told", "is_before"),
    [
        ("14:00", None, False),
        ("13:45", None, True),
        ("13:45", "13:30", False),
        ("13:45", "13:45", False),
        ("13:45", "14:00", True),
    ],
)
def test_they_leave_before_now_only_where_they_were_told_to_by_then(
    leaves: str, told: str | None, is_before: bool
) -> None:
    """It is 14:00 on the day on which the lorry leaves at 14:30."""
    book = haul_book()
    plan = trip_changed(haul_plan(book), crew_from=at(f"2027-03-16 {leaves}"))
    if told is not None:
        as_told = trip_changed(plan, crew_from=at(f"2027-03-16 {told}"))
        book = replace(book, told=a_told(as_told))
    found = check(book, plan, now=at("2027-03-16 14:00")).breaches

    assert (("before_now", "haul") in {(each.rule, each.where) for each in found}) is is_before


@pytest.mark.parametrize("doing", [Doing.DRIVE, Doing.LAND, Doing.SEA_REST])
def test_on_board_they_are_at_sea_and_nothing_else(doing: Doing) -> None:
    """Nobody drives or lands in the middle of it; nor rests where no bunk is booked."""
    book = haul_book()
    book, plan = by_ferry(book, haul_plan(book))
    way = tuple(
        replace(each, doing=doing) if each.doing is Doing.SEA else each
        for each in plan.trips[0].travel
    )

    assert "sailing" in {each.rule for each in check(book, trip_changed(plan, travel=way)).breaches}


@pytest.mark.parametrize("leg", [-1, 3, 4])
def test_a_stretch_of_no_leg_of_their_way_is_told(leg: int) -> None:
    """The way has three legs, from 0."""
    book = haul_book()
    book, plan = by_ferry(book, haul_plan(book))
    *way, last = plan.trips[0].travel
    strayed = trip_changed(plan, travel=(*way, replace(last, leg=leg)))

    assert ("travel", "haul") in named(book, strayed)
