"""Ways and times to go: each rule of a departure decides a tiny problem alone, or forbids one.

What the model proves is held against trying everything, what the pass finds against the judge.
"""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.justify import justify
from scheduler.model.alone import alone, generous
from scheduler.model.run import Limits
from scheduler.place import place
from scheduler.problem import (
    Going,
    JobAim,
    Need,
    Problem,
    Room,
    Schedule,
    Stage,
    Trip,
    Use,
    Way,
    Worker,
)
from scheduler.proof import prove, prove_by_chain
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from tests.scheduler.goings import a_going
from tests.scheduler.tiny import best_levels
from tests.scheduler.tried import hold_against_best

LIMITS = Limits(effort=2000, workers=1)
HORIZON = 14
BY_HAND = (Need(skill=0, can=1),)
ANYBODY = Worker(calendar=None, can=frozenset({0}), helps=frozenset({0}))


def work(steps: int, *, job: int = 0, **said: object) -> Stage:
    return Stage(ways=(Way(work=Fraction(steps), needs=BY_HAND),), job=job, **said)  # type: ignore[arg-type]


def elapsed(steps: int, *, job: int = 0, **said: object) -> Stage:
    return Stage(ways=(Way(work=Fraction(steps)),), job=job, **said)  # type: ignore[arg-type]


def a_problem(*stages: Stage, trip: Trip, workers: int = 1, rooms: int = 0) -> Problem:
    latest = max(going.leaves for going in trip.options if going.in_time)
    return Problem(
        horizon=HORIZON,
        stages=stages,
        workers=(ANYBODY,) * workers,
        rooms=(Room(capacity=1),) * rooms,
        jobs=(JobAim(lasts=(0,), latest=latest, trip=trip),),
    )


def placed(problem: Problem) -> Schedule:
    found = place(Index(problem), range(len(problem.stages)))
    assert not isinstance(found, Unfit)
    assert not breaches(problem, found)
    return found


def held(problem: Problem) -> None:
    """Hold the model against trying everything, and the first schedule against the judge."""
    hold_against_best(problem, best_levels(problem), LIMITS)
    found = first_schedule(Index(problem), 1)
    assert isinstance(found, Unfit) or not breaches(problem, found)


FAST = a_going(9, 11, 12, price=50)
SLOW = a_going(5, 11, 12, price=20)
LATE = a_going(12, 13, 14, in_time=False)
MEANS = Trip(options=(FAST, SLOW, LATE))


class TestMeans:
    def test_the_cheap_one_is_taken_where_there_is_time(self) -> None:
        problem = a_problem(elapsed(4), trip=MEANS)

        found = placed(problem)

        assert (found.trips, levels(problem, found)[6]) == ((1,), 20)
        held(problem)

    def test_the_dear_one_is_taken_where_there_is_not(self) -> None:
        problem = a_problem(elapsed(7), trip=MEANS)

        found = placed(problem)

        assert (found.trips, levels(problem, found)[:3]) == ((0,), (0, 0, 0))
        held(problem)

    def test_neither_where_both_are_missed(self) -> None:
        problem = a_problem(elapsed(10), trip=MEANS)

        assert placed(problem).trips == (2,)
        assert levels(problem, placed(problem))[:3] == (1, 0, 1)
        held(problem)

    def test_whoever_stays_costs_as_much_as_the_dearest(self) -> None:
        problem = a_problem(elapsed(13), trip=MEANS)

        assert placed(problem).trips == (-1,)
        assert levels(problem, placed(problem))[6] == 50
        held(problem)

    def test_the_dear_one_where_the_vehicle_of_the_cheap_one_is_out(self) -> None:
        slow = replace(SLOW, takes=((0, 5, 11, 1),))
        trip = Trip(options=(FAST, slow, LATE))
        problem = a_problem(elapsed(4), trip=trip, rooms=1)
        out = replace(problem, rooms=(Room(capacity=1, busy=((8, 9, 1),)),))

        assert placed(problem).trips == (1,)
        assert placed(out).trips == (0,)
        held(problem)
        held(out)
        both_out = replace(problem, rooms=(Room(capacity=2, busy=((8, 9, 2),)),))
        one_out = replace(problem, rooms=(Room(capacity=2, busy=((8, 9, 1),)),))
        assert (placed(both_out).trips, placed(one_out).trips) == ((0,), (1,))

    def test_who_has_left_late_is_gone_though_another_never_leaves(self) -> None:
        """The one misses its window and goes at 9; the other is not ready for the only departure.

        Whoever stays is looked at once more in the end: for the one, its own lorry would be out.
        """
        lorry = ((0, 1),)
        late = Trip(
            options=(
                a_going(3, 5, 6, rooms=lorry),
                a_going(9, 11, 12, rooms=lorry, in_time=False),
            )
        )
        problem = a_problem(elapsed(4), elapsed(13, job=1), trip=late, rooms=1)
        stays = JobAim(lasts=(1,), latest=3, trip=Trip(options=(a_going(3, 5, 6),)))
        problem = replace(problem, jobs=(*problem.jobs, stays))

        assert placed(problem).trips == (1, -1)
        held(problem)


