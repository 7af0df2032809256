"""The rule sets in quarters of an hour, as Regulation (EC) 561/2006 and the others print them."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from shared.book import OwnFigure
from shared.road.quarters import ceil_quarter, floor_quarter, instant_of, next_week, turns_week
from shared.road.rules import (
    NEVER,
    RULE_SETS,
    UnknownRules,
    gb_domestic,
    one_driver,
    rule_set,
    validity_of,
    with_reserve,
)
from shared.trade import figure
from shared.trade.own import looked_up
from tests.builders import a_workshop


def test_one_driver_has_the_hours_of_the_regulation() -> None:
    """Articles 6 to 9, and Art. 5 of Directive 2002/15/EC for breaks from all work."""
    rules = one_driver()

    assert (rules.drive_unbroken, rules.break_length) == (4.5 * 4, 3)
    assert (rules.break_part, rules.break_second) == (1, 2)
    assert (rules.drive_daily, rules.drive_extended, rules.extensions) == (36, 40, 2)
    assert (rules.drive_week, rules.drive_fortnight) == (56 * 4, 90 * 4)
    assert (rules.rest, rules.reduced_rest, rules.reductions) == (44, 36, 3)
    assert (rules.rest_part, rules.rest_within) == (3 * 4, 24 * 4)
    assert (rules.interruptions, rules.interrupted) == (2, 4)
    assert rules.weekly_rest_after == 144 * 4
    assert (rules.work_unbroken, rules.medium_work, rules.long_work) == (24, 24, 36)
    assert (rules.medium_break, rules.long_break) == (2, 3)


def test_gb_domestic_has_its_own_driving_and_duty() -> None:
    """Transport Act 1968 s. 96: ten hours of driving in eleven of duty; workers rest for eleven."""
    rules = gb_domestic()

    assert (rules.drive_daily, rules.work_daily, rules.rest) == (40, 44, 44)
    assert rules.drive_extended == rules.drive_daily
    assert rules.reductions == rules.extensions == 0


def test_a_rule_set_names_its_source_and_day() -> None:
    assert "561/2006" in one_driver().source
    assert "GB domestic" in gb_domestic().source
    assert one_driver().read_on.year == 2026


def test_instants_go_to_the_grid_and_back() -> None:
    odd = datetime(2027, 3, 18, 9, 7, tzinfo=UTC)

    assert instant_of(floor_quarter(odd)) == odd.replace(minute=0)
    assert instant_of(ceil_quarter(odd)) == odd.replace(minute=15)


def test_a_fixed_week_begins_on_monday_at_midnight_utc() -> None:
    monday = floor_quarter(datetime(2027, 3, 22, tzinfo=UTC))

    assert turns_week(monday)
    assert not turns_week(monday - 1)
    assert next_week(monday) == next_week(monday - 1) == monday
    assert next_week(monday + 1) == monday + 7 * 96


def test_two_drivers_rest_for_nine_hours_within_thirty() -> None:
    """Art. 8(5); since 2020 Art. 7 counts 45 minutes beside the other driver as a break."""
    rules = rule_set("eu_two_drivers")

    assert (rules.drivers, rules.rest, rules.reduced_rest, rules.rest_within) == (2, 36, 36, 120)
    assert (rules.passenger_break, one_driver().passenger_break) == (3, NEVER)
    # Art. 9(1): only a regular rest, of eleven hours, may be broken on a ferry.
    assert (rules.broken_rest, one_driver().broken_rest) == (44, 44)


def test_a_weekly_rest_is_as_each_law_has_it() -> None:
    """561/2006 Art. 8(6): 45 h or 24 h; WTR reg. 11: 24 h; Directive 2003/88 Art. 5: 24 + 11 h."""
    eu = one_driver()

    assert (eu.weekly_rest, eu.reduced_weekly_rest) == (45 * 4, 24 * 4)
    assert rule_set("workers_uk").weekly_rest == 24 * 4
    assert rule_set("workers_eu").weekly_rest == 35 * 4
    for each in ("workers_uk", "workers_eu"):
        rules = rule_set(each)
        assert rules.weekly_rest_after + rules.weekly_rest == 7 * 24 * 4


def test_people_on_site_have_no_limit_of_driving_but_a_day_of_thirteen_hours() -> None:
    """Directive 2003/88 Arts 3 and 4, WTR regs 10 and 12; the half hour is common practice."""
    for each in ("workers_uk", "workers_eu"):
        rules = rule_set(each)
        assert rules.rest_within - rules.rest == 13 * 4
        assert (rules.work_unbroken, rules.break_counts) == (6 * 4, 2)
        assert rules.drive_daily == rules.work_daily == NEVER


def test_light_driving_lifts_the_limit_of_duty() -> None:
    """Transport Act 1968 s. 96: none in a week of four hours' driving a day at most."""
    rules = rule_set("gb_domestic_light")

    assert (rules.drive_daily, rules.work_daily) == (4 * 4, NEVER)
    assert rules.rest_within - rules.rest == 13 * 4


def test_a_reserve_is_taken_off_every_limit_there_is() -> None:
    law, kept = gb_domestic(), with_reserve(gb_domestic(), 3)

    assert (kept.drive_daily, kept.drive_extended, kept.work_daily) == (37, 37, 41)
    assert (kept.rest_within, kept.rest, kept.reserve) == (93, law.rest, 3)
    assert kept.drive_week == kept.drive_fortnight == NEVER
    eu = with_reserve(one_driver(), 3)
    assert (eu.drive_daily, eu.drive_extended) == (33, 37)
    assert (eu.drive_week, eu.drive_fortnight) == (221, 357)
    assert with_reserve(law, 0) == law
    assert with_reserve(law, 1000).work_daily == 0


def test_a_workshop_may_know_a_figure_better() -> None:
    own = OwnFigure(figure="CP610", value=Decimal(45))
    rules = rule_set("workers_uk", looked_up(a_workshop(figures=(own,))))

    assert rules.break_counts == 3
    assert rule_set("workers_uk").break_counts == 2


def test_an_unknown_rule_set_is_refused() -> None:
    with pytest.raises(UnknownRules, match="moon"):
        rule_set("moon")
    with pytest.raises(UnknownRules, match="moon"):
        validity_of("moon")


def test_every_rule_set_says_where_and_when_it_holds() -> None:
    for each in RULE_SETS:
        rules, holds = rule_set(each), validity_of(each)
        assert rules.id == each
        assert rules.source
        assert figure(rules.break_rule)
        assert figure(rules.rest_rule)
        assert holds.countries
        assert holds.last is None or holds.first is None or holds.first <= holds.last
    assert validity_of("gb_domestic").countries == {"GB"}
    assert {"DE", "FR", "GB", "NO"} <= validity_of("eu_one_driver").countries
