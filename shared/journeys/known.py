"""The ready-made legs that the program brings, each in a file, read when they are asked for."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import cast

from shared.book import Journey
from shared.files.codec import record_of
from shared.files.json_text import read_json
from shared.files.notes import Notes
from shared.routes.known import Source
from shared.value import Value

_FOLDER = Path(__file__).parent
_SOURCES = _FOLDER / "sources.csv"

PROGRAM_LEGS = ("local-van", "domestic-lorry", "crossing", "container", "collected", "trips")
"""Their ids, the shortest way first; each lies in a file of that name."""
HOME, SITE = "home", "site"
"""What a leg's country and zone say for those of the workshop and of the site."""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class ReadyLegs(Value):
    """Legs as they usually follow each other: one journey, or several that share the pieces."""

    id: str
    name: str
    journeys: tuple[Journey, ...]


@cache
def ready_legs(legs_id: str) -> ReadyLegs | None:
    """Give the ready-made legs of an id, or None."""
    if legs_id not in PROGRAM_LEGS:
        return None
    tree = read_json((_FOLDER / f"{legs_id}.json").read_bytes())
    return cast("ReadyLegs", record_of(ReadyLegs).read(tree, Notes(tree)))


def known_legs() -> tuple[ReadyLegs, ...]:
    """Give all ready-made legs."""
    found = (ready_legs(legs_id) for legs_id in PROGRAM_LEGS)
    return tuple(each for each in found if each is not None)


@cache
def sources_of_legs(legs_id: str) -> tuple[Source, ...]:
    """Give what each number of ready-made legs is; `step` is the id of the journey."""
    # Only who asks for sources pays for the reader of tables.
    import csv

    with _SOURCES.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Source(
                step=row["journey"],
                field=row["field"],
                number=row["number"],
                figures=row["figures"],
            )
            for row in csv.DictReader(lines)
            if row["legs"] == legs_id
        )
