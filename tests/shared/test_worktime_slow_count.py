"""Working time against a slow count, minute by minute, that knows only what the wall shows.

A minute is worked if the wall clock has by then shown the opening, and from then on still shows
some time before the closing. That says, without a word on offsets, what happens to an opening or
a closing in an hour that is missing or comes twice.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import accumulate
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.worktime import (
    Break,
    DateSpan,
    HolidayRule,
    Shift,
    Span,
    Spans,
    WorkCalendar,
    add_working,
    open_spans,
    subtract_working,
    working_seconds,
)

MINUTE = timedelta(minutes=1)
DAY = timedelta(days=1)
MARGIN = 2 * DAY

# Zone and a day on or near which its clock changes, from the tz database: north and south of the
# equator, by a whole hour and by half of one, at night and at midnight, and far ahead.
CHANGES = [
    ("Europe/London", date(2027, 3, 28)),
    ("Europe/London", date(2027, 10, 31)),
    ("Europe/London", date(2041, 3, 31)),
    ("Australia/Adelaide", date(2027, 4, 4)),
    ("Australia/Adelaide", date(2027, 10, 3)),
    ("Australia/Lord_Howe", date(2027, 4, 4)),
    ("Australia/Lord_Howe", date(2027, 10, 3)),
    ("America/St_Johns", date(2027, 3, 14)),
    ("America/St_Johns", date(2027, 11, 7)),
    ("America/Santiago", date(2026, 9, 6)),
    ("America/Santiago", date(2027, 4, 4)),
    ("Asia/Kolkata", date(2027, 3, 28)),
]

# Banking and Financial Dealings Act 1971, Schedule 1: Good Friday and Easter Monday.
EASTER_2027 = {date(2027, 3, 26), date(2027, 3, 29)}
ENGLAND = HolidayRule(country="GB", subdivision="ENG")


@dataclass(frozen=True, kw_only=True)
class Case:
    calendar: WorkCalendar
    start: datetime
    end: datetime


clock_times = st.integers(0, 95).map(lambda quarter: time(quarter // 4, quarter % 4 * 15))


@st.composite
def _breaks(draw: st.DrawFn) -> Break:
    """Draw a break that lies outside the hours in which clocks change."""
    start = draw(st.integers(4 * 60, 22 * 60))
    end = start + draw(st.integers(5, 100))
    return Break(start=time(start // 60, start % 60), end=time(end // 60, end % 60))


shifts = st.builds(
    Shift,
    days=st.lists(st.integers(0, 6), unique=True, min_size=2).map(tuple),
    start=clock_times,
    end=clock_times,
    breaks=st.lists(_breaks(), max_size=2).map(tuple),
)


@st.composite
def _cases(draw: st.DrawFn) -> Case:
    zone, day = draw(st.sampled_from(CHANGES))
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
    start = noon + draw(st.integers(-3 * 1440, 1440)) * MINUTE
    end = start + draw(st.integers(0, 3 * 1440)) * MINUTE
    spans = st.lists(
        st.tuples(st.integers(-3 * 1440, 4 * 1440), st.integers(1, 1440)).map(
            lambda pair: Span(
                start=noon + pair[0] * MINUTE, end=noon + (pair[0] + pair[1]) * MINUTE
            )
        ),
        max_size=3,
    ).map(tuple)
    first = day + draw(st.integers(-3, 3)) * DAY
    closures = (DateSpan(first=first, last=first + draw(st.integers(0, 1)) * DAY),)
    calendar = WorkCalendar(
        zone=zone,
        shifts=draw(st.lists(shifts, min_size=1, max_size=2).map(tuple)),
        holidays=draw(st.sampled_from([None, ENGLAND])) if day == date(2027, 3, 28) else None,
        closed=draw(st.sampled_from([(), closures])),
        away=draw(spans),
        extra=draw(spans),
        available=draw(st.none() | spans),
    )
    return Case(calendar=calendar, start=start, end=end)


@dataclass(frozen=True, kw_only=True)
class Wall:
    """What the wall clock shows at a minute, showed at most till then, shows at least later."""

    shown: list[datetime]
    latest_so_far: list[datetime]
    earliest_to_come: list[datetime]


def _wall(zone: str, minutes: list[datetime]) -> Wall:
    shown = [minute.astimezone(ZoneInfo(zone)).replace(tzinfo=None) for minute in minutes]
    return Wall(
        shown=shown,
        latest_so_far=list(accumulate(shown, max)),
        earliest_to_come=list(accumulate(reversed(shown), min))[::-1],
    )


def _is_inside(wall: Wall, index: int, opens: datetime, closes: datetime) -> bool:
    return wall.latest_so_far[index] >= opens and wall.earliest_to_come[index] < closes


def _stretches(shift: Shift, day: date) -> list[tuple[datetime, datetime]]:
    """Cut the shift that opens on a day at its breaks, in wall-clock time."""
    opens = datetime.combine(day, shift.start)
    closes = datetime.combine(day, shift.end)
    if closes <= opens:
        closes += DAY
    pieces = [(opens, closes)]
    for pause in shift.breaks:
        starts = datetime.combine(day, pause.start)
        if closes.date() > day and starts < opens:
            starts += DAY
        ends = datetime.combine(starts.date(), pause.end)
        pieces = [
            piece
            for opens_at, closes_at in pieces
            for piece in (
                (opens_at, min(closes_at, starts)),
                (max(opens_at, ends), closes_at),
            )
            if piece[0] < piece[1]
        ]
    return pieces


def _is_shut(calendar: WorkCalendar, day: date) -> bool:
    holiday = calendar.holidays is not None and day in EASTER_2027
    return holiday or any(days.first <= day <= days.last for days in calendar.closed)


def _covers(spans: Spans, minute: datetime) -> bool:
    return any(span.start <= minute < span.end for span in spans)


def _worked_minutes(case: Case) -> list[datetime]:
    calendar = case.calendar
    first, length = case.start - MARGIN, (case.end - case.start + 2 * MARGIN) // MINUTE
    minutes = [first + count * MINUTE for count in range(length)]
    wall = _wall(calendar.zone, minutes)
    days = sorted({shown.date() for shown in wall.shown})
    stretches = [
        stretch
        for day in days
        for shift in calendar.shifts
        if day.weekday() in shift.days and not _is_shut(calendar, day)
        for stretch in _stretches(shift, day)
    ]
    return [
        minute
        for index, minute in enumerate(minutes)
        if case.start <= minute < case.end
        and not _covers(calendar.away, minute)
        and (
            _covers(calendar.extra, minute)
            or (
                (calendar.available is None or _covers(calendar.available, minute))
                and any(_is_inside(wall, index, *stretch) for stretch in stretches)
            )
        )
    ]


def _minutes_of(spans: Spans) -> list[datetime]:
    return [
        span.start + count * MINUTE
        for span in spans
        for count in range((span.end - span.start) // MINUTE)
    ]


@settings(max_examples=150)
@given(_cases())
def test_open_hours_are_the_minutes_that_a_slow_count_finds(case: Case) -> None:
    found = open_spans(case.calendar, case.start, case.end)
    worked = _worked_minutes(case)
    assert _minutes_of(found) == worked
    assert working_seconds(case.calendar, case.start, case.end) == 60 * len(worked)


amounts = st.integers(1, 12 * 3600)
offsets = st.integers(0, 2 * 86400)


def _regular(case: Case) -> WorkCalendar:
    """Give the case's calendar with hours to be had in every week."""
    return WorkCalendar(
        zone=case.calendar.zone, shifts=case.calendar.shifts, away=case.calendar.away
    )


