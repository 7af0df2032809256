"""What the samples' workshops buy and from whom: made-up suppliers, packs and prices.

Packs and prices are of a plausible size and nobody's: common practice, no source.
"""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

from shared.book import Book, Closure, Delivery, Material, Supplier
from shared.ids import MaterialId, SupplierId
from shared.routes.materials import usual_materials
from tests.books.commissions import at

FOAM, RESINS, PAINTS, STORE = (
    SupplierId(each) for each in ("foam-works", "resins", "paints", "hardware")
)
EASTER = Closure(first=date(2027, 3, 25), last=date(2027, 4, 2), name="Easter")
SUPPLIERS = (
    ("Lintock & Wray", FOAM, 4, 1, (EASTER,), False),
    ("Harrowfen", RESINS, 3, 2, (), False),
    ("Teasel & Oake", PAINTS, 5, 1, (), False),
    ("Fernhollow", STORE, 1, 0, (), True),
)
"""Name, id, working days to the dispatch and on the way, when they are shut, on the morning."""
BOUGHT: dict[str, tuple[SupplierId, str, str]] = {
    "foam": (FOAM, "1.2", "118"),
    "foam-glue": (FOAM, "0.75", "9.80"),
    "barrier-foil": (STORE, "50", "64"),
    "epoxy": (RESINS, "5", "88"),
    "mat": (RESINS, "30", "96"),
    "resin": (RESINS, "25", "112"),
    "peroxide": (RESINS, "5", "54"),
    "gel-coat": (RESINS, "25", "165"),
    "flow-coat": (RESINS, "25", "158"),
    "wax-solution": (RESINS, "1", "14"),
    "filler": (RESINS, "10", "58"),
    "plaster": (STORE, "25", "19"),
    "pattern-sealer": (RESINS, "5", "46"),
    "release-wax": (RESINS, "1", "22"),
    "release-film": (RESINS, "5", "38"),
    "hard-coat": (FOAM, "25", "240"),
    "texture-coat": (PAINTS, "15", "95"),
    "grit": (STORE, "25", "16"),
    "primer": (PAINTS, "5", "92"),
    "colour": (PAINTS, "5", "128"),
    "lacquer": (PAINTS, "5", "116"),
    "masking-film": (STORE, "150", "24"),
    "soft-wrap": (STORE, "75", "31"),
    "bolt": (STORE, "100", "27"),
}
"""From whom, how much is in a pack, and what that costs."""


def stocked(book: Book, there: dict[str, str], coming: dict[str, tuple[str, datetime]]) -> Book:
    """Give a workshop its suppliers and materials: what was counted, and what is on its way."""
    shop = book.workshop
    suppliers = tuple(
        Supplier(
            id=identity, name=name, zone=shop.zone, country=shop.country,
            subdivision=shop.subdivision, closures=closures, lead_days=lead, transit_days=transit,
            same_day=same_day,
        )
        for name, identity, lead, transit, closures, same_day in SUPPLIERS
    )  # fmt: skip
    materials = tuple(_bought(each, there.get(str(each.id)), book) for each in usual_materials())
    deliveries = tuple(
        Delivery(material=MaterialId(name), quantity=Decimal(quantity), at=when)
        for name, (quantity, when) in coming.items()
    )
    return replace(book, suppliers=suppliers, materials=materials, deliveries=deliveries)


def _bought(material: Material, counted: str | None, book: Book) -> Material:
    supplier, pack, price = BOUGHT[str(material.id)]
    return replace(
        material, supplier=supplier, pack_size=Decimal(pack), pack_price=Decimal(price),
        counted=None if counted is None else Decimal(counted),
        counted_at=None if counted is None else book.as_of,
    )  # fmt: skip


def usual_stock(book: Book) -> Book:
    """Give what a workshop has about it in January: more the more people there are."""
    many = len(book.people)
    there = {"foam": f"{2 * many}", "foam-glue": f"{many}", "barrier-foil": "80", "peroxide": "2"}
    thursday = at(date(2027, 1, 21), 11)
    coming = {"foam": (f"{many}", thursday), "resin": ("50", thursday)}
    return stocked(book, there, coming)
