"""The placement pass: a tiny problem where each rule alone decides, or alone forbids."""

from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.calendar import Index
from scheduler.place import Unfit, place
from scheduler.problem import (
    Edge,
    Hold,
    JobAim,
    Need,
    Problem,
    Room,
    Schedule,
    Stage,
    Table,
    Use,
    Wait,
    Way,
    Worker,
)
from scheduler.search import Why
from tests.scheduler.goings import a_trip
from tests.scheduler.shops import (
    NINE_TO_FIVE,
    a_calendar,
    a_worker,
    by_hand,
    elapsed,
    placed,
    stage_of,
    try_place,
)

DAYS = a_calendar(*NINE_TO_FIVE)


def workshop(*stages: Stage, **fields: object) -> Problem:
    """One worker with a nine-to-five calendar unless said otherwise; ten days of 24 steps."""
    given = {"workers": (a_worker(0),), "calendars": (DAYS,), "horizon": 240, **fields}
    return Problem(stages=stages, **given)  # type: ignore[arg-type]


def refused(problem: Problem, stage: int, why: Why) -> None:
    found = try_place(problem)
    assert isinstance(found, Unfit), found
    assert (found.stage, found.why) == (stage, why)


def test_one_worker_does_one_thing_after_another_in_the_order_given() -> None:
    problem = workshop(stage_of(by_hand(3)), stage_of(by_hand(2)))

    assert placed(problem, [0, 1]).starts == (9, 12)
    assert placed(problem, [1, 0]).starts == (11, 9)


def test_a_pausing_stage_goes_on_the_next_day_and_one_in_one_go_waits_for_it() -> None:
    first = stage_of(by_hand(5))
    pausing, in_one_go = stage_of(by_hand(6)), stage_of(by_hand(6), one_go=True)

    assert placed(workshop(first, pausing)).ends == (14, 36)
    assert placed(workshop(first, in_one_go)).starts == (9, 33)


def test_work_longer_than_any_shift_never_goes_in_one_go() -> None:
    refused(workshop(stage_of(by_hand(9), one_go=True)), 0, Why.NO_TIME)


def test_a_watch_after_the_end_moves_the_stage_to_the_next_day() -> None:
    after = stage_of(by_hand(3), one_go=True, watch=2, release=13)

    assert placed(workshop(after)).starts == (33,)
    refused(workshop(stage_of(by_hand(7), one_go=True, watch=2)), 0, Why.NO_TIME)


def test_a_bridged_break_runs_the_clock_but_no_hours() -> None:
    calendar = a_calendar((9, 12), (13, 17), shifts=((9, 17),))
    problem = workshop(stage_of(by_hand(6), one_go=True), calendars=(calendar,))

    assert placed(problem).ends == (16,)


def test_a_standstill_that_is_too_long_is_not_begun() -> None:
    calendar = a_calendar(*NINE_TO_FIVE[:2], *NINE_TO_FIVE[6:])
    asked = stage_of(by_hand(4), release=38, longest_pause=90)

    assert placed(workshop(asked, calendars=(calendar,))).starts == (153,)
    shut = ((48, 72),)
    assert placed(workshop(asked, calendars=(calendar,), shut=shut)).starts == (38,)
    assert placed(workshop(replace(asked, longest_pause=None), calendars=(calendar,))).starts == (
        38,
    )


def test_a_way_without_hands_and_calendar_runs_through_the_night() -> None:
    problem = workshop(stage_of(elapsed(20), release=10), stage_of(Way(), release=3))

    assert (placed(problem).starts, placed(problem).ends) == ((10, 3), (30, 3))


def test_a_way_with_a_calendar_waits_for_it() -> None:
    office = Way(work=Fraction(3), calendar=0)

    assert placed(workshop(stage_of(office, release=15))).ends == (34,)


def test_a_way_is_placed_where_it_is_clear_from_start_to_end() -> None:
    warm = replace(by_hand(3), clear=((0, 11), (14, 34), (36, 39)))

    assert placed(workshop(stage_of(warm))).starts == (14,)
    assert placed(workshop(stage_of(warm, release=15))).starts == (15,)
    assert placed(workshop(stage_of(warm, release=16))).starts == (36,)
    refused(workshop(stage_of(replace(warm, clear=((0, 11), (11, 13), (40, 50))))), 0, Why.NO_TIME)


