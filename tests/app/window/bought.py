"""The planted book with materials: foam, resin, primer and lacquer from three suppliers."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

from shared.book import Book, Kind, MaterialKind, Stage, Step
from shared.ids import SupplierId
from tests.app.window.scenes import planted
from tests.books.shapes import Planted
from tests.builders import a_delivery, a_material, a_supplier, so_much

OF_KIND = {
    Kind.FOAM: ("foam", "1.6"),
    Kind.LAMINATE: ("resin", "24"),
    Kind.PAINT: ("primer", "3"),
    Kind.LACQUER: ("lacquer", "2"),
}

MATERIALS = (
    a_material(
        "foam",
        "m3",
        kind=MaterialKind.FOAM,
        pack_size=Decimal("2.4"),
        pack_price=Decimal(212),
        supplier=SupplierId("oakham"),
    ),
    a_material(
        "resin",
        "kg",
        kind=MaterialKind.RESIN,
        pack_size=Decimal(25),
        pack_price=Decimal(131),
    ),
    a_material("primer", kind=MaterialKind.PAINT, pack_size=Decimal(5), supplier=None),
    a_material(
        "lacquer",
        kind=MaterialKind.PAINT,
        pack_size=Decimal(5),
        pack_price=Decimal("96.5"),
        supplier=SupplierId("brightwater"),
    ),
)
SUPPLIERS = (
    a_supplier("harbour", lead_days=3, transit_days=1),
    a_supplier("oakham", lead_days=2, transit_days=1),
    a_supplier("brightwater", lead_days=8),
)


def with_materials(book: Book, now: datetime) -> Book:
    """Give the book with what its stages take, and something on its way as of a moment."""

    def taking(step: Step) -> Step:
        if not isinstance(step, Stage) or step.kind not in OF_KIND:
            return step
        material, quantity = OF_KIND[step.kind]
        return replace(step, materials=(so_much(quantity, material),))

    jobs = tuple(replace(j, steps=tuple(taking(s) for s in j.steps)) for j in book.jobs)
    coming = (
        a_delivery("25", _days_from(now, -3), "resin"),
        a_delivery("5", _days_from(now, 44), "lacquer"),
    )
    return replace(book, jobs=jobs, materials=MATERIALS, suppliers=SUPPLIERS, deliveries=coming)


def _days_from(now: datetime, days: int) -> str:
    return f"{now + timedelta(days=days):%Y-%m-%d} 11:00"


def bought(seed: int = 4) -> Planted:
    """Give the planted book with materials, and its plan."""
    made = planted(seed)
    return replace(made, book=with_materials(made.book, made.now))
