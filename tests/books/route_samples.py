"""One sample for each way of making, in scenarios of our own with invented people."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from shared.book import Book
from tests.books.commissions import two_days
from tests.books.shops import commissioned, driven, made_by, piece, shop
from tests.books.stock import stocked


def first_revision(book: Book) -> Book:
    """Give a book as if it had just been written."""
    return replace(book, revision=1)


def hollow() -> Book:
    """Make a walnut house that children climb, and its door stone another way, by five people.

    The house is 2 x 4 x 3 m in six segments, hollow and walked on; beside it a pear is made.
    """
    book = shop("Copse Lane workshop", 5, "1.5")
    names = ("Left floor", "Right floor", "Left wall", "Right wall", "Left roof", "Right roof")
    house = tuple(piece("walnut", name, ("2", "2", "1"), "6.5", "5") for name in names)
    stone = piece("walnut", "Door stone", ("0.8", "0.6", "0.5"), "1.6")
    book = commissioned(
        book, "walnut", "Walnut house", "Elder Row school", two_days(date(2027, 5, 11), 3),
        (*house, stone),
    )  # fmt: skip
    crew = ("dilys", "edda")
    book = made_by(book, "walnut", "hollow", "walked-on", "grip", crew=crew, segments=house)
    book = made_by(book, "walnut", "foam-kept", crew=crew, segments=(stone,))
    book = driven(book, "walnut", 120, 360)
    halves = tuple(piece("pear", name, ("2", "1.6", "1.4"), "7.2", "5") for name in PEAR)
    book = commissioned(
        book, "pear", "Market pear", "Mill market", two_days(date(2027, 5, 25)), halves
    )
    book = made_by(book, "pear", "hollow", crew=("asta", "cato"))
    return first_revision(driven(book, "pear", 90, 180))


PEAR = ("Upper half", "Lower half")


def foam_kept() -> Book:
    """Make a thimble tower with a steel frame inside, which an engineer agrees to."""
    book = shop("Tannery Yard", 5, "1")
    bands = tuple(
        piece("thimble", name, ("1.8", "1.8", "1.2"), "7.6", "5.6")
        for name in ("Rim", "Band", "Crown")
    )
    book = commissioned(
        book, "thimble", "Thimble tower", "Foundry hall", two_days(date(2027, 4, 27)), bands
    )
    options = ("steel-frame", "lifting-points", "sealant", "spatter")
    book = made_by(book, "thimble", "foam-kept", *options, crew=("dilys", "cato"))
    return first_revision(driven(book, "thimble", 150, 300))


def cast() -> Book:
    """Cast two acorn seats from split moulds, the colour agreed on a board."""
    book = shop("Elder Row moulds", 5, "1")
    seats = tuple(
        piece("acorn", name, ("1.2", "1.1", "0.9"), "4.2", "0")
        for name in ("First seat", "Second seat")
    )
    book = commissioned(
        book, "acorn", "Acorn seats", "Brambleford library", two_days(date(2027, 5, 18)), seats
    )
    book = made_by(book, "acorn", "cast", "colour-board", "airbrush", crew=("dilys", "edda"))
    return first_revision(driven(book, "acorn", 60, 120))


def hard_coat() -> Book:
    """Spray a hard coat on a stone loaf whose foam comes fresh from the block mould."""
    book = stocked(shop("Mill Street sheds", 5, "1"), {}, {})
    loaf = (
        piece("loaf", "Crust", ("2.4", "1.4", "0.8"), "7.4", "7"),
        piece("loaf", "Crumb", ("2.2", "1.3", "1.1"), "7", "7"),
    )
    book = commissioned(
        book, "loaf", "Stone loaf", "Mill market", two_days(date(2027, 4, 20)), loaf
    )
    book = made_by(book, "loaf", "hard-coat", "texture", crew=("dilys", "cato"))
    return first_revision(driven(book, "loaf", 45, 150))


def repair() -> Book:
    """Mend a station kettle whose spout is broken, within days."""
    book = shop("Copse Lane repairs", 5, "1")
    spout = (piece("kettle", "Spout", ("1.3", "0.7", "0.6"), "2.4"),)
    book = commissioned(
        book, "kettle", "Station kettle", "Foundry hall", two_days(date(2027, 2, 2)), spout
    )
    book = made_by(book, "kettle", "repair", "broken", crew=("dilys", "edda"))
    return first_revision(driven(book, "kettle", 30, 60))


ROUTE_SAMPLES: dict[str, Callable[[], Book]] = {
    "hollow": hollow,
    "foam-kept": foam_kept,
    "cast": cast,
    "hard-coat": hard_coat,
    "repair": repair,
}
