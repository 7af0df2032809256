"""The model against everything else that knows about schedules: trying all, placing, replaying."""

from dataclasses import replace
from fractions import Fraction
from itertools import count

import pytest

from scheduler.aims import levels, loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.model.alone import alone
from scheduler.model.build import build
from scheduler.model.makespan import least_makespan
from scheduler.model.menu import menus
from scheduler.model.options import Starts
from scheduler.model.run import Limits, Status
from scheduler.model.whole import can_be_in_time, solve_whole
from scheduler.place import place
from scheduler.problem import Need, Problem, Room, Schedule, Stage, Use, Way
from scheduler.proof import prove, prove_by_chain
from scheduler.replay import breaches
from scheduler.shifts import first_schedule
from tests.scheduler.problems import random_problem
from tests.scheduler.rungs import one_at_a_time
from tests.scheduler.tiny import best_levels, every_schedule, tiny_problem
from tests.scheduler.tried import hold_against_best

LIMITS = Limits(effort=2000, workers=1)


def _few_and_many(few: range, many: range) -> list[object]:
    return [*few, *(pytest.param(seed, marks=pytest.mark.slow) for seed in many)]


@pytest.mark.parametrize("seed", _few_and_many(range(60), range(60, 200)))
def test_the_proved_levels_are_those_that_trying_everything_finds(seed: int) -> None:
    problem = tiny_problem(seed)
    best = best_levels(problem)
    hold_against_best(problem, best, LIMITS)


@pytest.mark.parametrize("seed", _few_and_many(range(40), range(40, 120)))
def test_no_proof_is_beyond_what_trying_everything_finds(seed: int) -> None:
    problem = _pressed(tiny_problem(seed))
    least: list[int] = []
    for schedule in every_schedule(problem):
        late = [max(0, loading_end(job, schedule) - (job.latest or 0)) for job in problem.jobs]
        least = [min(pair) for pair in zip(least or late, late, strict=True)]

    for job, steps in enumerate(least):
        proof = prove(Index(problem), job, LIMITS)
        assert proof is None or 0 < proof.bound_steps <= steps


def _pressed(problem: Problem) -> Problem:
    jobs = tuple(replace(job, latest=2, wish=None, trip=None) for job in problem.jobs)
    return replace(problem, jobs=jobs)


@pytest.mark.parametrize("seed", _few_and_many(range(6), range(6, 24)))
def test_a_workshop_s_schedule_is_sound_and_no_worse_than_the_one_it_started_from(
    seed: int,
) -> None:
    problem = random_problem(seed, jobs=1, segments=1 + seed % 2, workers=2 + seed % 3)
    index = Index(problem)
    first = first_schedule(index, 1)
    assert isinstance(first, Schedule)
    told: list[Schedule] = []

    found = solve_whole(index, replace(LIMITS, effort=300), hint=first, on_schedule=told.append)

    assert found.schedule is not None
    assert not breaches(problem, found.schedule)
    assert found.values == levels(problem, found.schedule) <= levels(problem, first)
    values = [levels(problem, schedule) for schedule in told]
    assert values == sorted(values, reverse=True)
    assert not any(breaches(problem, schedule) for schedule in told)
    assert all(bound <= value for bound, value in zip(found.bounds, found.values, strict=False))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_no_job_that_is_placed_in_time_is_proved_late(seed: int) -> None:
    problem = random_problem(seed, jobs=1 + seed % 2, segments=1 + seed % 3, workers=2 + seed % 3)
    first = first_schedule(Index(problem), 1)
    assert isinstance(first, Schedule)
    for number, job in enumerate(problem.jobs):
        end = loading_end(job, first)
        for sooner in (0, 30):
            jobs = list(problem.jobs)
            jobs[number] = replace(job, latest=end - sooner)
            asked = Index(replace(problem, jobs=tuple(jobs)))
            proof = prove(asked, number, replace(LIMITS, effort=200), most_steps=sooner)
            assert proof is None or proof.bound_steps <= sooner


