"""A worker does one thing at a time, and is held from the start of a stage to its end.

No overlap, per worker, of their stages, their journeys and what they are booked for.
Pinned by tests/scheduler/test_model_rules.py, "people".
"""

from scheduler.model.variables import ALWAYS, Frame, span_of


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
        frame.model.add_no_overlap([*held, *booked])
