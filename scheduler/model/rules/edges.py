"""A stage starts no sooner than its edges' least waits allow, and no later than the greatest.

From the end: start(after) >= ready(before), start(after) >= end(before) + least,
start(after) <= end(before) + most; from the start the same with start(before), without cure.
An edge of a stage that is not placed says nothing; a greatest wait may be bridged by the stage
that is inserted. By a table: for each length w that the wait can have, end(before) in
{t : table(t) - t = w} -> start(after) <= end(before) + w; past its last knot nothing.
Pinned by tests/scheduler/test_model_rules.py, "edges".
"""

import numpy as np
from ortools.sat.python import cp_model

from scheduler.model.options import Ranges
from scheduler.model.starts import ranges
from scheduler.model.variables import ALWAYS, Frame, Literal, negated
from scheduler.problem import Edge, Table

_Length = tuple[int | None, Ranges]


def post(frame: Frame) -> None:
    """Keep every edge."""
    lifts: dict[int, list[Literal]] = {}
    tables: dict[Table, list[_Length]] = {}
    for edge in frame.problem.edges:
        _keep_least(frame, edge)
        if edge.most is None and edge.most_table is None:
            continue
        lifted = _lift(frame, edge, lifts)
        if edge.most is not None:
            _keep_most(frame, edge, edge.most, lifted)
        if edge.most_table is not None:
            if edge.most_table not in tables:
                tables[edge.most_table] = _lengths(edge.most_table, frame.problem.horizon)
            _keep_table(frame, edge, tables[edge.most_table], lifted)
    for number, stage in enumerate(frame.stages):
        if isinstance(stage.present, cp_model.IntVar):
            frame.model.add_bool_or([*lifts.get(number, ()), ~stage.present])


def _both(frame: Frame, edge: Edge) -> list[Literal]:
    ends = (frame.stages[edge.before].present, frame.stages[edge.after].present)
    return [literal for literal in ends if literal is not ALWAYS]


def _keep_least(frame: Frame, edge: Edge) -> None:
    before, after = frame.stages[edge.before], frame.stages[edge.after]
    least = edge.least if edge.from_start else max(edge.least, _cure_least(frame, edge))
    origin = before.start if edge.from_start else before.end
    frame.model.add(after.start - origin >= least).only_enforce_if(*_both(frame, edge))
    if not edge.from_start and frame.problem.stages[edge.before].cure.table is not None:
        ready = frame.ready[edge.before]
        frame.model.add(after.start >= ready).only_enforce_if(*_both(frame, edge))


def _cure_least(frame: Frame, edge: Edge) -> int:
    return max(0, frame.problem.stages[edge.before].cure.least)


def _lift(frame: Frame, edge: Edge, lifts: dict[int, list[Literal]]) -> Literal:
    """Return a literal that the inserted stage lies between, False if there is none."""
    if edge.insert is None:
        return False
    between = frame.stages[edge.insert]
    lifted = frame.model.new_bool_var("")
    lifts.setdefault(edge.insert, []).append(lifted)
    frame.model.add(between.start >= frame.stages[edge.before].end).only_enforce_if(lifted)
    frame.model.add(between.end <= frame.stages[edge.after].start).only_enforce_if(lifted)
    if between.present is not ALWAYS:
        frame.model.add_implication(lifted, between.present)
    return lifted


def _keep_most(frame: Frame, edge: Edge, most: int, lifted: Literal) -> None:
    before, after = frame.stages[edge.before], frame.stages[edge.after]
    origin = before.start if edge.from_start else before.end
    frame.model.add(after.start - origin <= most).only_enforce_if(*_unless(frame, edge, lifted))


def _unless(frame: Frame, edge: Edge, lifted: Literal) -> list[Literal]:
    literals = _both(frame, edge)
    return literals if lifted is False else [*literals, negated(lifted)]


def _lengths(table: Table, horizon: int) -> list[_Length]:
    """Return the lengths that a greatest wait can have, each with the ends that give it."""
    upto = np.array(table.uptos, dtype=np.int64)
    values = np.array(table.values, dtype=np.int64)
    last = min(horizon, int(upto[-1]))
    ends = np.arange(last + 1)
    waits = values[np.searchsorted(upto, ends)] - ends
    found: list[_Length] = [(int(wait), ranges(ends[waits == wait])) for wait in np.unique(waits)]
    return found if last == horizon else [*found, (None, ((last + 1, horizon),))]


def _keep_table(frame: Frame, edge: Edge, lengths: list[_Length], lifted: Literal) -> None:
    before, after = frame.stages[edge.before], frame.stages[edge.after]
    unless = _unless(frame, edge, lifted)
    literals = [frame.model.new_bool_var("") for _ in lengths]
    for (wait, inside), literal in zip(lengths, literals, strict=True):
        domain = cp_model.Domain.from_intervals(inside)
        chosen = frame.model.add_linear_expression_in_domain(before.end, domain)
        chosen.only_enforce_if(literal)
        if wait is not None:
            frame.model.add(after.start - before.end <= wait).only_enforce_if(literal, *unless)
    frame.model.add_bool_or([*literals, *map(negated, unless)])