@pytest.mark.parametrize("seed", range(4))
def test_every_start_of_the_menu_is_one_that_the_calendar_gives(seed: int) -> None:
    problem = random_problem(seed, jobs=1, segments=1, workers=3)
    index = Index(problem)
    seen_count = 0
    for number, menu in enumerate(menus(index)):
        latest_end = index.terms.bounds[number].latest_end
        for option in menu.options[:3]:
            if option.team is None:
                continue
            table = _as_table(option.starts)
            for start in range(min(table), min(table) + 900):
                span = index.span(option.team, option.way, number, start)
                begins_here = span is not None and span[0] == start and span[1] <= latest_end
                if start in table:
                    assert span == (start, table[start])
                    seen_count += 1
                elif start <= max(table):
                    assert not begins_here or _is_bound_otherwise(index, number, start)
    assert seen_count > 500


def _as_table(starts: Starts) -> dict[int, int]:
    return {
        start: start + size
        for size, inside in starts.pieces
        for first, last in inside
        for start in range(first, last + 1)
    }


def _is_bound_otherwise(index: Index, number: int, start: int) -> bool:
    bounds = index.terms.bounds[number]
    certified = bool(index.problem.stages[number].certificates)
    return certified or not bounds.earliest_start <= start <= bounds.latest_start


class TestRunning:
    def test_the_same_effort_and_seed_give_the_same_schedule(self) -> None:
        problem = random_problem(2, jobs=1, segments=2, workers=3)
        index = Index(problem)
        first = first_schedule(index, 1)
        assert isinstance(first, Schedule)
        limits = Limits(effort=100, workers=1, seed=5)

        found = [solve_whole(index, limits, hint=first) for _ in range(2)]

        assert found[0] == found[1]

    def test_also_with_two_workers(self) -> None:
        index = Index(tiny_problem(12))
        limits = Limits(effort=100, workers=2, seed=5)
        found = [solve_whole(index, limits) for _ in range(2)]
        assert found[0] == found[1]

    def test_cancelling_is_answered_with_the_best_so_far(self) -> None:
        problem = random_problem(8, jobs=2, segments=4, workers=4)
        index = Index(problem)
        first = first_schedule(index, 1)
        assert isinstance(first, Schedule)
        asked = count()

        found = solve_whole(index, Limits(workers=1), hint=first, cancel=lambda: next(asked) > 1)

        assert found.schedule is not None
        assert found.values <= levels(problem, first)
        assert found.status is Status.FOUND

    def test_an_interruption_stops_the_solver_too(self) -> None:
        problem = random_problem(8, jobs=2, segments=4, workers=4)
        asked = count()

        def interrupt() -> bool:
            if next(asked) > 1:
                raise KeyboardInterrupt
            return False

        with pytest.raises(KeyboardInterrupt):
            solve_whole(Index(problem), Limits(workers=1), cancel=interrupt)


class TestTooManyTeams:
    """Where the teams are too many to list, what is not listed is not said to be impossible."""

    @staticmethod
    def _crowd() -> Problem:
        """One segment whose every stage takes 4 of 14 people on four calendars."""
        problem = random_problem(1, jobs=1, segments=1, workers=4, spice=False)
        worker = replace(problem.workers[0], can=frozenset({0}), helps=frozenset({0}))
        return replace(
            problem,
            workers=tuple(replace(worker, calendar=at % 4) for at in range(14)),
            stages=tuple(
                replace(stage, ways=tuple(_for_four(way) for way in stage.ways))
                for stage in problem.stages
            ),
        )

    def test_a_plan_is_found_but_not_called_proved(self) -> None:
        problem = self._crowd()
        index = Index(problem)
        first = first_schedule(index, 1)
        assert isinstance(first, Schedule)

        found = solve_whole(index, replace(LIMITS, effort=200), hint=first)

        assert not found.exact
        assert found.proved_count == 0
        assert found.status is Status.FOUND
        assert found.schedule is not None
        assert not breaches(problem, found.schedule)

    def test_a_proof_lets_nobody_do_it_faster_than_anybody(self) -> None:
        problem = self._crowd()
        first = first_schedule(Index(problem), 1)
        assert isinstance(first, Schedule)
        end = loading_end(problem.jobs[0], first)
        in_time = replace(problem, jobs=(replace(problem.jobs[0], latest=end, wish=None),))
        too_soon = replace(problem, jobs=(replace(problem.jobs[0], latest=3, wish=None),))

        assert can_be_in_time(Index(in_time), LIMITS)[0] is not False
        assert can_be_in_time(Index(too_soon), LIMITS)[0] is False


