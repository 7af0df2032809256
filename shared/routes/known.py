"""The ways of making that the program brings, read when one is asked for, and the book's own."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import cast

from shared.book import Book, Route
from shared.files.codec import record_of
from shared.files.json_text import read_json
from shared.files.notes import Notes

_FOLDER = Path(__file__).parent
_SOURCES = _FOLDER / "sources.csv"

PROGRAM_ROUTES = ("hollow", "foam-kept", "cast", "hard-coat", "repair")
"""Their ids, the basic one first; each lies in a file of that name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """What a number in a step of a route is: a figure of the trade, or a sum with some.

    field: the path to it inside the step, or the field of its rule.
    """

    step: str
    field: str
    number: str
    figures: str


@cache
def program_route(route_id: str) -> Route | None:
    """Give a way of making that the program brings, or None."""
    if route_id not in PROGRAM_ROUTES:
        return None
    path = _FOLDER / f"{route_id}.json"
    tree = read_json(path.read_bytes())
    return cast("Route", record_of(Route).read(tree, Notes(tree)))


def route_of(book: Book, route_id: str) -> Route | None:
    """Give the book's own way of making of that id, else the program's, else None."""
    own = next((route for route in book.routes if route.id == route_id), None)
    return own or program_route(route_id)


def known_routes(book: Book | None = None) -> tuple[Route, ...]:
    """Give the book's own ways of making, then those of the program that it has no own one of."""
    own = () if book is None else book.routes
    taken = {route.id for route in own}
    brought = (program_route(route_id) for route_id in PROGRAM_ROUTES if route_id not in taken)
    return (*own, *(route for route in brought if route is not None))


@cache
def sources_of(route_id: str) -> tuple[Source, ...]:
    """Give what each number of a way of making of the program is, in the order of its steps."""
    # Only who asks for sources pays for the reader of tables.
    import csv

    with _SOURCES.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Source(
                step=row["step"], field=row["field"], number=row["number"], figures=row["figures"]
            )
            for row in csv.DictReader(lines)
            if row["route"] == route_id
        )
