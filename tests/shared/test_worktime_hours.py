"""Working hours of calendars, against published examples and days counted out by hand."""

import subprocess
import sys
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from shared.worktime import (
    Break,
    DateSpan,
    HolidayRule,
    NoWorkingTime,
    Shift,
    Span,
    Spans,
    UnknownCalendar,
    UnknownZone,
    WorkCalendar,
    access_spans,
    add_working,
    local_instant,
    open_spans,
    shift_spans,
    subtract_working,
    total_seconds,
    working_seconds,
)

LONDON = ZoneInfo("Europe/London")
HOUR = 3600
WORKDAYS = (0, 1, 2, 3, 4)
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
NOON_BREAK = Break(start=time(12), end=time(13))
DAY_SHIFT = Shift(days=WORKDAYS, start=time(8), end=time(17), breaks=(NOON_BREAK,))
NIGHT_SHIFT = Shift(days=EVERY_DAY, start=time(22), end=time(6))
ENGLAND = HolidayRule(country="GB", subdivision="ENG")
MONDAY = date(2026, 6, 8)


def _wall(text: str) -> datetime:
    """Read London wall-clock time, "2026-06-08 08:00"."""
    return datetime.fromisoformat(text).replace(tzinfo=LONDON)


def _span(start: str, end: str) -> Span:
    return Span(start=_wall(start), end=_wall(end))


def _day(*hours: str, day: date = MONDAY) -> Spans:
    """Read "08:00-12:00" on a day in London."""
    return tuple(
        _span(f"{day} {start}", f"{day} {end}")
        for start, end in (entry.split("-") for entry in hours)
    )


def _workshop(*shifts: Shift, **more: object) -> WorkCalendar:
    return WorkCalendar(zone="Europe/London", shifts=shifts or (DAY_SHIFT,), **more)  # type: ignore[arg-type]


def _open(calendar: WorkCalendar, day: date = MONDAY) -> Spans:
    return open_spans(calendar, _wall(f"{day} 00:00"), _wall(f"{day + timedelta(days=1)} 00:00"))


def _in_one_go(calendar: WorkCalendar, minutes: int = 60) -> Spans:
    start, end = _wall("2026-06-08 00:00"), _wall("2026-06-09 00:00")
    return shift_spans(calendar, start, end, bridged_break_minutes=minutes)


# M.A. Uddin, J. Gaber, P. Petitjean, F. Cortinovis, "An expert-informed multi-scale synthetic
# benchmark dataset for calendar-aware RCPSP", Data in Brief 69 (2026) 113256: work from 08:00 to
# 17:00 with a break from 12:00 to 13:00, Monday to Friday.
def test_published_day_of_6_93_hours() -> None:
    calendar = _workshop()
    seconds = int(Decimal("6.93") * HOUR)
    start, end = _wall("2025-01-06 08:00"), _wall("2025-01-06 15:55:48")
    assert add_working(calendar, start, seconds) == end
    assert subtract_working(calendar, end, seconds) == start
    assert working_seconds(calendar, start, end) == seconds


def test_published_three_hours_from_friday_are_done_on_monday() -> None:
    calendar = _workshop()
    friday, monday = _wall("2025-01-10 15:00"), _wall("2025-01-13 09:00")
    assert add_working(calendar, friday, 3 * HOUR) == monday
    assert subtract_working(calendar, monday, 3 * HOUR) == friday
    assert [total_seconds((span,)) for span in open_spans(calendar, friday, monday)] == [
        2 * HOUR,
        1 * HOUR,
    ]


# Directive 2000/84/EC: the clocks change on 28 March and 31 October 2027.
@pytest.mark.parametrize(
    ("evening", "hours"),
    [
        ("2027-03-26", 8),
        ("2027-03-27", 7),
        ("2027-03-28", 8),
        ("2027-10-29", 8),
        ("2027-10-30", 9),
        ("2027-10-31", 8),
    ],
)
@pytest.mark.parametrize("zone", ["Europe/London", "Europe/Berlin"])
def test_night_shift_has_7_or_9_hours_when_the_clock_changes(
    zone: str, evening: str, hours: int
) -> None:
    opens = date.fromisoformat(evening)
    start = local_instant(opens, time(12), zone, opening=True)
    end = local_instant(opens + timedelta(days=1), time(12), zone, opening=True)
    (night,) = access_spans(zone, (NIGHT_SHIFT,), start, end)
    assert night.start == local_instant(opens, time(22), zone, opening=True)
    assert total_seconds((night,)) == hours * HOUR


