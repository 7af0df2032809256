"""Parts solved anew: sound, never worse, the same for the same seed, strict from level to level."""

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import count
from random import Random

import pytest

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.excerpt import excerpt, merge
from scheduler.improve import BY_EFFORT, IN_SECONDS, improve
from scheduler.judge import is_sound
from scheduler.model.departures import let_leave
from scheduler.model.part import PartLimits, solve_part
from scheduler.model.part_days import GivenDays
from scheduler.model.starts import StartTable
from scheduler.neighbours import CHOOSE, Kind, Look
from scheduler.place import place
from scheduler.problem import Edge, JobAim, Problem, Schedule
from scheduler.pull import pull, tighten
from scheduler.regret import regrets
from scheduler.replay import breaches
from scheduler.shifts import first_schedule, improve_by_shifts
from scheduler.stop import AfterEffort, AfterSeconds
from scheduler.taken import Taken
from scheduler.urgency import countback_order
from tests.scheduler.problems import random_problem
from tests.scheduler.shops import a_worker, by_hand, stage_of

SEEDS = [range(first, first + 10) for first in range(0, 40, 10)]
REACH = 10 * 96
SHORT = PartLimits(effort=20)
LONG = PartLimits(effort=100)
ONE_BY_ONE = PartLimits(effort=100, weighed_max=1)


@cache
def small(seed: int) -> tuple[Index, Schedule]:
    problem = random_problem(
        seed, jobs=1 + seed % 4, segments=2 + seed % 5, workers=3 + seed % 4, spice=seed % 7 > 0
    )
    index = Index(problem)
    found = place(index, countback_order(index))
    assert isinstance(found, Schedule), seed
    return index, found


def solved(
    index: Index, schedule: Schedule, stages: list[int], *, limits: PartLimits = SHORT
) -> tuple[Schedule | None, bool]:
    """Return the whole schedule with a part solved anew, and whether the part is proved."""
    part = excerpt(index, Taken(index, schedule), stages, REACH)
    if part is None:
        return None, False
    found = solve_part(part, GivenDays(index, schedule), StartTable(index), limits)
    if found.schedule is None:
        return None, False
    return let_leave(index, merge(schedule, part, found.schedule)), found.is_proved


@pytest.mark.parametrize("seeds", SEEDS)
def test_a_part_solved_anew_keeps_every_rule_and_is_no_worse(seeds: range) -> None:
    solved_count = 0
    for seed in seeds:
        index, schedule = small(seed)
        look = Look(index, schedule, regrets(index, schedule))
        draw = Random(seed)
        kind = list(Kind)[seed % len(Kind)]
        found, _ = solved(index, schedule, CHOOSE[kind](look, draw, 12))
        if found is None:
            continue
        solved_count += 1
        assert breaches(index.problem, found) == (), (seed, kind)
        assert levels(index.problem, found) <= levels(index.problem, schedule), (seed, kind)

    assert solved_count >= len(seeds) // 2


def test_parts_win_something_somewhere() -> None:
    won = 0
    for seed in range(1, 12):
        index, schedule = small(seed)
        look = Look(index, schedule, regrets(index, schedule))
        found, _ = solved(index, schedule, CHOOSE[Kind.TIME](look, Random(seed), 15))
        won += found is not None and levels(index.problem, found) < levels(index.problem, schedule)

    assert won >= 3


