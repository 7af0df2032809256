"""Wall clocks on the days when they change.

Directive 2000/84/EC, articles 2 and 3, and the Summer Time Order 2002 (SI 2002/262): summer time
runs from 01:00 UTC on the last Sunday of March to 01:00 UTC on the last Sunday of October.
"""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from shared.worktime import UnknownZone, is_known_zone, local_instant

LONDON = "Europe/London"
SPRING = [date(2026, 3, 29), date(2027, 3, 28), date(2036, 3, 30), date(2046, 3, 25)]
AUTUMN = [date(2026, 10, 25), date(2027, 10, 31), date(2036, 10, 26), date(2046, 10, 28)]
# Offset from UTC in winter; Norway keeps the directive as part of the EEA agreement.
PLACES = {"Europe/London": 0, "Europe/Paris": 1, "Europe/Oslo": 1, "Europe/Berlin": 1}


def _length_hours(day: date, zone: str) -> float:
    midnight = local_instant(day, time(0), zone, opening=True)
    next_midnight = local_instant(day + timedelta(days=1), time(0), zone, opening=True)
    return (next_midnight - midnight) / timedelta(hours=1)


def _utc(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=UTC)


@pytest.mark.parametrize("zone", PLACES)
def test_days_of_change_have_23_and_25_hours(zone: str) -> None:
    assert [_length_hours(day, zone) for day in SPRING] == [23] * 4
    assert [_length_hours(day, zone) for day in AUTUMN] == [25] * 4
    for day in SPRING + AUTUMN:
        assert _length_hours(day - timedelta(days=1), zone) == 24
        assert _length_hours(day + timedelta(days=1), zone) == 24


@pytest.mark.parametrize("zone", PLACES)
@pytest.mark.parametrize("opening", [True, False])
def test_missing_hour_is_read_when_the_clock_jumps(zone: str, opening: bool) -> None:
    for day in SPRING:
        for minute in (0, 1, 30, 59):
            wall = time(1 + PLACES[zone], minute)
            assert local_instant(day, wall, zone, opening=opening) == _utc(day, 1)


@pytest.mark.parametrize("zone", PLACES)
def test_doubled_hour_opens_the_first_time_and_closes_the_second(zone: str) -> None:
    for day in AUTUMN:
        wall = time(1 + PLACES[zone], 30)
        assert local_instant(day, wall, zone, opening=True) == _utc(day, 0, 30)
        assert local_instant(day, wall, zone, opening=False) == _utc(day, 1, 30)


def test_half_an_hour_can_be_missing_and_doubled_too() -> None:
    # tz database: Lord Howe Island moves by half an hour, at 02:00 wall-clock time.
    zone = "Australia/Lord_Howe"
    spring, autumn = date(2027, 10, 3), date(2027, 4, 4)
    assert (_length_hours(spring, zone), _length_hours(autumn, zone)) == (23.5, 24.5)
    jump = datetime(2027, 10, 2, 15, 30, tzinfo=UTC)
    assert local_instant(spring, time(2, 15), zone, opening=True) == jump
    assert local_instant(spring, time(2, 30), zone, opening=True) == jump
    first = local_instant(autumn, time(1, 45), zone, opening=True)
    second = local_instant(autumn, time(1, 45), zone, opening=False)
    assert second - first == timedelta(minutes=30)


def test_a_day_that_was_left_out_is_one_instant() -> None:
    # tz database: Samoa went over the date line at the end of 29 December 2011.
    left_out = date(2011, 12, 30)
    for hour in (0, 12, 23):
        assert local_instant(left_out, time(hour), "Pacific/Apia", opening=True) == datetime(
            2011, 12, 30, 10, tzinfo=UTC
        )


def test_the_part_of_a_second_and_the_fold_are_not_looked_at() -> None:
    day = AUTUMN[0]
    wall = time(1, 30, 0, 5, fold=1)
    assert local_instant(day, wall, LONDON, opening=True) == _utc(day, 0, 30)


@pytest.mark.parametrize("name", ["UTC", "Europe/London", "Asia/Kolkata", "America/St_Johns"])
def test_places_are_known(name: str) -> None:
    assert is_known_zone(name)


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".",
        "Europe",
        "Europe/Lundon",
        "../UTC",
        "/etc/passwd",
        "a\x00b",
        "é",
        "localtime",
        "posixrules",
        "Factory",
        "right/UTC",
    ],
)
def test_what_is_no_place_is_refused(name: str) -> None:
    assert not is_known_zone(name)
    with pytest.raises(UnknownZone) as caught:
        local_instant(SPRING[0], time(8), name, opening=True)
    assert caught.value.name == name