def test_48_hours_of_cure_over_the_change_end_an_hour_later_on_the_wall() -> None:
    done = _wall("2027-03-27 16:00").astimezone(UTC) + timedelta(hours=48)
    assert done == _wall("2027-03-29 17:00")


@pytest.mark.parametrize(
    ("friday", "hours"), [("2027-03-26", 63), ("2027-10-29", 65), ("2027-06-11", 64)]
)
def test_a_weekend_lasts_63_to_65_hours(friday: str, hours: int) -> None:
    opens = date.fromisoformat(friday)
    start = local_instant(opens, time(16), "Europe/London", opening=False)
    end = local_instant(opens + timedelta(days=3), time(8), "Europe/London", opening=True)
    assert end - start == timedelta(hours=hours)
    assert working_seconds(_workshop(Shift(days=EVERY_DAY, start=time(0), end=time(0))), start, end)


def test_a_shift_round_the_clock_is_one_span_over_the_change() -> None:
    calendar = _workshop(Shift(days=EVERY_DAY, start=time(0), end=time(0)))
    (whole,) = open_spans(calendar, _wall("2027-03-27 00:00"), _wall("2027-03-30 00:00"))
    assert total_seconds((whole,)) == 71 * HOUR


def test_hours_over_midnight_belong_to_the_day_they_open() -> None:
    friday_night = Shift(days=(4,), start=time(22), end=time(6))
    start, end = _wall("2026-06-08 00:00"), _wall("2026-06-15 00:00")
    night = (_span("2026-06-12 22:00", "2026-06-13 06:00"),)
    assert access_spans("Europe/London", (friday_night,), start, end) == night
    closed_saturday = _workshop(
        friday_night, closed=(DateSpan(first=date(2026, 6, 13), last=date(2026, 6, 13)),)
    )
    assert open_spans(closed_saturday, start, end) == night
    closed_friday = _workshop(
        friday_night, closed=(DateSpan(first=date(2026, 6, 12), last=date(2026, 6, 12)),)
    )
    assert open_spans(closed_friday, start, end) == ()


def test_a_sunday_night_shift_reaches_into_the_next_week() -> None:
    sunday_night = _workshop(Shift(days=(6,), start=time(22), end=time(6)))
    assert _open(sunday_night) == _day("00:00-06:00")


def test_breaks_are_taken_out_and_breaks_outside_do_nothing() -> None:
    shift = Shift(
        days=WORKDAYS,
        start=time(8),
        end=time(17),
        breaks=(
            NOON_BREAK,
            Break(start=time(6), end=time(7)),
            Break(start=time(7), end=time(8, 15)),
            Break(start=time(16, 30), end=time(18)),
        ),
    )
    assert _open(_workshop(shift)) == _day("08:15-12:00", "13:00-16:30")


def test_breaks_of_a_night_lie_before_at_and_after_midnight() -> None:
    breaks = (
        Break(start=time(22, 30), end=time(22, 45)),
        Break(start=time(23, 50), end=time(0, 20)),
        Break(start=time(4), end=time(4, 30)),
    )
    night = Shift(days=(0,), start=time(22), end=time(6), breaks=breaks)
    start, end = _wall("2026-06-08 12:00"), _wall("2026-06-09 12:00")
    assert open_spans(_workshop(night), start, end) == (
        _span("2026-06-08 22:00", "2026-06-08 22:30"),
        _span("2026-06-08 22:45", "2026-06-08 23:50"),
        _span("2026-06-09 00:20", "2026-06-09 04:00"),
        _span("2026-06-09 04:30", "2026-06-09 06:00"),
    )


@pytest.mark.parametrize(
    ("start", "end"),
    [
        (time(0, 45), time(1, 15)),
        (time(1, 15), time(1, 45)),
        (time(1, 45), time(2, 15)),
    ],
)
def test_a_break_keeps_its_length_in_the_doubled_hour(start: time, end: time) -> None:
    # Directive 2000/84/EC: the hour from 01:00 comes twice on 31 October 2027.
    pause = Break(start=start, end=end)
    night = _workshop(Shift(days=(5,), start=time(22), end=time(6), breaks=(pause,)))
    evening, morning = _wall("2027-10-30 12:00"), _wall("2027-10-31 12:00")
    assert working_seconds(night, evening, morning) == 9 * HOUR - 1800


