"""The judge's walk through the working steps of a stage, one by one."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from scheduler.breaches import ProblemBreach, ProblemRule
from scheduler.problem import Calendar, Problem, Schedule, Stage, Way
from scheduler.replay_people import others_of, shifts_met, wants_company

Found = Iterator[ProblemBreach]


def hour_breaches(problem: Problem, schedule: Schedule, number: int) -> Found:
    """Yield what a stage breaks of its working hours."""
    stage = problem.stages[number]
    way = stage.ways[schedule.ways[number]]
    start, end = schedule.starts[number], schedule.ends[number]
    steps = _steps(problem, way, schedule.teams[number])
    calendars = _calendars(problem, way, schedule.teams[number])
    if steps == 0 or start < 0:
        if end != start:
            yield ProblemBreach(rule=ProblemRule.LENGTH, stage=number)
        return
    opens = [[(a, b) for a, b in calendar.open if a < end and b > start] for calendar in calendars]
    works = [all(_lies_in(spans, t) for spans in opens) for t in range(start, end)]
    if wants_company(stage, schedule.teams[number]):
        others = others_of(problem, schedule.teams[number])
        shifts = [span for one in others for span in shifts_met(problem, one, start, end)]
        there = [_lies_in(shifts, t) for t in range(start, end)]
        if stage.one_go and not all(there[at] for at, is_open in enumerate(works) if is_open):
            yield ProblemBreach(rule=ProblemRule.COMPANY, stage=number)
        works = [is_open and there[at] for at, is_open in enumerate(works)]
    if not works or not works[0] or not works[-1]:
        yield ProblemBreach(rule=ProblemRule.HOURS, stage=number)
    if sum(works) != steps:
        yield ProblemBreach(rule=ProblemRule.LENGTH, stage=number)
    if stage.longest_pause is not None:
        pauses = _pauses(problem, works, start)
        if max(pauses, default=0) > stage.longest_pause:
            yield ProblemBreach(rule=ProblemRule.PAUSE, stage=number)
    if stage.one_go:
        yield from _one_go_breaches(stage, calendars, start, end, number)


def _steps(problem: Problem, way: Way, team: tuple[int, ...]) -> int:
    if not team:
        return ceil(way.work)
    pace = sum((problem.workers[worker].pace for worker in team), Fraction(0)) / len(team)
    return ceil(way.work / pace)


def _calendars(problem: Problem, way: Way, team: tuple[int, ...]) -> list[Calendar]:
    numbers = [way.calendar, *(problem.workers[worker].calendar for worker in team)]
    return [problem.calendars[number] for number in numbers if number is not None]


def _lies_in(spans: list[tuple[int, int]], t: int) -> bool:
    return any(a <= t < b for a, b in spans)


def _pauses(problem: Problem, works: list[bool], start: int) -> list[int]:
    """Return how long each standstill lasts, shut steps not counted."""
    pauses = [0]
    for t, is_working in enumerate(works, start):
        if is_working:
            pauses.append(0)
        elif not any(a <= t < b for a, b in problem.shut):
            pauses[-1] += 1
    return pauses


def _one_go_breaches(
    stage: Stage, calendars: list[Calendar], start: int, end: int, number: int
) -> Found:
    for calendar in calendars:
        shift = next(((a, b) for a, b in calendar.shifts if a <= start < b), None)
        if shift is None or end > shift[1]:
            yield ProblemBreach(rule=ProblemRule.ONE_GO, stage=number)
        elif end + stage.watch > shift[1]:
            yield ProblemBreach(rule=ProblemRule.WATCH, stage=number)
