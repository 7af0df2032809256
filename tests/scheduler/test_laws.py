"""Company, pairs and limits of a day: tiny problems where each alone decides, or forbids."""

from dataclasses import replace
from fractions import Fraction

import pytest

from scheduler.calendar import Index
from scheduler.countback import earliest, latest
from scheduler.justify import justify
from scheduler.laws import laws_of
from scheduler.place import Unfit
from scheduler.problem import (
    Calendar,
    Edge,
    JobAim,
    Problem,
    Stage,
    Way,
    Worker,
)
from scheduler.replay import breaches
from scheduler.search import Why
from tests.scheduler.goings import a_trip
from tests.scheduler.shops import (
    NINE_TO_FIVE,
    a_calendar,
    a_worker,
    by_hand,
    placed,
    stage_of,
    try_place,
)

DAYS = a_calendar(*NINE_TO_FIVE)
AFTERNOONS = a_calendar(*((start + 4, end) for start, end in NINE_TO_FIVE))
NOONLESS = a_calendar((9, 12), (14, 17), *NINE_TO_FIVE[1:])
CALENDARS = (DAYS, AFTERNOONS, NOONLESS)
LONELY = stage_of(by_hand(3), company=True, asked=(0,))
WHOLE_DAYS = tuple((day * 24, day * 24 + 24) for day in range(10))
HALF_DAYS = tuple((at, at + 12) for at in range(0, 240, 12))


def workshop(*stages: Stage, workers: tuple[Worker, ...], **fields: object) -> Problem:
    given = {
        "calendars": CALENDARS,
        "horizon": 240,
        "days": WHOLE_DAYS,
        "half_days": HALF_DAYS,
        **fields,
    }
    return Problem(stages=stages, workers=workers, **given)  # type: ignore[arg-type]


def shop(*stages: Stage, other: int | None = 1, **fields: object) -> Problem:
    """A worker from nine to five, and one who keeps another calendar and can do nothing here."""
    return workshop(*stages, workers=(a_worker(0), a_worker(other, 7)), **fields)


class TestCompany:
    def test_one_alone_waits_for_somebody_else(self) -> None:
        assert placed(shop(LONELY)).starts == (13,)
        assert placed(shop(replace(LONELY, company=False))).starts == (9,)

    def test_two_keep_each_other_company(self) -> None:
        both = workshop(stage_of(by_hand(3, 2), company=True), workers=(a_worker(0), a_worker(0)))

        assert placed(both).starts == (9,)

    def test_work_stands_still_while_nobody_else_is_there(self) -> None:
        long = replace(LONELY, ways=(by_hand(6),))

        assert placed(shop(long)).ends == (39,)
        assert placed(shop(long, other=2)).ends == (17,)

    def test_work_in_one_go_is_not_broken_off_for_want_of_company(self) -> None:
        in_one_go = replace(LONELY, ways=(by_hand(4),), one_go=True)

        assert placed(shop(in_one_go, other=2)).starts == (33,)

    def test_a_bridged_break_of_the_other_is_no_absence(self) -> None:
        bridged = Calendar(open=NOONLESS.open, shifts=NINE_TO_FIVE)
        problem = shop(replace(LONELY, ways=(by_hand(6),)), other=2)

        assert placed(replace(problem, calendars=(*CALENDARS[:2], bridged))).ends == (15,)

    def test_nobody_is_left_alone_who_works_at_no_time_beside_others(self) -> None:
        alone = workshop(LONELY, workers=(a_worker(0),))

        found = try_place(alone)

        assert isinstance(found, Unfit)
        assert found.why is Why.NO_TIME

    def test_somebody_away_is_no_company(self) -> None:
        problem = shop(LONELY, other=0)
        away = replace(problem.workers[1], away=((10, 34),))
        asked = replace(problem, workers=(problem.workers[0], away))

        assert placed(problem).starts == (9,)
        assert placed(asked).starts == (34,)

    def test_a_journey_takes_company_away(self) -> None:
        loading = Stage(ways=(Way(work=Fraction(2)),), job=0)
        trip = a_trip((10, 20, 36), crew=(1,))
        job = JobAim(lasts=(0,), latest=10, trip=trip)

        problem = shop(loading, LONELY, other=0, jobs=(job,))

        assert placed(problem).starts == (0, 36)

    def test_who_would_leave_somebody_alone_leaves_later(self) -> None:
        loading = stage_of(Way(work=Fraction(2)), job=0)
        pinned = replace(LONELY, fixed_start=10)
        trip = a_trip((10, 12, 14), (12, 14, 16), (13, 14, 16), crew=(1,))
        job = JobAim(lasts=(0,), latest=10, trip=trip)

        found = placed(shop(loading, pinned, other=0, jobs=(job,)))

        assert found.trips == (2,)

    def test_earliest_and_latest_times_know_when_there_is_company(self) -> None:
        job = JobAim(lasts=(0,), latest=36)
        index = Index(shop(replace(LONELY, job=0), jobs=(job,)))

        assert earliest(index).starts == (13,)
        assert latest(index).starts == (14,)

    def test_pulling_together_keeps_company(self) -> None:
        job = JobAim(lasts=(1,), latest=100, floor=((0, 1),))
        late = stage_of(by_hand(2), job=0, release=62)
        problem = shop(replace(LONELY, job=0), late, edges=(Edge(before=0, after=1),), jobs=(job,))
        first = placed(problem)

        found = justify(Index(problem), first)

        assert found is not None
        assert breaches(problem, found) == ()
        assert (first.starts[0], found.starts[0]) == (13, 39)


