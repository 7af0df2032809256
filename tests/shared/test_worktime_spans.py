"""Sums of spans, against plain sets of minutes."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.worktime import Span, Spans, clip, intersect, subtract, total_seconds, union

MIDNIGHT = datetime(2026, 6, 8, tzinfo=UTC)
pairs = st.lists(st.tuples(st.integers(0, 60), st.integers(1, 12)), max_size=8)


def _at(minute: int) -> datetime:
    return MIDNIGHT + timedelta(minutes=minute)


def _loose(drawn: list[tuple[int, int]]) -> list[Span]:
    return [Span(start=_at(first), end=_at(first + length)) for first, length in drawn]


def _minutes(spans: Spans) -> set[int]:
    found: set[int] = set()
    for span in spans:
        first = (span.start - MIDNIGHT) // timedelta(minutes=1)
        last = (span.end - MIDNIGHT) // timedelta(minutes=1)
        found.update(range(first, last))
    return found


def _is_canonical(spans: Spans) -> bool:
    return all(one.end < two.start for one, two in pairwise(spans))


@given(pairs, pairs)
def test_sums_are_those_of_sets_of_minutes(
    one: list[tuple[int, int]], two: list[tuple[int, int]]
) -> None:
    a, b = union(*_loose(one)), union(_loose(two))
    assert _minutes(a) == {minute for f, n in one for minute in range(f, f + n)}
    for result, minutes in [
        (union(a, b), _minutes(a) | _minutes(b)),
        (intersect(a, b), _minutes(a) & _minutes(b)),
        (subtract(a, b), _minutes(a) - _minutes(b)),
    ]:
        assert _minutes(result) == minutes
        assert _is_canonical(result)
        assert total_seconds(result) == 60 * len(minutes)


@given(pairs, st.integers(0, 80), st.integers(0, 80))
def test_clipping_keeps_the_minutes_inside(
    drawn: list[tuple[int, int]], first: int, last: int
) -> None:
    spans = union(_loose(drawn))
    clipped = clip(spans, _at(first), _at(last))
    assert _minutes(clipped) == _minutes(spans) & set(range(first, last))
    assert _is_canonical(clipped)


def test_touching_spans_are_one() -> None:
    assert union(*_loose([(10, 5), (0, 10)])) == (Span(start=_at(0), end=_at(15)),)


def test_a_span_is_kept_in_utc_and_whole_seconds() -> None:
    kolkata = ZoneInfo("Asia/Kolkata")
    span = Span(
        start=datetime(2026, 6, 8, 5, 30, 0, 999_999, tzinfo=kolkata),
        end=datetime(2026, 6, 8, 5, 30, 1, tzinfo=kolkata),
    )
    assert span.start.tzinfo is UTC
    assert span == Span(start=MIDNIGHT, end=MIDNIGHT + timedelta(seconds=1))
    assert total_seconds((span,)) == 1


def test_wrong_spans_are_refused() -> None:
    with pytest.raises(ValueError, match="start before it ends"):
        Span(start=MIDNIGHT, end=MIDNIGHT)
    with pytest.raises(ValueError, match="start before it ends"):
        Span(start=_at(1), end=_at(0))
    with pytest.raises(ValueError, match="without a zone"):
        Span(start=MIDNIGHT.replace(tzinfo=None), end=_at(1))
