"""The rule sets in quarters of an hour, as Regulation (EC) 561/2006 and the others print them."""

from datetime import UTC, datetime

from shared.road.quarters import ceil_quarter, floor_quarter, instant_of, next_week, turns_week
from shared.road.rules import gb_domestic, one_driver


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
