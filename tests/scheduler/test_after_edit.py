"""After an edit: what a repair keeps, what it moves, and that what comes out breaks no rule.

Told work stays and few are told anew: common practice, no source.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from scheduler.aims import levels, missed_jobs
from scheduler.breaches import ProblemRule
from scheduler.broken import broken
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.edited import Carried
from scheduler.net import Nets
from scheduler.place import place
from scheduler.problem import Edge, JobAim, Need, Problem, Room, Schedule, Use, Way, Worker
from scheduler.repair import repair
from scheduler.replay import breaches
from scheduler.search import Spot
from scheduler.shifts import first_schedule
from scheduler.spots import spots_of
from scheduler.urgency import countback_order
from tests.scheduler.problems import random_problem
from tests.scheduler.shops import a_calendar, a_worker, by_hand, stage_of

SEEDS = range(24)
UNFAIR = {ProblemRule.TRIP_LEFT_OUT, ProblemRule.NOT_PLACED, ProblemRule.INSERTED}
"""What is no fault of anything that is placed."""


def kept_of(problem: Problem, schedule: Schedule) -> Carried:
    """Give a schedule as what was planned before."""
    spots = spots_of(schedule)
    return Carried(
        spots=spots,
        starts={stage: spot.start for stage, spot in spots.items()},
        trips={job: option for job, option in enumerate(schedule.trips) if option >= 0},
        jobs=frozenset(range(len(problem.jobs))),
        missed=missed_jobs(problem, schedule),
        levels=levels(problem, schedule)[:3],
    )


def moved(before: Schedule, after: Schedule) -> set[int]:
    """Give the stages that begin elsewhere."""
    pairs = zip(before.starts, after.starts, strict=True)
    return {stage for stage, (was, now) in enumerate(pairs) if was != now}


def planned(seed: int) -> tuple[Problem, Schedule] | None:
    problem = random_problem(seed)
    found = first_schedule(Index(problem), 1)
    return None if isinstance(found, Unfit) else (problem, found)


def longer(problem: Problem, schedule: Schedule, draw: Random) -> Problem:
    """Let a stage take longer."""
    at = draw.choice([one for one, way in enumerate(schedule.ways) if way >= 0])
    stage = problem.stages[at]
    ways = tuple(replace(way, work=way.work + 6 if way.work else way.work) for way in stage.ways)
    stages = (*problem.stages[:at], replace(stage, ways=ways), *problem.stages[at + 1 :])
    return replace(problem, stages=stages)


def ill(problem: Problem, schedule: Schedule, draw: Random) -> Problem:
    """Let somebody be taken for three days when they have something to do."""
    at = draw.choice([one for one, team in enumerate(schedule.teams) if team])
    who, start = draw.choice(schedule.teams[at]), schedule.starts[at]
    away = (start, min(problem.horizon, start + 288))
    workers = list(problem.workers)
    workers[who] = replace(workers[who], busy=(*workers[who].busy, away))
    return replace(problem, workers=tuple(workers))


def smaller(problem: Problem, schedule: Schedule, draw: Random) -> Problem:
    """Let a place be taken by something else for a week."""
    at = draw.choice([one for one, way in enumerate(schedule.ways) if way >= 0])
    uses = problem.stages[at].ways[schedule.ways[at]].uses
    if not uses:
        return problem
    room, start = uses[0].room, schedule.starts[at]
    rooms = list(problem.rooms)
    taken = (start, min(problem.horizon, start + 672), rooms[room].capacity)
    rooms[room] = replace(rooms[room], busy=(*rooms[room].busy, taken))
    return replace(problem, rooms=tuple(rooms))


def sooner(problem: Problem, schedule: Schedule, draw: Random) -> Problem:
    """Let a job be wanted a day sooner."""
    at = draw.randrange(len(problem.jobs))
    aim = problem.jobs[at]
    latest = None if aim.latest is None else max(0, aim.latest - 96)
    jobs = (*problem.jobs[:at], replace(aim, latest=latest), *problem.jobs[at + 1 :])
    return replace(problem, jobs=jobs)


def waits(problem: Problem, schedule: Schedule, draw: Random) -> Problem:
    """Let a stage wait longer for another."""
    at = draw.randrange(len(problem.edges))
    edge = problem.edges[at]
    if edge.most is not None or edge.from_start:
        return problem
    after = replace(edge, least=edge.least + 40)
    return replace(problem, edges=(*problem.edges[:at], after, *problem.edges[at + 1 :]))


EDITS: tuple[Callable[[Problem, Schedule, Random], Problem], ...] = (
    longer,
    ill,
    smaller,
    sooner,
    waits,
)


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.__name__)
def test_what_is_repaired_breaks_no_rule_and_is_the_same_each_time(
    edit: Callable[[Problem, Schedule, Random], Problem],
) -> None:
    repaired = 0
    for seed in SEEDS:
        found = planned(seed)
        if found is None:
            continue
        problem, schedule = found
        edited = edit(problem, schedule, Random(seed))
        kept = kept_of(problem, schedule)
        after = repair(Index(edited), kept)
        if after is None:
            continue
        repaired += 1
        assert breaches(edited, after) == (), seed
        assert repair(Index(edited), kept) == after
    assert repaired > len(SEEDS) // 2


def test_what_needs_no_repair_stays_as_it_is() -> None:
    for seed in SEEDS:
        found = planned(seed)
        if found is not None:
            problem, schedule = found
            after = repair(Index(problem), kept_of(problem, schedule))
            assert after is not None
            assert moved(schedule, after) == set()
            assert after.teams == schedule.teams


def test_what_breaks_a_rule_is_told_as_the_judge_tells_it() -> None:
    """Both ways, on schedules with something out of its place."""
    faults_count = 0
    for seed in range(60):
        found = planned(seed)
        if found is None:
            continue
        problem, schedule = found
        draw = Random(seed)
        at = draw.choice([one for one, way in enumerate(schedule.ways) if way >= 0])
        by = draw.choice((-40, -3, 1, 5, 96))
        off = replace(
            schedule,
            starts=(*schedule.starts[:at], schedule.starts[at] + by, *schedule.starts[at + 1 :]),
            ends=(*schedule.ends[:at], schedule.ends[at] + by, *schedule.ends[at + 1 :]),
        )
        told = {breach.rule for breach in breaches(problem, off)} - UNFAIR
        spots = spots_of(off)
        inserted = frozenset(one for one in spots if problem.stages[one].optional)
        index = Index(problem)
        trips = {job: option for job, option in enumerate(off.trips) if option >= 0}
        blamed = broken(index, index.once(Nets).net(inserted), spots, trips)
        assert bool(told) == bool(blamed), (seed, told, blamed)
        faults_count += bool(told)
    assert faults_count


def two_days() -> Problem:
    """Two stages of one person one after the other, each half a day, and a third much later."""
    day = a_calendar((0, 32), (96, 128), (192, 224), (288, 320))
    stages = (
        stage_of(by_hand(16), told_start=0, told_team=(0,)),
        stage_of(by_hand(16), told_start=16, told_team=(0,)),
        stage_of(by_hand(8), told_start=192, told_team=(0,)),
    )
    return Problem(
        horizon=384,
        stages=stages,
        edges=(Edge(before=0, after=1), Edge(before=1, after=2)),
        calendars=(day,),
        workers=(a_worker(0, 0),),
        jobs=(JobAim(lasts=(2,), latest=320),),
    )


def as_told(problem: Problem) -> Carried:
    index = Index(problem)
    release = [stage.told_start or 0 for stage in problem.stages]
    found = place(index, countback_order(index), release=release)
    assert not isinstance(found, Unfit)
    assert [stage.told_start for stage in problem.stages] == list(found.starts)
    return kept_of(problem, found)


def with_work(problem: Problem, at: int, work: int) -> Problem:
    stage = problem.stages[at]
    ways = (replace(stage.ways[0], work=Fraction(work)),)
    return replace(
        problem,
        stages=(*problem.stages[:at], replace(stage, ways=ways), *problem.stages[at + 1 :]),
    )


def test_an_overrun_that_later_work_absorbs_moves_what_follows_and_nothing_behind_that() -> None:
    kept = as_told(two_days())
    after = repair(Index(with_work(two_days(), 0, 20)), kept)

    assert after is not None
    assert after.starts == (0, 20, 192)


def test_somebody_else_takes_over_for_who_is_ill_and_begins_when_it_was_planned() -> None:
    problem = two_days()
    free = Worker(calendar=0, can=frozenset({0}), helps=frozenset({0}), busy=((0, 100),))
    kept = as_told(replace(problem, workers=(*problem.workers, free)))
    absent = replace(problem.workers[0], busy=((192, 288),))
    after = repair(Index(replace(problem, workers=(absent, free))), kept)

    assert after is not None
    assert (after.starts, after.teams) == ((0, 16, 192), ((0,), (0,), (1,)))


def test_work_that_nobody_else_can_do_waits_until_they_are_back() -> None:
    problem = two_days()
    absent = replace(problem.workers[0], busy=((192, 288),))
    after = repair(Index(replace(problem, workers=(absent,))), as_told(problem))

    assert after is not None
    assert (after.starts, after.teams[2]) == ((0, 16, 288), (0,))


def test_a_job_that_comes_in_takes_what_is_free_and_nothing_of_others() -> None:
    problem = two_days()
    new = stage_of(by_hand(16), job=1)
    aims = (*problem.jobs, JobAim(lasts=(3,), latest=384))
    after = repair(
        Index(replace(problem, stages=(*problem.stages, new), jobs=aims)), as_told(problem)
    )

    assert after is not None
    assert after.starts[:3] == (0, 16, 192)
    assert after.starts[3] == 96


def test_a_place_taken_by_something_else_moves_who_was_in_it() -> None:
    problem = two_days()
    booth = Use(room=0, units=1)
    third = replace(problem.stages[2], ways=(by_hand(8, 1, booth),))
    with_booth = replace(problem, stages=(*problem.stages[:2], third), rooms=(Room(capacity=1),))
    taken = replace(with_booth, rooms=(Room(capacity=1, busy=((190, 230, 1),)),))
    after = repair(Index(taken), as_told(with_booth))

    assert after is not None
    assert after.starts == (0, 16, 288)


def test_a_window_that_is_sooner_pulls_its_job_and_leaves_one_with_slack() -> None:
    week = a_calendar(*((day, day + 32) for day in range(0, 960, 96)))
    hands = (a_worker(0, 0), a_worker(0, 0))
    first = stage_of(by_hand(32), job=0)
    last = stage_of(by_hand(32), job=0)
    other = stage_of(by_hand(16), job=1)
    problem = Problem(
        horizon=960,
        stages=(first, last, other),
        edges=(Edge(before=0, after=1),),
        calendars=(week,),
        workers=hands,
        jobs=(JobAim(lasts=(1,), latest=512), JobAim(lasts=(2,), latest=900)),
    )
    planned = Schedule(
        starts=(384, 480, 192),
        ends=(416, 512, 208),
        ways=(0, 0, 0),
        teams=((0,), (0,), (1,)),
        trips=(-1, -1),
    )
    assert breaches(problem, planned) == ()
    aims = (replace(problem.jobs[0], latest=416), problem.jobs[1])
    after = repair(Index(replace(problem, jobs=aims)), kept_of(problem, planned))

    assert after is not None
    assert after.ends[1] <= 416
    assert after.starts[2] == 192
    assert after.teams[2] == (1,)


def test_nothing_is_made_of_a_plan_of_something_else() -> None:
    problem = two_days()
    nothing = Carried(spots={}, starts={}, trips={})
    assert repair(Index(problem), nothing) is None


def test_a_team_that_cannot_do_it_any_more_is_not_kept() -> None:
    problem = two_days()
    other = a_worker(0, 1)
    ways = (Way(needs=(Need(skill=1, can=1),), work=Fraction(8)),)
    stages = (*problem.stages[:2], replace(problem.stages[2], ways=ways))
    kept = as_told(replace(problem, workers=(*problem.workers, other)))
    index = Index(replace(problem, workers=(*problem.workers, other), stages=stages))
    after = repair(index, kept)

    assert kept.spots[2] == Spot(start=192, end=200, way=0, team=(0,))
    assert after is not None
    assert (after.starts[2], after.teams[2]) == (192, (1,))