def test_a_part_wins_a_window_that_shifts_cannot() -> None:
    """The more urgent stage takes the quick worker, though only that one can do the other.

    In whatever order jobs come, a pass gives a stage to whom it ends soonest with.
    """
    slow = replace(a_worker(None, 1), pace=Fraction(2, 3))
    problem = Problem(
        horizon=200,
        stages=(
            stage_of(by_hand(6, skill=1), job=0),
            stage_of(by_hand(3, skill=3), job=0),
            stage_of(by_hand(8, skill=2), job=0),
        ),
        edges=(Edge(before=0, after=1),),
        workers=(a_worker(None, 1, 2), slow, a_worker(None, 3)),
        jobs=(JobAim(lasts=(1, 2), latest=12),),
    )
    index = Index(problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    shifted = improve_by_shifts(index, first, seed=1, stop=AfterEffort(30))
    better = improve(index, first, seed=1, stop=AfterEffort(150))

    assert levels(problem, shifted)[0] == 1
    assert levels(problem, better)[0] == 0
    assert breaches(problem, better) == ()


@pytest.mark.parametrize("seed", range(0, 40, 10))
def test_improving_with_effort_repeats_itself_and_stays_sound(seed: int) -> None:
    index, schedule = small(seed)
    told: list[Levels] = []

    def tell(found: Schedule, reached: Levels) -> None:
        assert levels(index.problem, found) == reached
        assert breaches(index.problem, found) == ()
        told.append(reached)

    one = improve(index, schedule, seed=seed, stop=AfterEffort(40), on_better=tell)
    problem = index.problem
    other = improve(Index(problem), schedule, seed=seed, stop=AfterEffort(40))
    assert one == other
    assert breaches(problem, one) == ()
    assert levels(problem, one) <= levels(problem, schedule)
    assert told == sorted(told, reverse=True)
    assert not told or told[-1] == levels(problem, one)


def test_two_threads_stay_sound_and_stop_in_time() -> None:
    index, schedule = small(9)
    ticks = count()

    def clock() -> float:
        return next(ticks) / 1000

    found = improve(index, schedule, seed=1, stop=AfterSeconds(2, clock), pace=IN_SECONDS)
    assert breaches(index.problem, found) == ()
    assert levels(index.problem, found) <= levels(index.problem, schedule)


def test_nothing_left_to_gain_ends_it() -> None:
    problem = Problem(
        horizon=100,
        stages=(stage_of(by_hand(5), job=0),),
        workers=(a_worker(),),
        jobs=(JobAim(lasts=(0,), latest=50, floor=((0, 0),)),),
    )
    index = Index(problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    stop = AfterEffort(1_000_000)
    improve(index, first, seed=1, stop=_WithoutShifts(stop))

    assert stop.reason() is None


class _WithoutShifts:
    """Lets shifts of jobs count for a lot, so that they are over soon."""

    def __init__(self, stop: AfterEffort) -> None:
        self._stop = stop

    def spend(self, units: int) -> None:
        self._stop.spend(2_000 * units)

    def share(self) -> int:
        return self._stop.share()

    def reason(self) -> str | None:
        return self._stop.reason()


def test_no_gain_at_a_level_outweighs_one_above_it() -> None:
    """Worse by one step of wish, the second way is better by sixty of floor: the first stays."""
    problem = Problem(
        horizon=200,
        stages=(
            stage_of(by_hand(60), job=0),
            stage_of(by_hand(1), job=0, release=61),
            stage_of(by_hand(1), job=1),
        ),
        workers=(a_worker(), a_worker()),
        jobs=(
            JobAim(lasts=(1,), latest=150, wish=0, floor=((0, 1),) * 50),
            JobAim(lasts=(2,), latest=150, wish=0),
        ),
        edges=(Edge(before=0, after=1),),
    )
    index = Index(problem)
    base = first_schedule(index, 1)
    assert isinstance(base, Schedule)
    late = replace(base, starts=(1, 100, 0), ends=(61, 101, 1), teams=((0,), (0,), (1,)))
    assert breaches(problem, late) == ()
    for limits in (LONG, ONE_BY_ONE):
        found, is_proved = solved(index, late, [0, 1, 2], limits=limits)
        assert found is not None
        assert is_proved
        assert levels(problem, found)[3] == 62 + 1
        assert levels(problem, found)[7] == 50 * 61


@pytest.mark.parametrize("seed", range(1, 30, 6))
def test_weighed_levels_reach_what_levels_one_after_the_other_reach(seed: int) -> None:
    index, schedule = small(seed)
    look = Look(index, schedule, regrets(index, schedule))
    stages = CHOOSE[Kind.TIME](look, Random(seed), 8)
    together, is_proved = solved(index, schedule, stages, limits=LONG)
    apart, is_proved_apart = solved(index, schedule, stages, limits=ONE_BY_ONE)
    if together is not None and apart is not None and is_proved and is_proved_apart:
        assert levels(index.problem, together) == levels(index.problem, apart)


@pytest.mark.parametrize("seeds", SEEDS)
def test_the_judge_says_what_the_whole_replay_says(seeds: range) -> None:
    verdicts = set()
    for seed in seeds:
        index, schedule = small(seed)
        draw = Random(seed)
        for _ in range(8):
            other = let_leave(index, _disturbed(index.problem, schedule, draw))
            sound = breaches(index.problem, other) == ()
            assert is_sound(index, Taken(index, schedule), other) is sound, seed
            verdicts.add(sound)

    assert verdicts == {True, False}


def _disturbed(problem: Problem, schedule: Schedule, draw: Random) -> Schedule:
    """Move, re-man or drop a stage or two, mostly a little."""
    starts, ends = list(schedule.starts), list(schedule.ends)
    teams, ways = list(schedule.teams), list(schedule.ways)
    for _ in range(draw.randrange(1, 3)):
        stage = draw.choice([stage for stage, way in enumerate(ways) if way >= 0])
        kind = draw.randrange(4)
        if kind == 0 and teams[stage]:
            teams[stage] = (draw.randrange(len(problem.workers)), *teams[stage][1:])
        elif kind == 1 and problem.stages[stage].optional:
            starts[stage] = ends[stage] = ways[stage] = -1
            teams[stage] = ()
        else:
            by = draw.choice((0, 96, -96, 1, 7 * 96, -7 * 96, 2))
            starts[stage], ends[stage] = starts[stage] + by, ends[stage] + by
    return replace(
        schedule, starts=tuple(starts), ends=tuple(ends), teams=tuple(teams), ways=tuple(ways)
    )


@pytest.mark.parametrize("seeds", SEEDS)
def test_pulling_job_by_job_keeps_every_rule_and_never_makes_it_worse(seeds: range) -> None:
    for seed in seeds:
        index, schedule = small(seed)
        pulled = pull(index, schedule)
        tight = tighten(index, schedule, AfterEffort(12))
        for found in (pulled, tight):
            assert breaches(index.problem, found) == (), seed
            assert levels(index.problem, found) <= levels(index.problem, schedule)


def test_paces_differ_in_what_repeats() -> None:
    assert BY_EFFORT.threads == 1
    assert BY_EFFORT.seconds is None
    assert IN_SECONDS.threads == 2
