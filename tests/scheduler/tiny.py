"""Problems small enough to try out every schedule there is, and the trying out."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product
from random import Random

from scheduler.aims import Levels, levels
from scheduler.breaches import ProblemRule
from scheduler.problem import (
    Calendar,
    Edge,
    Hold,
    JobAim,
    Need,
    Problem,
    Room,
    Schedule,
    Span,
    Stage,
    Table,
    Use,
    Wait,
    Way,
    Worker,
)
from scheduler.replay import breaches
from scheduler.replay_hours import hour_breaches
from tests.scheduler.bound import bind
from tests.scheduler.goings import a_trip

HORIZON = 14
SKILLS = (0, 1)
UNPLACED = (-1, -1, -1, ())
Placement = tuple[int, int, int, tuple[int, ...]]


def tiny_problem(seed: int) -> Problem:
    """A problem of two or three stages with a bit of everything."""
    problem = _plain_problem(seed)
    draw = Random(f"{seed} and more")
    if draw.random() < 0.3:
        problem = _with_clear(problem, draw)
    if draw.random() < 0.3:
        problem = _with_table(problem, draw)
    if draw.random() < 0.3:
        problem = _with_air(problem, draw)
    if draw.random() < 0.3:
        problem = bind(problem, draw)
    return problem


def sharp_problem(seed: int) -> Problem:
    """Two stages that are easy but for a clear stretch, a wait by a table or shared air."""
    draw = Random(f"{seed} sharp")
    edge = Edge(before=0, after=1)
    keeps = draw.choice([None, 0])
    problem = Problem(
        horizon=HORIZON,
        stages=tuple(_easy_stage(draw) for _ in range(2)),
        edges=(edge,) if seed % 3 == 1 or draw.random() < 0.4 else (),
        calendars=(_calendar(draw),),
        workers=(Worker(calendar=keeps, can=frozenset(SKILLS), helps=frozenset(SKILLS)),),
        rooms=(Room(capacity=1), Room(capacity=1)),
        jobs=_jobs(draw, 2, crew=0),
    )
    for number, add in enumerate((_with_clear, _with_table, _with_air)):
        if number == seed % 3 or draw.random() < 0.3:
            problem = add(problem, draw)
    if not problem.edges or problem.edges[0].most_table is None or draw.random() < 0.5:
        return problem
    between = Stage(ways=(Way(work=Fraction(1)),), optional=True)
    return replace(
        problem,
        stages=(*problem.stages, between),
        edges=(replace(problem.edges[0], insert=2),),
    )


def _easy_stage(draw: Random) -> Stage:
    ways = tuple(
        Way(
            work=Fraction(draw.choice([0, 1, 2, 2, 3, 4])),
            needs=draw.choice([(), (Need(skill=0, can=1),)]),
            calendar=draw.choice([None, None, 0]),
            cost=draw.randint(0, 1),
        )
        for _ in range(draw.choice([1, 1, 2]))
    )
    return Stage(
        ways=ways,
        job=0,
        one_go=draw.random() < 0.3,
        release=draw.choice([0, 0, 2, 4, 6]),
        start_by=_maybe(draw, 0.4, draw.randint(3, 8)),
        cure=Wait(least=2) if draw.random() < 0.3 else Wait(),
        ends=((1, 5), (6, 12)) if draw.random() < 0.15 else None,
    )


def _with_clear(problem: Problem, draw: Random) -> Problem:
    """Let some ways be worked only in two stretches, or in one with a cut."""
    stages = list(problem.stages)
    for number in draw.sample(range(len(stages)), draw.randint(1, 2)):
        first, cut = draw.randint(0, 2), draw.randint(4, 7)
        clear = ((first, cut), (cut + draw.randint(0, 1), draw.randint(10, HORIZON)))
        ways = list(stages[number].ways)
        at = draw.randrange(len(ways))
        ways[at] = replace(ways[at], clear=clear)
        stages[number] = replace(stages[number], ways=tuple(ways))
    return replace(problem, stages=tuple(stages))


def _with_table(problem: Problem, draw: Random) -> Problem:
    """Let a greatest wait follow a table."""
    edges = list(problem.edges)
    if not edges:
        return problem
    at = draw.randrange(len(edges))
    values = sorted(draw.randint(2, 9) for _ in range(3))
    knots = tuple(zip((3, 6, draw.randint(7, HORIZON)), values, strict=True))
    edges[at] = replace(edges[at], most_table=Table.of(*knots))
    if draw.random() < 0.5:
        edges[at] = replace(edges[at], most=None)
    return replace(problem, edges=tuple(edges))


def _with_air(problem: Problem, draw: Random) -> Problem:
    """Keep some stages apart from others by two rooms more that are against each other."""
    stages = list(problem.stages)
    first = len(problem.rooms)
    for number in draw.sample(range(len(stages)), 2):
        side = draw.randint(0, 1)
        use = Use(
            room=first + side,
            units=1,
            before=draw.choice([0, 0, 1]),
            after=draw.choice([0, 0, 1, 2]),
            through_cure=draw.random() < 0.4,
            against=(first + 1 - side,),
        )
        ways = [replace(way, uses=(*way.uses, use)) for way in stages[number].ways]
        stages[number] = replace(stages[number], ways=tuple(ways))
    start = draw.randint(0, 10)
    busy = ((start, start + 2, 1),) if draw.random() < 0.2 else ()
    rooms = (*problem.rooms, Room(capacity=9), Room(capacity=9, busy=busy))
    return replace(problem, stages=tuple(stages), rooms=rooms)


def _plain_problem(seed: int) -> Problem:
    draw = Random(seed)
    stages = [_stage(draw) for _ in range(draw.randint(2, 3))]
    stages[0] = replace(stages[0], job=seed % 2)
    count = len(stages)
    edges = [_edge(draw, after) for after in range(1, count) if draw.random() < 0.8]
    if edges and edges[0].most is not None and draw.random() < 0.5:
        stages.append(Stage(ways=(_way(draw),), optional=True))
        edges[0] = replace(edges[0], insert=count)
    holds: tuple[Hold, ...] = ()
    if draw.random() < 0.3:
        holds = (Hold(room=0, units=1, first=draw.choice([None, 0]), last=count - 1),)
    return Problem(
        horizon=HORIZON,
        stages=tuple(stages),
        edges=tuple(edges),
        calendars=(_calendar(draw), _calendar(draw)),
        workers=tuple(_worker(draw) for _ in range(2)),
        rooms=(_room(draw), _room(draw)),
        consumables=(draw.randint(1, 4),),
        holds=holds,
        jobs=_jobs(draw, count),
        shut=((6, 8),) if draw.random() < 0.3 else (),
    )


def _maybe(draw: Random, chance: float, value: int) -> int | None:
    return value if draw.random() < chance else None


def _calendar(draw: Random) -> Calendar:
    first, second, third = draw.randint(0, 2), draw.randint(4, 6), draw.randint(8, 11)
    opens: tuple[Span, ...] = ((first, 3), (second, 7), (third, 13))
    bridged: tuple[Span, ...] = ((first, 7), (third, 13))
    return Calendar(open=opens, shifts=draw.choice([opens, bridged]))


def _worker(draw: Random) -> Worker:
    can = frozenset(skill for skill in SKILLS if draw.random() < 0.7)
    start = draw.randint(0, 10)
    return Worker(
        calendar=draw.choice([None, 0, 1]),
        can=can,
        helps=can | {draw.choice(SKILLS)},
        pace=draw.choice([Fraction(1), Fraction(1), Fraction(1, 2), Fraction(3, 2)]),
        busy=((start, start + 2),) if draw.random() < 0.3 else (),
        certificates=((0, draw.choice([7, HORIZON])),) if draw.random() < 0.6 else (),
    )


def _room(draw: Random) -> Room:
    start = draw.randint(0, 10)
    busy = ((start, start + 2, draw.randint(1, 3)),) if draw.random() < 0.3 else ()
    return Room(capacity=draw.randint(1, 2), busy=busy)


def _way(draw: Random) -> Way:
    needs = {
        0: (),
        1: (Need(skill=draw.choice(SKILLS), can=1),),
        2: (Need(skill=0, can=1, helps=draw.randint(0, 1)),),
        3: (Need(skill=0, can=1), Need(skill=1, can=0, helps=1)),
    }[draw.randint(0, 3)]
    use = Use(
        room=draw.randint(0, 1),
        units=1,
        before=draw.randint(0, 1),
        after=draw.randint(0, 1),
        through_cure=draw.random() < 0.3,
    )
    return Way(
        needs=needs,
        work=Fraction(draw.randint(0, 5), draw.choice([1, 2])),
        uses=(use,) if draw.random() < 0.5 else (),
        consumes=((0, draw.randint(1, 2)),) if draw.random() < 0.4 else (),
        calendar=draw.choice([None, None, 0]),
        cost=draw.randint(0, 2),
    )


def _stage(draw: Random) -> Stage:
    told = draw.random() < 0.3
    return Stage(
        ways=tuple(_way(draw) for _ in range(draw.choice([1, 1, 2]))),
        job=0,
        one_go=draw.random() < 0.4,
        watch=draw.randint(0, 1),
        release=draw.choice([0, 0, 0, 2]),
        start_by=_maybe(draw, 0.2, 9),
        ends=((2, 6), (8, 13)) if draw.random() < 0.2 else None,
        fixed_start=_maybe(draw, 0.1, 4),
        asked=(draw.randint(0, 1),) if draw.random() < 0.15 else (),
        only_asked=draw.random() < 0.1,
        longest_pause=_maybe(draw, 0.3, 2),
        cure=_cure(draw),
        certificates=(0,) if draw.random() < 0.15 else (),
        told_start=draw.randint(0, 6) if told else None,
        told_team=draw.choice([(), (0,), (0, 1)]) if told else None,
    )


def _cure(draw: Random) -> Wait:
    if draw.random() < 0.5:
        return Wait()
    least = draw.randint(0, 2)
    if draw.random() < 0.5:
        return Wait(least=least)
    return Wait(least=least, table=Table.of((3, 5), (6, 6), (9, 12), (13, 14)))


def _edge(draw: Random, after: int) -> Edge:
    least = draw.choice([0, 0, 1, -1])
    most = _maybe(draw, 0.5, draw.randint(1, 3))
    return Edge(
        before=after - 1, after=after, least=least, most=most, from_start=draw.random() < 0.3
    )


def _jobs(draw: Random, count: int, crew: int = 1) -> tuple[JobAim, ...]:
    latest = draw.randint(5, 12)
    trip = None
    if draw.random() < 0.4:
        options = ((latest, latest + 1, latest + 2), (latest + 2, latest + 3, latest + 3))
        rooms = ((1, 1),) if draw.random() < 0.5 else ()
        trip = a_trip(
            *options,
            rooms=rooms,
            crew=(draw.randint(0, crew),) if draw.random() < 0.7 else (),
            makes_window=draw.random() < 0.8,
        )
    first = JobAim(
        lasts=(count - 1,),
        latest=None if draw.random() < 0.1 else latest,
        wish=_maybe(draw, 0.5, latest - 2),
        floor=((0, count - 1),),
        trip=trip,
    )
    return (first, JobAim(lasts=(0,), latest=6, wish=3, firm=False))


def every_schedule(problem: Problem) -> Iterator[Schedule]:
    """Every schedule without a breach, by trying all."""
    menus = [_placements(problem, number) for number in range(len(problem.stages))]
    for placed in _grow(problem, menus, []):
        for trips in product(*(_trip_choices(job) for job in problem.jobs)):
            schedule = _schedule(problem, placed, trips)
            if not breaches(problem, schedule):
                yield schedule


def best_levels(problem: Problem) -> Levels | None:
    """The least levels there are, None if nothing fits."""
    return min((levels(problem, found) for found in every_schedule(problem)), default=None)


def _trip_choices(job: JobAim) -> range:
    return range(-1, 0 if job.trip is None else len(job.trip.options))


def _schedule(
    problem: Problem, placed: list[Placement], trips: tuple[int, ...] | None = None
) -> Schedule:
    whole = placed + [UNPLACED] * (len(problem.stages) - len(placed))
    return Schedule(
        starts=tuple(start for start, _, _, _ in whole),
        ends=tuple(end for _, end, _, _ in whole),
        ways=tuple(way for _, _, way, _ in whole),
        teams=tuple(team for _, _, _, team in whole),
        trips=(-1,) * len(problem.jobs) if trips is None else trips,
    )


def _placements(problem: Problem, number: int) -> list[Placement]:
    stage = problem.stages[number]
    found: list[Placement] = [UNPLACED] if stage.optional else []
    workers = range(len(problem.workers))
    teams = [team for size in range(len(workers) + 1) for team in combinations(workers, size)]
    for way, team in product(range(len(stage.ways)), teams):
        if team and not stage.ways[way].work:
            continue  # Allowed, but the engine sends nobody where there is nothing to do.
        for start in range(problem.horizon + 1):
            for end in range(start, problem.horizon + 1):
                if _holds_alone(problem, number, (start, end, way, team)):
                    found.append((start, end, way, team))
    return found


def _holds_alone(problem: Problem, number: int, placement: Placement) -> bool:
    alone = _schedule(problem, [*[UNPLACED] * number, placement])
    return not list(hour_breaches(problem, alone, number)) and not _broken(problem, alone)


def _broken(problem: Problem, partial: Schedule) -> bool:
    later = {ProblemRule.NOT_PLACED, ProblemRule.TRIP_LEFT_OUT}
    return any(breach.rule not in later for breach in breaches(problem, partial))


def _grow(
    problem: Problem, menus: list[list[Placement]], placed: list[Placement]
) -> Iterator[list[Placement]]:
    if len(placed) == len(menus):
        yield placed
        return
    for placement in menus[len(placed)]:
        longer = [*placed, placement]
        if not _may_go_on(problem, menus, longer):
            continue
        yield from _grow(problem, menus, longer)


def _may_go_on(problem: Problem, menus: list[list[Placement]], placed: list[Placement]) -> bool:
    """Whether nothing is broken that more stages can't mend."""
    later = {ProblemRule.NOT_PLACED, ProblemRule.TRIP_LEFT_OUT}
    if len(placed) < len(menus):
        later |= {ProblemRule.WAIT}
    found = breaches(problem, _schedule(problem, placed))
    return all(breach.rule in later for breach in found)
