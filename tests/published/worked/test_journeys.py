"""Journeys whose latest departure and arrival were computed from the rules by separate replay.

Inner instants are one best choice of several; what is held is the departure, the arrival, and
that the replay finds nothing wrong.
"""

from datetime import UTC, datetime, timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip, departures, earliest_arrival, latest_departure
from shared.road.itinerary import Itinerary
from shared.road.legs import Journey
from shared.road.rules import gb_domestic, rule_set
from shared.road.state import Driver
from shared.worktime import Span
from tests.published.worked.examples import rows
from tests.shared.road.trips import (
    AMSTERDAM,
    BERLIN,
    HEAVY,
    LONDON,
    OSLO,
    PARIS,
    at,
    drive,
    ferry,
    trip,
    work,
)

TABLE = {(row["journey"], row["quantity"]): row["value"] for row in rows("journeys.expected")}
SPENT = {"extensions": 2, "reductions": 3}


def told() -> dict[tuple[str, str], datetime | None]:
    """The instants of the table, by journey and quantity."""
    return {key: datetime.fromisoformat(value) if value else None for key, value in TABLE.items()}


def driver(
    zone: str, day: str, *, extensions: int = 0, reductions: int = 0, week: int = 0
) -> Driver:
    return Driver(as_of=at(zone, day), extensions=extensions, reductions=reductions, week=week)


def ten_hours(**known: int) -> Trip:
    return trip(driver(LONDON, "2027-03-18", **known), drive(40))


def across(sails: str, lands: str, **known: int) -> Trip:
    crossing = (at(LONDON, f"2027-03-18T{sails}"), at(AMSTERDAM, f"2027-03-19T{lands}"))
    legs = (drive(16), work(1), ferry(crossing), drive(12, "NL"))
    return trip(driver(LONDON, "2027-03-18", **known), *legs)


def channel(*sails: str) -> Trip:
    crossings = [(at(LONDON, each), at(LONDON, each) + timedelta(minutes=90)) for each in sails]
    legs = (drive(8), work(1), ferry(*crossings, bunk=False), drive(20, "FR"))
    return trip(driver(LONDON, "2027-03-19"), *legs, lorry=HEAVY)


def christmas() -> Trip:
    return trip(driver(BERLIN, "2026-12-24"), drive(36, "DE"), lorry=HEAVY)


def north() -> Trip:
    office = [(f"2027-05-{day}T08:00", f"2027-05-{day}T15:30") for day in (14, 18, 19)]
    sailings = [at(OSLO, f"2027-05-{day}T17:00") for day in (15, 18)]
    ship = ferry(*((off, off + timedelta(hours=26)) for off in sailings), cut_off=120)
    legs = (drive(10), work(1), ship, work(8, OSLO, *office), drive(16, "NO"))
    return trip(driver(LONDON, "2027-05-14"), *legs)


def van(quarters_on_site: int) -> Trip:
    access = [(f"2027-03-{day}T08:00", f"2027-03-{day}T18:00") for day in (17, 18)]
    legs = (drive(20), work(quarters_on_site, LONDON, *access))
    return trip(driver(LONDON, "2027-03-17"), *legs, rules=gb_domestic())


def day_crossing() -> Trip:
    crossings = [
        (at(LONDON, f"2027-04-{day}T14:00"), at(LONDON, f"2027-04-{day}T16:00"))
        for day in (12, 13, 14)
    ]
    legs = (drive(16), work(1), ferry(*crossings, bunk=False), drive(20, "FR"))
    return trip(driver(LONDON, "2027-04-12", extensions=2, reductions=2), *legs)


def two_drivers() -> Trip:
    """Eighteen hours of road and not one without wheels: each drives nine, in turns."""
    rested = driver(BERLIN, "2027-04-13")
    journey = Journey(legs=(drive(72, "DE"),))
    return Trip(journey=journey, drivers=(rested, rested), rules=rule_set("eu_two_drivers"))


def on_site(quarters: int, *access: tuple[str, str]) -> Trip:
    rested = driver(LONDON, access[0][0])
    return trip(rested, work(quarters, LONDON, *access), rules=rule_set("workers_uk"))