@pytest.mark.parametrize(
    ("start", "end", "minutes"),
    [
        (time(0, 45), time(1, 15), 15),
        (time(1, 15), time(1, 45), 0),
        (time(1, 45), time(2, 15), 15),
    ],
)
def test_a_break_loses_what_the_missing_hour_swallows(start: time, end: time, minutes: int) -> None:
    pause = Break(start=start, end=end)
    night = _workshop(Shift(days=(5,), start=time(22), end=time(6), breaks=(pause,)))
    evening, morning = _wall("2027-03-27 12:00"), _wall("2027-03-28 12:00")
    assert working_seconds(night, evening, morning) == 7 * HOUR - 60 * minutes


def test_a_shift_inside_the_missing_hour_is_not_worked() -> None:
    short = _workshop(Shift(days=(6,), start=time(1, 10), end=time(1, 50)))
    assert _open(short, date(2027, 3, 28)) == ()
    assert total_seconds(_open(short, date(2027, 10, 31))) == 100 * 60


def test_holidays_and_closures_shut_the_shift() -> None:
    # Banking and Financial Dealings Act 1971, Schedule 1: 28 December 2026 for Saturday 26th.
    calendar = _workshop(
        holidays=ENGLAND, closed=(DateSpan(first=date(2026, 12, 29), last=date(2027, 1, 3)),)
    )
    start, end = _wall("2026-12-24 00:00"), _wall("2027-01-05 00:00")
    worked = {span.start.date() for span in open_spans(calendar, start, end)}
    assert worked == {date(2026, 12, 24), date(2027, 1, 4)}


def test_leave_stands_above_overtime_and_overtime_above_part_time() -> None:
    calendar = _workshop(
        available=_day("08:00-15:00"),
        extra=_day("14:30-20:00"),
        away=_day("09:00-10:00", "19:00-21:00"),
    )
    assert _open(calendar) == _day("08:00-09:00", "10:00-12:00", "13:00-19:00")


def test_overtime_is_worked_on_a_holiday_too() -> None:
    new_year = date(2027, 1, 1)
    calendar = _workshop(holidays=ENGLAND, extra=_day("09:00-11:00", day=new_year))
    assert _open(calendar, new_year) == _day("09:00-11:00", day=new_year)


def test_who_is_available_at_no_time_works_only_overtime() -> None:
    assert _open(_workshop(available=())) == ()
    assert _open(_workshop(available=(), extra=_day("09:00-11:00"))) == _day("09:00-11:00")


def test_loose_spans_are_put_in_order() -> None:
    jumbled = _day("15:00-16:00", "09:00-10:00", "10:00-11:00")
    assert _workshop(away=jumbled) == _workshop(away=_day("09:00-11:00", "15:00-16:00"))
    assert _open(_workshop(away=jumbled)) == _day(
        "08:00-09:00", "11:00-12:00", "13:00-15:00", "16:00-17:00"
    )


def test_short_breaks_are_bridged_and_long_ones_split() -> None:
    assert _in_one_go(_workshop()) == _day("08:00-17:00")
    assert _in_one_go(_workshop(), 59) == _day("08:00-12:00", "13:00-17:00")
    assert _in_one_go(_workshop(), 0) == _open(_workshop())


def test_breaks_that_touch_are_one_break() -> None:
    two = (Break(start=time(12), end=time(12, 40)), Break(start=time(12, 40), end=time(13, 20)))
    shift = Shift(days=WORKDAYS, start=time(8), end=time(17), breaks=two)
    assert _in_one_go(_workshop(shift)) == _day("08:00-12:00", "13:20-17:00")


def test_only_breaks_are_bridged() -> None:
    split_shift = (
        Shift(days=WORKDAYS, start=time(8), end=time(12)),
        Shift(days=WORKDAYS, start=time(12, 30), end=time(17)),
    )
    assert _in_one_go(_workshop(*split_shift)) == _day("08:00-12:00", "12:30-17:00")
    assert _in_one_go(_workshop(away=_day("10:00-10:30"))) == _day("08:00-10:00", "10:30-17:00")
    assert _in_one_go(_workshop(away=_day("12:30-13:30"))) == _day("08:00-12:00", "13:30-17:00")


def test_nobody_starts_or_ends_a_shift_with_a_break() -> None:
    assert _in_one_go(_workshop(away=_day("13:00-17:00"))) == _day("08:00-12:00")
    assert _in_one_go(_workshop(available=_day("12:10-17:00"))) == _day("13:00-17:00")


def test_overtime_that_touches_a_shift_joins_it() -> None:
    assert _in_one_go(_workshop(extra=_day("17:00-19:00"))) == _day("08:00-19:00")
    assert _in_one_go(_workshop(extra=_day("17:01-19:00"))) == _day("08:00-17:00", "17:01-19:00")


