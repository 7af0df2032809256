"""Which hours apply, as Regulation (EC) 561/2006 Arts 2 and 3 and the GB domestic rules have it.

In scope are goods vehicles above 3.5 t, and from 1 July 2026 above 2.5 t where a border is
crossed (COM(2023) 256, recital on scope); not a van of 2.5 to 3.5 t with one's own goods if
driving is not the main job, nor up to 7.5 t with goods made by hand within 100 km of home.
"""

import dataclasses
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product

import pytest

from shared.book import Equipment, EquipmentKind
from shared.ids import EquipmentId
from shared.road.regime import (
    Errand,
    Regime,
    RegimeBecause,
    crew_rules_of,
    regime_of,
    told,
)
from shared.road.rules import NEVER, HoursRules, UnknownRules, rule_set

ANY = date(2027, 4, 12)
BEFORE, SINCE = date(2026, 6, 30), date(2026, 7, 1)


def a_vehicle(gross: str | None, trailer: str | None = None) -> Equipment:
    return Equipment(
        id=EquipmentId("it"),
        name="it",
        kind=EquipmentKind.VEHICLE,
        gross_t=None if gross is None else Decimal(gross),
        trailer_t=None if trailer is None else Decimal(trailer),
    )


def asked(
    gross: str | None,
    countries: str,
    *,
    own: bool | None = None,
    day: date = ANY,
    km: int | None = None,
    trailer: str | None = None,
    drivers: int = 1,
) -> Regime:
    """The first country is home."""
    roads = countries.split()
    return regime_of(
        Errand(
            vehicles=(a_vehicle(gross, trailer),),
            countries=frozenset(roads),
            home=roads[0],
            day=day,
            own_account=own,
            km=None if km is None else Decimal(km),
            drivers=drivers,
        )
    )


@pytest.mark.parametrize(
    ("gross", "countries", "own", "rules_id", "because"),
    [
        # Above 3.5 t, and no exemption can be meant.
        ("18", "GB", None, "eu_one_driver", RegimeBecause.HEAVY),
        ("18", "GB FR", True, "eu_one_driver", RegimeBecause.HEAVY),
        ("7.5", "DE", False, "eu_one_driver", RegimeBecause.HEAVY),
        ("3.6", "DE", False, "eu_one_driver", RegimeBecause.HEAVY),
        # Up to 7.5 t the goods could be one's own, made by hand, near home.
        ("7.5", "DE", None, "stricter", RegimeBecause.OWN_ACCOUNT_UNKNOWN),
        ("5", "DE", None, "stricter", RegimeBecause.OWN_ACCOUNT_UNKNOWN),
        ("5", "DE", True, "stricter", RegimeBecause.DISTANCE_UNKNOWN),
        ("7.6", "DE", None, "eu_one_driver", RegimeBecause.HEAVY),
        ("7.5", "GB", None, "stricter_gb", RegimeBecause.OWN_ACCOUNT_UNKNOWN),
        ("7.5", "DE", True, "stricter", RegimeBecause.DISTANCE_UNKNOWN),
        # Up to 3.5 t at home.
        ("3.5", "GB", None, "gb_domestic", RegimeBecause.LIGHT),
        ("3.5", "DE", None, "workers_eu", RegimeBecause.LIGHT),
        # Abroad.
        ("3.5", "GB FR", None, "stricter_gb", RegimeBecause.OWN_ACCOUNT_UNKNOWN),
        ("3.5", "DE FR", None, "stricter", RegimeBecause.OWN_ACCOUNT_UNKNOWN),
        ("3.5", "GB FR", False, "eu_one_driver", RegimeBecause.VAN_ABROAD),
        ("3.5", "DE FR", True, "workers_eu", RegimeBecause.OWN_ACCOUNT),
        ("3.5", "GB FR", True, "gb_domestic", RegimeBecause.TWO_LAWS),
        ("2.5", "DE FR", False, "workers_eu", RegimeBecause.LIGHT),
        ("2.5", "GB FR", False, "gb_domestic", RegimeBecause.TWO_LAWS),
        # Nothing known of it.
        (None, "DE", True, "stricter", RegimeBecause.MASS_UNKNOWN),
        (None, "GB", False, "stricter_gb", RegimeBecause.MASS_UNKNOWN),
        ("18", "GB US", False, "stricter_gb", RegimeBecause.COUNTRY_UNKNOWN),
        ("2", "CH", False, "stricter", RegimeBecause.COUNTRY_UNKNOWN),
    ],
)
def test_hours_go_by_mass_road_and_whose_goods(
    gross: str | None, countries: str, own: bool | None, rules_id: str, because: RegimeBecause
) -> None:
    found = asked(gross, countries, own=own)
    assert (found.rules_id, found.because) == (rules_id, because)
    assert rule_set(found.rules_id)


def test_a_van_abroad_is_in_scope_since_july_2026() -> None:
    assert asked("3.5", "DE FR", own=False, day=BEFORE).rules_id == "workers_eu"
    assert asked("3.5", "DE FR", own=False, day=SINCE).rules_id == "eu_one_driver"
    assert asked("3.5", "DE", own=False, day=SINCE).rules_id == "workers_eu"