def test_what_takes_no_time_or_needs_nobody_keeps_clear_too() -> None:
    stages = (
        stage_of(replace(elapsed(4), clear=((0, 3), (7, 12)))),
        stage_of(Way(clear=((5, 6), (9, 10)))),
        stage_of(Way(clear=((5, 6), (9, 10))), release=7, ends=((8, 12),)),
    )

    assert placed(workshop(*stages)).starts == (7, 5, 9)
    assert placed(workshop(stage_of(Way(clear=((5, 6),)), release=6))).starts == (6,)
    refused(workshop(stage_of(Way(clear=((5, 6),)), release=7)), 0, Why.NO_TIME)
    refused(workshop(stage_of(replace(elapsed(4), clear=((0, 3),)))), 0, Why.NO_TIME)


def test_of_two_ways_the_one_that_is_clear_sooner_is_taken() -> None:
    late, soon = (replace(by_hand(3), clear=clear) for clear in (((40, 60),), ((10, 20),)))

    assert placed(workshop(stage_of(late, soon))).ways == (1,)
    assert placed(workshop(stage_of(late), stage_of(soon))).starts == (40, 10)


def test_an_end_lies_where_it_may() -> None:
    asked = stage_of(by_hand(2), ends=((20, 30), (35, 36)))

    assert placed(workshop(asked)).ends == (35,)
    refused(workshop(replace(asked, ends=((20, 30),))), 0, Why.NO_TIME)


def test_a_stage_starts_by_its_latest_start_or_not_at_all() -> None:
    urgent = stage_of(by_hand(2), start_by=11)

    assert placed(workshop(stage_of(by_hand(2)), urgent)).starts == (9, 11)
    refused(workshop(stage_of(by_hand(3)), urgent), 1, Why.NO_TIME)


def test_a_pinned_stage_stands_and_others_go_round_it() -> None:
    pinned = stage_of(by_hand(3), fixed_start=10)

    assert placed(workshop(stage_of(by_hand(2)), pinned)).starts == (13, 10)
    refused(workshop(replace(pinned, fixed_start=20)), 0, Why.NO_TIME)


def test_what_comes_before_a_pinned_stage_is_done_by_then() -> None:
    pinned = stage_of(by_hand(3), fixed_start=36)
    edges = (Edge(before=0, after=1, least=2),)
    problem = workshop(stage_of(by_hand(2), release=12), pinned, edges=edges)

    assert placed(problem).starts == (12, 36)
    refused(replace(problem, stages=(stage_of(by_hand(2), release=34), pinned)), 0, Why.NO_TIME)


def test_the_horizon_ends_everything() -> None:
    refused(workshop(stage_of(by_hand(9)), horizon=33), 0, Why.NO_TIME)
    assert placed(workshop(stage_of(by_hand(9)), horizon=34)).ends == (34,)


def test_somebody_busy_is_not_there() -> None:
    busy = replace(a_worker(0), busy=((8, 12),))

    assert placed(workshop(stage_of(by_hand(2)), workers=(busy,))).starts == (12,)


def test_nobody_who_can_means_nobody() -> None:
    refused(workshop(stage_of(by_hand(2, skill=7))), 0, Why.NOBODY)


def test_of_two_ways_the_one_that_ends_sooner_is_taken_unless_it_is_dear() -> None:
    workers = (a_worker(0), a_worker(0))
    ways = (by_hand(16), by_hand(4, 2))

    assert placed(workshop(stage_of(*ways), workers=workers)).ways == (1,)
    dear = (ways[0], replace(ways[1], cost=900))
    assert placed(workshop(stage_of(*dear), workers=workers)).ways == (0,)


def test_who_is_asked_for_comes_even_if_others_could_sooner() -> None:
    workers = (a_worker(0), replace(a_worker(0), busy=((0, 40),)))

    assert placed(workshop(stage_of(by_hand(2)), workers=workers)).teams == ((0,),)
    asked = placed(workshop(stage_of(by_hand(2), asked=(1,)), workers=workers))
    assert (asked.teams, asked.starts) == (((1,),), (40,))


def test_the_told_team_is_taken_where_it_costs_little() -> None:
    workers = (a_worker(0), a_worker(0))
    told = stage_of(by_hand(2), told_start=9, told_team=(1,))

    assert placed(workshop(told, workers=workers)).teams == ((1,),)


def test_everybody_in_a_team_holds_the_certificate_to_the_end() -> None:
    holder = replace(a_worker(0), certificates=((3, 12),))
    asked = stage_of(by_hand(3), certificates=(3,))

    assert placed(workshop(asked, workers=(a_worker(0), holder))).teams == ((1,),)
    refused(workshop(replace(asked, release=10), workers=(holder,)), 0, Why.NO_TIME)
    refused(workshop(asked), 0, Why.NOBODY)