@settings(max_examples=150)
@given(_cases(), amounts)
def test_added_time_ends_with_its_last_worked_second(case: Case, seconds: int) -> None:
    calendar = _regular(case)
    end = add_working(calendar, case.start, seconds)
    one_less = end - timedelta(seconds=1)
    assert working_seconds(calendar, case.start, end) == seconds
    assert working_seconds(calendar, case.start, one_less) == seconds - 1


@settings(max_examples=150)
@given(_cases(), amounts)
def test_subtracted_time_starts_with_its_first_worked_second(case: Case, seconds: int) -> None:
    calendar = _regular(case)
    start = subtract_working(calendar, case.end, seconds)
    one_later = start + timedelta(seconds=1)
    assert working_seconds(calendar, start, case.end) == seconds
    assert working_seconds(calendar, one_later, case.end) == seconds - 1


@settings(max_examples=100)
@given(_cases(), amounts, offsets)
def test_adding_and_subtracting_undo_each_other_and_keep_the_order(
    case: Case, seconds: int, later_seconds: int
) -> None:
    calendar = _regular(case)
    end = add_working(calendar, case.start, seconds)
    back = subtract_working(calendar, end, seconds)
    assert back >= case.start
    assert working_seconds(calendar, case.start, back) == 0
    assert add_working(calendar, back, seconds) == end
    later = case.start + timedelta(seconds=later_seconds)
    assert add_working(calendar, later, seconds) >= end
    assert add_working(calendar, case.start, seconds + later_seconds) >= end
    assert subtract_working(calendar, end + (later - case.start), seconds) >= back
    assert subtract_working(calendar, end, seconds + later_seconds) <= back
