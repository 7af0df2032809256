"""Counting working days, every answer counted out by hand on the holidays of the laws.

The laws are named in holiday_laws. Two clear working days are what the police in Great Britain
want to be told before an abnormal load moves, five the office for special orders: Road Vehicles
(Authorisation of Special Types) (General) Order 2003, SI 2003/1998 (from memory).
"""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.worktime import (
    DateSpan,
    DayCalendar,
    HolidayRule,
    NoWorkingTime,
    UnknownCalendar,
    clear_working_days_before,
    is_working_day,
    next_working_day,
    nth_working_day_after,
    previous_working_day,
    working_days_between,
    working_days_from,
)
from tests.shared.holiday_laws import (
    ALL_DAYS,
    ALSACE,
    BAVARIA,
    CATHOLIC_BAVARIA,
    ENGLAND,
    ENGLAND_ON_WEEKDAYS,
    FRANCE,
    NORWAY,
)

NOTICES = {
    "Christmas and its substitute": (ENGLAND, 2, date(2026, 12, 29), date(2026, 12, 22)),
    "after Easter": (ENGLAND, 2, date(2027, 4, 1), date(2027, 3, 25)),
    "right after Easter Monday": (ENGLAND, 2, date(2027, 3, 30), date(2027, 3, 23)),
    "over New Year": (ENGLAND, 5, date(2027, 1, 4), date(2026, 12, 22)),
    "Easter Monday": (FRANCE, 2, date(2026, 4, 8), date(2026, 4, 2)),
    "Good Friday in Alsace too": (ALSACE, 2, date(2026, 4, 8), date(2026, 4, 1)),
    "two Thursdays and a Friday": (FRANCE, 5, date(2026, 5, 18), date(2026, 5, 6)),
    "Maundy Thursday too": (NORWAY, 2, date(2026, 4, 7), date(2026, 3, 30)),
    "Constitution Day": (NORWAY, 2, date(2027, 5, 18), date(2027, 5, 12)),
    "Corpus Christi": (BAVARIA, 2, date(2026, 6, 8), date(2026, 6, 2)),
    "Epiphany": (BAVARIA, 2, date(2027, 1, 8), date(2027, 1, 4)),
}

ANSWERS = {
    "over Christmas": (ENGLAND, date(2026, 12, 18), date(2027, 1, 6)),
    "over Christmas, no substitutes": (BAVARIA, date(2026, 12, 18), date(2027, 1, 5)),
    "Good Friday is worked": (FRANCE, date(2027, 3, 19), date(2027, 4, 5)),
    "over Easter": (NORWAY, date(2026, 3, 26), date(2026, 4, 14)),
}

LAWFUL = {
    ENGLAND: ENGLAND_ON_WEEKDAYS[2026] | ENGLAND_ON_WEEKDAYS[2027],
    **{
        rule: ALL_DAYS[rule, 2026] | ALL_DAYS[rule, 2027]
        for rule in (FRANCE, ALSACE, NORWAY, BAVARIA, CATHOLIC_BAVARIA)
    },
}


def _office(rule: HolidayRule) -> DayCalendar:
    return DayCalendar(holidays=rule)


@pytest.mark.parametrize("case", NOTICES)
def test_latest_day_of_notice(case: str) -> None:
    rule, clear_days, event, notice = NOTICES[case]
    assert clear_working_days_before(_office(rule), event, clear_days) == notice


@pytest.mark.parametrize("case", NOTICES)
def test_a_day_later_is_too_late(case: str) -> None:
    rule, clear_days, event, notice = NOTICES[case]
    office = _office(rule)
    assert working_days_between(office, notice + timedelta(days=1), event) == clear_days
    too_late = next_working_day(office, notice)
    assert working_days_between(office, too_late + timedelta(days=1), event) == clear_days - 1


@pytest.mark.parametrize("case", ANSWERS)
def test_ten_working_days_to_answer(case: str) -> None:
    rule, pictures, due = ANSWERS[case]
    assert nth_working_day_after(_office(rule), pictures, 10) == due


@pytest.mark.parametrize(
    ("rule", "count"), [(ENGLAND, 41), (FRANCE, 42), (NORWAY, 42), (BAVARIA, 41)]
)
def test_working_days_of_two_months(rule: HolidayRule, count: int) -> None:
    assert working_days_between(_office(rule), date(2026, 12, 1), date(2027, 2, 1)) == count


