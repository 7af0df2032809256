"""Half-open spans of steps: sorted, disjoint, put together and turned round."""

from collections.abc import Iterable

from scheduler.problem import Spans


def merged(spans: Iterable[tuple[int, int]]) -> Spans:
    """Return the spans sorted, without empty ones, with those that touch or overlap joined."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if end <= start:
            continue
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return tuple(joined)


def common(first: Spans, second: Spans) -> Spans:
    """Return what lies in both; spans that touch stay apart."""
    found: list[tuple[int, int]] = []
    i, j, count, other_count = 0, 0, len(first), len(second)
    while i < count and j < other_count:
        a, b = first[i]
        c, d = second[j]
        start = a if a > c else c
        if b < d:
            if start < b:
                found.append((start, b))
            i += 1
        else:
            if start < d:
                found.append((start, d))
            j += 1
    return tuple(found)


def less(spans: Spans, others: Spans) -> Spans:
    """Return what lies in the first spans and in none of the others."""
    found: list[tuple[int, int]] = []
    at = 0
    for start, end in spans:
        while at < len(others) and others[at][1] <= start:
            at += 1
        low, after = start, at
        while after < len(others) and others[after][0] < end:
            if others[after][0] > low:
                found.append((low, others[after][0]))
            low = max(low, others[after][1])
            after += 1
        if low < end:
            found.append((low, end))
    return tuple(found)


def overlap(spans: Spans, start: int, end: int) -> int:
    """Return how many steps of [start, end) lie in the spans."""
    return sum(max(0, min(end, b) - max(start, a)) for a, b in spans)


def turned(spans: Spans, horizon: int) -> Spans:
    """Return the spans with time running backwards from the horizon, clipped to [0, horizon)."""
    clipped = ((max(0, horizon - b), min(horizon, horizon - a)) for a, b in reversed(spans))
    return tuple((a, b) for a, b in clipped if a < b)