def test_a_room_is_held_before_after_and_through_the_cure() -> None:
    use = Use(room=0, units=1, before=1, after=2, through_cure=True)
    coat = stage_of(elapsed(3, use), cure=Wait(least=10))
    problem = workshop(coat, coat, rooms=(Room(capacity=1),))

    assert placed(problem).starts == (0, 3 + 10 + 2 + 1)
    two = replace(problem, rooms=(Room(capacity=2),))
    assert placed(two).starts == (0, 0)


def test_a_room_too_small_for_a_stage_is_said() -> None:
    refused(
        workshop(stage_of(elapsed(3, Use(room=0, units=2))), rooms=(Room(capacity=1),)), 0, Why.ROOM
    )


def test_a_room_booked_for_others_is_left_alone() -> None:
    room = Room(capacity=2, busy=((4, 9, 3),))
    problem = workshop(stage_of(elapsed(6, Use(room=0, units=1))), rooms=(room,))

    assert placed(problem).starts == (9,)


SPRAY, WELD = range(2)
AIR = {"rooms": (Room(capacity=9), Room(capacity=9))}


def sprayed(steps: int, *, after: int = 0, **fields: object) -> Stage:
    use = Use(room=SPRAY, units=1, after=after, against=(WELD,), through_cure="cure" in fields)
    return stage_of(elapsed(steps, use), **fields)


def welded(steps: int, **fields: object) -> Stage:
    return stage_of(elapsed(steps, Use(room=WELD, units=1, against=(SPRAY,))), **fields)


def test_what_is_against_a_room_waits_until_nobody_takes_any_of_it() -> None:
    pair = workshop(sprayed(4), welded(3), **AIR)

    assert placed(pair, [0, 1]).starts == (0, 4)
    assert placed(pair, [1, 0]).starts == (3, 0)
    assert placed(workshop(sprayed(4), sprayed(3), **AIR)).starts == (0, 0)
    refused(workshop(sprayed(4), welded(3, start_by=3), **AIR), 1, Why.NO_TIME)


def test_keeping_apart_counts_clear_out_and_cure() -> None:
    wet = sprayed(4, after=2, cure=Wait(least=5))

    assert placed(workshop(wet, welded(3), **AIR)).starts == (0, 11)
    assert placed(workshop(sprayed(4, after=2), welded(3), **AIR)).starts == (0, 6)
    first = workshop(sprayed(4, after=2), welded(3, release=5), **AIR)
    assert placed(first, [1, 0]).starts == (8, 5)


def test_a_stage_is_not_kept_apart_from_itself() -> None:
    uses = (Use(room=SPRAY, units=1, against=(WELD,)), Use(room=WELD, units=1, against=(SPRAY,)))
    both = stage_of(elapsed(4, *uses))

    assert placed(workshop(both, both, **AIR)).starts == (0, 4)


def test_what_is_booked_beforehand_keeps_apart_too() -> None:
    rooms = (Room(capacity=9), Room(capacity=9, busy=((2, 6, 1),)))

    assert placed(workshop(sprayed(4), rooms=rooms)).starts == (6,)
    assert placed(workshop(sprayed(2), rooms=rooms)).starts == (0,)


def test_a_cure_keeps_what_follows_waiting_by_steps_or_by_table() -> None:
    edges = (Edge(before=0, after=1, least=1),)
    first, second = stage_of(elapsed(4), cure=Wait(least=5)), stage_of(elapsed(1))
    table = Wait(least=1, table=Table.of((3, 8), (10, 20)))

    assert placed(workshop(first, second, edges=edges)).starts == (0, 9)
    assert placed(workshop(replace(first, cure=table), second, edges=edges)).starts == (0, 20)
    refused(workshop(stage_of(elapsed(11), cure=table), second, edges=edges), 0, Why.NO_TIME)


def test_an_edge_may_count_from_the_start_and_let_overlap() -> None:
    first, second = stage_of(elapsed(30), cure=Wait(least=50)), stage_of(elapsed(1))
    from_start = Edge(before=0, after=1, least=4, from_start=True)

    assert placed(workshop(first, second, edges=(from_start,))).starts == (0, 4)
    early = replace(from_start, least=-4)
    late_first = replace(first, release=20)
    assert placed(workshop(late_first, second, edges=(early,))).starts == (20, 16)