class TestCranes:
    """A crane is held during its leg only."""

    LIFT = Going(leaves=4, takes=((0, 8, 10, 1),))

    def test_it_is_free_before_and_after(self) -> None:
        other = elapsed(3, job=-1, fixed_start=5)
        uses = replace(other, ways=(replace(other.ways[0], uses=(_one(0),)),))
        problem = a_problem(elapsed(2), uses, trip=Trip(options=(self.LIFT, LATE)), rooms=1)

        assert placed(problem).trips == (0,)
        held(problem)

    def test_it_is_held_meanwhile(self) -> None:
        other = elapsed(3, job=-1, fixed_start=6)
        uses = replace(other, ways=(replace(other.ways[0], uses=(_one(0),)),))
        problem = a_problem(elapsed(2), uses, trip=Trip(options=(self.LIFT, LATE)), rooms=1)

        assert placed(problem).trips == (1,)
        held(problem)


class TestRests:
    """Who goes has rested before: the bench is not theirs then."""

    RESTED = Going(leaves=9, away=((0, 9, 11),), rests=((0, 5, 9), (0, 11, 12)))

    def test_a_rest_keeps_them_from_the_bench(self) -> None:
        bench = work(2, job=-1, release=4)
        problem = a_problem(elapsed(2), bench, trip=Trip(options=(self.RESTED, LATE)))
        awake = replace(self.RESTED, rests=())
        free = a_problem(elapsed(2), bench, trip=Trip(options=(awake, LATE)))

        assert placed(free).starts[1] == 4
        assert placed(problem).starts[1] == 12
        held(problem)
        held(free)

    def test_somebody_else_does_it_meanwhile(self) -> None:
        bench = work(3, job=-1, release=5, start_by=5)
        trip = Trip(options=(self.RESTED, LATE))
        problem = a_problem(elapsed(2), bench, trip=trip, workers=2)

        found = placed(problem)

        assert (found.trips, found.teams[1]) == ((0,), (1,))
        held(problem)

    def test_who_is_pinned_then_goes_later(self) -> None:
        bench = work(2, job=-1, fixed_start=6)
        problem = a_problem(elapsed(2), bench, trip=Trip(options=(self.RESTED, LATE)))

        assert placed(problem).trips == (1,)
        held(problem)

    def test_one_rest_serves_two_journeys(self) -> None:
        first = Going(leaves=2, away=((0, 2, 4),), rests=((0, 0, 2), (0, 4, 7)))
        second = Going(leaves=7, away=((0, 7, 9),), rests=((0, 4, 7), (0, 9, 11)))
        aims = tuple(
            JobAim(lasts=(at,), latest=going.leaves, trip=Trip(options=(going,)))
            for at, going in enumerate((first, second))
        )
        problem = Problem(
            horizon=HORIZON,
            stages=(elapsed(1), elapsed(1, job=1)),
            workers=(ANYBODY,),
            jobs=aims,
        )

        assert placed(problem).trips == (0, 0)
        held(problem)
        sooner = replace(second, leaves=6, away=((0, 6, 8),), rests=((0, 3, 6),))
        tight = replace(
            problem, jobs=(aims[0], JobAim(lasts=(1,), latest=6, trip=Trip(options=(sooner,))))
        )
        assert placed(tight).trips in ((0, -1), (-1, 0))
        held(tight)


class TestCrews:
    def test_who_is_away_with_one_journey_is_not_there_for_another(self) -> None:
        options = (a_going(5, 8, 8, crew=(0,)), a_going(9, 12, 12, crew=(0,), in_time=False))
        aims = tuple(JobAim(lasts=(at,), latest=5, trip=Trip(options=options)) for at in (0, 1))
        stages = (elapsed(1), elapsed(1, job=1))
        problem = Problem(horizon=HORIZON, stages=stages, workers=(ANYBODY,), jobs=aims)
        two = replace(options[0], away=((1, 5, 8),))
        others = replace(aims[1], trip=Trip(options=(two,)))
        apart = replace(problem, workers=(ANYBODY, ANYBODY), jobs=(aims[0], others))

        assert sorted(placed(problem).trips) == [0, 1]
        assert placed(apart).trips == (0, 0)
        held(problem)

    def test_who_is_at_the_bench_until_the_lorry_leaves_goes_with_it(self) -> None:
        trip = Trip(options=(a_going(9, 11, 12, crew=(0,)), LATE))
        until_then = a_problem(elapsed(2), work(2, job=-1, fixed_start=7), trip=trip)
        longer = a_problem(elapsed(2), work(2, job=-1, fixed_start=8), trip=trip)

        assert placed(until_then).trips == (0,)
        assert placed(longer).trips == (1,)
        held(until_then)
        held(longer)


