"""Prints what the hot files answer about samples and made-up books, to be laid beside another."""

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from scheduler import hours
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.countback import earliest, latest
from scheduler.justify import justify
from scheduler.normalise import normalise
from scheduler.place import place
from scheduler.problem import Problem
from scheduler.urgency import countback_order
from shared.book import Book
from tests.books.samples import SAMPLES
from tests.books.shapes import SHAPES

SEEDS = range(3)


def books() -> Iterator[tuple[str, Book]]:
    """Yield the samples and some made-up books, by name."""
    for name, make in SAMPLES.items():
        yield name, make()
    for shape, drawn in SHAPES.items():
        for seed in SEEDS:
            yield f"{shape} {seed}", drawn(seed).book


def answers(problem: Problem) -> str:
    """Return a digest of countback, placement in three orders, and justification."""
    index = Index(problem)
    order = countback_order(index)
    found: list[object] = [earliest(index), latest(index)]
    for one in (order, order[::-1], sorted(order, key=lambda stage: (stage * 7919) % 1009)):
        placed = place(index, one)
        found.append(placed)
        if not isinstance(placed, Unfit):
            found += (justify(index, placed), justify(index, placed, by_start=True))
    found.append(place(index, order, by_time=True))
    return sha256("\n".join(map(repr, found)).encode()).hexdigest()


def main() -> None:
    """Print them as one object of JSON, with the ending of the file that was asked."""
    found = {}
    for name, book in books():
        assert book.as_of is not None
        found[name] = answers(normalise(book, book.as_of).problem)
    found["suffix"] = Path(hours.__file__).suffix
    print(json.dumps(found))


if __name__ == "__main__":
    main()