def test_a_coat_moves_later_so_that_the_next_can_follow_in_time() -> None:
    coat = stage_of(by_hand(3), one_go=True)
    edges = (Edge(before=0, after=1, least=4, most=6),)
    problem = workshop(coat, coat, edges=edges)

    refused(problem, 1, Why.WAIT)
    longer = replace(problem, edges=(replace(edges[0], most=20),))
    assert placed(longer).starts == (10, 33)


BY_BANDS = Table.of((10, 14), (12, 30), (20, 34))


def test_a_greatest_wait_by_a_table_moves_a_coat_later() -> None:
    coat = stage_of(by_hand(3), one_go=True)
    edges = (Edge(before=0, after=1, least=4, most_table=BY_BANDS),)
    problem = workshop(coat, coat, edges=edges)

    assert placed(problem).starts == (10, 33)
    ended = replace(coat, ends=((12, 14),))
    assert placed(replace(problem, stages=(ended, coat))).starts == (10, 33)
    refused(replace(problem, stages=(replace(coat, start_by=9), coat)), 1, Why.WAIT)


def test_past_its_last_knot_a_table_of_greatest_waits_says_nothing() -> None:
    coat = stage_of(by_hand(3), one_go=True)
    short = Table.of((12, 14), (15, 17))
    edge = Edge(before=0, after=1, least=4, most_table=short)

    assert placed(workshop(coat, coat, edges=(edge,))).starts == (13, 33)
    both = replace(edge, most=15)
    refused(workshop(coat, coat, edges=(both,)), 1, Why.WAIT)
    assert placed(workshop(coat, coat, edges=(replace(edge, most=17),))).starts == (13, 33)


def test_a_table_counts_from_the_end_even_on_an_edge_from_the_start() -> None:
    long, later = stage_of(elapsed(12)), stage_of(elapsed(1), release=20)
    edge = Edge(before=0, after=1, from_start=True, most_table=BY_BANDS)

    assert placed(workshop(long, later, edges=(edge,))).starts == (0, 20)
    brief = Table.of((12, 14), (30, 22))
    assert placed(workshop(long, later, edges=(replace(edge, most_table=brief),))).starts == (1, 20)


def test_an_optional_stage_lifts_a_table_of_greatest_waits() -> None:
    coat = stage_of(by_hand(3), one_go=True)
    sand = stage_of(by_hand(1), optional=True)
    edge = Edge(before=0, after=1, least=4, insert=2, most_table=BY_BANDS)
    early = replace(coat, start_by=9)

    assert placed(workshop(coat, coat, sand, edges=(edge,))).ways[2] == -1
    found = placed(workshop(early, coat, sand, edges=(edge,)))
    assert found.ends[0] <= found.starts[2]
    assert found.ends[2] <= found.starts[1]


def test_an_optional_stage_is_put_in_where_the_wait_runs_out() -> None:
    coat = stage_of(by_hand(3), one_go=True)
    sand = stage_of(by_hand(1), optional=True)
    edge = Edge(before=0, after=1, least=4, most=6)
    without = workshop(coat, coat, sand, edges=(replace(edge, most=30, insert=2),))
    needed = workshop(coat, coat, sand, edges=(replace(edge, insert=2),))

    assert placed(without).ways[2] == -1
    found = placed(needed)
    assert found.ends[0] <= found.starts[2]
    assert found.ends[2] <= found.starts[1]


def test_what_stands_on_the_floor_keeps_the_next_one_out_until_it_leaves() -> None:
    stages = tuple(stage_of(elapsed(5)) for _ in range(4))
    edges = (Edge(before=0, after=1, least=10), Edge(before=2, after=3))
    holds = (Hold(room=0, units=2, first=0, last=1), Hold(room=0, units=2, first=2, last=3))
    problem = workshop(*stages, edges=edges, holds=holds, rooms=(Room(capacity=3),))

    assert placed(problem, [0, 2, 1, 3]).starts == (0, 15, 20, 25)
    roomy = replace(problem, rooms=(Room(capacity=4),))
    assert placed(roomy, [0, 2, 1, 3]).starts == (0, 15, 0, 5)
    standing = (Hold(room=0, units=2, first=None, last=1), holds[1])
    assert placed(replace(problem, holds=standing)).starts[2] == 20
    refused(replace(problem, rooms=(Room(capacity=1),)), 0, Why.ROOM)


