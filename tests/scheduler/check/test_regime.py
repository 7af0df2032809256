"""Which rule set the check holds a journey to, where the book names none."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from scheduler.check.clock import seconds
from scheduler.check.regime import Driven, as_bans_see, rules_on_site, rules_that_apply
from scheduler.check.world import World
from shared.book import Journey, Means
from shared.delivery.asked import asked_of
from shared.delivery.choices import lorry_of, regime_for
from shared.ids import PersonId
from tests.builders import a_leg, an_equipment, on
from tests.scheduler.check.haul import haul_book, haul_plan

OWN: dict[str, Any] = {"driven_by": (PersonId("mia"),), "own_account": True}


def world() -> World:
    book = haul_book()
    plan = haul_plan(book)
    return World(book, plan, seconds(plan.now))


def driven(
    tonnes: str | None, *roads: str, day: str = "2027-03-16", km: int | None = None, **means: Any
) -> Driven:
    vehicle = an_equipment(gross_t=None if tonnes is None else Decimal(tonnes))
    way = None if km is None else Decimal(km)
    return Driven(
        vehicles=(vehicle,),
        drives=tuple(a_leg(country=road, distance_km=way) for road in roads),
        means=replace(Means(id="m"), **means),
        day=on(day),
    )


@pytest.mark.parametrize(
    ("asked", "rules"),
    [
        (driven("18", "GB"), "eu_one_driver"),
        (driven("18", "GB", "FR", drivers=2), "eu_two_drivers"),
        (driven("3.5", "GB"), "gb_domestic"),
        (driven("3.51", "GB"), "eu_one_driver"),
        # From 1 July 2026 over a border for more than 2.5 t.
        (driven("3.5", "GB", "FR", day="2026-07-01"), "eu_one_driver"),
        (driven("3.5", "GB", "FR", day="2026-06-30"), "gb_domestic"),
        (driven("2.5", "GB", "FR"), "gb_domestic"),
        (driven("3.5", "GB", "FR", **OWN), "gb_domestic"),
        (driven("3.5", "DE", **OWN), "workers_eu"),
        (driven("3.5", "GB", "FR", driven_by=(PersonId("mia"),)), "stricter_gb"),
        # What is made by hand, up to 7.5 t and 100 km.
        (driven("7.5", "GB", km=100, **OWN), "gb_domestic"),
        (driven("7.5", "GB", km=101, **OWN), "eu_one_driver"),
        (driven("7.5", "GB", **OWN), "stricter_gb"),
        (driven("7.51", "GB", km=100, **OWN), "eu_one_driver"),
        (driven("7.5", "GB", km=100), "eu_one_driver"),
        (driven(None, "GB"), "stricter_gb"),
        (driven(None, "FR"), "stricter"),
        (driven("18", "US"), "stricter"),
    ],
)
def test_the_rules_follow_mass_road_day_and_goods(asked: Driven, rules: str) -> None:
    """Regulation (EC) 561/2006 Arts 2 and 3, as far as the figures DR11 and DR12 have them."""
    assert rules_that_apply(world(), asked) == rules


@pytest.mark.parametrize(("country", "rules"), [("GB", "workers_uk"), ("NL", "workers_eu")])
def test_people_on_site_are_under_the_rules_of_both_countries(country: str, rules: str) -> None:
    assert rules_on_site(world(), country) == rules


def test_a_way_is_as_long_as_known_only_where_every_drive_has_a_length() -> None:
    """Twice 40 km is near (DR12); 40 km and nobody knows how many more may not be."""
    near = driven("7.5", "GB", "GB", km=40, **OWN)
    unknown = replace(near, drives=(near.drives[0], a_leg(country="GB")))

    assert rules_that_apply(world(), near) == "gb_domestic"
    assert rules_that_apply(world(), unknown) == "stricter_gb"


def test_a_trailer_counts_and_what_is_not_known_is_heavy() -> None:
    alone = driven("3.5", "GB")
    drawing = replace(alone, vehicles=(replace(alone.vehicles[0], trailer_t=Decimal(2)),))

    assert as_bans_see(world(), drawing).tonnes == Decimal("5.5")
    assert as_bans_see(world(), drawing).trailer
    assert not as_bans_see(world(), alone).trailer
    assert as_bans_see(world(), driven(None, "GB")).trailer
    assert as_bans_see(world(), replace(alone, vehicles=())).tonnes > 7


@pytest.mark.parametrize("tonnes", [None, "2.5", "3.0", "3.5", "7.5", "18"])
@pytest.mark.parametrize("roads", [("GB",), ("GB", "FR"), ("DE",), ("US",)])
@pytest.mark.parametrize("means", [{}, OWN, {"driven_by": (PersonId("mia"),)}, {"drivers": 2}])
@pytest.mark.parametrize("km", [None, 40, 90])
def test_the_delivery_reads_the_same(
    tonnes: str | None, roads: tuple[str, ...], means: dict[str, Any], km: int | None
) -> None:
    """Two readings of the same law, written apart."""
    asked = driven(tonnes, *roads, km=km, **means)
    book = haul_book()
    job = book.jobs[0]
    journey = job.steps[2]
    assert isinstance(journey, Journey)
    other = asked_of(book, job, journey, job.windows[0])

    found = regime_for(other, asked.vehicles, asked.drives, asked.means)

    assert rules_that_apply(world(), asked) == found.rules_id
    assert as_bans_see(world(), asked) == lorry_of(asked.vehicles, other, asked.means)