def _for_four(way: Way) -> Way:
    return replace(way, needs=(Need(skill=0, can=4),) if way.needs else ())


class TestProofs:
    @staticmethod
    def _one_bay(latest: int) -> Problem:
        """Three stages of one job of 4 steps each in a bay that holds one, and a repair in it."""
        bay = (Use(room=0, units=1),)
        way = Way(work=Fraction(4), uses=bay)
        stages = [Stage(ways=(way,), job=0) for _ in range(3)]
        problem = random_problem(0, jobs=1, segments=1, workers=2, spice=False)
        return Problem(
            horizon=100,
            stages=(*stages, Stage(ways=(Way(work=Fraction(50), uses=bay),), fixed_start=0)),
            rooms=(Room(capacity=1, busy=((50, 60, 1),)),),
            jobs=(replace(problem.jobs[0], lasts=(0, 1, 2), latest=latest, floor=(), trip=None),),
        )

    def test_the_chain_speaks_first(self) -> None:
        proof = prove_by_chain(Index(self._one_bay(3)), 0)
        assert proof is not None
        assert (proof.kind, proof.bound_steps) == ("chain", 1)

    def test_counting_adds_up_what_the_chain_cannot(self) -> None:
        proof = prove(Index(self._one_bay(5)), 0, LIMITS)
        assert proof is not None
        assert (proof.kind, proof.bound_steps) == ("energy", 7)

    def test_no_more_is_asked_than_a_plan_is_late(self) -> None:
        proof = prove(Index(self._one_bay(5)), 0, LIMITS, most_steps=3)
        assert proof is not None
        assert proof.bound_steps == 3

    def test_others_and_what_is_booked_do_not_count(self) -> None:
        problem = self._one_bay(12)
        assert prove(Index(problem), 0, LIMITS) is None
        by_itself = alone(problem, 0)
        assert len(by_itself.stages) == 3
        assert by_itself.rooms[0].busy == ()

    def test_without_effort_the_solver_proves_nothing(self) -> None:
        enough = Limits(effort=0, workers=1)
        assert prove(Index(one_at_a_time(8)), 0, enough) is None
        assert prove(Index(one_at_a_time(8)), 0, LIMITS) is not None
        counted = prove(Index(one_at_a_time(7)), 0, enough)
        assert counted is not None
        assert (counted.kind, counted.bound_steps) == ("energy", 1)


def test_a_book_has_no_makespan_and_says_so() -> None:
    with pytest.raises(ValueError, match="makespan"):
        least_makespan(Index(tiny_problem(0)), LIMITS)


def test_what_the_pass_places_the_model_does_not_call_impossible() -> None:
    agreed_count = 0
    for seed in range(40):
        problem = tiny_problem(seed)
        index = Index(problem)
        placed = place(index, range(len(problem.stages)))
        if isinstance(placed, Unfit):
            continue
        frame = build(index)
        assert frame.stages
        found = solve_whole(index, LIMITS, through=1)
        assert found.status is not Status.NOTHING_FITS
        agreed_count += 1
    assert agreed_count >= 5
