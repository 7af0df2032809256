"""A stage starts no sooner than its edges' least waits allow, and no later than the greatest.

From the end: start(after) >= ready(before), start(after) >= end(before) + least,
start(after) <= end(before) + most; from the start the same with start(before), without cure.
An edge of a stage that is not placed says nothing; a greatest wait may be bridged by the stage
that is inserted. Pinned by tests/scheduler/test_model_rules.py, "edges".
"""

from ortools.sat.python import cp_model

from scheduler.model.variables import ALWAYS, Frame, Literal, negated
from scheduler.problem import Edge


def post(frame: Frame) -> None:
    """Keep every edge."""
    lifts: dict[int, list[Literal]] = {}
    for edge in frame.problem.edges:
        _keep_least(frame, edge)
        if edge.most is not None:
            lifted = _lift(frame, edge, lifts)
            _keep_most(frame, edge, edge.most, lifted)
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
    literals = _both(frame, edge)
    if lifted is not False:
        literals.append(negated(lifted))
    frame.model.add(after.start - origin <= most).only_enforce_if(*literals)
