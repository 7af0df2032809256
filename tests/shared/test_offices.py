"""Notices at an office: its days, its clock and its closing time.

Days as in test_clear_days, counted out by hand on the holidays of the laws; two clear working
days are what the police in Great Britain want (SI 2003/1998, from memory). That an office closes
at 17:00 and that what comes later counts for the next day is common practice, no source.
"""

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.holidaydates import HolidayRule
from shared.trade import figure
from shared.worktime import (
    DayCalendar,
    Office,
    answered_by,
    is_in_time,
    is_working_day,
    notice_before,
    received_on,
    working_days_before,
)
from tests.shared.holiday_laws import ALSACE, BAVARIA, ENGLAND, FRANCE, NORWAY

ZONES = {
    ENGLAND: "Europe/London",
    FRANCE: "Europe/Paris",
    ALSACE: "Europe/Paris",
    NORWAY: "Europe/Oslo",
    BAVARIA: "Europe/Berlin",
}
# Rows CW01 to CW10 of the table of clear working days.
NOTICES = {
    "CW01": (ENGLAND, 2, "2026-12-29", "2026-12-22"),
    "CW02": (ENGLAND, 2, "2027-04-01", "2027-03-25"),
    "CW03": (ENGLAND, 2, "2027-03-30", "2027-03-23"),
    "CW04": (ENGLAND, 5, "2027-01-04", "2026-12-22"),
    "CW05": (FRANCE, 2, "2026-04-08", "2026-04-02"),
    "CW05 Alsace": (ALSACE, 2, "2026-04-08", "2026-04-01"),
    "CW06": (FRANCE, 5, "2026-05-18", "2026-05-06"),
    "CW07": (NORWAY, 2, "2026-04-07", "2026-03-30"),
    "CW08": (NORWAY, 2, "2027-05-18", "2027-05-12"),
    "CW09": (BAVARIA, 2, "2026-06-08", "2026-06-02"),
    "CW10": (BAVARIA, 2, "2027-01-08", "2027-01-04"),
}
ANSWERS = {
    "CW11": (ENGLAND, "2026-12-18", "2027-01-06"),
    "CW12": (BAVARIA, "2026-12-18", "2027-01-05"),
    "CW13": (FRANCE, "2027-03-19", "2027-04-05"),
    "CW14": (NORWAY, "2026-03-26", "2026-04-14"),
}


def office(rule: HolidayRule) -> Office:
    return Office(days=DayCalendar(holidays=rule), zone=ZONES[rule])


def local(rule: HolidayRule, text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONES[rule]))


@pytest.mark.parametrize("row", NOTICES)
@pytest.mark.parametrize("hour", ["00:00", "06:00", "23:45"])
def test_a_notice_is_counted_from_the_day_of_the_move(row: str, hour: str) -> None:
    rule, n, move, last = NOTICES[row]
    assert notice_before(office(rule), local(rule, f"{move}T{hour}"), n).isoformat() == last


@pytest.mark.parametrize("row", NOTICES)
def test_it_counts_until_the_office_closes(row: str) -> None:
    rule, n, move, last = NOTICES[row]
    event = local(rule, f"{move}T06:00")

    assert is_in_time(office(rule), local(rule, f"{last}T16:59"), event, n)
    assert not is_in_time(office(rule), local(rule, f"{last}T17:00"), event, n)


@pytest.mark.parametrize("row", ANSWERS)
def test_ten_working_days_to_answer_end_with_the_day(row: str) -> None:
    rule, given_on, last = ANSWERS[row]
    end = answered_by(office(rule), local(rule, f"{given_on}T11:00"), 10)

    assert end.astimezone(ZoneInfo(ZONES[rule])).time() == time(0)
    assert (end - local(rule, f"{last}T00:00")).total_seconds() == 24 * 3600


def test_two_clear_days_before_a_move_after_christmas() -> None:
    """WC09: Tuesday 29 December 2026, with the number of days that the police ask for."""
    clear = int(figure("TR03c").amount)
    assert notice_before(office(ENGLAND), local(ENGLAND, "2026-12-29T05:00"), clear) == date(
        2026, 12, 22
    )


