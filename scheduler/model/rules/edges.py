"""A stage starts no sooner than its edges' least waits allow, and no later than the greatest.

From the end: start(after) >= ready(before), start(after) >= end(before) + least,
start(after) <= end(before) + most; from the start the same with start(before), without cure.
An edge of a stage that is not placed says nothing; a greatest wait may be bridged by the stage
that is inserted. Pinned by tests/scheduler/test_model_rules.py, "edges".
"""

from scheduler.model.variables import ALWAYS, Frame, Literal, negated
from scheduler.problem import Edge


def post(frame: Frame) -> None:
    """Keep every edge."""
    for edge in frame.problem.edges:
        _keep_least(frame, edge)
        if edge.most is not None:
            _keep_most(frame, edge, edge.most)


def _both(frame: Frame, edge: Edge) -> list[Literal]:
    ends = (frame.stages[edge.before].present, frame.stages[edge.after].present)
    return [literal for literal in ends if literal is not ALWAYS]


def _keep_least(frame: Frame, edge: Edge) -> None:
    before, after = frame.stages[edge.before], frame.stages[edge.after]
    least = edge.least if edge.from_start else max(edge.least, _cure_least(frame, edge))
    origin = before.start if edge.from_start else before.end
    frame.model.add(after.start - origin >= least).only_enforce_if(*_both(frame, edge))
    if not edge.from_start and edge.before in frame.ready:
        ready = frame.ready[edge.before]
        frame.model.add(after.start >= ready).only_enforce_if(*_both(frame, edge))


def _cure_least(frame: Frame, edge: Edge) -> int:
    return frame.problem.stages[edge.before].cure.least


def _keep_most(frame: Frame, edge: Edge, most: int) -> None:
    before, after = frame.stages[edge.before], frame.stages[edge.after]
    origin = before.start if edge.from_start else before.end
    literals = _both(frame, edge)
    if edge.insert is not None:
        literals.append(negated(frame.stages[edge.insert].present))
    frame.model.add(after.start - origin <= most).only_enforce_if(*literals)
