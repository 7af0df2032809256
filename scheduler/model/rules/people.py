"""A worker does one thing at a time, and is held from the start of a stage to its end.

No overlap, per worker, of their stages, their journeys, what they are booked for, and the time in
which they rest: cut where a rest that a journey calls for begins or ends, each piece is there if a
rest over it is. So rests lie over one another and over nothing else.
Pinned by tests/scheduler/test_model_rules.py, "people".
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.model.variables import ALWAYS, Frame, Rest, span_of


def load(frame: Frame) -> None:
    """Hold every member of a team for as long as the stage lasts."""
    for stage in frame.stages:
        if isinstance(stage.size, int) and not stage.size:
            continue
        for worker, literal in stage.members.items():
            held = span_of(frame, stage.start, stage.size, stage.end, literal)
            frame.worker_loads.setdefault(worker, []).append(held)


def post(frame: Frame) -> None:
    """Let nobody do two things at once."""
    for worker, held in frame.worker_loads.items():
        booked = [
            span_of(frame, start, end - start, end, ALWAYS)
            for start, end in frame.problem.workers[worker].busy
        ]
        resting = _resting(frame, frame.worker_rests.get(worker, ()))
        frame.model.add_no_overlap([*held, *booked, *resting])


def _resting(frame: Frame, rests: Sequence[Rest]) -> Iterator[cp_model.IntervalVar]:
    """Give the pieces of time in which a worker may rest, each there if they do."""
    cuts = sorted({time for start, end, _ in rests for time in (start, end)})
    for start, end in pairwise(cuts):
        over = [literal for first, last, literal in rests if first <= start and end <= last]
        if len(over) > 1:
            is_resting = frame.model.new_bool_var("")
            for literal in over:
                frame.model.add_implication(literal, is_resting)
            over = [is_resting]
        if over:
            yield span_of(frame, start, end - start, end, over[0])
