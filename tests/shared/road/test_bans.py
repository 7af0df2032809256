"""Bans as section 30(3) of the German road traffic regulations and the French order of 16 April
2021 have them; holidays as in the calendars that are checked elsewhere."""

from datetime import datetime
from decimal import Decimal

import pytest

from shared.holidaydates import UnknownCalendar
from shared.road.bans import Lorry, Road, ban_rule, ban_spans
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
