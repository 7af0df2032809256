"""Bans as section 30(3) of the German road traffic regulations, the German Holiday Travel
Ordinance, the French order of 16 April 2021 and London's hours for abnormal loads have them;
holidays as in the calendars that are checked elsewhere. The French Saturdays of 2025 and 2026 are
those that the trade press printed of each year's order."""

import json
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from shared.holidaydates import UnknownCalendar
from shared.road import bans as bans_module
from shared.road.bans import (
    BanDoubt,
    BanNote,
    Lorry,
    Road,
    areas,
    ban_notes,
    ban_rule,
    ban_spans,
    banned_dates,
)
from shared.trade import figure
from shared.worktime import Span
from tests.shared.road.trips import BERLIN, HEAVY, PARIS, at

GERMANY, FRANCE = Road(country="DE"), Road(country="FR")
LIGHT = Lorry(tonnes=Decimal("7.5"))


def bans(road: Road, zone: str, first: str, last: str, lorry: Lorry = HEAVY) -> list[Span]:
    return list(ban_spans(road, lorry, at(zone, first), at(zone, last)))


def span(zone: str, first: str, last: str) -> Span:
    return Span(start=at(zone, first), end=at(zone, last))


def test_german_sundays_are_banned_till_ten_in_the_evening() -> None:
    found = bans(GERMANY, BERLIN, "2027-04-10", "2027-04-13")

    assert found == [span(BERLIN, "2027-04-11T00:00", "2027-04-11T22:00")]


def test_german_christmas_on_friday_and_saturday_is_banned_with_the_sunday() -> None:
    found = bans(GERMANY, BERLIN, "2026-12-24", "2026-12-29")

    days = ("2026-12-25", "2026-12-26", "2026-12-27")
    assert found == [span(BERLIN, f"{day}T00:00", f"{day}T22:00") for day in days]


def test_german_holiday_of_one_state_counts_on_its_own_roads_only() -> None:
    """Corpus Christi, Thursday 27 May 2027, is kept in Bavaria and not in Hamburg."""
    bavaria = Road(country="DE", subdivision="BY")
    hamburg = Road(country="DE", subdivision="HH")

    assert bans(bavaria, BERLIN, "2027-05-26", "2027-05-29")
    assert not bans(hamburg, BERLIN, "2027-05-26", "2027-05-29")


def test_german_ban_is_for_more_than_seven_and_a_half_tonnes_or_a_trailer() -> None:
    drawn = Lorry(tonnes=Decimal("3.5"), trailer=True)

    assert not bans(GERMANY, BERLIN, "2027-04-10", "2027-04-13", LIGHT)
    assert bans(GERMANY, BERLIN, "2027-04-10", "2027-04-13", drawn)


def test_french_weekend_is_banned_from_saturday_to_sunday_evening() -> None:
    found = bans(FRANCE, PARIS, "2027-03-19", "2027-03-24")

    assert found == [span(PARIS, "2027-03-20T22:00", "2027-03-21T22:00")]
    assert not bans(FRANCE, PARIS, "2027-03-19", "2027-03-24", LIGHT)


def test_french_holiday_is_banned_from_its_eve_and_joined_to_the_sunday() -> None:
    """Easter Monday 29 March 2027: from Saturday to Monday evening, over the change of clocks."""
    found = bans(FRANCE, PARIS, "2027-03-25", "2027-04-02")

    assert found == [span(PARIS, "2027-03-27T22:00", "2027-03-29T22:00")]
    assert (found[0].end - found[0].start).total_seconds() == 47 * 3600


def test_a_ban_that_reaches_into_the_span_comes_whole_and_others_not() -> None:
    inside = at(PARIS, "2027-03-21T10:00")

    assert len(ban_spans(FRANCE, HEAVY, inside, at(PARIS, "2027-03-21T11:00"))) == 1
    assert not ban_spans(FRANCE, HEAVY, at(PARIS, "2027-03-21T22:00"), _later(inside))


def _later(instant: datetime) -> datetime:
    return instant.replace(day=23)


def test_a_country_without_a_known_ban_has_none() -> None:
    assert not bans(Road(country="GB"), "Europe/London", "2027-03-19", "2027-03-24")
    assert ban_rule(Road(country="GB")) == ""
    assert (ban_rule(GERMANY), ban_rule(FRANCE)) == ("DR17a", "DR18a")


def test_an_unknown_state_is_refused() -> None:
    with pytest.raises(UnknownCalendar):
        bans(Road(country="DE", subdivision="XX"), BERLIN, "2027-05-26", "2027-05-29")