class TestPairs:
    STAGE = stage_of(by_hand(3))
    THREE = (a_worker(0), a_worker(0), a_worker(0, 7))

    def test_the_second_waits_for_the_people_of_the_first(self) -> None:
        pair = (self.STAGE, replace(self.STAGE, same_team_as=0))

        assert placed(workshop(*pair, workers=self.THREE)).starts == (9, 12)
        assert placed(workshop(self.STAGE, self.STAGE, workers=self.THREE)).starts == (9, 9)

    def test_it_does_not_matter_which_of_them_is_placed_first(self) -> None:
        pair = (replace(self.STAGE, same_team_as=1), replace(self.STAGE, asked=(1,)))

        assert placed(workshop(*pair, workers=self.THREE), [0, 1]).teams == ((1,), (1,))
        assert placed(workshop(*pair, workers=self.THREE), [1, 0]).teams == ((1,), (1,))

    def test_a_pair_that_no_team_can_do_is_not_placed(self) -> None:
        pair = (stage_of(by_hand(3, skill=7)), replace(self.STAGE, same_team_as=0))

        found = try_place(workshop(*pair, workers=self.THREE))

        assert isinstance(found, Unfit)
        assert found.why is Why.NOBODY

    def test_ways_of_other_sizes_are_left_aside(self) -> None:
        pair = (
            stage_of(by_hand(6), by_hand(2, 2)),
            stage_of(by_hand(3), same_team_as=0),
        )

        assert len(placed(workshop(*pair, workers=self.THREE)).teams[0]) == 1

    def test_pulling_together_keeps_pairs(self) -> None:
        pair = (replace(self.STAGE, job=0), replace(self.STAGE, same_team_as=0, job=0))
        job = JobAim(lasts=(0, 1), latest=100)
        problem = workshop(*pair, workers=self.THREE, jobs=(job,))

        found = justify(Index(problem), placed(problem))

        assert found is not None
        assert breaches(problem, found) == ()


class TestPieces:
    @staticmethod
    def stages(*pieces: int | None) -> list[Stage]:
        return [stage_of(by_hand(1), piece=piece) for piece in pieces]

    def test_a_third_piece_waits_for_the_afternoon(self) -> None:
        problem = workshop(*self.stages(0, 1, 2), workers=(a_worker(0),))

        assert placed(replace(problem, pieces_max=2)).starts == (9, 10, 12)
        assert placed(problem).starts == (9, 10, 11)

    def test_a_piece_that_is_known_adds_nothing(self) -> None:
        problem = workshop(*self.stages(0, 1, 0), workers=(a_worker(0),), pieces_max=2)

        assert placed(problem).starts == (9, 10, 11)

    def test_a_piece_counts_in_each_half_day_it_is_worked_on(self) -> None:
        long = stage_of(by_hand(5), piece=0)
        problem = workshop(long, *self.stages(1), workers=(a_worker(0),), pieces_max=1)

        assert placed(problem).starts == (9, 33)

    def test_somebody_else_takes_it_sooner(self) -> None:
        problem = workshop(*self.stages(0, 1), workers=(a_worker(0), a_worker(0)), pieces_max=1)

        assert placed(problem).teams == ((0,), (1,))

    def test_what_is_under_way_counts_and_is_not_held_to_it(self) -> None:
        given = [
            replace(stage, fixed_start=at, asked=(0,), only_asked=True, under_way=True)
            for at, stage in enumerate(self.stages(0, 1), 9)
        ]
        problem = workshop(*self.stages(2, 1), *given, workers=(a_worker(0),), pieces_max=1)

        assert placed(problem).starts == (12, 11, 9, 10)


class TestSanding:
    SAND = stage_of(by_hand(3), sands=True)

    @staticmethod
    def sander(most: int | None) -> Worker:
        return replace(a_worker(0), sanding_max=most)

    def test_what_is_over_the_limit_waits_for_the_next_day(self) -> None:
        twice = (self.SAND, self.SAND)

        assert placed(workshop(*twice, workers=(self.sander(5),))).starts == (9, 15)
        assert placed(workshop(*twice, workers=(self.sander(6),))).starts == (9, 12)
        assert placed(workshop(*twice, workers=(self.sander(3),))).starts == (9, 33)

    def test_a_long_stage_is_shared_by_two_days(self) -> None:
        long = stage_of(by_hand(8), sands=True)

        assert placed(workshop(long, workers=(self.sander(4),))).starts == (13,)
        assert placed(workshop(long, workers=(self.sander(None),))).starts == (9,)

    @pytest.mark.parametrize(
        "stage", [stage_of(by_hand(9), sands=True), stage_of(by_hand(5), sands=True, one_go=True)]
    )
    def test_what_no_day_can_hold_is_not_placed(self, stage: Stage) -> None:
        found = try_place(workshop(stage, workers=(self.sander(4),)))

        assert isinstance(found, Unfit)
        assert found.why is Why.NO_TIME

    def test_it_is_shared_out_between_two(self) -> None:
        problem = workshop(
            stage_of(by_hand(5, 2), sands=True), workers=(self.sander(5), self.sander(6))
        )

        assert placed(problem).starts == (9,)

    def test_each_keeps_their_own_limit(self) -> None:
        problem = workshop(self.SAND, self.SAND, workers=(self.sander(2), self.sander(6)))

        assert placed(problem).teams == ((1,), (1,))


def test_a_problem_that_asks_for_none_of_it_has_no_laws() -> None:
    plain = workshop(stage_of(by_hand(3), piece=0), workers=(a_worker(0),))

    assert laws_of(Index(plain)) is None
    assert laws_of(Index(replace(plain, pieces_max=1))) is not None
