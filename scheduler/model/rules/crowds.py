"""At no time are more people with some skills at work than there are.

For every set of skills: sum over stages of the places that ask for one of them <= workers who
hold any of them. It follows from the other rules; stated, it makes bounds and proofs short
(all sets up to so many skills, else single ones and all together).
Pinned by tests/scheduler/test_model_rules.py, "crowds".
"""

from collections.abc import Iterator
from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.model.variables import Frame, StageVars, span_of
from scheduler.problem import Need, Stage, Way

ALL_SETS_UP_TO = 6


def post(frame: Frame) -> None:
    """State how many there are with every set of skills."""
    skills = sorted({need.skill for stage in frame.problem.stages for need in _needs(stage)})
    for chosen in _sets(skills):
        _limit(frame, frozenset(chosen))


def _needs(stage: Stage) -> tuple[Need, ...]:
    return tuple(need for way in stage.ways for need in way.needs)


def _sets(skills: list[int]) -> Iterator[tuple[int, ...]]:
    if len(skills) > ALL_SETS_UP_TO:
        yield from ((skill,) for skill in skills)
        yield tuple(skills)
        return
    for size in range(1, len(skills) + 1):
        yield from combinations(skills, size)


def _limit(frame: Frame, skills: frozenset[int]) -> None:
    there = sum(1 for worker in frame.problem.workers if (worker.can | worker.helps) & skills)
    loads = [
        (found, places)
        for stage, found in zip(frame.problem.stages, frame.stages, strict=True)
        if (places := min(_places(way, skills) for way in stage.ways))
        and not (isinstance(found.size, int) and not found.size)
    ]
    if sum(places for _, places in loads) > there:
        intervals = [_whole(frame, found) for found, _ in loads]
        frame.model.add_cumulative(intervals, [places for _, places in loads], there)


def _places(way: Way, skills: frozenset[int]) -> int:
    needs = way.needs if way.work else ()
    return sum(need.can + need.helps for need in needs if need.skill in skills)


def _whole(frame: Frame, found: StageVars) -> cp_model.IntervalVar:
    return span_of(frame, found.start, found.size, found.end, found.present)
