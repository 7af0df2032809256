"""Hand rules keep to calendars, cures and places: the check finds nothing in their plans."""

import pytest

from scheduler.check import check
from shared.ids import JobId
from tests.bench.year.as_book import book_of
from tests.bench.year.by_rule import ByRule
from tests.bench.year.clock import DAY
from tests.bench.year.ours import Ours
from tests.bench.year.rules import RULES, Rule, job_slacks
from tests.bench.year.season import Season, mornings_of
from tests.bench.year.thinking import THINKS_DAYS, Dispatcher, believed
from tests.bench.year.world import world_of
from tests.simulated.plan_of import plan_of

MORNINGS = (20, 40)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_check_finds_nothing_in_what_a_rule_plans(rule: Rule) -> None:
    season = Season(world_of(1, 75), ByRule(rule))
    for number, day in enumerate(mornings_of(season.shop_hours)):
        season.morning(day)
        if number in MORNINGS:
            assert _breaches(season, rule) == ()
        if number == MORNINGS[-1]:
            break


def _breaches(season: Season, rule: Rule) -> tuple[object, ...]:
    ahead = believed(season.floor)
    habits = rule.habits(season.floor, season.shop_hours, {})
    until = ahead.now + THINKS_DAYS * DAY
    ahead.advance(until, Dispatcher(habits), season.openings(season.floor.now))
    book = book_of(season)
    plan = plan_of(book, ahead)
    assert len(plan.placements) > 25
    result = check(book, plan)
    assert result.sound or result.breaches
    return result.breaches


def test_slack_falls_as_nothing_is_done() -> None:
    season = Season(world_of(1, 75), ByRule(RULES[0]))
    found = []
    for number, day in enumerate(mornings_of(season.shop_hours)):
        season.morning(day)
        if number in (1, 5):
            found.append(job_slacks(season.floor, season.shop_hours)[JobId("owl")])
        if number == 5:
            break
    assert found[0] - found[1] == 4 * 32


def test_the_engine_plans_a_month_and_each_of_its_plans_passes_the_check() -> None:
    season = Season(world_of(1, 75), Ours())
    for number, day in enumerate(mornings_of(season.shop_hours)):
        season.morning(day)
        if number == 24:
            break
    assert season.last.items
    assert season.floor.over
    assert season.planner.warned(season, season.last) <= set(season.floor.jobs)
