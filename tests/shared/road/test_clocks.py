"""Nights on which clocks are changed, sailings across zones, and holidays of one country.

Clocks in Europe go forward on 28 March 2027 and back on 31 October 2027, at 01:00 UTC (Directive
2000/84/EC). Expected instants are counted by hand in UTC.
"""

from datetime import date, datetime, time, timedelta

import pytest

from scheduler.check.road.replay import replay
from shared.road.countback import Trip, earliest_arrival, latest_departure
from shared.road.driver import Driver
from shared.road.itinerary import Because, Doing, Itinerary
from shared.road.law import as_they_are
from shared.road.legs import Leg, Work
from shared.road.quarters import floor_quarter
from shared.road.rules import rule_set
from shared.worktime import Span, local_instant
from tests.shared.road.trips import AMSTERDAM, BERLIN, HEAVY, LONDON, PARIS, at, drive, ferry, trip

SPRING, AUTUMN = (date(2027, 3, 27), date(2027, 3, 28)), (date(2027, 10, 30), date(2027, 10, 31))
ORDINARY = (date(2027, 4, 17), date(2027, 4, 18))


def rested(zone: str, day: date, *, reductions: int = 0, extensions: int = 0) -> Driver:
    as_of = at(zone, f"{day}T00:00")
    return Driver(as_of=as_of, reductions=reductions, extensions=extensions)


def latest(asked: Trip, by: datetime) -> Itinerary:
    found = latest_departure(asked, by, longest=timedelta(days=2))
    assert found is not None
    assert replay(asked.journey, asked.drivers, asked.rules, found) == ()
    return found


def first(asked: Trip, leaves: datetime) -> Itinerary:
    found = earliest_arrival(asked, leaves)
    assert found is not None
    assert replay(asked.journey, asked.drivers, asked.rules, found) == ()
    return found


def access(zone: str, night: tuple[date, date]) -> Span:
    """From ten in the evening to five in the morning by the clock on the wall."""
    evening, morning = night
    return Span(
        start=local_instant(evening, time(22), zone, opening=True),
        end=local_instant(morning, time(5), zone, opening=False),
    )


@pytest.mark.parametrize(
    ("zone", "night", "leaves"),
    [
        (LONDON, SPRING, "2027-03-27T22:30"),
        (LONDON, ORDINARY, "2027-04-17T23:30"),
        (LONDON, AUTUMN, "2027-10-31T00:30"),
        (BERLIN, SPRING, "2027-03-27T22:30"),
        (BERLIN, ORDINARY, "2027-04-17T23:30"),
        (BERLIN, AUTUMN, "2027-10-31T00:30"),
    ],
)
def test_a_night_of_access_is_an_hour_shorter_or_longer(
    zone: str, night: tuple[date, date], leaves: str
) -> None:
    """Five and a half hours of work that end at five: begun as many hours of the sun before."""
    site = Work(quarters=22, openings=(access(zone, night),))
    asked = trip(rested(zone, night[0]), site, rules=rule_set("workers_uk"))

    found = latest(asked, at(zone, f"{night[1]}T05:00"))

    assert found.departure == at(zone, leaves)
    assert found.arrival == at(zone, f"{night[1]}T05:00")


@pytest.mark.parametrize(("night", "whole"), [(SPRING, 22), (ORDINARY, 26), (AUTUMN, 30)], ids=str)
def test_whole_work_fits_into_a_night_or_does_not(night: tuple[date, date], whole: int) -> None:
    """Six, seven or eight hours in one, with half an hour of break after at most six."""
    zone = LONDON
    openings = (access(zone, night),)
    for quarters, fits in ((whole, True), (whole + 3, False)):
        site = Work(quarters=quarters, openings=openings, whole=True)
        asked = trip(rested(zone, night[0]), site, rules=rule_set("workers_uk"))
        found = latest_departure(asked, at(zone, f"{night[1]}T12:00"), longest=timedelta(days=1))
        assert (found is not None) == fits


