"""The judge: a sound schedule has no breach, and each rule broken once gives its one breach."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.breaches import ProblemBreach, ProblemRule
from scheduler.problem import (
    Edge,
    Going,
    Hold,
    JobAim,
    Need,
    Problem,
    Room,
    Schedule,
    Stage,
    Table,
    Trip,
    Use,
    Wait,
    Way,
    Worker,
)
from scheduler.replay import breaches
from tests.scheduler.goings import a_trip
from tests.scheduler.shops import a_calendar, a_worker, by_hand, elapsed, stage_of

SHIFTS = ((9, 17), (33, 41), (57, 65), (153, 161))
CALENDAR = a_calendar((9, 12), (13, 17), *SHIFTS[1:], shifts=SHIFTS)


def problem_of(*stages: Stage, **fields: object) -> Problem:
    given = {
        "horizon": 200,
        "workers": (a_worker(0), a_worker(0), a_worker(None, 5)),
        "calendars": (CALENDAR,),
        "rooms": (Room(capacity=2, busy=((100, 110, 2),)),),
        **fields,
    }
    return Problem(stages=stages, **given)  # type: ignore[arg-type]


def schedule_of(
    *spans: tuple[int, int],
    teams: Sequence[tuple[int, ...]] = (),
    ways: Sequence[int] = (),
    trips: tuple[int, ...] = (),
) -> Schedule:
    return Schedule(
        starts=tuple(start for start, _ in spans),
        ends=tuple(end for _, end in spans),
        ways=tuple(ways) or (0,) * len(spans),
        teams=tuple(teams) or ((),) * len(spans),
        trips=trips,
    )


BENCH = stage_of(by_hand(4))
WAITING = stage_of(elapsed(10))
BOOTH = stage_of(elapsed(10, Use(room=0, units=2, before=2, after=3)))
AIR = (Room(capacity=9), Room(capacity=9))
SPRAY = stage_of(
    elapsed(10, Use(room=0, units=1, before=4, after=3, through_cure=True, against=(1,))),
    cure=Wait(least=2),
)
WELD = stage_of(elapsed(10, Use(room=1, units=1)))
CURED = stage_of(elapsed(10, Use(room=0, units=2, through_cure=True)), cure=Wait(least=5))
TABLED = Wait(table=Table.of((20, 40), (30, 50)))
TRIP = a_trip((20, 30, 50), (90, 95, 96), crew=(0,), rooms=((0, 2),))
RESTED = Trip(options=(Going(leaves=20, away=((0, 20, 30),), rests=((0, 14, 20),)),))
JOB = JobAim(lasts=(0,), latest=20, trip=TRIP)
LICENSED = (replace(a_worker(0), certificates=((1, 15),)), a_worker(0))
ONE = ((0,),)


def case(
    rule: ProblemRule, problem: Problem, sound: Schedule, broken: Schedule
) -> tuple[ProblemRule, Problem, Schedule, Schedule]:
    return rule, problem, sound, broken


def alone(
    rule: ProblemRule, stage: Stage, broken: tuple[int, int], **fields: object
) -> tuple[ProblemRule, Problem, Schedule, Schedule]:
    """A stage of four steps at the bench, soundly from 9 to 14, and one other placement."""
    problem = problem_of(stage, **fields)
    return case(rule, problem, schedule_of((9, 14), teams=ONE), schedule_of(broken, teams=ONE))


def pair(
    rule: ProblemRule, edge: Edge, sound: int, broken: int, first: Stage = WAITING
) -> tuple[ProblemRule, Problem, Schedule, Schedule]:
    """A stage from 0 to 10 and one that begins then, soundly and not."""
    problem = problem_of(first, WAITING, edges=(edge,))
    return case(
        rule,
        problem,
        schedule_of((0, 10), (sound, sound + 10)),
        schedule_of((0, 10), (broken, broken + 10)),
    )


def two(
    rule: ProblemRule, stage: Stage, sound: int, broken: int, **fields: object
) -> tuple[ProblemRule, Problem, Schedule, Schedule]:
    problem = problem_of(stage, stage, **fields)
    return case(
        rule,
        problem,
        schedule_of((2, 12), (sound, sound + 10)),
        schedule_of((2, 12), (broken, broken + 10)),
    )


TWO_AT_BENCH = problem_of(BENCH, BENCH)
SAND = replace(WAITING, optional=True)
INSERTING = Edge(before=0, after=1, most=5, insert=2)
BANDS = Table.of((9, 12), (10, 15), (30, 40))
STOCKED = replace(elapsed(10), consumes=((0, 3),))
ON_FLOOR = problem_of(WAITING, WAITING, holds=(Hold(room=0, units=2, first=0, last=1),))
BOOKED = (Room(capacity=2, busy=((30, 40, 1),)),)
GOING = problem_of(BENCH, jobs=(JOB,))
LONELY = stage_of(by_hand(2), company=True)
CARVERS = (a_worker(0), a_worker(1), a_worker(None, 5))
ALONE_AT_NOON = (CALENDAR, a_calendar((9, 12), (34, 41)))
COMPANY = problem_of(LONELY, workers=CARVERS[:2], calendars=ALONE_AT_NOON)
HALF_DAYS = tuple((at, at + 12) for at in range(0, 192, 12))
DAYS = tuple((at, at + 24) for at in range(0, 192, 24))
PIECES = tuple(stage_of(by_hand(1), piece=piece) for piece in (0, 0, 1, 2))
GIVEN = tuple(replace(stage, under_way=True) for stage in PIECES)
BUSY_MORNING = schedule_of((9, 10), (10, 11), (11, 12), (13, 14), teams=((0,),) * 4)
BUSY_DAY = schedule_of((9, 10), (10, 11), (11, 12), (33, 34), teams=((0,),) * 4)
SANDING = stage_of(by_hand(3), sands=True)
SANDERS = (replace(a_worker(0), sanding_max=4), a_worker(0))

CASES = [
    case(
        ProblemRule.SHAPE,
        TWO_AT_BENCH,
        schedule_of((9, 14), (33, 37), teams=((0,), (0,))),
        schedule_of((9, 14), teams=ONE),
    ),
    case(
        ProblemRule.NOT_PLACED,
        problem_of(BENCH),
        schedule_of((9, 14), teams=ONE),
        schedule_of((-1, -1), teams=((),), ways=(-1,)),
    ),
    case(
        ProblemRule.INSERTED,
        problem_of(SAND),
        schedule_of((-1, -1), ways=(-1,)),
        schedule_of((0, 10)),
    ),
    case(
        ProblemRule.WAY,
        problem_of(BENCH),
        schedule_of((9, 14), teams=ONE),
        schedule_of((9, 14), teams=ONE, ways=(1,)),
    ),
    case(
        ProblemRule.RELEASE,
        problem_of(replace(BENCH, release=10)),
        schedule_of((10, 15), teams=ONE),
        schedule_of((9, 14), teams=ONE),
    ),
    alone(ProblemRule.START_BY, replace(BENCH, start_by=9), (10, 15)),
    alone(ProblemRule.FIXED_START, replace(BENCH, fixed_start=9), (10, 15)),
    alone(ProblemRule.ENDS, replace(BENCH, ends=((14, 15),)), (10, 15)),
    alone(ProblemRule.HORIZON, BENCH, (33, 37), horizon=36),
    alone(ProblemRule.HOURS, BENCH, (8, 14)),
    alone(ProblemRule.LENGTH, BENCH, (9, 15)),
    alone(ProblemRule.PAUSE, replace(BENCH, longest_pause=10), (15, 35)),
    alone(ProblemRule.ONE_GO, replace(BENCH, one_go=True), (15, 35)),
    alone(ProblemRule.WATCH, replace(BENCH, one_go=True, watch=3), (10, 15)),
    alone(ProblemRule.CLEAR, stage_of(replace(by_hand(4), clear=((0, 14), (14, 20)))), (10, 15)),
    case(
        ProblemRule.CLEAR,
        problem_of(stage_of(Way(clear=((4, 5), (7, 9))))),
        schedule_of((5, 5)),
        schedule_of((6, 6)),
    ),
    alone(ProblemRule.CERTIFICATE, replace(BENCH, certificates=(1,)), (11, 16), workers=LICENSED),
    case(
        ProblemRule.TEAM,
        problem_of(BENCH),
        schedule_of((9, 14), teams=((1,),)),
        schedule_of((9, 13), teams=((2,),)),
    ),
    case(
        ProblemRule.ASKED,
        problem_of(replace(BENCH, asked=(1,))),
        schedule_of((9, 14), teams=((1,),)),
        schedule_of((9, 14), teams=ONE),
    ),
    case(
        ProblemRule.ASKED,
        problem_of(stage_of(by_hand(4), by_hand(4, 2), asked=(1,), only_asked=True)),
        schedule_of((9, 14), teams=((1,),)),
        schedule_of((9, 14), teams=((0, 1),), ways=(1,)),
    ),
    case(
        ProblemRule.COMPANY,
        replace(
            COMPANY,
            stages=(replace(LONELY, one_go=True),),
            calendars=(CALENDAR, a_calendar((9, 11), (14, 17))),
        ),
        schedule_of((9, 11), teams=ONE),
        schedule_of((10, 15), teams=ONE),
    ),
    case(
        ProblemRule.COMPANY,
        replace(COMPANY, workers=(a_worker(0), replace(a_worker(1), away=((11, 12),)))),
        schedule_of((9, 11), teams=ONE),
        schedule_of((10, 12), teams=ONE),
    ),
    case(
        ProblemRule.LENGTH,
        COMPANY,
        schedule_of((11, 35), teams=ONE),
        schedule_of((11, 36), teams=ONE),
    ),
    case(
        ProblemRule.COMPANY,
        problem_of(
            BENCH,
            LONELY,
            workers=CARVERS[:2],
            calendars=(CALENDAR, CALENDAR),
            jobs=(
                JobAim(
                    lasts=(0,),
                    latest=20,
                    trip=a_trip((20, 30, 50), (90, 95, 96), crew=(1,), rooms=((0, 2),)),
                ),
            ),
        ),
        schedule_of((9, 14), (14, 16), teams=((1,), (0,)), trips=(0,)),
        schedule_of((9, 14), (33, 35), teams=((1,), (0,)), trips=(0,)),
    ),
    case(
        ProblemRule.SAME_TEAM,
        problem_of(BENCH, replace(BENCH, same_team_as=0)),
        schedule_of((9, 14), (33, 37), teams=((0,), (0,))),
        schedule_of((9, 14), (33, 37), teams=((0,), (1,))),
    ),
    case(
        ProblemRule.PIECES,
        problem_of(*PIECES, half_days=HALF_DAYS, pieces_max=2),
        BUSY_MORNING,
        schedule_of((9, 10), (13, 14), (11, 12), (10, 11), teams=((0,),) * 4),
    ),
    case(
        ProblemRule.PIECES,
        problem_of(*GIVEN[:3], PIECES[3], half_days=HALF_DAYS, pieces_max=1),
        BUSY_DAY,
        schedule_of((9, 10), (10, 11), (33, 34), (11, 12), teams=((0,),) * 4),
    ),
    case(
        ProblemRule.SANDING,
        problem_of(SANDING, SANDING, workers=SANDERS, days=DAYS),
        schedule_of((9, 12), (33, 36), teams=((0,), (0,))),
        schedule_of((9, 12), (15, 34), teams=((0,), (0,))),
    ),
    pair(ProblemRule.ORDER, Edge(before=0, after=1, least=3), 13, 12),
    case(
        ProblemRule.ORDER,
        problem_of(WAITING, WAITING, edges=(Edge(before=0, after=1, least=-4, from_start=True),)),
        schedule_of((20, 30), (16, 26)),
        schedule_of((20, 30), (15, 25)),
    ),
    pair(ProblemRule.CURE, Edge(before=0, after=1), 15, 14, replace(WAITING, cure=Wait(least=5))),
    pair(ProblemRule.CURE, Edge(before=0, after=1), 40, 39, replace(WAITING, cure=TABLED)),
    pair(ProblemRule.WAIT, Edge(before=0, after=1, most=5), 15, 16),
    pair(ProblemRule.WAIT, Edge(before=0, after=1, most=5, from_start=True), 5, 6),
    pair(ProblemRule.WAIT, Edge(before=0, after=1, most_table=BANDS), 15, 16),
    pair(ProblemRule.WAIT, Edge(before=0, after=1, most_table=BANDS, most=3), 13, 14),
    pair(ProblemRule.WAIT, Edge(before=0, after=1, most_table=BANDS, from_start=True), 15, 16),
    case(
        ProblemRule.WAIT,
        problem_of(WAITING, WAITING, edges=(Edge(before=0, after=1, most_table=BANDS),)),
        schedule_of((21, 31), (60, 70)),
        schedule_of((20, 30), (60, 70)),
    ),
    case(
        ProblemRule.WAIT,
        problem_of(
            WAITING, WAITING, SAND, edges=(replace(INSERTING, most=None, most_table=BANDS),)
        ),
        schedule_of((0, 10), (25, 35), (12, 22)),
        schedule_of((0, 10), (25, 35), (16, 26)),
    ),
    case(
        ProblemRule.WAIT,
        problem_of(WAITING, WAITING, SAND, edges=(INSERTING,)),
        schedule_of((0, 10), (25, 35), (12, 22)),
        schedule_of((0, 10), (25, 35), (16, 26)),
    ),
    case(
        ProblemRule.WORKER_TWICE,
        TWO_AT_BENCH,
        schedule_of((9, 14), (33, 37), teams=((0,), (0,))),
        schedule_of((9, 14), (13, 17), teams=((0,), (0,))),
    ),
    case(
        ProblemRule.WORKER_TWICE,
        problem_of(BENCH, workers=(replace(a_worker(0), busy=((20, 33),)),)),
        schedule_of((9, 14), teams=ONE),
        schedule_of((15, 35), teams=ONE),
    ),
    two(ProblemRule.ROOM, BOOTH, 17, 16),
    two(ProblemRule.ROOM, CURED, 17, 16),
    two(ProblemRule.ROOM, BOOTH, 45, 30, rooms=BOOKED),
    case(
        ProblemRule.ROOM,
        replace(ON_FLOOR, rooms=BOOKED),
        schedule_of((0, 10), (20, 30)),
        schedule_of((0, 10), (21, 31)),
    ),
    case(
        ProblemRule.ROOM,
        replace(ON_FLOOR, rooms=BOOKED, holds=(Hold(room=0, units=2, first=None, last=1),)),
        schedule_of((0, 10), (20, 30)),
        schedule_of((0, 10), (21, 31)),
    ),
    case(
        ProblemRule.AIR,
        problem_of(SPRAY, WELD, rooms=AIR),
        schedule_of((5, 15), (20, 30)),
        schedule_of((5, 15), (19, 29)),
    ),
    case(
        ProblemRule.AIR,
        problem_of(SPRAY, WELD, rooms=AIR),
        schedule_of((35, 45), (20, 30)),
        schedule_of((33, 43), (20, 30)),
    ),
    case(
        ProblemRule.AIR,
        problem_of(SPRAY, rooms=(AIR[0], Room(capacity=9, busy=((20, 40, 1),)))),
        schedule_of((5, 15)),
        schedule_of((6, 16)),
    ),
    case(
        ProblemRule.STOCK,
        problem_of(stage_of(elapsed(10), STOCKED), stage_of(STOCKED), consumables=(5,)),
        schedule_of((0, 10), (0, 10)),
        schedule_of((0, 10), (0, 10), ways=(1, 0)),
    ),
    case(
        ProblemRule.TRIP,
        GOING,
        schedule_of((9, 14), teams=ONE, trips=(0,)),
        schedule_of((9, 14), teams=ONE, trips=(2,)),
    ),
    case(
        ProblemRule.TRIP_TOO_SOON,
        GOING,
        schedule_of((57, 61), teams=ONE, trips=(1,)),
        schedule_of((57, 61), teams=ONE, trips=(0,)),
    ),
    case(
        ProblemRule.TRIP_STANDS,
        problem_of(BENCH, jobs=(replace(JOB, trip=replace(TRIP, stands_most=5)),)),
        schedule_of((10, 15), teams=ONE, trips=(0,)),
        schedule_of((9, 14), teams=ONE, trips=(0,)),
    ),
    case(
        ProblemRule.NO_REST,
        problem_of(BENCH, BENCH, jobs=(replace(JOB, trip=RESTED),)),
        schedule_of((9, 14), (9, 14), teams=((1,), (0,)), trips=(0,)),
        schedule_of((9, 14), (10, 15), teams=((1,), (0,)), trips=(0,)),
    ),
    case(
        ProblemRule.TRIP_LEFT_OUT,
        GOING,
        schedule_of((153, 157), teams=ONE, trips=(-1,)),
        schedule_of((57, 61), teams=ONE, trips=(-1,)),
    ),
    case(
        ProblemRule.WORKER_TWICE,
        problem_of(BENCH, BENCH, jobs=(JOB,)),
        schedule_of((9, 14), (57, 61), teams=((1,), (0,)), trips=(0,)),
        schedule_of((9, 14), (33, 37), teams=((1,), (0,)), trips=(0,)),
    ),
    case(
        ProblemRule.ROOM,
        problem_of(BENCH, BOOTH, jobs=(JOB,)),
        schedule_of((9, 14), (32, 42), teams=((1,), ()), trips=(0,)),
        schedule_of((9, 14), (31, 41), teams=((1,), ()), trips=(0,)),
    ),
]


@pytest.mark.parametrize(("rule", "problem", "sound", "broken"), CASES)
def test_a_rule_broken_once_is_its_one_breach(
    rule: ProblemRule, problem: Problem, sound: Schedule, broken: Schedule
) -> None:
    assert breaches(problem, sound) == ()
    assert [breach.rule for breach in breaches(problem, broken)] == [rule]


def test_every_rule_is_broken_somewhere() -> None:
    assert {rule for rule, _, _, _ in CASES} == set(ProblemRule) - {ProblemRule.BACKWARDS}


def test_an_end_before_its_start_is_told() -> None:
    found = breaches(problem_of(BENCH), schedule_of((14, 9), teams=ONE))

    assert ProblemBreach(rule=ProblemRule.BACKWARDS, stage=0) in found


def test_a_breach_names_stage_and_thing() -> None:
    broken = schedule_of((9, 14), (13, 17), teams=((0,), (0,)))

    assert breaches(TWO_AT_BENCH, broken) == (
        ProblemBreach(rule=ProblemRule.WORKER_TWICE, stage=1, worker=0),
    )


def test_nobody_fills_two_places() -> None:
    carve_and_paint = Way(needs=(Need(skill=0, can=1), Need(skill=1, can=1)), work=Fraction(4))
    both = frozenset({0, 1})
    workers = (
        Worker(calendar=None, can=both, helps=both),
        Worker(calendar=None, can=frozenset({0}), helps=frozenset({0})),
        Worker(calendar=None, can=frozenset({0}), helps=both),
    )
    problem = problem_of(stage_of(carve_and_paint), workers=workers)

    assert breaches(problem, schedule_of((0, 4), teams=((0, 1),))) == ()
    assert [breach.rule for breach in breaches(problem, schedule_of((0, 4), teams=((1, 2),)))] == [
        ProblemRule.TEAM
    ]


def test_rooms_that_are_too_full_without_any_stage_are_no_breach() -> None:
    room = Room(capacity=1, busy=((3, 9, 1), (4, 8, 1)))

    assert breaches(problem_of(WAITING, rooms=(room,)), schedule_of((0, 10))) == ()
