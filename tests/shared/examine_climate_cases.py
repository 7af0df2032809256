"""One book for each thing that can be wrong with temperatures, recoat times and heating."""

from decimal import Decimal
from typing import Any

from shared.book import Kind, Reading
from tests.builders import a_book, a_person, a_stage, at, on
from tests.scheduler.climates import a_skin, bands, heating, warmth
from tests.shared.examine_books import STEP0, Case, with_step, with_workshop

TEMPERATURES = ("workshop", "temperatures")


def coat(**changes: Any) -> Any:
    return with_step(a_stage("coat", Kind.PAINT, **changes))


CASES: list[Case] = [
    (
        "recoat_bands_out_of_order",
        coat(recoat_bands=bands((27, 48), (27, 36))),
        (*STEP0, "recoat_bands", 1, "upto_celsius"),
        {"upto": "27", "before": "27"},
    ),
    (
        "recoat_band_before_cured",
        coat(cure_hours=8, recoat_bands=bands((21, 48), (38, 7))),
        (*STEP0, "recoat_bands", 1, "most_hours"),
        {"upto": "38", "most_hours": "7", "cure_hours": "8"},
    ),
    (
        "recoat_band_before_cured",
        coat(cure_hours=8, cure_celsius=Decimal(22), recoat_bands=bands((21, 48), (38, 7))),
        (*STEP0, "recoat_bands", 1, "most_hours"),
        {"upto": "38"},
    ),
    (
        "recoat_hours_beside_bands",
        coat(recoat_hours=Decimal(24), recoat_bands=bands((21, 48))),
        (*STEP0, "recoat_hours"),
        {"recoat_hours": "24"},
    ),
    (
        "below_zero",
        coat(recoat_bands=bands((21, -1))),
        (*STEP0, "recoat_bands", 0, "most_hours"),
        {"field": "most_hours"},
    ),
    ("temperature_unknown", with_step(a_skin()), TEMPERATURES, {"step": "Skin", "celsius": "20"}),
    (
        "temperature_unknown",
        coat(warmest_celsius=Decimal(38)),
        TEMPERATURES,
        {"step": "Coat"},
    ),
    (
        "months_without_temperature",
        with_step(
            a_skin(), workshop=with_workshop(temperatures=(warmth(20, months=(1, 2)),)).workshop
        ),
        ("places", 0),
        {"months": "3, 4, 5, 6, 7, 8, 9, 10, 11, 12", "celsius": "20"},
    ),
    (
        "humidity_unknown",
        coat(dew_point_margin_celsius=Decimal(3)),
        TEMPERATURES,
        {"step": "Coat"},
    ),
    (
        "above_limit",
        coat(most_humidity_percent=Decimal(101)),
        (*STEP0, "most_humidity_percent"),
        {"limit": 100},
    ),
    (
        "below_zero",
        coat(dew_point_margin_celsius=Decimal(-1)),
        (*STEP0, "dew_point_margin_celsius"),
        {"value": "-1"},
    ),
    (
        "below_zero",
        with_workshop(temperatures=(warmth(20, spread_celsius=Decimal(-1)),)),
        (*TEMPERATURES, 0, "spread_celsius"),
        {},
    ),
    (
        "above_limit",
        with_workshop(temperatures=(warmth(20, humidity_percent=Decimal("100.5")),)),
        (*TEMPERATURES, 0, "humidity_percent"),
        {"value": "100.5"},
    ),
    (
        "below_zero",
        with_workshop(
            readings=(
                Reading(
                    at=at("2026-01-05 08:00"), celsius=Decimal(9), humidity_percent=Decimal(-1)
                ),
            )
        ),
        ("workshop", "readings", 0, "humidity_percent"),
        {},
    ),
    (
        "heating_incomplete",
        a_book(offers=(heating(16, celsius=None),)),
        ("offers", 0, "celsius"),
        {"field": "celsius"},
    ),
    (
        "heating_incomplete",
        a_book(offers=(heating(16, heated=()),)),
        ("offers", 0, "heated"),
        {"field": "heated"},
    ),
    (
        "heating_of_no_place",
        a_book(offers=(heating(16, about=("bay", "ana")),), people=(a_person(),)),
        ("offers", 0, "about", 1),
        {"id": "ana"},
    ),
    (
        "days_reversed",
        a_book(offers=(heating(16, first=on("2026-02-02"), last=on("2026-02-01")),)),
        ("offers", 0, "last"),
        {},
    ),
]

FINE = [
    coat(cure_hours=8, cure_celsius=Decimal(20), recoat_bands=bands((21, 48), (49, 2))),
    coat(cure_hours=8, cure_celsius=Decimal(60), recoat_bands=bands((21, 2))),
    with_step(a_skin(cure_hours=0)),
    with_step(a_skin(places=()), workshop=with_workshop(temperatures=(warmth(20),)).workshop),
    a_book(offers=(heating(16, taken=False, celsius=None, heated=()),)),
    a_book(offers=(heating(16, kind="overtime", celsius=None, about=("ana",)),)),
]
"""Books in which none of this is wrong, though it is near."""
