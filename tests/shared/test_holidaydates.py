"""Holidays against the dates of the laws (named in holiday_laws)."""

from datetime import date, timedelta

import pytest
from dateutil.easter import easter

from shared.holidaydates import (
    HolidayRule,
    UnknownCalendar,
    holiday_dates,
    is_holiday,
    is_known,
)
from tests.shared.holiday_laws import (
    ALL_DAYS,
    ALSACE,
    CATHOLIC_BAVARIA,
    ENGLAND,
    ENGLAND_ON_WEEKDAYS,
    FRANCE,
    NORWAY,
)

STRANGERS = [
    HolidayRule(country="XX"),
    HolidayRule(country=""),
    HolidayRule(country="gb"),
    HolidayRule(country="HolidayBase"),
    HolidayRule(country="GB", subdivision="BY"),
    HolidayRule(country="GB", subdivision=""),
    HolidayRule(country="GB", subdivision="ENG", categories=("catholic",)),
    HolidayRule(country="DE", subdivision="BY", categories=("catholic", "parish")),
]


@pytest.mark.parametrize("year", [2026, 2027])
def test_england_keeps_the_days_of_the_act_on_weekdays(year: int) -> None:
    found = {day for day in holiday_dates(ENGLAND, year) if day.weekday() < 5}
    assert found == ENGLAND_ON_WEEKDAYS[year]
    assert len(found) == 8


@pytest.mark.parametrize(("rule", "year"), ALL_DAYS)
def test_days_of_the_law_are_kept_and_no_others(rule: HolidayRule, year: int) -> None:
    assert holiday_dates(rule, year) == ALL_DAYS[rule, year]


def test_numbers_of_days_are_those_of_the_laws() -> None:
    assert [len(holiday_dates(rule, 2026)) for rule in (FRANCE, ALSACE, NORWAY)] == [11, 13, 12]
    assert len(holiday_dates(CATHOLIC_BAVARIA, 2026)) == 13


@pytest.mark.parametrize("year", [2036, 2037, 2046])
def test_years_far_ahead_follow_easter(year: int) -> None:
    # Banking and Financial Dealings Act 1971 Sch. 1; Act of 24 February 1995 no. 12 s. 2.
    sunday = easter(year)
    assert is_holiday(ENGLAND, sunday + timedelta(days=1))
    assert is_holiday(NORWAY, sunday - timedelta(days=3))
    assert is_holiday(NORWAY, sunday + timedelta(days=39))
    assert not is_holiday(ENGLAND, sunday - timedelta(days=3))
    assert sum(day.weekday() < 5 for day in holiday_dates(ENGLAND, year)) == 8


def test_easter_sundays_are_as_tabulated() -> None:
    # Book of Common Prayer, tables to find Easter: the paschal full moon's Sunday.
    assert [easter(2026), easter(2027)] == [date(2026, 4, 5), date(2027, 3, 28)]


def test_a_holiday_kept_in_the_year_before_is_found_there() -> None:
    # 5 U.S.C. 6103(b): 1 January 2028 is a Saturday, so it is kept on Friday 31 December 2027.
    assert is_holiday(HolidayRule(country="US"), date(2027, 12, 31))


def test_england_is_not_the_whole_kingdom() -> None:
    easter_monday = date(2026, 4, 6)
    assert is_holiday(ENGLAND, easter_monday)
    assert not is_holiday(HolidayRule(country="GB"), easter_monday)
    assert not is_holiday(HolidayRule(country="GB", subdivision="SCT"), easter_monday)


@pytest.mark.parametrize("rule", STRANGERS)
def test_what_is_not_known_is_refused(rule: HolidayRule) -> None:
    assert not is_known(rule)
    with pytest.raises(UnknownCalendar) as caught:
        holiday_dates(rule, 2026)
    assert caught.value.rule == rule


@pytest.mark.parametrize("rule", [ENGLAND, FRANCE, ALSACE, NORWAY, CATHOLIC_BAVARIA])
def test_what_is_used_here_is_known(rule: HolidayRule) -> None:
    assert is_known(rule)