def test_two_jobs_that_would_shut_each_other_in_go_one_after_the_other() -> None:
    stages = tuple(stage_of(elapsed(5), job=job) for job in (0, 0, 0, 1, 1, 1))
    edges = tuple(
        Edge(before=first, after=last) for last in (2, 5) for first in (last - 2, last - 1)
    )
    holds = tuple(
        Hold(room=0, units=1, first=first, last=last)
        for last in (2, 5)
        for first in (last - 2, last - 1)
    )
    jobs = (JobAim(lasts=(2,), latest=10), JobAim(lasts=(5,), latest=10))
    problem = workshop(*stages, edges=edges, holds=holds, jobs=jobs, rooms=(Room(capacity=2),))

    assert placed(problem, [0, 3, 1, 4, 2, 5]).ends == (5, 5, 10, 15, 15, 20)


def test_ways_are_chosen_so_that_the_stock_lasts() -> None:
    def way(work: int, units: int) -> Way:
        return replace(elapsed(work), consumes=((0, units),))

    stage = stage_of(way(2, 5), way(9, 1))
    problem = workshop(stage, stage, consumables=(6,))

    assert placed(problem).ways == (0, 1)
    refused(replace(problem, consumables=(1,)), 0, Why.STOCK)


def journey(loads_from: int = 0) -> Problem:
    """Load with worker 1, go with worker 0, who is asked for at the bench on the same day."""
    trip = a_trip((20, 30, 60), (44, 54, 84), crew=(0,), rooms=((0, 1),))
    return workshop(
        stage_of(by_hand(2), job=0, asked=(1,), release=loads_from),
        stage_of(by_hand(2), asked=(0,), release=20),
        jobs=(JobAim(lasts=(0,), latest=20, trip=trip),),
        workers=(a_worker(0), a_worker(0)),
        rooms=(Room(capacity=1),),
    )


def test_a_journey_keeps_its_crew_away_from_the_bench() -> None:
    found = placed(journey())

    assert (found.trips, found.starts) == ((0,), (9, 60))


def test_a_missed_journey_is_let_go_for_the_next_whose_crew_is_free() -> None:
    found = placed(journey(loads_from=21), [0, 1])

    assert (found.trips, found.ends[0]) == ((1,), 35)
    assert found.starts[1] == 33


def test_a_journey_waits_for_crew_and_vehicle() -> None:
    problem = journey(loads_from=21)
    away = replace(problem.workers[0], busy=((50, 51),))
    in_repair = Room(capacity=1, busy=((50, 51, 1),))

    assert placed(replace(problem, workers=(away, problem.workers[1]))).trips == (-1,)
    assert placed(replace(problem, rooms=(in_repair,))).trips == (-1,)


def test_a_release_is_kept_only_as_long_as_that_is_feasible() -> None:
    problem = workshop(stage_of(by_hand(2)), stage_of(by_hand(2), start_by=12))

    assert placed(problem, release=[33, 33]).starts == (33, 9)


def list_of_nine() -> Problem:
    lengths = {"T1": 1, "T2": 1, "T3": 1, "T4": 6, "T5": 6, "T6": 2, "T7": 2, "T8": 2, "T9": 6}
    names = list(lengths)
    after = [("T1", "T6"), ("T1", "T7"), ("T1", "T8"), ("T6", "T9"), ("T7", "T9"), ("T8", "T9")]
    return Problem(
        horizon=40,
        stages=tuple(stage_of(by_hand(length)) for length in lengths.values()),
        edges=tuple(Edge(before=names.index(a), after=names.index(b)) for a, b in after),
        workers=tuple(a_worker() for _ in range(3)),
    )


def test_list_scheduling_gives_the_printed_thirteen_and_the_pass_the_least_nine() -> None:
    """Lippman, Math in Society, chapter "Scheduling", Example 6; nine is the critical path."""
    printed = ["T1", "T6", "T7", "T8", "T4", "T5", "T9", "T2", "T3"]
    order = [int(name[1:]) - 1 for name in printed]

    assert max(placed(list_of_nine(), order, by_time=True).ends) == 13
    assert max(placed(list_of_nine(), order).ends) == 9


def test_the_same_order_gives_the_same_schedule() -> None:
    first = place(Index(list_of_nine()), range(9))

    assert isinstance(first, Schedule)
    assert place(Index(list_of_nine()), range(9)) == first


@pytest.mark.parametrize("count", [30])
def test_a_team_of_many_equals_is_found_without_listing_all(count: int) -> None:
    workers = tuple(
        Worker(calendar=None, can=frozenset({0}), helps=frozenset({0})) for _ in range(count)
    )
    way = Way(needs=(Need(skill=0, can=5),), work=Fraction(4))
    problem = Problem(horizon=100, stages=(stage_of(way),) * 7, workers=workers)

    assert max(placed(problem).ends) == 8
