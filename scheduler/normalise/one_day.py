"""Bench, road and site of one person are one day: which rest keeps the bench free before they go.

Whoever drives has rested right before. Whoever else goes has a rest in the day before the end of
their first duty; of all that could be, the one that costs least bench time is kept free.
"""

from collections.abc import Iterable
from datetime import timedelta
from functools import cache

from scheduler.grid import DAY_STEPS
from scheduler.normalise.frame import Frame
from scheduler.normalise.people import person_calendar
from scheduler.problem import Span, Spans
from scheduler.spans import overlap
from shared.trade import figure
from shared.units import hours_up
from shared.worktime import Span as Time
from shared.worktime import clip, open_spans, union


@cache
def least_rest() -> int:
    """Return the steps of a daily rest that the law asks of everybody (DR15a)."""
    row = figure("DR15a")
    return hours_up(row.amount if row.unit == "h" else row.amount / 60)


def rest_of_drivers(frame: Frame) -> int:
    """Return the steps of the rest before they drive: the workshop's, at least the law's."""
    return max(hours_up(frame.book.workshop.rest_hours), least_rest())


def rest_before(
    frame: Frame, worker: int, leaves: int, duty_ends: int | None, held: Iterable[Span]
) -> Span | None:
    """Return when a worker rests before they leave, None where no rest is left to them.

    duty_ends: of their first duty, None for right before leaving. held: when they can't rest,
    besides what the book says they did before now.
    """
    rest = rest_of_drivers(frame) if duty_ends is None else least_rest()
    first = leaves - rest if duty_ends is None else min(leaves, duty_ends - DAY_STEPS)
    taken = list(held)
    if first < 0:
        taken += _done_before(frame, worker)
    best: tuple[int, Span] | None = None
    for start in range(leaves - rest, first - 1, -1):
        end = start + rest
        if any(a < end and b > start for a, b in taken):
            continue
        cost = overlap(_hours(frame, worker, first, leaves), start, end)
        if best is None or cost < best[0]:
            best = cost, (start, end)
        if not cost:
            break
    return None if best is None else best[1]


def _hours(frame: Frame, worker: int, start: int, end: int) -> Spans:
    frame.reads.hours = True
    calendar = frame.workers[worker].calendar
    if calendar is None:
        return ((start, end),)
    return tuple((a, b) for a, b in frame.calendars.made[calendar].open if a < end and b > start)


def _done_before(frame: Frame, worker: int) -> list[Span]:
    """Return when a worker was at the bench in the day before now, as far as anybody told."""
    frame.reads.facts = frame.reads.now = frame.reads.hours = True
    person = frame.book.people[worker]
    spans: list[Time] = []
    for step in (step for job in frame.book.jobs for step in job.steps):
        told = frame.told(step.id)
        began = told.began
        if began is None or person.id not in told.people:
            continue
        end = frame.now if told.done is None else told.done.at
        if began < end:
            spans.append(Time(start=began, end=end))
    if not spans:
        return []
    grid = frame.grid
    since = grid.origin - timedelta(days=2)
    hours = open_spans(person_calendar(frame.book, person, grid), since, grid.origin)
    worked = [part for span in union(spans) for part in clip(hours, span.start, span.end)]
    return [(grid.down(span.start), grid.up(span.end)) for span in worked]