class TestLoadAndGo:
    """A loaded lorry that may not stand: loading ends no longer before than it may."""

    OPTIONS = (a_going(9, 11, 12), LATE)

    def _problem(
        self, most: int | None, *stages: Stage, options: tuple[Going, ...] = OPTIONS
    ) -> Problem:
        return a_problem(*stages, trip=Trip(options=options, stands_most=most))

    def test_loading_waits_for_the_departure(self) -> None:
        assert placed(self._problem(None, elapsed(3))).ends == (3,)
        assert placed(self._problem(2, elapsed(3))).ends == (7,)
        assert placed(self._problem(0, elapsed(3))).ends == (9,)
        for most in (None, 2, 0):
            held(self._problem(most, elapsed(3)))

    def test_what_nothing_is_loaded_for_stands_from_the_beginning(self) -> None:
        trip = Trip(options=(a_going(9, 11, 12),), stands_most=2)
        aim = JobAim(lasts=(), latest=9, trip=trip)
        problem = replace(self._problem(2, elapsed(3)), jobs=(aim,))

        assert not trip.may_leave(0, 0, 0)
        held(problem)

    def test_a_departure_soon_after_loading_is_taken_where_it_cannot_wait(self) -> None:
        options = (a_going(9, 11, 12), a_going(4, 11, 12), LATE)
        problem = self._problem(1, elapsed(3, start_by=0), options=options)

        assert placed(problem).trips == (1,)
        held(problem)

    def test_who_can_neither_wait_nor_go_stays(self) -> None:
        problem = self._problem(1, elapsed(3, start_by=0))

        assert placed(problem).trips == (-1,)
        held(problem)

    def test_loading_waits_until_the_crew_is_free(self) -> None:
        options = (a_going(7, 9, 10, crew=(0,)), a_going(11, 12, 13, crew=(0,), in_time=False))
        pinned = work(2, job=-1, fixed_start=7)
        problem = self._problem(0, elapsed(3), pinned, options=options)

        assert (placed(problem).ends[0], placed(problem).trips) == (11, (1,))
        held(problem)

    def test_the_lorry_that_is_kept_for_it_may_take_it_sooner(self) -> None:
        """One lorry, kept for the departure at 9: nobody else has it at 8."""
        lorry = ((0, 1),)
        options = (a_going(9, 11, 12, rooms=lorry), a_going(8, 10, 11, rooms=lorry), LATE)
        found = placed(
            replace(self._problem(0, elapsed(3), options=options), rooms=(Room(capacity=1),))
        )

        assert (found.ends, found.trips) == ((8,), (1,))

    def test_pulling_together_does_not_part_loading_from_its_departure(self) -> None:
        stages = (elapsed(3, release=1), elapsed(2))
        problem = self._problem(1, *stages)
        found = justify(Index(problem), placed(problem))

        assert found is not None
        assert not breaches(problem, found)

    def test_a_proof_lets_loading_end_whenever(self) -> None:
        problem = self._problem(0, elapsed(3, ends=((9, 10),), release=1))

        assert generous(problem).stages[0].ends is None
        assert alone(problem, 0).stages[0].ends is None
        for proof in (prove_by_chain(Index(problem), 0), prove(Index(problem), 0, LIMITS)):
            assert proof is None


def _one(room: int) -> Use:
    return Use(room=room, units=1)


def _random(seed: int) -> Problem:
    """Two small stages and a journey with a bit of everything."""
    draw = Random(f"{seed} going")
    stages = tuple(
        replace(
            draw.choice([work, elapsed])(draw.randint(1, 4), job=min(at, 1)),
            release=draw.choice([0, 0, 3]),
            start_by=draw.choice([None, None, 5]),
            company=draw.random() < 0.15,
        )
        for at in range(2)
    )
    aims = []
    for at in range(2):
        trip = _trip(draw)
        latest = max((going.leaves for going in trip.options if going.in_time), default=None)
        aims.append(JobAim(lasts=(at,), latest=latest, firm=not at, trip=trip))
    return Problem(
        horizon=HORIZON,
        stages=stages,
        workers=(ANYBODY, replace(ANYBODY, busy=((4, 5),))),
        rooms=(Room(capacity=1),),
        jobs=tuple(aims),
    )


def _trip(draw: Random) -> Trip:
    times = sorted(draw.sample(range(3, 11), 2), reverse=True)
    options = [_going(draw, leaves, in_time=True) for leaves in times[: draw.randint(1, 2)]]
    options.append(_going(draw, times[0] + 1, in_time=False))
    return Trip(options=tuple(options), stands_most=draw.choice([None, None, 0, 2]))


def _going(draw: Random, leaves: int, *, in_time: bool) -> Going:
    back = leaves + draw.randint(1, 2)
    who = draw.sample(range(2), draw.randint(0, 1))
    rest = draw.choice([0, 0, 2])
    return Going(
        leaves=leaves,
        away=tuple((one, leaves, back) for one in who),
        rests=tuple((one, max(0, leaves - rest), leaves) for one in who if rest)
        + tuple((one, back, back + 2) for one in who),
        takes=((0, leaves + 1, back + 1, 1),) if draw.random() < 0.4 else (),
        price=draw.choice([0, 0, 10, 30]),
        in_time=in_time,
    )


@pytest.mark.parametrize(
    "seed", [*range(25), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(25, 150))]
)
def test_what_is_proved_of_made_up_journeys_is_what_trying_everything_finds(seed: int) -> None:
    held(_random(seed))
