"""A journey leaves once loading has ended, with its crew and vehicles, at one of its departures.

One option each: end(last) <= leaves, and of one that loads end(load) >= leaves - stands_most;
who is away, rests or takes a room does so over the stretches that the option says. Or no option at
all, which is for who cannot leave: departures.py lets those leave who could.
Pinned by tests/scheduler/test_model_rules.py, "trips", and tests/scheduler/test_going.py.
"""

from scheduler.model.rules import rooms
from scheduler.model.variables import Frame, Literal, span_of
from scheduler.problem import Going, JobAim, Trip, Use


def load(frame: Frame) -> None:
    """Let every journey leave once."""
    for number, job in enumerate(frame.problem.jobs):
        if job.trip is not None and job.trip.options:
            frame.trips[number] = _leave(frame, job, job.trip)


def _leave(frame: Frame, job: JobAim, trip: Trip) -> tuple[Literal, ...]:
    literals = tuple(frame.model.new_bool_var("") for _ in trip.options)
    stays = frame.model.new_bool_var("")
    frame.model.add_exactly_one([*literals, stays])
    for literal, going in zip(literals, trip.options, strict=True):
        for last in job.lasts:
            frame.model.add(frame.stages[last].end <= going.leaves).only_enforce_if(literal)
        if trip.stands_most is not None:
            _stand(frame, job, going.leaves - trip.stands_most, literal)
        _take(frame, going, literal)
    return literals


def _stand(frame: Frame, job: JobAim, soonest: int, literal: Literal) -> None:
    """Let loading end no sooner than so."""
    model = frame.model
    some = [model.new_bool_var("") for _ in job.loads]
    for load, is_late in zip(job.loads, some, strict=True):
        model.add(frame.stages[load].end >= soonest).only_enforce_if(is_late)
    if job.loads or soonest > 0:
        model.add_bool_or(some).only_enforce_if(literal)


def _take(frame: Frame, going: Going, literal: Literal) -> None:
    for worker, start, end in going.away:
        away = span_of(frame, start, end - start, end, literal)
        frame.worker_loads.setdefault(worker, []).append(away)
    for worker, start, end in going.rests:
        frame.worker_rests.setdefault(worker, []).append((start, end, literal))
    for room, start, end, units in going.takes:
        rooms.add(frame, Use(room=room, units=units), start, end - start, end, literal)
