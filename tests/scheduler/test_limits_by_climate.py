"""Where the limits of what is expected let a stage lie."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from scheduler.reasons import Reason
from shared.book import Book, FactKind, Kind, Reading
from shared.climate import Climate
from shared.ids import PlaceId
from shared.units import instant_of
from tests.builders import a_fact, a_stage, at
from tests.scheduler.climates import a_book_of, a_skin, all_day, heating, in_air, warmth
from tests.scheduler.normals import codes, normal_of, stage_of


def clear_of(book: Book, step: str = "skin") -> list[tuple[datetime, datetime]] | None:
    normal = normal_of(book)
    (way,) = stage_of(normal, step).ways
    if way.clear is None:
        return None
    return [(instant_of(normal.origin, a), instant_of(normal.origin, b)) for a, b in way.clear]


@pytest.mark.parametrize("cure_celsius", [Decimal(20), None])
@pytest.mark.parametrize(("cure_hours", "ends"), [("24", "20:00"), ("23.75", "20:15")])
def test_a_stretch_ends_early_enough_for_the_cure_to_end_in_it(
    cure_celsius: Decimal | None, cure_hours: str, ends: str
) -> None:
    """15 degrees from the 7th at 12:00 to the 9th at 20:00: 56 h, the last of them to cure in.

    They are as many at 20 degrees as for what cures alike at any temperature.
    """
    skin = a_skin(cure_hours=cure_hours, cure_celsius=cure_celsius, coldest_celsius=Decimal(15))
    book = in_air(
        a_book_of(skin),
        warmth(10),
        readings=tuple(
            Reading(at=at("2026-01-07 12:00") + timedelta(hours=each), celsius=Decimal(20))
            for each in range(56)
        ),
    )

    assert clear_of(book) == [(at("2026-01-07 12:00"), at(f"2026-01-08 {ends}"))]


def test_without_a_cold_hour_it_may_be_anywhere() -> None:
    assert clear_of(in_air(a_book_of(a_skin(coldest_celsius=Decimal(15))), warmth(18, 15))) is None
    assert clear_of(a_book_of(a_skin(coldest_celsius=Decimal(20)))) is None


def test_a_limit_of_something_that_does_not_cure_holds_while_it_is_worked() -> None:
    fill = a_stage("skin", Kind.FILL, hours=2, coldest_celsius=Decimal(16), places=("bay",))
    found = clear_of(in_air(a_book_of(fill), warmth(18, 10)))

    assert found is not None
    assert found[:2] == [
        (at("2026-01-05 08:00"), at("2026-01-05 20:00")),
        (at("2026-01-06 08:00"), at("2026-01-06 20:00")),
    ]


@pytest.mark.parametrize(
    ("limit", "amount", "reason"),
    [
        ("coldest_celsius", "18.1", Reason.TOO_COLD),
        ("coldest_celsius", "18", None),
        ("warmest_celsius", "21.9", Reason.TOO_WARM),
        ("warmest_celsius", "22", None),
        ("most_humidity_percent", "64.9", Reason.TOO_DAMP),
        ("most_humidity_percent", "65", None),
        # Air of 22 degrees and 65 % has its dew point at 15.12 by the Magnus formula with the
        # constants of Alduchov and Eskridge (1996); the surface is at 18.
        ("dew_point_margin_celsius", "2.9", Reason.TOO_DAMP),
        ("dew_point_margin_celsius", "2.8", None),
    ],
)
def test_each_limit_forbids_what_is_past_it(limit: str, amount: str, reason: Reason | None) -> None:
    air = warmth(20, spread_celsius=Decimal(2), humidity_percent=Decimal(65))
    changes: dict[str, Any] = {limit: Decimal(amount)}

    assert codes(normal_of(in_air(a_book_of(a_skin(**changes)), air))) == (
        [reason] if reason else []
    )


@pytest.mark.parametrize("humidity", [None, Decimal(0)])
def test_air_that_is_dry_or_of_which_that_is_not_known_is_fine(humidity: Decimal | None) -> None:
    air = warmth(20, humidity_percent=humidity)
    limits: dict[str, Any] = {
        "most_humidity_percent": Decimal(0),
        "dew_point_margin_celsius": Decimal(40),
    }

    assert codes(normal_of(in_air(a_book_of(replace(a_skin(), **limits)), air))) == []


def test_never_warm_enough_is_a_fact_of_the_job() -> None:
    book = in_air(a_book_of(a_skin(coldest_celsius=Decimal(15))), warmth(20, 10))
    normal = normal_of(book)
    ((_, clash),) = normal.clashes

    assert clash.code == Reason.TOO_COLD
    assert dict(clash.facts).items() >= {"step": "skin", "place": "bay", "limit": "15"}.items()
    assert ("skin", Reason.TOO_COLD) in [(one.step, one.code) for one in normal.unplaced]


def test_warm_enough_only_after_the_window_is_a_fact_of_the_job_and_planned_all_the_same() -> None:
    winter = replace(warmth(20, 10), months=(1, 2, 3))
    summer = replace(warmth(20), months=(4, 5, 6, 7, 8, 9, 10, 11, 12))
    normal = normal_of(in_air(a_book_of(a_skin(coldest_celsius=Decimal(15))), winter, summer))
    ((_, clash),) = normal.clashes

    assert (clash.code, dict(clash.facts)["first"]) == (Reason.TOO_COLD, "2026-04-01")
    assert not normal.unplaced


def test_only_the_ways_that_are_warm_enough_are_left() -> None:
    skin = a_skin(places=("bay", "booth"), coldest_celsius=Decimal(15))
    book = in_air(
        a_book_of(skin), warmth(10, place=PlaceId("bay")), warmth(18, place=PlaceId("booth"))
    )
    normal = normal_of(book)

    assert not normal.clashes
    assert [name.place for name in normal.ways[0]] == ["booth"]


def test_a_stretch_too_short_for_the_work_counts_for_nothing() -> None:
    """Warm from 12 to 18 o'clock: three hours fit in before the shift ends at 16, five don't."""
    heat = (all_day("12:00", "18:00"),)
    air = warmth(20, 10, heated=heat)
    limits: dict[str, Any] = {"cure_hours": 0, "coldest_celsius": Decimal(15)}

    assert codes(normal_of(in_air(a_book_of(a_skin(hours=3, **limits)), air))) == []
    assert codes(normal_of(in_air(a_book_of(a_skin(hours=5, **limits)), air))) == [Reason.TOO_COLD]


def test_heating_opens_what_is_too_cold_only_once_it_is_taken() -> None:
    book = in_air(a_book_of(a_skin(coldest_celsius=Decimal(15))), warmth(20, 10))
    taken = replace(book, offers=(heating(16),))
    offered = replace(book, offers=(heating(16, taken=False),))

    assert codes(normal_of(book)) == codes(normal_of(offered)) == [Reason.TOO_COLD]
    assert codes(normal_of(taken)) == []
    assert normal_of(offered).problem == normal_of(book).problem


def test_what_is_under_way_is_not_held_to_the_limits() -> None:
    fact = a_fact(step="skin", kind=FactKind.RUNNING, place=PlaceId("bay"))
    cold = in_air(a_book_of(a_skin(coldest_celsius=Decimal(15))), warmth(10))
    normal = normal_of(replace(cold, facts=(fact,)))

    assert not normal.clashes
    assert stage_of(normal, "skin").cure.least == 384


def test_a_book_without_temperatures_asks_for_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """The climate is not even looked up where no material minds it."""
    monkeypatch.setattr(Climate, "__init__", None)

    assert not codes(normal_of(a_book_of(a_skin(cure_celsius=None), a_stage("fill", Kind.FILL))))
