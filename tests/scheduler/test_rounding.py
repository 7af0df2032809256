"""Rounding once, towards safety: nothing on the grid is more than the book allows."""

from dataclasses import replace
from datetime import datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.grid import Grid, joined
from scheduler.normalise import Normal
from scheduler.normalise.people import person_calendar
from scheduler.problem import Span
from shared.book import Book, Booking, Kind, Leave
from shared.units import instant_of
from shared.worktime import Break, Shift, open_spans, shift_spans
from tests.builders import (
    NOW,
    a_book,
    a_floor,
    a_gate,
    a_job,
    a_person,
    a_place,
    a_stage,
    a_window,
    a_workshop,
    at,
)
from tests.scheduler.normals import aim_of, edges_of, normal_of, of_steps, room_of, stage_of

minutes = st.integers(0, 59)
moments = st.integers(0, 21 * 24 * 3600).map(lambda second: NOW + timedelta(seconds=second))
hours = st.decimals(min_value=Decimal("0.01"), max_value=60, places=2)


@st.composite
def shifts(draw: st.DrawFn) -> Shift:
    start = time(draw(st.integers(5, 9)), draw(minutes))
    end = time(draw(st.integers(15, 20)), draw(minutes))
    pause = Break(start=time(12, draw(minutes)), end=time(13, draw(minutes)))
    return Shift(days=(0, 1, 2, 3, 4), start=start, end=end, breaks=(pause,))


@st.composite
def stretches(draw: st.DrawFn) -> tuple[datetime, datetime]:
    start = draw(moments)
    return start, start + timedelta(minutes=draw(st.integers(1, 4000)))


def instants(normal: Normal, span: Span) -> tuple[datetime, datetime]:
    return instant_of(normal.origin, span[0]), instant_of(normal.origin, span[1])


@settings(max_examples=40, deadline=None)
@given(shifts(), st.lists(stretches(), max_size=3), moments)
def test_open_steps_and_shifts_lie_inside_the_real_ones(
    shift: Shift, away: list[tuple[datetime, datetime]], now: datetime
) -> None:
    leave = tuple(Leave(start=start, end=end) for start, end in away)
    person = a_person(hours=(shift,), leave=leave)
    book = replace(of_steps(a_stage("carve")), people=(person,))
    normal = normal_of(book, now)
    (worker,) = normal.problem.workers
    assert worker.calendar is not None
    calendar = normal.problem.calendars[worker.calendar]

    grid = Grid(origin=normal.origin, horizon=normal.problem.horizon, zone="Europe/London")
    real = person_calendar(book, person, grid)
    whole = shift_spans(real, now, grid.end, bridged_break_minutes=60)
    for spans, found in (
        (open_spans(real, now, grid.end), calendar.open),
        (whole, calendar.shifts),
    ):
        for span in found:
            start, end = instants(normal, span)
            assert any(one.start <= start and end <= one.end for one in spans)
    assert all(
        any(low <= start and end <= high for low, high in calendar.shifts)
        for start, end in calendar.open
    )


@settings(max_examples=40, deadline=None)
@given(st.lists(stretches(), max_size=4), moments)
def test_what_is_taken_covers_the_real_stretches(
    taken: list[tuple[datetime, datetime]], now: datetime
) -> None:
    bookings = tuple(Booking(start=start, end=end) for start, end in taken)
    book = replace(a_book(), places=(a_place(bookings=bookings), a_floor()))
    normal = normal_of(book, now)
    busy = [instants(normal, (start, end)) for start, end, _ in room_of(normal, "bay").busy]

    for start, end in taken:
        begun = max(start, normal.origin)
        assert begun >= end or any(low <= begun and end <= high for low, high in busy)


@settings(max_examples=40, deadline=None)
@given(hours, hours, hours)
def test_least_waits_are_no_shorter_and_greatest_no_longer(
    cure: Decimal, recoat: Decimal, work: Decimal
) -> None:
    book = of_steps(
        a_stage("one", Kind.COAT, hours=work, in_one_go=True, cure_hours=cure, recoat_hours=recoat),
        a_stage("two"),
    )
    normal = normal_of(book)
    stage, (edge,) = stage_of(normal, "one"), edges_of(normal, "one", "two")

    assert 0 <= stage.cure.least - Fraction(cure) * 4 < 1
    assert edge.most is not None
    assert 0 <= Fraction(recoat) * 4 - edge.most < 1
    assert stage.ways[0].work == Fraction(work) * 4


@settings(max_examples=40, deadline=None)
@given(moments, moments)
def test_the_window_ends_no_later_and_now_is_no_sooner(now: datetime, end: datetime) -> None:
    window = replace(a_window(), start=at("2026-01-01 00:00"), end=end)
    job = a_job(steps=(a_stage("carve"), a_gate()), windows=(window,))
    normal = normal_of(a_book(job), now)
    latest = aim_of(normal, "heron").latest

    assert timedelta() <= normal.origin - now < timedelta(minutes=15)
    if latest is None:
        assert end < normal.origin
    else:
        assert timedelta() <= end - instant_of(normal.origin, latest) < timedelta(minutes=15)


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(1, 9))))
def test_joined_spans_cover_the_same_steps_and_touch_nowhere(pairs: list[tuple[int, int]]) -> None:
    spans = [(start, start + length) for start, length in pairs]
    found = joined(spans)

    covered = {step for start, end in spans for step in range(start, end)}
    assert {step for start, end in found for step in range(start, end)} == covered
    assert all(before[1] < after[0] for before, after in pairwise(found))


def test_money_is_counted_in_hundredths_rounded_up() -> None:
    from scheduler.normalise.ways import money

    assert [money(Decimal(text)) for text in ("0", "1.5", "0.001")] == [0, 150, 1]


def test_a_workshop_with_other_useful_hours_stretches_otherwise() -> None:
    book: Book = of_steps(a_stage("carve"))
    workshop = a_workshop(shift_hours=Decimal(9), useful_hours=Decimal(6))

    stage = stage_of(normal_of(replace(book, workshop=workshop)), "carve")
    assert stage.ways[0].work == 8 * 4 * Fraction(9, 6)