@pytest.mark.parametrize(
    ("zone", "night", "ends"),
    [
        (LONDON, SPRING, "09:00"),
        (LONDON, ORDINARY, "08:00"),
        (LONDON, AUTUMN, "07:00"),
        (PARIS, SPRING, "09:00"),
        (PARIS, ORDINARY, "08:00"),
        (PARIS, AUTUMN, "07:00"),
    ],
)
def test_a_rest_from_nine_in_the_evening_lasts_eleven_hours(
    zone: str, night: tuple[date, date], ends: str
) -> None:
    """Art. 4(g) of Regulation (EC) 561/2006 counts hours, not the clock on the wall."""
    country = "GB" if zone == LONDON else "FR"
    # Nine hours at the wheel and a break: at nine in the evening the day is over.
    leaves = at(zone, f"{night[0]}T11:15")
    asked = trip(rested(zone, night[0], reductions=3, extensions=2), drive(40, country))

    found = first(asked, leaves)

    night_rest = max(
        (each for each in found.stretches if each.doing is Doing.REST),
        key=lambda each: each.end - each.start,
    )
    assert night_rest.start == at(zone, f"{night[0]}T21:00")
    assert night_rest.end == at(zone, f"{night[1]}T{ends}")


@pytest.mark.parametrize(
    ("country", "zone", "leaves", "arrives", "stands"),
    [
        ("DE", BERLIN, "2027-03-27T23:00", "2027-03-28T23:00", 21),
        ("DE", BERLIN, "2027-04-17T23:00", "2027-04-18T23:00", 22),
        ("DE", BERLIN, "2027-10-30T23:00", "2027-10-31T23:00", 23),
        ("FR", PARIS, "2027-10-30T21:00", "2027-10-31T23:00", None),
        ("FR", PARIS, "2027-04-17T21:00", "2027-04-18T23:00", 24),
    ],
)
def test_a_sunday_ban_is_as_long_as_the_clock_makes_it(
    country: str, zone: str, leaves: str, arrives: str, stands: int | None
) -> None:
    """An hour before the ban, an hour after it; 31 October 2027 is the eve of All Saints' Day."""
    asked = trip(rested(zone, date.fromisoformat(leaves[:10])), drive(8, country), lorry=HEAVY)

    found = first(asked, at(zone, leaves))

    waits = [each for each in found.stretches if each.because is Because.BAN]
    if stands is None:
        # Sunday from 22:00 is banned already, because Monday is a holiday.
        assert found.arrival == at(zone, "2027-11-01T23:00")
        assert waits[0].end - waits[0].start == timedelta(hours=49)
        return
    assert found.arrival == at(zone, arrives)
    assert [each.end - each.start for each in waits] == [timedelta(hours=stands)]


def crossing(night: tuple[date, date]) -> list[Leg]:
    """Four hours, a check-in, a ship from ten in the evening to half past eight, three hours."""
    sails, lands = at(LONDON, f"{night[0]}T22:00"), at(AMSTERDAM, f"{night[1]}T08:30")
    return [drive(16), Work(quarters=1), ferry((sails, lands)), drive(12, "NL")]


@pytest.mark.parametrize(
    ("night", "sea", "leaves", "arrives"),
    [
        (ORDINARY, 9.5, "16:45", "11:45"),
        (SPRING, 8.5, "15:15", "12:00"),
        (AUTUMN, 10.5, "16:45", "11:45"),
    ],
)
def test_a_sailing_across_zones_is_as_long_as_its_two_clocks_say(
    night: tuple[date, date], sea: float, leaves: str, arrives: str
) -> None:
    """Half past eight in Amsterdam is half past seven in London, but not on every night.

    In spring the night at sea is too short for nine hours of rest in one: eleven hours, broken by
    boarding and landing (Art. 9(1)), are 2:15 in the lane, 8:30 at sea, and a quarter on the quay.
    """
    asked = trip(rested(LONDON, night[0]), *crossing(night))

    found = latest(asked, at(AMSTERDAM, f"{night[1]}T12:00"))

    at_sea = [each for each in found.stretches if each.doing is Doing.SEA_REST]
    assert sum((each.end - each.start for each in at_sea), timedelta()) == timedelta(hours=sea)
    assert found.departure == at(LONDON, f"{night[0]}T{leaves}")
    assert found.arrival == at(AMSTERDAM, f"{night[1]}T{arrives}")


