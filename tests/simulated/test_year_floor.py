"""The floor of the simulated years: what truly happens keeps to the rules and to the draws."""

from datetime import timedelta
from itertools import pairwise

import pytest

from tests.bench.year.as_book import book_of
from tests.bench.year.by_rule import ByRule
from tests.bench.year.clock import DAY, at, day_of
from tests.bench.year.commissions import capacity_hours
from tests.bench.year.floor import Turn
from tests.bench.year.plans import quarters
from tests.bench.year.rides import latest_leave, ride
from tests.bench.year.rules import FIRST_COME, FOREMAN
from tests.bench.year.season import Season, mornings_of
from tests.bench.year.shop import shop_hours
from tests.bench.year.tasks import bench_quarters, person_hours
from tests.bench.year.truth import Truth
from tests.bench.year.world import world_of


@pytest.fixture(scope="module")
def season() -> Season:
    """A foreman's first fifteen weeks."""
    season = Season(world_of(2, 75), ByRule(FOREMAN))
    for day in list(mornings_of(season.shop_hours))[:72]:
        season.morning(day)
    return season


def _turns(season: Season) -> list[Turn]:
    return [turn for turn in season.floor.over.values() if turn.how is not None]


def test_worlds_are_the_same_every_time() -> None:
    assert world_of(3, 60).commissions == world_of(3, 60).commissions
    assert world_of(3, 60).commissions != world_of(4, 60).commissions


@pytest.mark.parametrize("load", [60, 75, 90])
def test_a_load_takes_its_share_of_the_hours(load: int) -> None:
    world = world_of(5, load)
    hours = sum(each.hours for each in world.commissions) * 120
    share = hours / capacity_hours(world.book)
    assert load <= share < load + 8


def test_nothing_happens_before_what_it_waits_for(season: Season) -> None:
    assert len(_turns(season)) > 40
    for turn in _turns(season):
        task = season.floor.tasks[turn.task]
        for before in task.befores:
            assert season.floor.over[before].ready <= turn.start
        assert turn.start >= task.release


def test_nobody_does_two_things_at_once(season: Season) -> None:
    for person in season.floor.away:
        mine = sorted((t.start, t.end) for t in _turns(season) if person in t.team)
        assert all(end <= start for (_, end), (start, _) in pairwise(mine))


def test_places_hold_no_more_than_they_can(season: Season) -> None:
    floor = season.floor
    for place, slots in floor.shop.slots.items():
        mine = [t for t in _turns(season) if t.how is not None and t.how.place == place]
        for turn in mine:
            held = [
                other
                for other in mine
                if other.start
                <= turn.start
                < (other.ready if floor.tasks[other.task].stays else other.end)
                + floor.shop.clear_out[place]
            ]
            assert len(held) <= slots


def test_true_hours_differ_from_the_estimate_both_ways(season: Season) -> None:
    work = [(t.work, quarters(t.how)) for t in _turns(season) if t.how is not None]
    assert any(true < estimated for true, estimated in work)
    assert any(true > estimated for true, estimated in work)


def test_true_hours_are_the_same_whoever_plans() -> None:
    world = world_of(2, 75)
    step = world.commissions[0].job.steps[0]
    assert Truth(2).factor(world.commissions[0].job.id, step, step.kind) == (  # type: ignore[union-attr]
        world.truth.factor(world.commissions[0].job.id, step, step.kind)  # type: ignore[union-attr]
    )


def test_what_people_say_is_left_comes_back_as_quarters() -> None:
    for left in range(1, 90):
        for hands in (1, 2):
            for is_one_go in (True, False):
                hours = person_hours(left, hands, is_one_go=is_one_go)
                work = bench_quarters(hours, hands, is_one_go=is_one_go)
                assert -(-work.numerator // work.denominator) == left


def test_a_quarter_later_than_the_latest_misses_the_window() -> None:
    for each in world_of(1, 75).commissions:
        latest = latest_leave(each.job)
        assert ride(each.job, latest).in_time
        assert not ride(each.job, latest + 1).in_time


def test_work_at_the_site_lies_in_its_access_hours() -> None:
    job = world_of(1, 75).commissions[0].job
    late = ride(job, latest_leave(job) - DAY // 2)
    for first, last in late.legs[1:]:
        assert at(day_of(last), 7) <= last <= at(day_of(last), 20)
        assert last - first >= 1


def test_the_book_of_a_morning_knows_nothing_of_the_future(season: Season) -> None:
    book = book_of(season)
    assert book.as_of is not None
    assert all(fact.at <= book.as_of for fact in book.facts)
    coming = book.as_of + timedelta(days=1)
    assert not any(
        away.reason == "ill" and away.start > coming for one in book.people for away in one.leave
    )


def test_simple_rules_go_by_lead_time_and_a_foreman_tries() -> None:
    assert FOREMAN.tries
    assert not FIRST_COME.tries


def test_every_window_is_counted_once() -> None:
    season = Season(world_of(1, 20), ByRule(FOREMAN)).run()
    assert sorted(each.job for each in season.ended) == sorted(season.accepted)
    asked = {each.job.id for each in season.world.commissions}
    assert asked == {*season.accepted, *season.declined}
    assert not season.floor.jobs
    assert shop_hours(season.book).spans