def test_a_trailer_makes_a_van_a_lorry() -> None:
    assert asked("3.5", "DE", own=False).rules_id == "workers_eu"
    assert asked("3.5", "DE", own=False, trailer="0.75").rules_id == "eu_one_driver"
    assert asked("2.4", "DE FR", own=False, trailer="0.5").rules_id == "eu_one_driver"


def test_goods_made_by_hand_go_a_hundred_kilometres_without_the_regulation() -> None:
    near, far = asked("7.5", "GB", own=True, km=100), asked("7.5", "GB", own=True, km=101)

    assert (near.rules_id, near.because) == ("gb_domestic", RegimeBecause.CRAFT)
    assert (far.rules_id, far.because) == ("eu_one_driver", RegimeBecause.HEAVY)
    assert asked("7.6", "GB", own=True, km=50).because is RegimeBecause.HEAVY
    # Far from home nobody has to know whose goods they are.
    assert asked("7.5", "GB", km=101).because is RegimeBecause.HEAVY


def test_a_road_wholly_in_another_country_is_abroad() -> None:
    """Cabotage: a van from Germany that drives in France only."""
    errand = Errand(
        vehicles=(a_vehicle("3.5"),),
        countries=frozenset({"FR"}),
        home="DE",
        day=ANY,
        own_account=False,
    )
    assert regime_of(errand).because is RegimeBecause.VAN_ABROAD
    assert regime_of(replace(errand, home="FR")).because is RegimeBecause.LIGHT


def test_of_several_vehicles_the_heaviest_decides_and_each_has_to_be_known() -> None:
    errand = Errand(
        vehicles=(a_vehicle("3.5"), a_vehicle("18")),
        countries=frozenset({"DE"}),
        home="DE",
        day=ANY,
    )
    assert errand.tonnes == 18
    assert regime_of(errand).because is RegimeBecause.HEAVY
    unknown = replace(errand, vehicles=(a_vehicle("18"), a_vehicle(None)))
    assert regime_of(unknown).because is RegimeBecause.MASS_UNKNOWN
    assert regime_of(replace(errand, vehicles=())).because is RegimeBecause.MASS_UNKNOWN


def test_two_drivers_have_their_own_hours_in_scope_only() -> None:
    assert asked("18", "DE", drivers=2).rules_id == "eu_two_drivers"
    assert asked("3.5", "GB", drivers=2).rules_id == "gb_domestic"
    assert asked(None, "DE", drivers=2).rules_id == "stricter"


def test_a_text_that_is_not_in_force_that_day_is_told() -> None:
    """Regulation (EU) 2020/1054 holds from 20 August 2020 (from memory)."""
    before, since = date(2020, 8, 19), date(2020, 8, 20)

    assert asked("18", "DE", day=before).because is RegimeBecause.NOT_IN_FORCE
    assert asked("18", "DE", day=before).rules_id == "eu_one_driver"
    assert asked("18", "DE", day=since).because is RegimeBecause.HEAVY


def test_only_what_is_known_is_said_as_a_fact() -> None:
    assert not asked("18", "GB").is_stricter
    assert asked(None, "GB").is_stricter
    assert asked("3.5", "GB FR", own=True).is_stricter
    assert told("gb_domestic").is_told
    assert not told("gb_domestic").is_stricter
    assert not asked("18", "GB").is_told
    with pytest.raises(UnknownRules):
        told("moon")


def test_people_on_site_keep_the_hours_of_their_country() -> None:
    assert crew_rules_of(frozenset({"GB"})) == "workers_uk"
    assert crew_rules_of(frozenset({"GB", "FR"})) == "workers_eu"
    assert crew_rules_of(frozenset({"NO"})) == "workers_eu"
    assert crew_rules_of(frozenset()) == "workers_eu"


_MOST = ("drive_unbroken", "drive_daily", "drive_extended", "extensions", "drive_week",
         "drive_fortnight", "work_unbroken", "work_daily", "medium_work", "long_work", "reductions",
         "rest_within", "interruptions", "interrupted")  # fmt: skip
_LEAST = ("break_length", "break_counts", "medium_break", "long_break", "rest", "reduced_rest",
          "rest_part", "weekly_rest", "reduced_weekly_rest", "passenger_break")  # fmt: skip


@pytest.mark.parametrize(
    ("stricter", "law"),
    [
        *product(["stricter"], ["eu_one_driver", "workers_eu"]),
        *product(["stricter_gb"], ["eu_one_driver", "gb_domestic", "workers_uk"]),
    ],
)
def test_the_stricter_hours_are_stricter_in_every_limit(stricter: str, law: str) -> None:
    ours, theirs = rule_set(stricter), rule_set(law)
    skipped = _not_comparable(theirs)
    for name in _MOST:
        if name not in skipped:
            assert getattr(ours, name) <= getattr(theirs, name), name
    for name in _LEAST:
        if name not in skipped:
            assert getattr(ours, name) >= getattr(theirs, name), name
    fields = {each.name for each in dataclasses.fields(HoursRules)}
    assert {*_MOST, *_LEAST} <= fields


def _not_comparable(law: HoursRules) -> set[str]:
    """Lengthened days of driving and shortened weekly rests count only where they exist."""
    found = {"rest_part"} if law.rest_part == NEVER else set()
    if law.weekly_rest == law.reduced_weekly_rest:
        found.add("reduced_weekly_rest")
    if law.drive_daily == law.drive_extended:
        # Two long days of ten hours are within ten hours every day.
        found.add("extensions")
    return found
