"""By whose clock a leg is read; zones of countries as in the IANA time zone database."""

from decimal import Decimal

import pytest

from shared.book import Leg, LegKind, RoadShare, Site
from shared.journeys.clocks import Clock, clocks_of
from tests.builders import a_book, a_job, a_leg, a_site, a_workshop

LONDON, BERLIN, PARIS, OSLO = "Europe/London", "Europe/Berlin", "Europe/Paris", "Europe/Oslo"
SITE: Site = a_site(zone=OSLO, country="NO", subdivision=None)


def clocks(*legs: Leg) -> tuple[Clock, ...]:
    job = a_job(site=SITE)
    workshop = a_workshop(zone=LONDON, country="GB")
    return clocks_of(a_book(job, workshop=workshop), job, legs)


@pytest.mark.parametrize(
    ("country", "zone"),
    [("GB", LONDON), ("DE", BERLIN), ("FR", PARIS), ("NO", OSLO), ("PL", "Europe/Warsaw")],
)
def test_a_drive_goes_by_the_clock_of_its_country(country: str, zone: str) -> None:
    assert clocks(a_leg(country=country)) == (Clock(start=zone, end=zone),)


def test_a_road_through_countries_has_the_clock_of_each() -> None:
    shares = tuple(RoadShare(country=name, percent=Decimal(50)) for name in ("GB", "DE"))
    (found,) = clocks(a_leg(shares=shares))

    assert (found.start, found.end) == (LONDON, BERLIN)
    assert [found.of_share(share) for share in (0, 1, 2)] == [LONDON, BERLIN, BERLIN]


def test_only_a_drive_goes_by_the_clocks_of_the_road_that_is_written_of_it() -> None:
    shares = tuple(RoadShare(country=name, percent=Decimal(50)) for name in ("GB", "DE"))
    border = a_leg(LegKind.BORDER, country="FR", shares=shares)

    assert clocks(border) == (Clock(start=PARIS, end=PARIS),)


def test_a_crossing_leads_from_the_clock_before_it_to_the_one_behind() -> None:
    """Two ships on end land by the clock of the next road."""
    ships = (a_leg(LegKind.SAILING, 0), a_leg(LegKind.SAILING, 0))
    found = clocks(a_leg(country="GB"), *ships, a_leg(country="FR"))

    assert [(each.start, each.end) for each in found] == [
        (LONDON, LONDON),
        (LONDON, PARIS),
        (PARIS, PARIS),
        (PARIS, PARIS),
    ]


def test_work_on_site_and_the_way_home_have_the_clocks_of_the_site_and_the_workshop() -> None:
    found = clocks(
        a_leg(country="DE"),
        a_leg(LegKind.ASSEMBLE, inside=True),
        a_leg(LegKind.RETURN),
    )

    assert [(each.start, each.end) for each in found] == [
        (BERLIN, BERLIN),
        (OSLO, OSLO),
        (OSLO, LONDON),
    ]


def test_a_way_home_through_countries_is_read_by_the_clock_where_it_ends() -> None:
    shares = tuple(RoadShare(country=name, percent=Decimal(50)) for name in ("DE", "GB"))
    _, home = clocks(a_leg(country="DE"), a_leg(LegKind.RETURN, shares=shares))

    assert (home.start, home.of_share(1)) == (BERLIN, LONDON)