LATEST = {
    "J01": trip(driver(LONDON, "2027-03-18"), drive(12)),
    "J01s": on_site(30, ("2027-03-18T07:00", "2027-03-18T17:00")),
    "J02a": ten_hours(),
    "J02b": ten_hours(extensions=2),
    "J02c": ten_hours(**SPENT),
    "J03a": across("20:30", "08:15"),
    "J03b": across("20:30", "08:15", reductions=3),
    "J03c": across("22:00", "08:30"),
    "J03d": across("22:00", "08:30", reductions=3),
    "J04b": channel(*(f"2027-03-{d}T{h}" for d in (20, 21) for h in ("12:00", "18:30", "21:00"))),
    "J05a": christmas(),
    "J05b": christmas(),
    "J06a": two_drivers(),
    "J06b": trip(driver(BERLIN, "2027-04-13"), drive(72, "DE")),
    "J06c": trip(driver(BERLIN, "2027-04-13", **SPENT), drive(72, "DE")),
    "J07": trip(driver(PARIS, "2027-03-27", reductions=3), drive(48, "FR")),
    "J08": trip(driver(LONDON, "2027-04-12"), drive(24)),
    "J08s": on_site(
        36,
        ("2027-04-12T22:00", "2027-04-13T05:00"),
        ("2027-04-13T22:00", "2027-04-14T05:00"),
    ),
    "J09": north(),
    "J10a": van(24),
    "J10b": van(28),
    "J11a": trip(driver(BERLIN, "2027-03-18", week=200), drive(32, "DE")),
    "J11b": trip(driver(BERLIN, "2027-03-21", week=216), drive(32, "DE")),
    "J11c": trip(driver(BERLIN, "2027-03-21"), drive(32, "DE")),
}
SAME_GATE = {
    "J02c": "J02b",
    "J06b": "J06b arrives",
    "J06c": "J06b arrives",
    "J11c": "J11b",
}


def gate(journey: str) -> datetime:
    """By when the journey has to be there; where the table gives it once for several, there."""
    name, _, quantity = SAME_GATE.get(journey, journey).partition(" ")
    found = told()[name, quantity or "by"]
    assert found is not None
    return found


def assert_sound(journey: Trip, found: Itinerary) -> None:
    assert replay(journey.journey, journey.drivers, journey.rules, found) == ()


@pytest.mark.parametrize("journey", LATEST)
def test_the_latest_departure_is_that_of_the_table(journey: str) -> None:
    found = latest_departure(LATEST[journey], gate(journey), longest=timedelta(days=5))

    wanted = told()[journey, "departs"]
    assert (found.departure if found else None) == wanted
    if found is not None:
        assert found.arrival == told().get((journey, "arrives"), gate(journey))
        assert_sound(LATEST[journey], found)


def test_a_landing_on_saturday_evening_leaves_an_hour_of_french_road() -> None:
    """Quay at 21:00, landing a quarter, three quarters driven, then the ban to Sunday 22:00."""
    crossing = channel("2027-03-20T18:30")
    leaves = told()["J04a", "leaves"]
    assert leaves is not None

    found = earliest_arrival(crossing, leaves)

    assert found is not None
    assert found.arrival == told()["J04a", "arrives"]
    stands = [each for each in found.stretches if each.rule == "DR18a"]
    assert [each.start for each in stands] == [at(PARIS, "2027-03-20T22:00")]
    assert [each.end for each in stands] == [at(PARIS, "2027-03-21T22:00")]
    assert_sound(crossing, found)


@pytest.mark.parametrize("number", range(1, 9))
def test_arrival_of_a_day_crossing_does_not_grow_with_departure(number: int) -> None:
    leaves = told()[f"J12.{number}", "leaves"]
    assert leaves is not None

    found = earliest_arrival(day_crossing(), leaves)

    assert found is not None
    assert found.arrival == told()[f"J12.{number}", "arrives"]
    assert_sound(day_crossing(), found)


def test_departures_that_make_it_have_a_gap() -> None:
    """Up to 00:30, and from 07:00 to 08:45; each stands for its quarter of an hour."""
    by = at(LONDON, "2027-04-13T22:00")

    found = departures(day_crossing(), by, longest=timedelta(hours=23))

    assert found == (
        Span(start=at(LONDON, "2027-04-12T23:00"), end=at(LONDON, "2027-04-13T00:45")),
        Span(start=at(LONDON, "2027-04-13T07:00"), end=at(LONDON, "2027-04-13T09:00")),
    )


def test_departures_over_the_channel_have_a_gap() -> None:
    """The sailing at noon ends a driver's day in front of the ban, or it does not."""
    found = departures(LATEST["J04b"], gate("J04b"), longest=timedelta(hours=24))

    assert [each.end - timedelta(minutes=15) for each in found] == [
        told()["J04b", "latest of the spans before"],
        told()["J04b", "departs"],
    ]
    assert found[1].start == told()["J04b", "first of the last span"]


def test_no_departure_is_after_the_gate() -> None:
    late = latest_departure(ten_hours(), datetime(2027, 3, 19, 7, 14, tzinfo=UTC))

    assert late is not None
    assert late.arrival == datetime(2027, 3, 19, 7, 0, tzinfo=UTC)
