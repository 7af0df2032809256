"""A stage is ready when its cure is over: max(end + least, table(end)).

For each length w that the wait can have: end in {t : wait(t) = w} -> ready = end + w; past the
table's last knot no end is allowed (the stage's own window sees to that). Without a table the
edges and uses count `least` themselves. Pinned by tests/scheduler/test_model_rules.py, "cures".
"""

from bisect import bisect_left

import numpy as np
from ortools.sat.python import cp_model

from scheduler.model.options import Ranges, ends_of
from scheduler.model.starts import ranges
from scheduler.model.variables import ALWAYS, Expr, Frame
from scheduler.problem import Table, Wait


def post(frame: Frame) -> None:
    """Say when every cure is over, where somebody asks."""
    for number in sorted(_asked(frame)):
        cure = frame.problem.stages[number].cure
        if cure.table is None:
            frame.ready[number] = frame.stages[number].end + cure.least
        else:
            first, last = ends_of(frame.stages[number].menu, frame.problem.horizon)
            frame.ready[number] = _ready(frame, number, _lengths(cure, cure.table, first, last))


def _asked(frame: Frame) -> set[int]:
    curing = {
        number
        for number, stage in enumerate(frame.problem.stages)
        if stage.cure.least or stage.cure.table is not None
    }
    before = {edge.before for edge in frame.problem.edges if not edge.from_start}
    staying = {
        number
        for number, stage in enumerate(frame.problem.stages)
        if any(use.through_cure for way in stage.ways for use in way.uses)
    }
    return curing & (before | staying)


def _lengths(cure: Wait, table: Table, first: int, last: int) -> list[tuple[int, Ranges]]:
    """Return how long the wait can be after ends from first to last, each with those ends."""
    knots = slice(bisect_left(table.uptos, first), bisect_left(table.uptos, last) + 1)
    upto = np.array(table.uptos[knots], dtype=np.int64)
    values = np.array(table.values[knots], dtype=np.int64)
    ends = np.arange(first, min(last, table.uptos[-1]) + 1)
    waits = np.maximum(cure.least, values[np.searchsorted(upto, ends)] - ends)
    return [(int(wait), ranges(ends[waits == wait])) for wait in np.unique(waits)]


def _ready(frame: Frame, number: int, lengths: list[tuple[int, Ranges]]) -> Expr:
    found, model = frame.stages[number], frame.model
    longest = max((wait for wait, _ in lengths), default=0)
    ready = model.new_int_var(0, frame.problem.horizon + longest, "")
    literals = [model.new_bool_var("") for _ in lengths]
    for (wait, inside), literal in zip(lengths, literals, strict=True):
        domain = cp_model.Domain.from_intervals(inside)
        model.add_linear_expression_in_domain(found.end, domain).only_enforce_if(literal)
        model.add(ready == found.end + wait).only_enforce_if(literal)
    model.add_exactly_one(literals)
    if found.present is ALWAYS:
        waits = [wait for wait, _ in lengths]
        model.add(ready >= found.end + min(waits, default=0))
    return ready
