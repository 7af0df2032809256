"""A journey leaves once loading has ended, with its crew and vehicles, at one of its departures.

One option each: end(last) <= leaves; the crew is away over [leaves, free), the vehicles over
[leaves - before, back + after). Or none at all, which is for who cannot leave: departures.py
lets those leave who could. Pinned by tests/scheduler/test_model_rules.py, "trips".
"""

from scheduler.model.rules import rooms
from scheduler.model.variables import Frame, Literal, span_of
from scheduler.problem import JobAim, Trip


def load(frame: Frame) -> None:
    """Let every journey leave once."""
    for number, job in enumerate(frame.problem.jobs):
        if job.trip is not None and job.trip.options:
            frame.trips[number] = _leave(frame, job, job.trip)


def _leave(frame: Frame, job: JobAim, trip: Trip) -> tuple[Literal, ...]:
    literals = tuple(frame.model.new_bool_var("") for _ in trip.options)
    stays = frame.model.new_bool_var("")
    frame.model.add_exactly_one([*literals, stays])
    for literal, (leaves, back, free) in zip(literals, trip.options, strict=True):
        for last in job.lasts:
            frame.model.add(frame.stages[last].end <= leaves).only_enforce_if(literal)
        _away(frame, trip, literal, leaves, free)
        for use in trip.uses:
            rooms.add(frame, use, leaves, back - leaves, back, literal)
    return literals


def _away(frame: Frame, trip: Trip, literal: Literal, leaves: int, free: int) -> None:
    for worker in trip.crew:
        away = span_of(frame, leaves, free - leaves, free, literal)
        frame.worker_loads.setdefault(worker, []).append(away)
