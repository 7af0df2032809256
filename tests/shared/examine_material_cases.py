"""One book for each thing that can be wrong with material, quotes and deposits."""

from datetime import date
from decimal import Decimal
from typing import Any

from shared.book import Book, MaterialKind, Standing
from shared.ids import SupplierId
from tests.builders import (
    NOW,
    a_book,
    a_delivery,
    a_job,
    a_material,
    a_stage,
    a_supplier,
    so_much,
)
from tests.shared.examine_books import STEP0, Case, with_step, with_way

MATERIAL0 = ("materials", 0)
DELIVERY0 = ("deliveries", 0)
LAST_WEEK, TODAY = date(2025, 12, 30), date(2026, 1, 5)


def with_material(**changes: Any) -> Book:
    material = a_material(**changes)
    return a_book(materials=(material,), suppliers=(a_supplier(),), as_of=NOW)


def agreed(**changes: Any) -> Book:
    return a_book(a_job(**changes), as_of=NOW)


def arrived(**changes: Any) -> Book:
    delivery = a_delivery(5, "2026-01-05 09:00", **changes)
    return a_book(
        materials=(a_material(),), suppliers=(a_supplier(),), deliveries=(delivery,), as_of=NOW
    )


CASES: list[Case] = [
    (
        "unknown_id",
        with_step(a_stage(materials=(so_much(3, "primmer"),)), materials=(a_material(),)),
        (*STEP0, "materials", 0, "material"),
        {"sort": "material", "id": "primmer", "nearest": "primer"},
    ),
    (
        "not_above_zero",
        with_way(materials=(so_much(0),)),
        (*STEP0, "ways", 0, "materials", 0, "quantity"),
        {"value": "0"},
    ),
    (
        "unknown_id",
        with_material(supplier=SupplierId("harbor")),
        (*MATERIAL0, "supplier"),
        {"sort": "supplier", "nearest": "harbour"},
    ),
    (
        "unknown_id",
        a_book(deliveries=(a_delivery(5, "2026-01-02 09:00"),)),
        (*DELIVERY0, "material"),
        {"sort": "material", "id": "primer", "nearest": None},
    ),
    (
        "id_doubled",
        a_book(materials=(a_material(supplier=None), a_material(supplier=None))),
        ("materials", 1, "id"),
        {"sort": "material"},
    ),
    (
        "below_zero",
        a_book(suppliers=(a_supplier(transit_days=-1),)),
        ("suppliers", 0, "transit_days"),
        {"value": "-1"},
    ),
    (
        "unknown_country",
        a_book(suppliers=(a_supplier(country="XX", subdivision=None),)),
        ("suppliers", 0, "country"),
        {"country": "XX"},
    ),
    ("not_above_zero", with_material(pack_size=Decimal(0)), (*MATERIAL0, "pack_size"), {}),
    ("below_zero", with_material(waste_percent=Decimal(-1)), (*MATERIAL0, "waste_percent"), {}),
    (
        "above_limit",
        with_material(waste_percent=Decimal(100), waste_of_gross=True),
        (*MATERIAL0, "waste_percent"),
        {"value": "100", "limit": 99},
    ),
    (
        "material_without_supplier",
        with_step(
            a_stage(materials=(so_much(3),)),
            materials=(a_material(supplier=None),),
            suppliers=(a_supplier(),),
        ),
        (*MATERIAL0, "supplier"),
        {"material": "Primer"},
    ),
    (
        "foam_not_in_blocks",
        with_material(kind=MaterialKind.FOAM, unit="kg"),
        (*MATERIAL0, "unit"),
        {"unit": "kg"},
    ),
    ("fact_after_now", arrived(arrived=True), (*DELIVERY0, "at"), {}),
    (
        "days_reversed",
        arrived(made_on=date(2026, 1, 6)),
        (*DELIVERY0, "made_on"),
        {"first": "2026-01-06", "last": "2026-01-05"},
    ),
    (
        "quote_over",
        agreed(quote_good_until=LAST_WEEK, standing=Standing.ENQUIRY),
        ("jobs", 0, "quote_good_until"),
        {"until": "2025-12-30", "as_of": "2026-01-05"},
    ),
    (
        "deposit_overdue",
        agreed(deposit_due=LAST_WEEK),
        ("jobs", 0, "deposit_due"),
        {"due": "2025-12-30", "as_of": "2026-01-05"},
    ),
]

FINE: list[Book] = [
    with_material(supplier=None),
    with_step(a_stage(materials=(so_much(3),)), materials=(a_material(supplier=None),)),
    with_material(kind=MaterialKind.FOAM, unit="m3"),
    with_material(kind=MaterialKind.FOAM, unit="piece", pack_size=Decimal(1)),
    with_material(waste_percent=Decimal(100)),
    with_step(
        a_stage(materials=(so_much(3),)), materials=(a_material(),), suppliers=(a_supplier(),)
    ),
    arrived(),
    agreed(quote_good_until=TODAY, standing=Standing.ENQUIRY),
    agreed(quote_good_until=LAST_WEEK),
    agreed(deposit_due=TODAY),
    agreed(deposit_due=LAST_WEEK, deposit_paid=LAST_WEEK),
]
"""Books that are only near to wrong."""