def test_no_work_at_all_ends_where_it_starts() -> None:
    sunday = _wall("2026-06-07 10:00")
    assert add_working(_workshop(), sunday, 0) == sunday
    assert subtract_working(_workshop(), sunday, 0) == sunday
    assert working_seconds(_workshop(), sunday, sunday) == 0
    assert open_spans(_workshop(), sunday + timedelta(days=9), sunday) == ()


def test_a_whole_day_ends_at_closing_time_not_the_next_morning() -> None:
    assert add_working(_workshop(), _wall("2026-06-08 08:00"), 8 * HOUR) == _wall(
        "2026-06-08 17:00"
    )
    assert subtract_working(_workshop(), _wall("2026-06-09 08:00"), 8 * HOUR) == _wall(
        "2026-06-08 08:00"
    )


def test_answers_are_in_utc() -> None:
    start = _wall("2026-06-08 08:00")
    for answer in (
        add_working(_workshop(), start, 0),
        add_working(_workshop(), start, HOUR),
        subtract_working(_workshop(), start, HOUR),
    ):
        assert answer.tzinfo is UTC


def test_a_long_way_there_and_back() -> None:
    calendar = _workshop(holidays=ENGLAND)
    start = _wall("2036-01-02 08:00")
    end = add_working(calendar, start, 4000 * HOUR)
    assert working_seconds(calendar, start, end) == 4000 * HOUR
    assert subtract_working(calendar, end, 4000 * HOUR) == start


def test_too_little_working_time_in_five_years_is_told() -> None:
    start = _wall("2026-06-08 08:00")
    for calendar in (
        _workshop(available=()),
        _workshop(closed=(DateSpan(first=date(2000, 1, 1), last=date(2050, 1, 1)),)),
        WorkCalendar(zone="Europe/London", shifts=()),
    ):
        with pytest.raises(NoWorkingTime):
            add_working(calendar, start, 1)
        with pytest.raises(NoWorkingTime):
            subtract_working(calendar, start, 1)
    with pytest.raises(NoWorkingTime):
        add_working(_workshop(), start, 6 * 366 * 8 * HOUR)


def test_the_last_day_of_five_years_is_still_looked_at() -> None:
    """Five calendar years hold 1826 days at least: overtime on the last day of 2030 is in them."""
    start, end = _wall("2026-01-01 00:00"), _wall("2030-12-31 12:00")
    last = Span(start=end - timedelta(hours=1), end=end)
    only = WorkCalendar(zone="Europe/London", shifts=(), extra=(last,))

    assert add_working(only, start, HOUR) == end
    first = Span(start=start, end=start + timedelta(hours=1))
    only = WorkCalendar(zone="Europe/London", shifts=(), extra=(first,))
    assert subtract_working(only, _wall("2031-01-01 00:00"), HOUR) == start


def test_nonsense_is_refused() -> None:
    start = _wall("2026-06-08 08:00")
    with pytest.raises(ValueError, match="negative"):
        add_working(_workshop(), start, -1)
    with pytest.raises(ValueError, match="negative"):
        subtract_working(_workshop(), start, -1)
    with pytest.raises(ValueError, match="days"):
        Shift(days=(7,), start=time(8), end=time(17))
    with pytest.raises(ValueError, match="break"):
        Break(start=time(12), end=time(12))
    with pytest.raises(ValueError, match="without a zone"):
        working_seconds(_workshop(), start.replace(tzinfo=None), start)


def test_unknown_zones_and_countries_are_told_when_hours_are_asked_for() -> None:
    start, end = _wall("2026-06-08 08:00"), _wall("2026-06-09 08:00")
    with pytest.raises(UnknownZone):
        open_spans(WorkCalendar(zone="Europe/Lundon", shifts=(DAY_SHIFT,)), start, end)
    with pytest.raises(UnknownCalendar):
        open_spans(_workshop(holidays=HolidayRule(country="XX")), start, end)


def test_importing_working_time_imports_no_package_but_our_own() -> None:
    code = (
        "import sys; before = set(sys.modules); import shared.worktime; "
        "roots = {name.partition('.')[0] for name in set(sys.modules) - before}; "
        "print(*sorted(roots - set(sys.stdlib_module_names)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    # zoneinfo asks how Python was built, and that file's name is no module's of the library.
    packages = [name for name in run.stdout.split() if not name.startswith("_sysconfigdata")]
    assert packages == ["shared"]
