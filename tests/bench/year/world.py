"""A world: a workshop, a year's commissions and what will happen, all drawn from a seed."""

from dataclasses import dataclass
from datetime import timedelta
from random import Random

from shared.book import Book
from tests.bench.year.clock import DAY, at
from tests.bench.year.commissions import Commission, commissions
from tests.bench.year.floor import Shop
from tests.bench.year.shop import shop_of
from tests.bench.year.tasks import can_do
from tests.bench.year.truth import Truth


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """The same for everybody who plans in it. book: without jobs."""

    seed: int
    load_percent: int
    book: Book
    commissions: tuple[Commission, ...]
    truth: Truth
    shop: Shop


def world_of(seed: int, load_percent: int) -> World:
    """Draw a world."""
    book = shop_of(Random(f"shop/{seed}"))
    asked = commissions(book, load_percent, Random(f"commissions/{seed}/{load_percent}"))
    return World(
        seed=seed,
        load_percent=load_percent,
        book=book,
        commissions=asked,
        truth=Truth(seed),
        shop=Shop(
            able=can_do(book),
            slots={place.id: place.slots or 1 for place in book.places},
            clear_out={place.id: place.clear_out_minutes // 15 for place in book.places},
            shut=tuple(
                (at(shut.first, 0), at(shut.last + timedelta(days=1), 0))
                for shut in book.workshop.closures
            ),
            longest_pause=book.workshop.longest_pause_days * DAY,
        ),
    )
