"""What is expected of a place at an hour: months, day and night, heating, readings."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from shared.book import Book, Offer, Reading, Temperature
from shared.climate import Climate, Hour, heating_of
from shared.ids import OfferId, PlaceId
from shared.trade import figure
from shared.worktime import Shift
from tests.builders import a_book, a_break, a_place, a_shift, a_workshop, at, on

BAY, BOOTH = PlaceId("bay"), PlaceId("booth")
YEAR = tuple(range(1, 13))
ALL_WEEK = tuple(range(7))


def a_temperature(day: str, night: str, months: tuple[int, ...] = YEAR, **more: Any) -> Temperature:
    usual = Temperature(months=months, day_celsius=Decimal(day), night_celsius=Decimal(night))
    return replace(usual, **more)


def a_book_with(*temperatures: Temperature, offers: tuple[Offer, ...] = (), **more: Any) -> Book:
    workshop = a_workshop(temperatures=temperatures, **more)
    return a_book(workshop=workshop, places=(a_place(), a_place("booth")), offers=offers)


def hours_of(start: str, end: str, *days: int) -> Shift:
    return a_shift(start, end, days=days or ALL_WEEK, breaks=())


def heating(celsius: str, *hours: Shift, **more: Any) -> Offer:
    usual = Offer(
        id=OfferId("heater"),
        name="Heater",
        kind="heating",
        taken=True,
        celsius=Decimal(celsius),
        heated=hours,
    )
    return replace(usual, **more)


def degrees(book: Book, when: str, place: PlaceId | None = BAY) -> tuple[str, str]:
    found = Climate(book).expected(place, at(when))
    return f"{found.coldest}", f"{found.hottest}"


def test_where_nothing_is_said_it_is_as_warm_as_the_figure() -> None:
    usual = figure("CP30").amount
    climate = Climate(a_book())

    assert climate.expected(BAY, at("2026-01-05 03:00")) == Hour(coldest=usual, hottest=usual)
    assert climate.expected(None, at("2026-07-05 03:00")) == Hour(coldest=usual, hottest=usual)
    assert not climate.is_known


@pytest.mark.parametrize(
    ("when", "celsius"),
    [
        ("2026-01-05 07:59", "12"),
        ("2026-01-05 08:00", "18"),
        ("2026-01-05 19:59", "18"),
        ("2026-01-05 20:00", "12"),
        # British summer time, by which 08:00 is 07:00 in UTC (Summer Time Order 2002).
        ("2026-07-06 06:59", "12"),
        ("2026-07-06 07:00", "18"),
    ],
)
def test_day_is_from_eight_to_twenty_by_the_workshops_clock(when: str, celsius: str) -> None:
    assert degrees(a_book_with(a_temperature("18", "12")), when) == (celsius, celsius)


def test_the_month_is_that_of_the_workshops_day() -> None:
    book = a_book_with(a_temperature("10", "10", (5,)), a_temperature("20", "20", (6,)))

    assert degrees(book, "2026-05-31 22:59") == ("10", "10")
    assert degrees(book, "2026-05-31 23:00") == ("20", "20")


def test_a_place_has_its_own_temperatures_else_those_of_every_place() -> None:
    everywhere = a_temperature("15", "15")
    book = a_book_with(everywhere, a_temperature("22", "22", (1,), place=BOOTH))

    assert degrees(book, "2026-01-05 12:00", BAY) == ("15", "15")
    assert degrees(book, "2026-01-05 12:00", BOOTH) == ("22", "22")
    assert degrees(book, "2026-02-05 12:00", BOOTH) == ("15", "15")
    assert degrees(book, "2026-01-05 12:00", None) == ("15", "15")


def test_without_a_place_it_is_anything_from_the_coldest_to_the_warmest_place() -> None:
    book = a_book_with(
        a_temperature("15", "11", place=BAY, humidity_percent=Decimal(50)),
        a_temperature("22", "20", place=BOOTH, humidity_percent=Decimal(60)),
    )

    assert degrees(book, "2026-01-05 12:00", None) == ("15", "22")
    assert degrees(book, "2026-01-05 02:00", None) == ("11", "20")
    assert Climate(book).expected(None, at("2026-01-05 02:00")).humidity == 60
    only_one = a_book_with(a_temperature("15", "11", place=BAY))
    assert degrees(only_one, "2026-01-05 12:00", None) == ("15", "15")


def test_the_spread_is_taken_off_the_coldest_and_added_to_the_hottest() -> None:
    book = a_book_with(a_temperature("18", "12", spread_celsius=Decimal("1.5")))

    assert degrees(book, "2026-01-05 12:00") == ("16.5", "19.5")


def test_heated_hours_are_as_warm_as_they_are_heated() -> None:
    warm = a_temperature(
        "10", "6", heated=(hours_of("06:00", "10:00", 0),), heated_celsius=Decimal(19)
    )
    book = a_book_with(warm)

    assert degrees(book, "2026-01-05 05:59") == ("6", "6")
    assert degrees(book, "2026-01-05 06:00") == ("19", "19")
    assert degrees(book, "2026-01-05 10:00") == ("10", "10")
    assert degrees(book, "2026-01-06 06:00") == ("6", "6")


def test_heated_hours_without_a_temperature_are_the_days() -> None:
    book = a_book_with(a_temperature("18", "8", heated=(hours_of("06:00", "10:00"),)))

    assert degrees(book, "2026-01-05 06:00") == ("18", "18")
    assert degrees(book, "2026-01-05 12:00") == ("8", "8")


def test_an_hour_heated_in_part_is_as_cold_as_its_cold_part_and_as_warm_as_its_warm() -> None:
    book = a_book_with(a_temperature("18", "8", heated=(hours_of("06:30", "10:00"),)))

    assert degrees(book, "2026-01-05 06:45") == ("8", "18")


def test_heating_runs_through_breaks_and_over_midnight() -> None:
    night = hours_of("22:00", "02:00", 0)
    paused = a_shift("08:00", "16:00", days=ALL_WEEK, breaks=(a_break(),))
    book = a_book_with(a_temperature("18", "8", heated=(night, paused)))

    assert degrees(book, "2026-01-05 12:00") == ("18", "18")
    assert degrees(book, "2026-01-05 23:00") == ("18", "18")
    assert degrees(book, "2026-01-06 01:00") == ("18", "18")
    assert degrees(book, "2026-01-06 02:00") == ("8", "8")
    assert degrees(book, "2026-01-06 23:00") == ("8", "8")


def test_a_reading_holds_for_its_hour_and_has_no_spread() -> None:
    book = a_book_with(
        a_temperature("18", "12", spread_celsius=Decimal(2), humidity_percent=Decimal(50)),
        readings=(
            Reading(at=at("2026-01-05 09:40"), celsius=Decimal(9), place=BAY),
            Reading(at=at("2026-01-05 09:50"), celsius=Decimal(7), place=BAY),
            Reading(at=at("2026-01-05 09:55"), celsius=Decimal(30)),
            Reading(at=at("2026-01-05 10:20"), celsius=Decimal(11), humidity_percent=Decimal(77)),
        ),
    )
    climate = Climate(book)

    assert degrees(book, "2026-01-05 08:59") == ("16", "20")
    assert degrees(book, "2026-01-05 09:00") == ("7", "7")
    assert degrees(book, "2026-01-05 09:00", BOOTH) == ("30", "30")
    assert climate.expected(BAY, at("2026-01-05 09:30")).humidity == 50
    assert climate.expected(BAY, at("2026-01-05 10:59")).humidity == 77
    assert degrees(book, "2026-01-05 11:00") == ("16", "20")


def test_the_hour_that_comes_twice_is_measured_once_each_time() -> None:
    """British summer time ended on 25 October 2026 at 01:00 UTC (Summer Time Order 2002)."""
    second = Reading(at=at("2026-10-25 01:30"), celsius=Decimal(5))
    book = a_book_with(a_temperature("18", "12"), readings=(second,))

    assert degrees(book, "2026-10-25 00:30") == ("12", "12")
    assert degrees(book, "2026-10-25 01:30") == ("5", "5")


@pytest.mark.parametrize(
    ("zone", "start"),
    [("Europe/London", "2026-01-05 09:00"), ("Asia/Kolkata", "2026-01-05 09:30")],
)
def test_hours_are_those_of_the_workshops_clock(zone: str, start: str) -> None:
    climate = Climate(a_book(workshop=a_workshop(zone=zone)))

    assert climate.hour_of(at(start) + timedelta(minutes=29, seconds=59)) == at(start)


def test_heating_that_is_taken_keeps_a_place_from_being_colder() -> None:
    cold = a_temperature("18", "12", spread_celsius=Decimal(1))
    night = hours_of("18:00", "08:00")
    book = a_book_with(cold, offers=(heating("15", night, about=("bay",)),))

    assert degrees(book, "2026-01-05 03:00") == ("15", "15")
    assert degrees(book, "2026-01-05 19:00") == ("17", "19")
    assert degrees(book, "2026-01-05 03:00", BOOTH) == ("11", "13")
    assert degrees(book, "2026-01-05 03:00", None) == ("11", "13")


def test_heating_of_no_place_in_particular_is_of_all() -> None:
    book = a_book_with(
        a_temperature("18", "12"), offers=(heating("15", hours_of("00:00", "08:00")),)
    )

    assert degrees(book, "2026-01-05 03:00", BOOTH) == ("15", "15")
    assert degrees(book, "2026-01-05 03:00", None) == ("15", "15")


def test_heating_goes_by_the_days_on_which_its_hours_begin() -> None:
    night = heating("15", hours_of("22:00", "06:00"), first=on("2026-01-05"), last=on("2026-01-05"))
    book = a_book_with(a_temperature("18", "12"), offers=(night,))

    assert degrees(book, "2026-01-05 03:00") == ("12", "12")
    assert degrees(book, "2026-01-05 23:00") == ("15", "15")
    assert degrees(book, "2026-01-06 03:00") == ("15", "15")
    assert degrees(book, "2026-01-06 23:00") == ("12", "12")


def test_a_reading_goes_before_heating() -> None:
    measured = Reading(at=at("2026-01-05 03:10"), celsius=Decimal(10))
    offers = (heating("15", hours_of("00:00", "08:00")),)
    book = a_book_with(a_temperature("18", "12"), offers=offers, readings=(measured,))

    assert degrees(book, "2026-01-05 03:00") == ("10", "10")


@pytest.mark.parametrize(
    "changes", [{"taken": False}, {"kind": "overtime"}, {"celsius": None}, {"heated": ()}]
)
def test_what_is_only_offered_or_no_heating_warms_nothing(changes: dict[str, Any]) -> None:
    offer = replace(heating("15", hours_of("00:00", "08:00")), **changes)
    book = a_book_with(a_temperature("18", "12"), offers=(offer,))

    assert degrees(book, "2026-01-05 03:00") == ("12", "12")
    assert len(heating_of(book)) == (changes == {"heated": ()})


def test_days_that_are_alike_are_the_same() -> None:
    climate = Climate(a_book_with(a_temperature("18", "12")))

    assert climate.day(BAY, on("2026-01-05")) is climate.day(BAY, on("2026-01-12"))