LONDON = "Europe/London"
LISTED = replace(GERMANY, listed=True)
WIDE = Lorry(tonnes=Decimal(18), abnormal=True)


def test_german_summer_saturdays_are_banned_on_listed_roads_from_seven_to_eight() -> None:
    """July and August 2026: the last Saturday of June and the first of September are free."""
    found = bans(LISTED, BERLIN, "2026-06-26", "2026-09-06")
    saturdays = [each for each in found if each.start.astimezone(ZoneInfo(BERLIN)).weekday() == 5]

    assert len(saturdays) == 9  # 4 to 25 July and 1 to 29 August
    assert saturdays[0] == span(BERLIN, "2026-07-04T07:00", "2026-07-04T20:00")
    assert saturdays[-1] == span(BERLIN, "2026-08-29T07:00", "2026-08-29T20:00")
    assert ban_rule(LISTED, HEAVY, at(BERLIN, "2026-07-04T12:00")) == "DR17c"
    assert ban_rule(LISTED, HEAVY, at(BERLIN, "2026-07-05T12:00")) == "DR17a"
    assert ban_rule(LISTED, HEAVY, at(BERLIN, "2026-07-04T21:00")) == ""


@pytest.mark.parametrize("listed", [None, False])
def test_other_german_roads_have_no_summer_saturdays(listed: bool | None) -> None:
    road = replace(GERMANY, listed=listed)
    assert not bans(road, BERLIN, "2026-07-04", "2026-07-05")


def test_a_german_summer_saturday_is_told_where_nobody_said_whether_the_road_is_listed() -> None:
    def told(road: Road, first: str, last: str, lorry: Lorry = HEAVY) -> list[BanDoubt]:
        notes = ban_notes(road, lorry, at(BERLIN, first), at(BERLIN, last))
        return [note.doubt for note in notes]

    saturday = ("2026-07-04T06:00", "2026-07-04T08:00")
    assert told(GERMANY, *saturday) == [BanDoubt.LISTED_ROADS]
    assert not told(replace(GERMANY, listed=False), *saturday)
    assert not told(LISTED, *saturday)
    assert not told(GERMANY, *saturday, LIGHT)
    assert not told(GERMANY, "2026-07-04T05:00", "2026-07-04T07:00")
    assert not told(GERMANY, "2026-07-04T20:00", "2026-07-05T00:00")
    assert not told(GERMANY, "2026-06-27T06:00", "2026-06-27T20:00")


@pytest.mark.parametrize("day", ["2026-07-11", "2026-08-08", "2025-07-05", "2025-08-23"])
def test_french_summer_saturdays_are_those_of_the_years_order(day: str) -> None:
    found = bans(FRANCE, PARIS, f"{day}T00:00", f"{day}T20:00")

    assert found == [span(PARIS, f"{day}T07:00", f"{day}T19:00")]
    assert ban_rule(FRANCE, HEAVY, at(PARIS, f"{day}T07:00")) == "DR18d"
    assert ban_rule(FRANCE, HEAVY, at(PARIS, f"{day}T22:30")) == "DR18a"


def test_french_saturdays_that_the_order_leaves_out_are_free() -> None:
    for day in ("2026-07-04", "2026-08-22", "2025-08-09"):
        assert not bans(FRANCE, PARIS, f"{day}T00:00", f"{day}T20:00")
        assert not ban_notes(
            replace(FRANCE, area=""), HEAVY, at(PARIS, f"{day}T00:00"), at(PARIS, f"{day}T20:00")
        )


def test_french_saturdays_of_a_year_that_is_not_in_the_table_are_told() -> None:
    day = ("2028-07-08T06:00", "2028-07-08T20:00")
    start, end = (at(PARIS, each) for each in day)

    assert not ban_spans(FRANCE, HEAVY, start, end)
    assert ban_notes(FRANCE, HEAVY, start, end) == (
        BanNote(doubt=BanDoubt.DATES, country="FR", day=date(2028, 7, 8), rule="DR18d"),
    )
    assert not ban_notes(FRANCE, LIGHT, start, end)
    friday = timedelta(days=1)
    assert not ban_notes(FRANCE, HEAVY, start - friday, end - friday)


