"""A stage is ready when its cure is over: max(end + least, table(end)).

For each length w that the wait can have: end in {t : wait(t) = w} -> ready = end + w; past the
table's last knot no end is allowed (the stage's own window sees to that). Without a table the
edges and uses count `least` themselves. Pinned by tests/scheduler/test_model_rules.py, "cures".
"""

import numpy as np
from ortools.sat.python import cp_model

from scheduler.model.options import Ranges
from scheduler.model.starts import ranges
from scheduler.model.variables import ALWAYS, Expr, Frame
from scheduler.problem import Table, Wait


def post(frame: Frame) -> None:
    """Say when every cure is over, where somebody asks."""
    shared: dict[Wait, list[tuple[int, Ranges]]] = {}
    for number in sorted(_asked(frame)):
        cure = frame.problem.stages[number].cure
        if cure.table is None:
            frame.ready[number] = frame.stages[number].end + cure.least
        else:
            if cure not in shared:
                shared[cure] = _lengths(cure, cure.table, frame.problem.horizon)
            frame.ready[number] = _ready(frame, number, shared[cure])


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


def _lengths(cure: Wait, table: Table, horizon: int) -> list[tuple[int, Ranges]]:
    upto = np.array(table.uptos, dtype=np.int64)
    values = np.array(table.values, dtype=np.int64)
    ends = np.arange(min(horizon, int(upto[-1])) + 1)
    waits = np.maximum(cure.least, values[np.searchsorted(upto, ends)] - ends)
    return [(int(wait), ranges(ends[waits == wait])) for wait in np.unique(waits)]


def _ready(frame: Frame, number: int, lengths: list[tuple[int, Ranges]]) -> Expr:
    found, model = frame.stages[number], frame.model
    longest = max(wait for wait, _ in lengths)
    ready = model.new_int_var(0, frame.problem.horizon + longest, "")
    literals = [model.new_bool_var("") for _ in lengths]
    for (wait, inside), literal in zip(lengths, literals, strict=True):
        domain = cp_model.Domain.from_intervals(inside)
        model.add_linear_expression_in_domain(found.end, domain).only_enforce_if(literal)
        model.add(ready == found.end + wait).only_enforce_if(literal)
    model.add_exactly_one(literals)
    if found.present is ALWAYS:
        waits = [wait for wait, _ in lengths]
        model.add(ready >= found.end + min(waits))
    return ready
