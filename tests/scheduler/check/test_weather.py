"""What is expected of places in stretches, against what is expected of every quarter of an hour."""

from datetime import datetime, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest

from scheduler.check.clock import instant, seconds
from scheduler.check.weather import Weather
from shared.book import Book, Reading, Temperature
from shared.climate import Climate
from shared.ids import PlaceId
from tests.builders import a_book, a_place, a_shift, a_workshop, at

BAY, YARD = PlaceId("bay"), PlaceId("yard")
DAYS = timedelta(days=4)


def book_in(zone: str, read: datetime) -> Book:
    """A bay that is heated over the day, a yard that nobody knows, and readings of an hour."""
    warm = Temperature(
        place=BAY,
        months=tuple(range(1, 13)),
        day_celsius=Decimal(16),
        night_celsius=Decimal(9),
        heated_celsius=Decimal(20),
        heated=(a_shift("06:30", "16:00"),),
        spread_celsius=Decimal(2),
        humidity_percent=Decimal(60),
    )
    readings = (Reading(place=BAY, at=read, celsius=Decimal(5)),)
    workshop = a_workshop(zone=zone, temperatures=(warm,), readings=readings)
    return a_book(workshop=workshop, places=(a_place("bay"), a_place("yard")))


@pytest.mark.parametrize(
    ("zone", "start"),
    [
        ("Europe/London", "2027-03-26 10:20"),
        ("Europe/London", "2026-10-23 23:07"),
        ("Asia/Kolkata", "2027-06-01 00:00"),
        ("Australia/Lord_Howe", "2027-04-02 03:00"),
        ("Australia/Lord_Howe", "2027-10-01 12:00"),
        ("America/St_Johns", "2027-03-12 05:00"),
    ],
)
@pytest.mark.parametrize("place", [BAY, YARD, None])
def test_stretches_say_what_each_quarter_says(zone: str, start: str, place: PlaceId | None) -> None:
    first = at(start)
    climate = Climate(book_in(zone, first + timedelta(hours=30)))

    found = list(Weather(climate, zone).between(place, seconds(first), seconds(first + DAYS)))

    assert (found[0][0], found[-1][1]) == (seconds(first), seconds(first + DAYS))
    assert all(one[1] == other[0] for one, other in pairwise(found))
    for begins, ends, hour in found:
        for second in range(begins, ends, 900):
            assert climate.expected(place, instant(second)) == hour, instant(second)
    assert place is not BAY or len(found) > 4 * 3


def test_nothing_lies_between_a_second_and_itself() -> None:
    climate = Climate(book_in("Europe/London", at("2027-01-04 08:00")))

    assert not list(Weather(climate, "Europe/London").between(BAY, 0, 0))
