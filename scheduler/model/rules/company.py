"""Nobody who wants company works in hours in which all others are away.

The hours themselves know who is on shift; journeys and the like can leave a worker alone in some
of them. For each such stretch: there if everybody else on shift is away; then none of the stages
that the worker does alone and that want company lies across it. Pinned by
tests/scheduler/test_model_rules.py, "company".
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.company import Company, between
from scheduler.hours import Hours
from scheduler.model.doers import done_by
from scheduler.model.options import ends_of
from scheduler.model.variables import ALWAYS, Frame, Literal, negated, span_of
from scheduler.problem import Span, Spans
from scheduler.spans import less, merged


@dataclass(frozen=True, slots=True, kw_only=True)
class _Away:
    """When a worker is out of the building, and the literal that says so."""

    worker: int
    start: int
    end: int
    literal: Literal


_Gone = tuple[tuple[_Away, ...], ...]
"""For each worker on shift in a stretch, all that may take them away in it."""


def post(frame: Frame) -> None:
    """Let nobody work alone who must not."""
    if not any(stage.company for stage in frame.problem.stages):
        return
    first, last = _span(frame)
    away = [each for each in _absences(frame) if each.start < last and each.end > first]
    if away:
        on_shift = [between(spans, first, last) for spans in frame.index.once(Company).on_shift]
        for (worker, _), (hours, stages) in _alone(frame).items():
            others = {other: spans for other, spans in enumerate(on_shift) if other != worker}
            holes = _holes(frame, hours.inside(first, last), hours, others, away)
            if holes:
                frame.model.add_no_overlap([*stages, *holes])


def _span(frame: Frame) -> Span:
    """Return from when to when there may be a stage that wants company."""
    menus = [
        found.menu
        for stage, found in zip(frame.problem.stages, frame.stages, strict=True)
        if stage.company
    ]
    starts = (
        inside[0][0]
        for menu in menus
        for option in menu.options
        for _, inside in option.starts.pieces
    )
    horizon = frame.problem.horizon
    return min(starts, default=0), max(ends_of(menu, horizon)[1] for menu in menus)


def _absences(frame: Frame) -> Iterator[_Away]:
    for worker, one in enumerate(frame.problem.workers):
        for start, end in one.away:
            yield _Away(worker=worker, start=start, end=end, literal=True)
    for job, literals in frame.trips.items():
        trip = frame.problem.jobs[job].trip
        for going, literal in zip(trip.options, literals, strict=True) if trip else ():
            for worker, start, end in going.absences:
                yield _Away(worker=worker, start=start, end=end, literal=literal)


_Alone = dict[tuple[int, int], tuple[Hours, list[cp_model.IntervalVar]]]


def _alone(frame: Frame) -> _Alone:
    """Return, by worker and hours, the stages that they may do alone and that want company."""
    found: _Alone = {}
    for number, stage in enumerate(frame.problem.stages):
        if not stage.company:
            continue
        for worker in frame.stages[number].members:
            for literal, hours, option in done_by(frame, number, worker):
                if stage.ways[option.way].hands_count == 1:
                    one = frame.stages[number]
                    span = span_of(frame, one.start, one.size, one.end, literal)
                    found.setdefault((worker, id(hours)), (hours, []))[1].append(span)
    return found


def _holes(
    frame: Frame, lonely: Spans, hours: Hours, others: Mapping[int, Spans], away: Sequence[_Away]
) -> list[cp_model.IntervalVar]:
    """Return the stretches in which a worker may come to be alone.

    lonely: their hours, as far as they matter. others: when everybody else is on shift.
    """
    for other, spans in others.items():
        leaving = merged((each.start, each.end) for each in away if each.worker == other)
        lonely = less(lonely, less(spans, leaving))
    found: list[tuple[int, int, _Gone]] = []
    for start, end in _cut(lonely, others.values(), away):
        gone = tuple(
            tuple(each for each in away if each.worker == other and each.start <= start < each.end)
            for other, spans in others.items()
            if _lies_in(spans, start)
        )
        if found and found[-1][2] == gone and not hours.worked_in(found[-1][1], start):
            start = found.pop()[0]
        found.append((start, end, gone))
    return [_hole(frame, start, end, gone) for start, end, gone in found]


def _cut(lonely: Spans, shifts: Iterable[Spans], away: Sequence[_Away]) -> Iterator[Span]:
    """Give spans cut where somebody comes or goes."""
    cuts = {t for each in away for t in (each.start, each.end)}
    cuts.update(t for spans in shifts for span in spans for t in span)
    for start, end in lonely:
        inside = sorted(t for t in cuts if start < t < end)
        yield from pairwise((start, *inside, end))


def _lies_in(spans: Spans, t: int) -> bool:
    at = bisect_right(spans, t, key=lambda span: span[0]) - 1
    return at >= 0 and t < spans[at][1]


def _hole(frame: Frame, start: int, end: int, gone: _Gone) -> cp_model.IntervalVar:
    """Return a stretch that is there if everybody on shift is away in one of their ways."""
    model = frame.model
    alone: list[Literal] = []
    for ways in gone:
        if not any(each.literal is True for each in ways):
            is_away = model.new_bool_var("")
            for each in ways:
                model.add_implication(each.literal, is_away)
            alone.append(is_away)
    if not alone:
        return span_of(frame, start, end - start, end, ALWAYS)
    hole = model.new_bool_var("")
    model.add_bool_or([hole, *map(negated, alone)])
    return span_of(frame, start, end - start, end, hole)