def test_french_winter_saturdays_are_of_one_area() -> None:
    alps = replace(FRANCE, area="auvergne-rhone-alpes")
    day = "2026-02-14"

    assert bans(alps, PARIS, f"{day}T00:00", f"{day}T20:00") == [
        span(PARIS, f"{day}T07:00", f"{day}T18:00")
    ]
    assert not bans(FRANCE, PARIS, f"{day}T00:00", f"{day}T20:00")
    (note,) = ban_notes(FRANCE, HEAVY, at(PARIS, f"{day}T08:00"), at(PARIS, f"{day}T09:00"))
    assert (note.doubt, note.area) == (BanDoubt.AREA, "auvergne-rhone-alpes")
    elsewhere = replace(FRANCE, area="")
    assert not ban_notes(elsewhere, HEAVY, at(PARIS, f"{day}T08:00"), at(PARIS, f"{day}T09:00"))


def test_french_bans_give_way_two_days_around_an_event() -> None:
    """Building an event on Tuesday 23 March 2027: Sunday 21 is free, Saturday 20 is not."""
    builds = replace(HEAVY, event_on=date(2027, 3, 23))
    found = bans(FRANCE, PARIS, "2027-03-19", "2027-03-24", builds)

    assert found == [span(PARIS, "2027-03-20T22:00", "2027-03-21T00:00")]
    (note,) = ban_notes(
        FRANCE, builds, at(PARIS, "2027-03-21T10:00"), at(PARIS, "2027-03-21T11:00")
    )
    assert (note.doubt, note.rule) == (BanDoubt.RELIEF, "DR18a")
    strikes = replace(HEAVY, event_on=date(2027, 3, 19))
    assert bans(FRANCE, PARIS, "2027-03-19", "2027-03-24", strikes) == []
    # Germany knows no such relief.
    assert bans(GERMANY, BERLIN, "2027-03-20", "2027-03-23", strikes)


def test_london_keeps_abnormal_loads_out_by_day() -> None:
    """A week in June 2027, from Monday 14."""
    through = Road(country="GB", area="london")
    found = bans(through, LONDON, "2027-06-14", "2027-06-21", WIDE)

    assert found == [
        *(
            span(LONDON, f"2027-06-{day}T07:00", f"2027-06-{day}T19:00")
            for day in ("14", "15", "16", "17", "18")
        ),
        span(LONDON, "2027-06-19T10:00", "2027-06-19T19:00"),
    ]
    assert ban_rule(through, WIDE, at(LONDON, "2027-06-19T10:00")) == "TR09b"
    assert not bans(through, LONDON, "2027-06-14", "2027-06-21", HEAVY)
    assert not bans(Road(country="GB"), LONDON, "2027-06-14", "2027-06-21", WIDE)


def test_an_abnormal_load_is_told_of_london_once_where_the_area_is_not_known() -> None:
    week = at(LONDON, "2027-06-14T00:00"), at(LONDON, "2027-06-18T12:00")
    told = ban_notes(Road(country="GB"), WIDE, *week)

    assert [(each.doubt, each.area, each.day) for each in told] == [
        (BanDoubt.AREA, "london", date(2027, 6, 14))
    ]
    assert not ban_notes(Road(country="GB", area=""), WIDE, *week)
    assert not ban_notes(Road(country="GB"), HEAVY, *week)


def test_a_country_whose_bans_are_not_known_is_told() -> None:
    night = at(BERLIN, "2027-03-21T02:00"), at(BERLIN, "2027-03-21T03:00")
    assert ban_notes(Road(country="IT"), HEAVY, *night) == (
        BanNote(doubt=BanDoubt.COUNTRY, country="IT"),
    )


def test_bans_are_read_on_a_day_and_name_figures_that_there_are() -> None:
    rows = json.loads((bans_module._FILE).read_text(encoding="utf-8"))
    assert len({row["id"] for row in rows}) == len(rows)
    for row in rows:
        assert date.fromisoformat(row["read_on"])
        named = [*row["source"], row["rule"]]
        named += [row[key] for key in ("hours", "eve", "months", "above", "relief") if key in row]
        assert all(figure(each) for each in named)
    assert areas() == ("auvergne-rhone-alpes", "london")


def test_days_of_yearly_orders_are_saturdays_of_their_months() -> None:
    for rule, months in (("DR18d", "DR18e"), ("DR18f", "DR18g")):
        for year in (2025, 2026):
            days = banned_dates(rule, year)
            assert days is not None
            assert all(day.year == year and day.weekday() == 5 for day in days)
            assert all(figure(months).least <= day.month <= figure(months).most for day in days)
    assert banned_dates("DR18d", 1999) is None
    assert banned_dates("DR17a", 2026) is None