def test_closures_of_a_supplier_come_on_top_of_the_law() -> None:
    # 24 and 31 December are holidays in none of the four laws.
    supplier = DayCalendar(
        holidays=ENGLAND,
        closed=(DateSpan(first=date(2026, 12, 24), last=date(2027, 1, 1)),),
    )
    assert is_working_day(_office(ENGLAND), date(2026, 12, 24))
    assert is_working_day(supplier, date(2026, 12, 23))
    assert next_working_day(supplier, date(2026, 12, 23)) == date(2027, 1, 4)
    assert previous_working_day(supplier, date(2027, 1, 4)) == date(2026, 12, 23)


def test_saturday_counts_only_where_the_office_says_so() -> None:
    saturday = date(2026, 6, 13)
    assert not is_working_day(_office(ENGLAND), saturday)
    assert is_working_day(DayCalendar(holidays=ENGLAND, weekdays=(0, 1, 2, 3, 4, 5)), saturday)


def test_no_days_to_answer_is_the_day_itself() -> None:
    sunday = date(2026, 6, 14)
    assert nth_working_day_after(_office(ENGLAND), sunday, 0) == sunday


def test_no_clear_day_still_wants_a_working_day_before() -> None:
    assert clear_working_days_before(_office(ENGLAND), date(2026, 12, 29), 0) == date(2026, 12, 24)


def test_nothing_lies_between_a_day_and_an_earlier_one() -> None:
    assert working_days_between(_office(ENGLAND), date(2026, 6, 9), date(2026, 6, 8)) == 0
    assert working_days_between(_office(ENGLAND), date(2026, 6, 8), date(2026, 6, 8)) == 0


def test_an_office_that_never_opens_is_told() -> None:
    never = DayCalendar(holidays=None, weekdays=())
    with pytest.raises(NoWorkingTime):
        next_working_day(never, date(2026, 6, 8))
    with pytest.raises(NoWorkingTime):
        clear_working_days_before(never, date(2026, 6, 8), 2)


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="negative"):
        nth_working_day_after(_office(ENGLAND), date(2026, 6, 8), -1)
    with pytest.raises(ValueError, match="negative"):
        clear_working_days_before(_office(ENGLAND), date(2026, 6, 8), -1)
    with pytest.raises(ValueError, match="weekdays"):
        DayCalendar(holidays=None, weekdays=(7,))
    with pytest.raises(ValueError, match="first day"):
        DateSpan(first=date(2026, 6, 9), last=date(2026, 6, 8))


def test_an_unknown_country_is_told() -> None:
    with pytest.raises(UnknownCalendar):
        is_working_day(_office(HolidayRule(country="XX")), date(2026, 6, 8))


@given(
    rule=st.sampled_from(sorted(LAWFUL, key=repr)),
    day=st.dates(date(2026, 3, 1), date(2027, 10, 1)),
    n=st.integers(0, 25),
)
def test_counting_agrees_with_a_list_of_worked_days(rule: HolidayRule, day: date, n: int) -> None:
    worked = [
        worked_day
        for worked_day in (date(2026, 1, 1) + timedelta(days=i) for i in range(730))
        if worked_day.weekday() < 5 and worked_day not in LAWFUL[rule]
    ]
    after = [worked_day for worked_day in worked if worked_day > day]
    before = [worked_day for worked_day in worked if worked_day < day]
    assert nth_working_day_after(_office(rule), day, n + 1) == after[n]
    assert clear_working_days_before(_office(rule), day, n) == before[-1 - n]
    until = day + timedelta(days=n)
    between = [worked_day for worked_day in worked if day <= worked_day < until]
    assert working_days_from(_office(rule), day, n) == between
    assert working_days_between(_office(rule), day, until) == len(
        [worked_day for worked_day in worked if day <= worked_day < until]
    )


def test_working_days_over_christmas_and_new_year_are_those_of_both_years() -> None:
    """25 and 28 December (for the 26th, a Saturday) and 1 January are bank holidays in England."""
    found = working_days_from(_office(ENGLAND), date(2026, 12, 21), 15)

    december = [date(2026, 12, day) for day in (21, 22, 23, 24, 29, 30, 31)]
    assert found == [*december, date(2027, 1, 4)]
    assert working_days_from(_office(ENGLAND), date(2026, 12, 25), 1) == []
    assert working_days_from(_office(ENGLAND), date(2026, 12, 24), 0) == []


def test_a_working_day_is_looked_for_five_years_far() -> None:
    """From 4 January 2027 five years are 1,826 days, 2028 being a leap year."""
    day, far = date(2027, 1, 4), date(2032, 1, 5)
    shut = DateSpan(first=day + timedelta(days=1), last=date(2032, 1, 4))
    office = DayCalendar(holidays=None, closed=(shut,))

    assert (far - day).days == 1827
    assert next_working_day(office, day) == far
