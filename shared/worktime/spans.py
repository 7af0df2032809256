"""Half-open stretches of time and their sums, in UTC and in whole seconds."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from operator import attrgetter

_ONE_SECOND = timedelta(seconds=1)
_start_of = attrgetter("start")
_end_of = attrgetter("end")


def utc_second(instant: datetime) -> datetime:
    """Give the instant in UTC with the part of a second dropped.

    Raises
    ------
    ValueError
        If the instant has no zone.
    """
    if instant.tzinfo is UTC and not instant.microsecond:
        return instant
    if instant.utcoffset() is None:
        raise ValueError(f"instant without a zone: {instant!r}")
    return instant.astimezone(UTC).replace(microsecond=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A stretch of time that holds its start and does not hold its end.

    Any zone may be given; kept is UTC, cut to the whole second.
    """

    start: datetime
    end: datetime

    def __post_init__(self) -> None:
        """Bring both ends to UTC and refuse an empty or backward stretch."""
        object.__setattr__(self, "start", utc_second(self.start))
        object.__setattr__(self, "end", utc_second(self.end))
        if self.start >= self.end:
            raise ValueError(f"span must start before it ends: {self.start} to {self.end}")


Spans = tuple[Span, ...]
"""Sorted spans of which no two overlap or touch."""


def union(*parts: Span | Iterable[Span]) -> Spans:
    """Join spans, or sets of spans in any order, into one sorted set that touches nowhere."""
    loose: list[Span] = []
    for part in parts:
        if isinstance(part, Span):
            loose.append(part)
        else:
            loose.extend(part)
    loose.sort(key=_start_of)
    joined: list[Span] = []
    for span in loose:
        if not joined or span.start > joined[-1].end:
            joined.append(span)
        elif span.end > joined[-1].end:
            joined[-1] = Span(start=joined[-1].start, end=span.end)
    return tuple(joined)


def intersect(a: Spans, b: Spans) -> Spans:
    """Give the time that lies in both."""
    common: list[Span] = []
    i = j = 0
    while i < len(a) and j < len(b):
        start = max(a[i].start, b[j].start)
        end = min(a[i].end, b[j].end)
        if start < end:
            common.append(Span(start=start, end=end))
        if a[i].end < b[j].end:
            i += 1
        else:
            j += 1
    return tuple(common)


def subtract(a: Spans, b: Spans) -> Spans:
    """Give the time of `a` that does not lie in `b`."""
    left: list[Span] = []
    first = 0
    for span in a:
        start = span.start
        while first < len(b) and b[first].end <= start:
            first += 1
        index = first
        while index < len(b) and b[index].start < span.end:
            if start < b[index].start:
                left.append(Span(start=start, end=b[index].start))
            start = max(start, b[index].end)
            index += 1
        if start < span.end:
            left.append(Span(start=start, end=span.end) if start != span.start else span)
    return tuple(left)


def total_seconds(spans: Spans) -> int:
    """Add up the lengths, in seconds."""
    return sum((span.end - span.start) // _ONE_SECOND for span in spans)


def clip(spans: Spans, start: datetime, end: datetime) -> Spans:
    """Give the part of the spans inside [start, end); nothing if that is empty."""
    start, end = utc_second(start), utc_second(end)
    if start >= end:
        return ()
    first = bisect_right(spans, start, key=_end_of)
    last = bisect_left(spans, end, key=_start_of)
    inside = list(spans[first:last])
    if inside and inside[0].start < start:
        inside[0] = Span(start=start, end=inside[0].end)
    if inside and inside[-1].end > end:
        inside[-1] = Span(start=inside[-1].start, end=end)
    return tuple(inside)
