"""What buffer before loading is proposed for a job: as much as its own deciding steps may run over.

The root of the sum of squares of what each step takes in nine of ten cases beyond its likely hours,
in working time: overruns of steps one after the other seldom come together. Source: "Buffer sizing
for the critical chain project management method", South African Journal of Industrial Engineering
19(1), 2008, doi 10.7166/19-1-107.
"""

from collections.abc import Iterable
from math import sqrt

from scheduler.why.anatomy import Anatomy
from scheduler.why.day_classes import Class
from scheduler.why.deciding import Deciding
from shared.book import Hours, Stage
from shared.units import STEP_MINUTES

_NINE_OF_TEN = 1.2815515655446004
"""The normal number below which nine of ten lie."""


def root_of_overruns(stages: Iterable[tuple[float, Hours]]) -> float:
    """Return the buffer for some stages, each with what an hour of it is worth in the answer."""
    return root_of_squares(scale * _overrun(hours) for scale, hours in stages)


def root_of_squares(overruns: Iterable[float]) -> float:
    """Return the buffer for overruns of steps one after the other."""
    return sqrt(sum(each**2 for each in overruns))


def _overrun(hours: Hours) -> float:
    """Return the hours beyond the likely ones that nine of ten cases stay within."""
    # Numpy, for whoever asks no more than why something is late, is read only here.
    import numpy as np

    from scheduler.chance.shapes import three_point

    low, likely, high = (float(each) for each in (hours.low, hours.likely, hours.high))
    safe = three_point(np.array([_NINE_OF_TEN]), low, likely, high)[0]
    return max(0.0, float(safe) - likely)


def proposed_buffer_minutes(deciding: Deciding, days: Anatomy) -> int:
    """Return the working minutes proposed for a job whose days are these, 0 where none is."""
    stages = dict.fromkeys(part.stage for part in days.parts if part.what is Class.WORK)
    return round(root_of_overruns(_with_hours(deciding, stages)))


def _with_hours(deciding: Deciding, stages: Iterable[int]) -> Iterable[tuple[float, Hours]]:
    """Give for each stage its hours, and the minutes at the bench that one of them takes."""
    normal, schedule = deciding.normal, deciding.graph.schedule
    steps = {step.id: step for job in normal.book.jobs for step in job.steps}
    for stage in stages:
        name = normal.stages[stage]
        step = steps[name.step]
        if not isinstance(step, Stage) or name.part or name.begun is not None:
            continue
        way = schedule.ways[stage]
        named = normal.ways[stage][way].way
        hours = next((each.hours for each in step.ways if each.id == named), None)
        if hours is not None and hours.likely:
            bench = deciding.index.steps(schedule.teams[stage], way, stage) * STEP_MINUTES
            yield bench / float(hours.likely), hours