@pytest.mark.parametrize(("check_in", "lands"), [(30, "10:00"), (60, "13:00")])
def test_from_one_ship_to_the_next_there_is_a_check_in_as_well(check_in: int, lands: str) -> None:
    """Ashore at 8:15; the next casts off at 9:00 and, for whoever is too late, at 12:00."""
    day = ORDINARY[0]
    first_ship = ferry((at(LONDON, f"{day}T07:00"), at(LONDON, f"{day}T08:00")), cut_off=30)
    hours = (("09:00", "10:00"), ("12:00", "13:00"))
    ships = [(at(LONDON, f"{day}T{off}"), at(LONDON, f"{day}T{there}")) for off, there in hours]

    asked = trip(rested(LONDON, day), drive(4), first_ship, ferry(*ships, cut_off=check_in))

    found = first(asked, at(LONDON, f"{day}T05:00"))
    assert found.arrival == at(LONDON, f"{day}T{lands}") + timedelta(minutes=15)


def test_an_opening_in_the_hour_that_is_missing_opens_when_the_clock_jumps() -> None:
    morning = SPRING[1]
    opens = local_instant(morning, time(1, 30), LONDON, opening=True)
    site = Work(quarters=4, openings=(Span(start=opens, end=at(LONDON, f"{morning}T06:00")),))

    found = first(trip(rested(LONDON, SPRING[0]), site), at(LONDON, f"{morning}T00:30"))

    assert found.arrival == at(LONDON, f"{morning}T03:00")


@pytest.mark.parametrize(
    ("country", "day", "banned"),
    [
        ("FR", "2027-07-14", True),
        ("DE", "2027-07-14", False),
        ("GB", "2027-07-14", False),
        ("DE", "2026-12-26", True),
        ("FR", "2026-12-26", False),
        ("GB", "2026-12-26", False),
    ],
)
def test_a_holiday_of_one_country_stops_lorries_there_and_not_next_door(
    country: str, day: str, banned: bool
) -> None:
    """14 July is kept in France, 26 December in Germany: a Wednesday and a Saturday."""
    asked = trip(rested(PARIS, date.fromisoformat(day)), drive(8, country), lorry=HEAVY)

    found = first(asked, at(PARIS, f"{day}T09:00"))

    arrives = at(PARIS, f"{day}T11:00")
    assert (found.arrival > arrives) == banned
    if banned:
        assert found.arrival == at(PARIS, f"{day}T22:00") + timedelta(hours=2)


def test_the_road_of_the_other_country_stays_open_on_the_same_way() -> None:
    """From Germany into France on 14 July: to the border the lorry goes, and there it stands."""
    legs = (drive(8, "DE"), drive(8, "FR"))
    asked = trip(rested(PARIS, date(2027, 7, 14)), *legs, lorry=HEAVY)

    found = first(asked, at(PARIS, "2027-07-14T09:00"))

    drives = [each for each in found.stretches if each.doing is Doing.DRIVE]
    assert [(each.start, each.end) for each in drives] == [
        (at(PARIS, "2027-07-14T09:00"), at(PARIS, "2027-07-14T11:00")),
        (at(PARIS, "2027-07-14T22:00"), at(PARIS, "2027-07-15T00:00")),
    ]


def test_a_driver_is_as_they_were_in_a_week_before_anything_was_noted() -> None:
    """Noted on Monday 15 March; Sunday before it belongs to the fixed week that ended then."""
    noted = Driver(as_of=at(LONDON, "2027-03-15T00:00"), extensions=1, week=100, week_before=50)
    sunday = at(LONDON, "2027-03-14T12:00")

    assert as_they_are(noted, floor_quarter(sunday)) == (1, 100, 50)
    assert as_they_are(noted, floor_quarter(sunday + timedelta(days=8))) == (0, 0, 100)
