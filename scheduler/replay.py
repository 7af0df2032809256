"""The plain judge of a schedule against its problem: slow, simple, and sharing no code.

It walks steps one by one and counts; nothing here comes from what places the stages.
"""

from collections.abc import Iterator

from scheduler.breaches import ProblemBreach, ProblemRule
from scheduler.problem import Edge, Problem, Schedule, Stage, Way
from scheduler.replay_hours import hour_breaches
from scheduler.replay_loads import air_breaches, load_breaches, trip_breaches
from scheduler.replay_people import company_breaches, daily_breaches, pair_breaches

Found = Iterator[ProblemBreach]


def breaches(problem: Problem, schedule: Schedule) -> tuple[ProblemBreach, ...]:
    """Return every breach of a rule of the problem, none for a schedule that keeps them all."""
    if not _has_shape(problem, schedule):
        return (ProblemBreach(rule=ProblemRule.SHAPE),)
    numbers = range(len(problem.stages))
    unplaced = [number for number in numbers if schedule.ways[number] == -1]
    found = [
        ProblemBreach(rule=ProblemRule.NOT_PLACED, stage=number)
        for number in unplaced
        if not problem.stages[number].optional
    ]
    placed = [number for number in numbers if number not in unplaced]
    for number in placed:
        found += stage_breaches(problem, schedule, number)
    if any(breach.rule is ProblemRule.WAY for breach in found):
        return tuple(found)
    for number, edge in enumerate(problem.edges):
        if edge.before in placed and edge.after in placed:
            found += edge_breaches(problem, schedule, number)
    found += stock_breaches(problem, schedule)
    found += load_breaches(problem, schedule)
    found += air_breaches(problem, schedule)
    found += company_breaches(problem, schedule)
    found += pair_breaches(problem, schedule)
    found += daily_breaches(problem, schedule)
    found += trip_breaches(problem, schedule)
    return tuple(found)


def _has_shape(problem: Problem, schedule: Schedule) -> bool:
    by_stage = (schedule.starts, schedule.ends, schedule.ways, schedule.teams)
    return all(len(figures) == len(problem.stages) for figures in by_stage) and len(
        schedule.trips
    ) == len(problem.jobs)


def stage_breaches(problem: Problem, schedule: Schedule, number: int) -> Found:
    """Yield what a placed stage breaks of its own rules."""
    stage = problem.stages[number]
    way = schedule.ways[number]
    if not 0 <= way < len(stage.ways):
        yield ProblemBreach(rule=ProblemRule.WAY, stage=number)
        return
    start, end = schedule.starts[number], schedule.ends[number]
    for rule, is_broken in _bounds(problem, stage, start, end).items():
        if is_broken:
            yield ProblemBreach(rule=rule, stage=number)
    clear = stage.ways[way].clear
    if clear is not None and not any(a <= start and end <= b for a, b in clear):
        yield ProblemBreach(rule=ProblemRule.CLEAR, stage=number)
    if stage.optional and all(edge.insert != number for edge in problem.edges):
        yield ProblemBreach(rule=ProblemRule.INSERTED, stage=number)
    yield from _team_breaches(problem, schedule, number, stage.ways[way])
    yield from hour_breaches(problem, schedule, number)


def _bounds(problem: Problem, stage: Stage, start: int, end: int) -> dict[ProblemRule, bool]:
    return {
        ProblemRule.BACKWARDS: start < 0 or end < start,
        ProblemRule.HORIZON: end > problem.horizon,
        ProblemRule.RELEASE: start < stage.release,
        ProblemRule.START_BY: stage.start_by is not None and start > stage.start_by,
        ProblemRule.FIXED_START: stage.fixed_start is not None and start != stage.fixed_start,
        ProblemRule.ENDS: stage.ends is not None and not any(a <= end < b for a, b in stage.ends),
        ProblemRule.CURE: stage.cure.table is not None and stage.cure.table.value(end) is None,
    }


