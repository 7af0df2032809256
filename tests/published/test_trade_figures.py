"""Every figure noted from outside is shipped as it is there, held against code, or left out
with its reason; no row is forgotten and no figure is shipped that stands nowhere."""

import ast
from collections import Counter
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from math import ceil
from zoneinfo import ZoneInfo

import pytest

from shared.estimate import three_point_mean, three_point_sd
from shared.holidaydates import HolidayRule, holiday_dates
from shared.trade import figure, figures, subjects
from shared.worktime import DayCalendar, clear_working_days_before, local_instant
from tests.house.tree import ROOT
from tests.published.trade_rows import LISTED, MORE, Row, outside

HERE = "tests/published/test_trade_figures.py"
LAMINATE = "tests/shared/test_trade_quantities.py"

ENGLAND = HolidayRule(country="GB", subdivision="ENG")
CALENDARS = {
    "EW2026": (ENGLAND, 2026),
    "EW2027": (ENGLAND, 2027),
    "FR2026": (HolidayRule(country="FR"), 2026),
    "NO2026": (HolidayRule(country="NO"), 2026),
    "BY2026": (HolidayRule(country="DE", subdivision="BY", categories=("catholic",)), 2026),
}

# Not figures but answers: ids by their beginning, and the test that asks our code for them.
HELD_BY = {
    **dict.fromkeys(CALENDARS, f"{HERE}::test_public_holidays_are_those_of_the_list"),
    "EA": f"{HERE}::test_easter_sunday_is_where_the_list_has_it",
    "DST": f"{HERE}::test_clocks_change_on_the_days_of_the_list",
    "HP": f"{HERE}::test_the_package_counts_as_it_did",
    "WC01": f"{LAMINATE}::test_a_laminate_takes_what_the_worked_example_says",
    "WC02": f"{HERE}::test_a_cure_in_a_colder_or_warmer_shop",
    "WC03": f"{HERE}::test_breaks_of_a_day_at_the_wheel",
    "WC04": f"{HERE}::test_breaks_of_a_day_at_the_wheel",
    "WC07": f"{HERE}::test_hours_of_a_weekend",
    "WC09": f"{HERE}::test_the_latest_day_of_notice",
}

UNUSED = {
    "ES03": "an example of sizing a buffer; no buffer is sized from a chain yet",
    "ES04": "an example of sizing a buffer; no buffer is sized from a chain yet",
}

OURS = {
    "CP": "common practice of ours, or what goes with it",
    "MG": "constants of the formula for the dew point, held by the tests of the climate",
}

SHIPPED = {row.id: row for subject in subjects() for row in figures(subject)}


def holders(row: Row) -> list[str]:
    """All that answers for a row: shipped, a test, or a reason why not; there must be one."""
    found = ["shipped"] if row.id in SHIPPED else []
    found += [test for start, test in HELD_BY.items() if row.id.startswith(start)]
    return found + [f"unused: {UNUSED[row.id]}" for _ in range(row.id in UNUSED)]


@cache
def functions_in(path: str) -> set[str]:
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    return {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}


def test_no_row_was_dropped() -> None:
    assert len(LISTED) == 308
    assert Counter(row.id for row in LISTED + MORE).most_common(1)[0][1] == 1


@pytest.mark.parametrize("row", LISTED + MORE, ids=lambda row: row.id)
def test_one_thing_answers_for_a_row(row: Row) -> None:
    assert len(holders(row)) == 1, f"ship it, hold it by a test, or say why not: {holders(row)}"


def test_a_row_that_nothing_answers_for_is_seen() -> None:
    row = outside("PL07")
    assert holders(row) == ["shipped"]
    stranger = Row(
        id="ZZ01", quantity="", value="1", low="", high="", unit="h", source="", confidence="P"
    )
    assert holders(stranger) == []


def test_the_tests_that_answer_exist() -> None:
    for test in HELD_BY.values():
        path, _, name = test.partition("::")
        assert name in functions_in(path), test


def test_what_answers_for_rows_answers_for_some() -> None:
    ids = [row.id for row in LISTED]
    assert set(UNUSED) <= set(ids)
    for start in HELD_BY:
        assert any(row_id.startswith(start) for row_id in ids), start


def test_what_is_shipped_stands_outside_or_is_our_own_and_says_so() -> None:
    noted = {row.id for row in LISTED + MORE}
    ours = set(SHIPPED) - noted
    assert ours >= {row.id for row in figures("acts")}
    assert all(row_id.startswith(tuple(OURS)) for row_id in ours)


@pytest.mark.parametrize(
    "row", [row for row in LISTED + MORE if row.id in SHIPPED], ids=lambda row: row.id
)
def test_a_shipped_figure_is_the_one_outside(row: Row) -> None:
    shipped = SHIPPED[row.id]
    assert (shipped.value, shipped.low, shipped.high) == row.numbers
    assert shipped.unit == row.unit
    assert shipped.name == row.quantity
    assert shipped.confidence == row.confidence
    words = row.words_of_source
    assert words, "no source can be told from the row"
    for word in words:
        assert word in shipped.source


