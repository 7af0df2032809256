"""The judge's word on company, on pairs with the same team, and on the limits of a day."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from scheduler.breaches import ProblemBreach, ProblemRule
from scheduler.problem import Problem, Schedule, Spans, Stage

Found = Iterator[ProblemBreach]
Days = dict[tuple[int, int], list[int]]
"""By worker and position of a day (or half day): the stages worked on in it, once a step."""


def wants_company(stage: Stage, team: tuple[int, ...]) -> bool:
    """Return whether somebody else must be there."""
    return stage.company and len(team) == 1


def shifts_met(problem: Problem, worker: int, start: int, end: int) -> list[tuple[int, int]]:
    """Return the shifts of a worker, breaks bridged, that meet [start, end)."""
    calendar = problem.workers[worker].calendar
    spans = ((start, end),) if calendar is None else problem.calendars[calendar].shifts
    return _met(spans, start, end)


def others_of(problem: Problem, team: tuple[int, ...]) -> list[int]:
    """Return everybody else."""
    return [worker for worker in range(len(problem.workers)) if worker not in team]


def company_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield stages that work in a step in which everybody else is away."""
    for number, stage in enumerate(problem.stages):
        team = schedule.teams[number]
        if schedule.ways[number] < 0 or not wants_company(stage, team):
            continue
        if is_left_alone(problem, schedule, number):
            yield ProblemBreach(rule=ProblemRule.COMPANY, stage=number, worker=team[0])


def is_left_alone(problem: Problem, schedule: Schedule, number: int) -> bool:
    """Return whether everybody else is away in a step in which a stage is worked on."""
    others = others_of(problem, schedule.teams[number])
    start, end = schedule.starts[number], schedule.ends[number]
    shifts = {one: shifts_met(problem, one, start, end) for one in others}
    for t in _worked(problem, schedule, number):
        there = (one for one in others if _lies_in(shifts[one], t))
        if all(_is_away(problem, schedule, one, t) for one in there):
            return True
    return False


def _worked(problem: Problem, schedule: Schedule, number: int) -> Iterator[int]:
    """Give the steps that a stage works, whoever is away."""
    stage, team = problem.stages[number], schedule.teams[number]
    start, end = schedule.starts[number], schedule.ends[number]
    asked = stage.ways[schedule.ways[number]].calendar
    calendars = [asked, *(problem.workers[worker].calendar for worker in team)]
    known = [problem.calendars[each].open for each in calendars if each is not None]
    opens = [_met(spans, start, end) for spans in known]
    if wants_company(stage, team):
        others = others_of(problem, team)
        opens.append([span for one in others for span in shifts_met(problem, one, start, end)])
    yield from (t for t in range(start, end) if all(_lies_in(spans, t) for spans in opens))


def _met(spans: Spans, start: int, end: int) -> list[tuple[int, int]]:
    return [(a, b) for a, b in spans if a < end and b > start]


def _is_away(problem: Problem, schedule: Schedule, worker: int, t: int) -> bool:
    if _lies_in(problem.workers[worker].away, t):
        return True
    for aim, option in zip(problem.jobs, schedule.trips, strict=True):
        if aim.trip is None or not 0 <= option < len(aim.trip.options):
            continue
        going = aim.trip.options[option]
        if any(one == worker and a <= t < b for one, a, b in (*going.away, *going.rests)):
            return True
    return False


def _lies_in(spans: Iterable[tuple[int, int]], t: int) -> bool:
    return any(a <= t < b for a, b in spans)


def pair_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield stages whose team is not that of their pair."""
    for number, stage in enumerate(problem.stages):
        other = stage.same_team_as
        if other is None or not all(_takes_work(problem, schedule, one) for one in (number, other)):
            continue
        if set(schedule.teams[number]) != set(schedule.teams[other]):
            yield ProblemBreach(rule=ProblemRule.SAME_TEAM, stage=number)


def _takes_work(problem: Problem, schedule: Schedule, number: int) -> bool:
    way = schedule.ways[number]
    return way >= 0 and problem.stages[number].ways[way].work > 0


def daily_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield days on which somebody sands for too long or works on too many pieces.

    What is under way counts, and what comes to it is too much.
    """
    if problem.pieces_max is not None:
        pieced = {
            number: stage.piece
            for number, stage in enumerate(problem.stages)
            if stage.piece is not None
        }
        for (worker, day), stages in _by_day(problem, schedule, pieced, problem.half_days).items():
            pieces = {pieced[number] for number in stages}
            given = {pieced[number] for number in stages if problem.stages[number].under_way}
            if len(pieces) > problem.pieces_max and pieces != given:
                yield _of_day(problem, ProblemRule.PIECES, worker, day, stages)
    sanding = [number for number, stage in enumerate(problem.stages) if stage.sands]
    for (worker, day), stages in _by_day(problem, schedule, sanding, problem.days).items():
        most = problem.workers[worker].sanding_max
        if most is None or len(stages) <= most:
            continue
        if not all(problem.stages[number].under_way for number in stages):
            yield _of_day(problem, ProblemRule.SANDING, worker, day, stages)


def _of_day(
    problem: Problem, rule: ProblemRule, worker: int, day: int, stages: list[int]
) -> ProblemBreach:
    blamed = max(number for number in stages if not problem.stages[number].under_way)
    return ProblemBreach(rule=rule, stage=blamed, worker=worker, day=day)


def _by_day(problem: Problem, schedule: Schedule, numbers: Iterable[int], days: Spans) -> Days:
    found: Days = defaultdict(list)
    for number in numbers:
        team, start, end = schedule.teams[number], schedule.starts[number], schedule.ends[number]
        met = [(day, a, b) for day, (a, b) in enumerate(days) if a < end and b > start]
        for t in _worked(problem, schedule, number) if team and schedule.ways[number] >= 0 else ():
            for day in (day for day, a, b in met if a <= t < b):
                for worker in team:
                    found[worker, day].append(number)
    return found
