"""Beginning as soon as can be: nothing breaks, nothing ends later, and nobody idles for nothing."""

import pytest

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.problem import JobAim, Problem, Schedule
from scheduler.replay import breaches
from scheduler.sooner import as_soon, put_sooner
from tests.scheduler.shops import a_worker, by_hand, stage_of
from tests.scheduler.test_settle import planned


@pytest.mark.parametrize("seed", range(40))
def test_it_breaks_nothing_and_nothing_ends_later(seed: int) -> None:
    given = planned(seed)
    if given is None:
        pytest.skip("nothing fits")
    problem, schedule = given

    found = put_sooner(Index(problem), schedule)

    assert breaches(problem, found) == ()
    assert found.trips == schedule.trips
    for is_, was, way in zip(found.ends, schedule.ends, schedule.ways, strict=True):
        assert way < 0 or is_ <= was
    *dense, last = as_soon(Index(problem), schedule)
    assert last is schedule
    assert all(breaches(problem, each) == () for each in dense)
    missed = [levels(problem, each)[:2] for each in dense]
    assert missed == sorted(missed)
    assert missed[0] <= levels(problem, found)[:2]


def test_it_begins_sooner_where_a_plan_counted_back_waits() -> None:
    pairs = [given for seed in range(40) if (given := planned(seed)) is not None]
    sooner = [put_sooner(Index(problem), schedule) for problem, schedule in pairs]
    moved = [
        sum(found.starts) < sum(schedule.starts)
        for found, (_, schedule) in zip(sooner, pairs, strict=True)
    ]
    assert sum(moved) > len(moved) // 2


def test_what_was_pinned_stays_and_the_rest_fills_the_gap_before_it() -> None:
    problem = Problem(
        horizon=40,
        stages=(stage_of(by_hand(4), fixed_start=10), stage_of(by_hand(4)), stage_of(by_hand(8))),
        edges=(),
        calendars=(),
        workers=(a_worker(),),
        rooms=(),
        jobs=(JobAim(lasts=(0, 1, 2), latest=40),),
    )
    late = Schedule(
        starts=(10, 30, 20),
        ends=(14, 34, 28),
        ways=(0, 0, 0),
        teams=((0,), (0,), (0,)),
        trips=(-1,),
    )
    assert breaches(problem, late) == ()
    found = put_sooner(Index(problem), late)
    assert (found.starts[0], found.starts[2], found.starts[1]) == (10, 0, 14)