@pytest.mark.parametrize("start", CALENDARS)
def test_public_holidays_are_those_of_the_list(start: str) -> None:
    # 1971 c. 80, Sch. 1; French civil-service list 2026; Norwegian and Bavarian lists.
    rule, year = CALENDARS[start]
    listed = {row.day for row in LISTED if row.id.startswith(f"{start}-")}
    given = holiday_dates(rule, year)
    if rule == ENGLAND:
        given = frozenset(day for day in given if day.weekday() < 5)
    assert given == listed
    assert len(given) == outside(f"{start}n").amount


def test_easter_sunday_is_where_the_list_has_it() -> None:
    # Easter Sunday is a public holiday in Norway.
    for row_id in ("EA1", "EA2"):
        day = outside(row_id).day
        given = holiday_dates(HolidayRule(country="NO"), day.year)
        assert {day, day + timedelta(days=1), day - timedelta(days=2)} <= given
        assert day.weekday() == 6


@pytest.mark.parametrize("zone", ["Europe/London", "Europe/Paris", "Europe/Oslo"])
def test_clocks_change_on_the_days_of_the_list(zone: str) -> None:
    # Directive 2000/84/EC, articles 2 and 3: at 01:00 UTC.
    for row_id, hours in [("DST1", 23), ("DST2", 25), ("DST3", 23), ("DST4", 25)]:
        day = outside(row_id).day
        midnight = local_instant(day, time(0), zone, opening=True)
        after = local_instant(day + timedelta(days=1), time(0), zone, opening=True)
        assert after - midnight == timedelta(hours=hours)
        change = datetime(day.year, day.month, day.day, 1, tzinfo=UTC)
        before = (change - timedelta(seconds=1)).astimezone(ZoneInfo(zone))
        assert before.utcoffset() != change.astimezone(ZoneInfo(zone)).utcoffset()


def test_the_package_counts_as_it_did() -> None:
    assert len(holiday_dates(HolidayRule(country="GB"), 2026)) == outside("HP1").amount
    weekdays = [day for day in holiday_dates(ENGLAND, 2026) if day.weekday() < 5]
    assert len(weekdays) == outside("HP2").amount


def test_a_cure_in_a_colder_or_warmer_shop() -> None:
    cure, factor = float(figure("PL06").amount), float(figure("PL07").amount)
    assert round(cure * factor ** ((20 - 15) / 10), 2) == float(outside("WC02a").amount)
    assert cure * factor ** ((20 - 30) / 10) == float(outside("WC02b").amount)
    assert figure("PL07").amount * figure("PL07b").amount == 1


@pytest.mark.parametrize(("driving", "row_id"), [("9", "WC03"), ("10", "WC04")])
def test_breaks_of_a_day_at_the_wheel(driving: str, row_id: str) -> None:
    # Regulation (EC) 561/2006, article 7: a break after 4.5 h unless a rest follows.
    hours = Decimal(driving)
    breaks = ceil(hours / figure("DR01a").amount) - 1
    assert hours + breaks * figure("DR01b").amount / 60 == outside(row_id).amount


def test_hours_of_a_weekend() -> None:
    friday = local_instant(date(2026, 6, 12), time(16), "Europe/London", opening=True)
    monday = local_instant(date(2026, 6, 15), time(8), "Europe/London", opening=True)
    assert (monday - friday) / timedelta(hours=1) == float(outside("WC07").amount)
    assert float(outside("WC07").amount) > float(figure("PT01a").most)


def test_the_latest_day_of_notice() -> None:
    # Two clear working days: SI 2003/1998; the move is on 29 December 2026.
    clear_days = int(figure("TR03c").amount)
    given = clear_working_days_before(DayCalendar(holidays=ENGLAND), date(2026, 12, 29), clear_days)
    assert given == outside("WC09").day


def test_computed_figures_follow_from_the_others() -> None:
    assert figure("DR05a").amount - figure("DR04a").amount == figure("DR05b").amount
    assert figure("DR05a").amount - figure("DR04b").amount == figure("DR05c").amount
    assert figure("DR04a").amount + figure("DR08b").amount == figure("DR09").amount
    assert three_point_mean(3, 5, 9) == pytest.approx(float(figure("ES02a").amount), abs=1e-4)
    assert three_point_sd(3, 5, 9) == figure("ES02b").amount
    mixed = 3 * figure("ES06b").amount + 7 * figure("ES06a").amount
    assert mixed == 10 * figure("ES07").amount
    block = figure("EP02").amount
    assert round(Decimal("2.440") * Decimal("1.220") * figure("EP01c").amount / 1000, 3) == block
    for row_id, density in [("EP02a", 15), ("EP02b", 20), ("EP02c", 30)]:
        assert round(block * density, 1) == figure(row_id).amount


def test_dust_falls_as_slowly_as_the_law_of_settling_says() -> None:
    # Stokes: v = density g d^2 / (18 viscosity), air of 1.81e-5 Pa s.
    for row_id, microns in [("HS13a", 10), ("HS13b", 5)]:
        speed = 1200 * 9.81 * (microns * 1e-6) ** 2 / (18 * 1.81e-5)
        assert 3 / speed / 60 == pytest.approx(float(figure(row_id).amount), rel=0.01)


def test_ounces_are_grams() -> None:
    # The international avoirdupois ounce and foot.
    exact = Decimal("28.349523125") / Decimal("0.3048") ** 2
    assert round(exact, 2) == figure("PL09").amount