def _team_breaches(problem: Problem, schedule: Schedule, number: int, way: Way) -> Found:
    stage, team = problem.stages[number], schedule.teams[number]
    if way.work == 0 and not team:
        return
    workers = range(len(problem.workers))
    if len(set(team)) != len(team) or any(worker not in workers for worker in team):
        yield ProblemBreach(rule=ProblemRule.TEAM, stage=number)
        return
    if not _fills_places(problem, _places(way), list(team)):
        yield ProblemBreach(rule=ProblemRule.TEAM, stage=number)
    asked = set(stage.asked)
    if not asked <= set(team) or (stage.only_asked and asked != set(team)):
        yield ProblemBreach(rule=ProblemRule.ASKED, stage=number)
    end = schedule.ends[number]
    for worker in team:
        held = problem.workers[worker].certificates
        for asked_for in stage.certificates:
            if not any(name == asked_for and end <= until for name, until in held):
                yield ProblemBreach(rule=ProblemRule.CERTIFICATE, stage=number, worker=worker)


def _places(way: Way) -> list[tuple[int, bool]]:
    """Return the places of a way: skill, and whether helping is not enough."""
    places: list[tuple[int, bool]] = []
    for need in way.needs:
        places += [(need.skill, True)] * need.can + [(need.skill, False)] * need.helps
    return places


def _fills_places(problem: Problem, places: list[tuple[int, bool]], team: list[int]) -> bool:
    """Return whether the members can be dealt out to the places, one each (Kuhn's matching)."""
    seat_of: dict[int, int] = {}

    def is_seated(worker: int, seen: set[int]) -> bool:
        who = problem.workers[worker]
        for at, (skill, must_can) in enumerate(places):
            if at in seen or not (skill in who.can or (not must_can and skill in who.helps)):
                continue
            seen.add(at)
            if at not in seat_of or is_seated(seat_of[at], seen):
                seat_of[at] = worker
                return True
        return False

    return len(team) == len(places) and all(is_seated(worker, set()) for worker in team)


def edge_breaches(problem: Problem, schedule: Schedule, number: int) -> Found:
    """Yield what is broken of an edge whose stages are placed."""
    edge = problem.edges[number]
    start = schedule.starts[edge.after]
    came = schedule.starts[edge.before] if edge.from_start else schedule.ends[edge.before]
    if start < came + edge.least:
        yield ProblemBreach(rule=ProblemRule.ORDER, stage=edge.after, edge=number)
    if not edge.from_start and not _is_cured(problem.stages[edge.before], came, start):
        yield ProblemBreach(rule=ProblemRule.CURE, stage=edge.after, edge=number)
    if _is_late(edge, schedule, came, start) and not _is_split(schedule, edge):
        yield ProblemBreach(rule=ProblemRule.WAIT, stage=edge.after, edge=number)


def _is_late(edge: Edge, schedule: Schedule, came: int, start: int) -> bool:
    if edge.most is not None and start > came + edge.most:
        return True
    if edge.most_table is None:
        return False
    latest = edge.most_table.value(schedule.ends[edge.before])
    return latest is not None and start > latest


def _is_cured(stage: Stage, end: int, t: int) -> bool:
    table = stage.cure.table
    value = end if table is None else table.value(end)
    return value is not None and t >= value and t >= end + stage.cure.least


def _is_split(schedule: Schedule, edge: Edge) -> bool:
    """Return whether the stage that may be inserted lies between."""
    if edge.insert is None or schedule.ways[edge.insert] == -1:
        return False
    return (
        schedule.starts[edge.insert] >= schedule.ends[edge.before]
        and schedule.ends[edge.insert] <= schedule.starts[edge.after]
    )


def stock_breaches(problem: Problem, schedule: Schedule) -> Found:
    """Yield what more is used up of than there is."""
    left = list(problem.consumables)
    for stage, way in zip(problem.stages, schedule.ways, strict=True):
        for consumable, units in stage.ways[way].consumes if way >= 0 else ():
            left[consumable] -= units
    for consumable, units in enumerate(left):
        if units < 0:
            yield ProblemBreach(rule=ProblemRule.STOCK, consumable=consumable)
