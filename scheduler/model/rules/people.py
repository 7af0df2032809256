"""A worker does one thing at a time, and is held from the start of a stage to its end.

No overlap, per worker, of their stages, their journeys and what they are booked for; the rests
that journeys call for overlap none of these, but one another (see trips.py).
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
    for worker in {**frame.worker_loads, **frame.worker_rests}:
        held = frame.worker_loads.get(worker, [])
        booked = [
            span_of(frame, start, end - start, end, ALWAYS)
            for start, end in frame.problem.workers[worker].busy
        ]
        rests = frame.worker_rests.get(worker, [])
        if not rests:
            frame.model.add_no_overlap([*held, *booked])
            continue
        frame.model.add_no_overlap([*held, *booked])
        most = len(rests)
        units = [most] * (len(held) + len(booked)) + [1] * most
        frame.model.add_cumulative([*held, *booked, *rests], units, most)
