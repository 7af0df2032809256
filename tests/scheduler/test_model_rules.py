"""Each rule of the model: a tiny problem that it alone decides, and one that it alone forbids."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from scheduler.calendar import Index
from scheduler.model import objective
from scheduler.model.build import build
from scheduler.model.run import Status, run
from scheduler.model.whole import solve_whole
from scheduler.problem import (
    Calendar,
    Edge,
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
)
from scheduler.replay import breaches
from tests.scheduler.goings import a_trip
from tests.scheduler.makespans import BY_HAND, HORIZON, LIMITS
from tests.scheduler.makespans import least as _least
from tests.scheduler.makespans import stage as _stage
from tests.scheduler.makespans import way as _way
from tests.scheduler.makespans import worker as _worker


class TestWindows:
    def test_a_release_decides(self) -> None:
        assert _least(_stage(2, release=5)) == 7

    def test_a_latest_start_forbids(self) -> None:
        assert _least(_stage(2, release=5, start_by=5)) == 7
        assert _least(_stage(2, release=5, start_by=4)) is None

    def test_a_pin_decides_and_forbids(self) -> None:
        assert _least(_stage(2, fixed_start=9)) == 11
        assert _least(_stage(2, fixed_start=HORIZON - 1)) is None

    def test_where_an_end_may_lie_decides_and_forbids(self) -> None:
        assert _least(_stage(2, ends=((0, 2), (6, 8)))) == 6
        assert _least(_stage(2, ends=((0, 2),))) is None


MORNINGS = Calendar(open=((0, 4), (10, 14), (20, 24)), shifts=((0, 4), (10, 14), (20, 24)))
WITH_BREAK = Calendar(open=((0, 2), (3, 6)), shifts=((0, 6),))


class TestCalendars:
    def test_work_pauses_outside_the_hours(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (MORNINGS,)}
        assert _least(_stage(6, needs=BY_HAND), **keeps) == 12
        assert _least(_stage(13, needs=BY_HAND), **keeps) is None

    def test_in_one_go_waits_for_a_shift_that_is_long_enough(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (MORNINGS,)}
        assert _least(_stage(3, needs=BY_HAND, one_go=True, release=2), **keeps) == 13
        assert _least(_stage(5, needs=BY_HAND, one_go=True), **keeps) is None

    def test_a_shift_must_run_on_after_the_end(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (MORNINGS,)}
        long = _stage(3, needs=BY_HAND, one_go=True, watch=1)
        assert _least(long, **keeps) == 3
        assert _least(_stage(3, needs=BY_HAND, one_go=True, watch=2), **keeps) is None

    def test_a_break_is_bridged_and_not_worked(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (WITH_BREAK,)}
        assert _least(_stage(4, needs=BY_HAND, one_go=True), **keeps) == 5

    def test_a_standstill_is_no_longer_than_allowed_but_for_shut_days(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (MORNINGS,)}
        assert _least(_stage(5, needs=BY_HAND, longest_pause=6), **keeps) == 11
        assert _least(_stage(5, needs=BY_HAND, longest_pause=5), **keeps) is None
        assert _least(_stage(5, needs=BY_HAND, longest_pause=5), shut=((4, 10),), **keeps) == 11

    def test_a_way_keeps_its_own_calendar(self) -> None:
        assert _least(_stage(6, calendar=0), calendars=(MORNINGS,)) == 12

    def test_start_and_end_lie_in_one_clear_stretch(self) -> None:
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0),), "calendars": (MORNINGS,)}
        hot = ((0, 2), (2, 12), (19, 24))
        assert _least(_stage(3, needs=BY_HAND, clear=hot), **keeps) == 11
        assert _least(_stage(3, needs=BY_HAND, clear=hot, one_go=True), **keeps) == 23
        assert _least(_stage(3, needs=BY_HAND, clear=hot[:1]), **keeps) is None

    def test_what_runs_on_elapsed_time_keeps_clear_too(self) -> None:
        assert _least(_stage(4, clear=((0, 3), (7, 11)))) == 11
        assert _least(_stage(4, clear=((0, 3), (7, 10)))) is None
        assert _least(_stage(0, clear=((5, 6), (9, 10)), release=7)) == 9
        assert _least(_stage(0, clear=((5, 6), (6, 10)), ends=((6, 7),))) == 6
        assert _least(_stage(0, clear=((5, 6),), release=7)) is None

    def test_each_way_keeps_its_own_clear(self) -> None:
        either = Stage(ways=(_way(2, clear=((9, 11),)), _way(4, clear=((3, 8),))))
        assert _least(either) == 7
        assert _least(either, _stage(2, clear=((9, 11),))) == 11

    def test_a_team_works_when_all_are_there(self) -> None:
        both = (Need(skill=0, can=2),)
        late = Calendar(open=((3, 13),), shifts=((3, 13),))
        keeps: dict[str, Any] = {"workers": (_worker(0, calendar=0), _worker(0, calendar=1))}
        assert _least(_stage(2, needs=both), calendars=(MORNINGS, late), **keeps) == 11

    def test_a_slow_pair_takes_longer(self) -> None:
        slow = _worker(0, pace=Fraction(1, 2))
        assert _least(_stage(3, needs=(Need(skill=0, can=2),)), workers=(slow, _worker(0))) == 4


class TestMembers:
    def test_only_who_can_is_taken(self) -> None:
        twice = (_stage(3, needs=BY_HAND), _stage(3, needs=BY_HAND))
        assert _least(*twice, workers=(_worker(0), _worker(0))) == 3
        assert _least(*twice, workers=(_worker(0), _worker(1))) == 6
        assert _least(*twice, workers=(_worker(1),)) is None

    def test_one_person_fills_one_place(self) -> None:
        two_skills = (Need(skill=0, can=1), Need(skill=1, can=1))
        assert _least(_stage(3, needs=two_skills), workers=(_worker(0, 1), _worker(0))) == 3
        assert _least(_stage(3, needs=two_skills), workers=(_worker(0, 1), _worker(2))) is None

    def test_helpers_help_and_don_t_lead(self) -> None:
        helper = _worker(1, helps=frozenset({0, 1}))
        with_help = (Need(skill=0, can=1, helps=1),)
        assert _least(_stage(3, needs=with_help), workers=(_worker(0), helper)) == 3
        assert (
            _least(_stage(3, needs=(Need(skill=0, can=2),)), workers=(_worker(0), helper)) is None
        )

    def test_who_is_asked_for_comes(self) -> None:
        busy = _worker(0, busy=((0, 8),))
        asked = _stage(3, needs=BY_HAND, asked=(1,))
        assert _least(asked, workers=(_worker(0), busy)) == 11
        assert _least(asked, workers=(_worker(0), _worker(1))) is None

    def test_nobody_but_those_asked_for_comes(self) -> None:
        pair = (Need(skill=0, can=1, helps=1),)
        only = _stage(3, needs=pair, asked=(0,), only_asked=True)
        assert _least(only, workers=(_worker(0), _worker(0))) is None

    def test_a_certificate_must_last_to_the_end(self) -> None:
        lifts = _stage(3, needs=BY_HAND, certificates=(7,), release=2)
        assert _least(lifts, workers=(_worker(0, certificates=((7, 5),)),)) == 5
        assert _least(lifts, workers=(_worker(0, certificates=((7, 4),)),)) is None
        assert _least(lifts, workers=(_worker(0),)) is None


class TestPeople:
    def test_one_thing_at_a_time(self) -> None:
        assert _least(*[_stage(3, needs=BY_HAND)] * 3, workers=(_worker(0),)) == 9
        assert _least(*[_stage(11, needs=BY_HAND)] * 3, workers=(_worker(0),)) is None

    def test_what_is_booked_is_booked(self) -> None:
        booked = _worker(0, busy=((2, 7),))
        assert _least(_stage(3, needs=BY_HAND), workers=(booked,)) == 10

    def test_people_are_held_through_a_pause(self) -> None:
        other = Calendar(open=((4, 10),), shifts=((4, 10),))
        second = _stage(2, needs=(Need(skill=1, can=1),), calendar=1)
        paused = _stage(6, needs=BY_HAND, fixed_start=0)
        keeps: dict[str, Any] = {"calendars": (MORNINGS, other)}
        people = (_worker(0, 1, calendar=0),)
        assert _least(paused, second, workers=people, **keeps) is None


class TestCrowds:
    def test_a_set_of_skills_has_so_many_people(self) -> None:
        one_each = [_stage(4, needs=(Need(skill=skill, can=1),)) for skill in (0, 1, 0)]
        assert _least(*one_each, workers=(_worker(0, 1), _worker(0, 1))) == 8

    def test_a_need_beyond_everybody_is_refused(self) -> None:
        assert _least(_stage(4, needs=(Need(skill=0, can=3),)), workers=(_worker(0),) * 2) is None


class TestEdges:
    def test_from_the_end(self) -> None:
        pair = (_stage(3), _stage(2))
        assert _least(*pair, edges=(Edge(before=0, after=1, least=4),)) == 9
        assert _least(*pair, edges=(Edge(before=0, after=1, least=26),)) is None

    def test_from_the_start_also_backwards(self) -> None:
        pair = (_stage(3), _stage(2))
        assert _least(*pair, edges=(Edge(before=0, after=1, least=1, from_start=True),)) == 3
        before = Edge(before=0, after=1, least=-5, most=-5, from_start=True)
        assert _least(*pair, edges=(before,)) == 8

    def test_a_greatest_wait_decides_and_forbids(self) -> None:
        pair = (_stage(3), _stage(2, release=20))
        assert _least(*pair, edges=(Edge(before=0, after=1, most=2),)) == 22
        early = (_stage(3, start_by=4), _stage(2, release=20))
        assert _least(*early, edges=(Edge(before=0, after=1, most=2),)) is None

    def test_a_stage_that_is_inserted_bridges_a_greatest_wait(self) -> None:
        early = (_stage(3, start_by=4), _stage(2, release=20), _stage(1, optional=True))
        assert _least(*early, edges=(Edge(before=0, after=1, most=2, insert=2),)) == 22
        slow = (*early[:2], _stage(19, optional=True))
        assert _least(*slow, edges=(Edge(before=0, after=1, most=2, insert=2),)) == 24

    def test_a_table_decides_how_long_a_wait_may_be(self) -> None:
        later = _stage(2, release=20)
        by_band = Table.of((5, 12), (8, 19), (11, 21))
        edges = (Edge(before=0, after=1, most_table=by_band),)
        assert _least(_stage(3), later, edges=edges) == 22
        assert _least(_stage(3, start_by=5), later, edges=edges) is None
        assert _least(_stage(3, start_by=6), later, edges=edges) == 22
        assert _least(_stage(3, release=9, start_by=9), later, edges=edges) == 22
        assert _least(_stage(3, start_by=6), _stage(2, release=22), edges=edges) is None
        tighter = (replace(edges[0], most=9),)
        assert _least(_stage(3, start_by=7), later, edges=tighter) is None

    def test_a_table_counts_from_the_end(self) -> None:
        by_band = Table.of((5, 12), (8, 19), (11, 21))
        edge = Edge(before=0, after=1, from_start=True, most_table=by_band)
        later = _stage(2, release=20)
        assert _least(_stage(8, start_by=0), later, edges=(edge,)) is None
        assert _least(_stage(9, start_by=0), later, edges=(edge,)) == 22

    def test_a_stage_that_is_inserted_bridges_a_table_too(self) -> None:
        early = (_stage(3, start_by=4), _stage(2, release=20), _stage(1, optional=True))
        by_band = Table.of((5, 12), (8, 19), (11, 21))
        edge = Edge(before=0, after=1, insert=2, most_table=by_band)
        assert _least(*early, edges=(edge,)) == 22
        assert _least(*early[:2], _stage(19, optional=True), edges=(edge,)) == 24
        assert _least(*early[:2], _stage(28, optional=True), edges=(edge,)) is None


class TestCures:
    def test_what_follows_waits_for_the_cure(self) -> None:
        edges = (Edge(before=0, after=1),)
        assert _least(_stage(3, cure=Wait(least=5)), _stage(2), edges=edges) == 10

    def test_a_table_decides_when_it_is_ready(self) -> None:
        edges = (Edge(before=0, after=1),)
        slower = Table.of((3, 9), (8, 12))
        assert _least(_stage(3, cure=Wait(table=slower)), _stage(2), edges=edges) == 11
        late = _stage(3, release=1, cure=Wait(table=slower))
        assert _least(late, _stage(2), edges=edges) == 14

    def test_past_the_last_knot_nothing_is_allowed(self) -> None:
        short = Wait(table=Table.of((3, 4)))
        assert _least(_stage(3, cure=short)) == 4
        assert _least(_stage(3, release=1, cure=short)) is None

    def test_a_stage_that_may_be_left_out_cures_only_where_it_is_done(self) -> None:
        slow = _stage(1, optional=True, cure=Wait(table=Table.of((20, 24), (HORIZON, HORIZON))))
        edges = (Edge(before=0, after=1, most=2, insert=2), Edge(before=2, after=1))
        assert _least(_stage(3, start_by=4), _stage(2, release=20), slow, edges=edges) == 26
        assert _least(_stage(3), _stage(2), slow, edges=edges) == 5


class TestRooms:
    def test_capacity_decides_and_forbids(self) -> None:
        half = _stage(3, uses=(Use(room=0, units=2),))
        assert _least(half, half, half, rooms=(Room(capacity=4),)) == 6
        assert _least(half, rooms=(Room(capacity=1),)) is None

    def test_clear_out_comes_before_and_after(self) -> None:
        tidy = _stage(3, uses=(Use(room=0, units=1, before=1, after=2),))
        assert _least(tidy, tidy, rooms=(Room(capacity=1),)) == 9

    def test_it_stays_through_the_cure(self) -> None:
        stays = _stage(3, uses=(Use(room=0, units=1, through_cure=True),), cure=Wait(least=4))
        assert _least(stays, stays, rooms=(Room(capacity=1),)) == 14

    def test_what_is_taken_is_taken_even_beyond_what_is_free(self) -> None:
        taken = Room(capacity=2, busy=((0, 5, 2), (3, 6, 2)))
        assert _least(_stage(3, uses=(Use(room=0, units=1),)), rooms=(taken,)) == 9


class TestHolds:
    def test_what_stands_takes_its_floor_from_first_to_last(self) -> None:
        use = (Use(room=0, units=1),)
        edges = (Edge(before=0, after=1, least=5),)
        hold = Hold(room=0, units=1, first=0, last=1)
        others = (_stage(2), _stage(2), _stage(4, uses=use))
        assert _least(*others, edges=edges, rooms=(Room(capacity=1),), holds=(hold,)) == 13
        standing = Hold(room=0, units=1, first=None, last=1)
        pinned = (_stage(2), _stage(2), _stage(4, uses=use, start_by=8))
        floor: dict[str, Any] = {"edges": edges, "rooms": (Room(capacity=1),)}
        assert _least(*pinned, holds=(standing,), **floor) is None


class TestConsumables:
    def test_what_is_used_up_decides_the_way(self) -> None:
        quick = _way(2, consumes=((0, 3),))
        either = Stage(ways=(quick, _way(5, consumes=((0, 1),))))
        assert _least(either, consumables=(3,)) == 2
        assert _least(either, consumables=(2,)) == 5
        assert _least(either, either, consumables=(4,)) == 5
        assert _least(either, consumables=(0,)) is None


def _book(trip: Trip, *stages: Stage, latest: int | None = 10) -> tuple[Schedule, int]:
    """The schedule that misses least and least late, and how many windows it misses."""
    problem = Problem(
        horizon=HORIZON,
        stages=stages,
        workers=(_worker(0),),
        jobs=(JobAim(lasts=(0,), latest=latest, trip=trip),),
    )
    frame = build(Index(problem))
    found = run(frame, objective.level(frame, 1), LIMITS)
    assert found.status is Status.PROVED
    assert found.schedule is not None
    assert found.value is not None
    assert not breaches(problem, found.schedule)
    return found.schedule, found.value


class TestTrips:
    def test_the_crew_is_away(self) -> None:
        trip = a_trip((10, 14, 20), (24, 28, 30), crew=(0,))
        schedule, missed = _book(trip, _stage(4), _stage(5, needs=BY_HAND, release=6, start_by=20))
        assert missed == 0
        assert schedule.trips == (0,)
        assert schedule.starts[1] >= 20

    def test_who_is_needed_elsewhere_cannot_drive(self) -> None:
        trip = a_trip((10, 14, 20), (24, 28, 30), crew=(0,))
        schedule, missed = _book(trip, _stage(4), _stage(5, needs=BY_HAND, fixed_start=11))
        assert missed == 1
        assert schedule.trips == (1,)

    def test_it_leaves_after_loading(self) -> None:
        trip = a_trip((10, 14, 20), (24, 28, 30))
        schedule, missed = _book(trip, _stage(4, release=8))
        assert missed == 1
        assert schedule.trips == (1,)


class TestLevels:
    def test_each_level_counts_what_it_says(self) -> None:
        stage = _stage(3, release=7, told_start=2, told_team=(), job=0)
        problem = Problem(
            horizon=HORIZON,
            stages=(stage, Stage(ways=(Way(work=Fraction(2), cost=9),), release=12)),
            jobs=(
                JobAim(lasts=(0,), latest=8, wish=6, floor=((0, 1),)),
                JobAim(lasts=(1,), latest=None, firm=False),
            ),
        )
        least = []
        for number in range(1, objective.LEVEL_COUNT + 1):
            frame = build(Index(problem))
            least.append(run(frame, objective.level(frame, number), LIMITS).value)
        assert least[:7] == [1, 1, 2, 2, 0, 1, 9]
        assert least[7] == 14 - (HORIZON - 3)


class TestPairs:
    def test_a_pair_decides(self) -> None:
        stage = _stage(3, needs=BY_HAND)
        two = (_worker(0), _worker(0))
        assert _least(stage, stage, workers=two) == 3
        assert _least(stage, replace(stage, same_team_as=0), workers=two) == 6

    def test_a_pair_forbids(self) -> None:
        other = _stage(3, needs=(Need(skill=1, can=1),), same_team_as=0)
        stage = _stage(3, needs=BY_HAND)
        assert _least(stage, other, workers=(_worker(0), _worker(0, 1))) == 6
        assert _least(stage, other, workers=(_worker(0), _worker(1))) is None


class TestCompany:
    SHIFTS = (
        Calendar(open=((0, 30),), shifts=((0, 30),)),
        Calendar(open=((4, 8),), shifts=((4, 8),)),
    )
    LONELY = _stage(3, needs=BY_HAND, company=True)

    def _least_beside(self, stage: Stage, **said: Any) -> int | None:
        workers = (_worker(0, calendar=0), _worker(1, calendar=1, **said))
        return _least(stage, calendars=self.SHIFTS, workers=workers)

    def test_company_decides(self) -> None:
        assert self._least_beside(replace(self.LONELY, company=False)) == 3
        assert self._least_beside(self.LONELY) == 7

    def test_who_is_away_is_none(self) -> None:
        assert self._least_beside(self.LONELY, away=((4, 5),)) == 8
        assert self._least_beside(self.LONELY, away=((5, 6),)) is None

    def test_company_forbids(self) -> None:
        assert self._least_beside(_stage(5, needs=BY_HAND, company=True)) is None

    def test_a_journey_takes_it_away(self) -> None:
        lonely = replace(self.LONELY, start_by=9)
        trip = a_trip((10, 14, 20), (24, 28, 30), crew=(1,))
        problem = Problem(
            horizon=HORIZON,
            stages=(_stage(4), replace(lonely, fixed_start=9)),
            workers=(_worker(0), _worker(1)),
            jobs=(JobAim(lasts=(0,), latest=10, trip=trip),),
        )
        found = solve_whole(Index(problem), LIMITS)
        assert found.schedule is not None
        assert not breaches(problem, found.schedule)
        assert (found.values[0], found.schedule.trips) == (1, (1,))
        alone = replace(problem, stages=(problem.stages[0], replace(lonely, company=False)))
        assert solve_whole(Index(alone), LIMITS).values[0] == 0


class TestLimitsOfADay:
    DAYS = ((0, 10), (10, 20), (20, 30))
    SANDER = (_worker(0, sanding_max=4),)

    def _pieces(self, most: int | None, *pieces: int) -> int | None:
        stages = (_stage(2, needs=BY_HAND, piece=piece) for piece in pieces)
        return _least(*stages, workers=(_worker(0),), half_days=self.DAYS, pieces_max=most)

    def test_pieces_decide(self) -> None:
        assert self._pieces(None, 0, 1, 2) == 6
        assert self._pieces(2, 0, 1, 2) == 12
        assert self._pieces(2, 0, 1, 1) == 6

    def test_pieces_forbid(self) -> None:
        assert self._pieces(1, 0, 1, 2) == 22
        assert self._pieces(1, 0, 1, 2, 3) is None

    def test_sanding_decides(self) -> None:
        sand = _stage(3, needs=BY_HAND, sands=True)
        assert _least(sand, sand, workers=self.SANDER, days=self.DAYS) == 12
        assert _least(sand, _stage(3, needs=BY_HAND), workers=self.SANDER, days=self.DAYS) == 6

    def test_a_long_stage_is_shared_by_two_days(self) -> None:
        assert (
            _least(_stage(8, needs=BY_HAND, sands=True), workers=self.SANDER, days=self.DAYS) == 14
        )

    def test_sanding_forbids(self) -> None:
        long = _stage(9, needs=BY_HAND, sands=True)
        assert _least(long, workers=self.SANDER, days=self.DAYS) is None

    def test_what_is_under_way_counts_and_is_not_held_to_it(self) -> None:
        given = _stage(5, needs=BY_HAND, sands=True, fixed_start=0, under_way=True)
        sand = _stage(1, needs=BY_HAND, sands=True)
        assert _least(given, workers=self.SANDER, days=self.DAYS) == 5
        assert _least(given, sand, workers=self.SANDER, days=self.DAYS) == 11