@pytest.mark.parametrize(
    ("comes", "counts"),
    [
        ("2026-12-22T09:00", "2026-12-22"),
        ("2026-12-22T16:59:59", "2026-12-22"),
        ("2026-12-22T17:00", "2026-12-23"),
        ("2026-12-24T18:00", "2026-12-29"),  # Friday, Saturday, Sunday and Monday are closed
        ("2026-12-26T09:00", "2026-12-29"),
    ],
)
def test_what_comes_late_counts_for_the_next_working_day(comes: str, counts: str) -> None:
    assert received_on(office(ENGLAND), local(ENGLAND, comes)).isoformat() == counts


def test_the_day_is_that_of_the_office_not_of_the_road() -> None:
    """00:30 on Tuesday in Paris is still Monday in London: a day earlier."""
    move = local(FRANCE, "2027-06-15T00:30")

    assert notice_before(office(ENGLAND), move, 2) == date(2027, 6, 9)
    assert notice_before(office(FRANCE), move, 2) == date(2027, 6, 10)


def test_the_hour_of_closing_goes_with_the_clock() -> None:
    """16:30 UTC is before five in March and after it in April in London, 28 March 2027 between."""
    before = datetime.fromisoformat("2027-03-25T16:30+00:00")
    after = datetime.fromisoformat("2027-03-30T16:30+00:00")

    assert received_on(office(ENGLAND), before) == date(2027, 3, 25)
    assert received_on(office(ENGLAND), after) == date(2027, 3, 31)


@pytest.mark.parametrize(
    ("comes", "counts"),
    [("2027-10-31T01:29+00:00", "2027-10-31"), ("2027-10-31T01:30+00:00", "2027-11-01")],
)
def test_an_office_that_closes_in_the_hour_that_comes_twice_is_open_till_the_second(
    comes: str, counts: str
) -> None:
    """Half past one in London, first by summer time, then by UTC; common practice, no source."""
    days = DayCalendar(holidays=ENGLAND, weekdays=(0, 1, 2, 3, 4, 5, 6))
    night = Office(days=days, zone=ZONES[ENGLAND], closes=time(1, 30))

    assert received_on(night, datetime.fromisoformat(comes)).isoformat() == counts


def test_an_office_may_close_at_another_hour() -> None:
    early = Office(days=DayCalendar(holidays=ENGLAND), zone="Europe/London", closes=time(12))
    assert received_on(early, local(ENGLAND, "2027-06-10T12:00")) == date(2027, 6, 11)


def test_working_days_that_are_not_clear_count_the_day_of_notice() -> None:
    """Two working days before Tuesday 29 December 2026, the 28th kept for the 26th: Wed, Thu."""
    move = local(ENGLAND, "2026-12-29T06:00")

    assert working_days_before(office(ENGLAND), move, 2) == date(2026, 12, 23)
    assert working_days_before(office(ENGLAND), move, 1) == date(2026, 12, 24)
    assert working_days_before(office(ENGLAND), move, 0) == date(2026, 12, 29)
    sunday = local(ENGLAND, "2026-12-27T06:00")
    assert working_days_before(office(ENGLAND), sunday, 0) == date(2026, 12, 24)


def test_less_than_no_days_are_refused() -> None:
    for count in (notice_before, working_days_before, answered_by):
        with pytest.raises(ValueError, match="negative"):
            count(office(ENGLAND), local(ENGLAND, "2026-12-29T06:00"), -1)


@given(
    comes=st.datetimes(datetime(2026, 2, 1), datetime(2027, 11, 1)),
    rule=st.sampled_from(sorted(ZONES, key=repr)),
)
def test_a_later_notice_never_counts_for_an_earlier_day(comes: datetime, rule: HolidayRule) -> None:
    at = comes.replace(tzinfo=ZoneInfo(ZONES[rule]))
    here = office(rule)
    counts = received_on(here, at)

    assert is_working_day(here.days, counts)
    assert counts >= at.date()
    assert counts == at.date() or not is_working_day(here.days, at.date()) or at.hour >= 17
