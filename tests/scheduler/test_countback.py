from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.problem import Edge, JobAim, Problem, Stage, Table, Wait, Way
from tests.scheduler.shops import NINE_TO_FIVE, a_calendar, a_worker, by_hand, elapsed, stage_of


def chain(*stages: Stage, latest_step: int | None = 100, **fields: object) -> Problem:
    """Stages one after another, the last one loading."""
    given = {
        "horizon": 240,
        "edges": tuple(Edge(before=at, after=at + 1) for at in range(len(stages) - 1)),
        "workers": (a_worker(0), a_worker(0)),
        "calendars": (a_calendar(*NINE_TO_FIVE),),
        "jobs": (JobAim(lasts=(len(stages) - 1,), latest=latest_step),),
        **fields,
    }
    return Problem(stages=stages, **given)  # type: ignore[arg-type]


def test_forwards_and_backwards_through_nights_and_cures() -> None:
    problem = chain(
        stage_of(by_hand(6), cure=Wait(least=10)), stage_of(by_hand(4)), stage_of(elapsed(5))
    )

    assert earliest(Index(problem)).starts == (9, 33, 37)
    assert earliest(Index(problem)).ends == (15, 37, 42)
    assert latest(Index(problem)).ends == (65, 89, 100)
    assert latest(Index(problem)).starts == (59, 85, 95)


def test_the_best_team_counts_and_nobody_is_busy() -> None:
    busy = tuple(replace(worker, busy=((0, 60),)) for worker in chain().workers)
    stage = stage_of(by_hand(16), by_hand(7, 2))

    assert earliest(Index(chain(stage, workers=busy))).ends == (16,)
    assert latest(Index(chain(stage, workers=busy))).starts == (82,)


def test_a_table_is_read_backwards() -> None:
    cure = Wait(table=Table.of((20, 60), (40, 90), (200, 300)))
    problem = chain(stage_of(elapsed(5), cure=cure), stage_of(elapsed(5)))

    assert earliest(Index(problem)).starts == (0, 60)
    assert latest(Index(problem)).ends == (40, 100)


def test_ends_and_latest_starts_of_its_own_press_too() -> None:
    problem = chain(
        stage_of(elapsed(4), ends=((10, 12), (50, 60))), stage_of(elapsed(5), start_by=58)
    )

    assert earliest(Index(problem)).ends == (10, 15)
    assert latest(Index(problem)).ends[0] == 58
    free = chain(stage_of(elapsed(4)), latest_step=None)
    assert latest(Index(free)).starts == (None,)


def test_the_stretches_that_a_way_has_clear_count_both_ways() -> None:
    clear = ((10, 14), (30, 38), (50, 60))
    problem = chain(
        stage_of(replace(elapsed(5), clear=clear)),
        stage_of(Way(clear=((33, 36), (70, 71)))),
        stage_of(replace(by_hand(3), clear=((0, 33), (34, 40), (60, 63)))),
    )

    assert earliest(Index(problem)).starts == (30, 35, 35)
    assert latest(Index(problem)).starts == (31, 36, 60)
    assert latest(Index(problem)).ends == (36, 36, 63)


def test_stages_alike_but_for_what_is_clear_keep_their_own_stretches() -> None:
    soon, late = (replace(by_hand(3), clear=clear) for clear in (((9, 17),), ((57, 65),)))
    problem = Problem(
        horizon=240,
        stages=(stage_of(soon), stage_of(late)),
        workers=(a_worker(0),),
        calendars=(a_calendar(*NINE_TO_FIVE),),
    )

    assert earliest(Index(problem)).starts == (9, 57)


def test_of_many_ways_each_keeps_its_own_stretches() -> None:
    clears = (((60, 65),), ((84, 89),), ((108, 113),), ((36, 41),))
    ways = tuple(replace(by_hand(3), clear=clear) for clear in clears)
    problem = chain(stage_of(*ways))

    assert earliest(Index(problem)).starts == (36,)
    assert latest(Index(problem)).ends == (89,)


def test_what_is_too_late_is_below_zero_and_still_in_order() -> None:
    found = latest(Index(chain(*(stage_of(by_hand(7)) for _ in range(4)), latest_step=30)))
    starts = [start for start in found.starts if start is not None]

    assert len(starts) == 4
    assert starts[0] < starts[1] < starts[2] < 0 < starts[3]


def test_what_nobody_can_do_and_all_that_follows_never_comes() -> None:
    found = earliest(Index(chain(stage_of(by_hand(2, skill=9)), stage_of(elapsed(1)))))

    assert found.starts == (None, None)


@pytest.mark.parametrize("count", [3, 40])
def test_more_teams_than_can_be_listed_still_give_a_bound(count: int) -> None:
    stage = stage_of(replace(by_hand(6, 4), work=Fraction(6)))
    crowd = tuple(replace(a_worker(0), pace=Fraction(1)) for _ in range(count + 1))

    assert earliest(Index(chain(stage, workers=crowd))).ends == (15,)


def test_optional_stages_are_left_out() -> None:
    problem = chain(stage_of(elapsed(3)), stage_of(Way(), optional=True), stage_of(elapsed(2)))

    assert earliest(Index(problem)).starts == (0, None, 0)
