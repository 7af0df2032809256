"""Which file a round is about: the same for a seed and a round, however many there are."""

from random import Random
from typing import Any

from shared.files.write import write_book, write_plan
from tests.soak._hostile_bombs import NAMES, bomb
from tests.soak._hostile_samples import LARGEST, samples
from tests.soak._hostile_tables import by_cells, by_entries, by_lines, by_members, by_sheet_cells
from tests.soak._hostile_ways import ANY, Way, by_parts

_WEIGHTS = {
    "book": 30, "plan": 12, "csv": 18, "xlsx": 14, "ics": 16, "copy": 3, "settings": 3, "lock": 2,
    "enquiry": 2,
}  # fmt: skip
WAYS: dict[str, tuple[Way, ...]] = {
    "book": (by_parts,),
    "plan": (by_parts,),
    "csv": (by_cells,),
    "xlsx": (by_sheet_cells, by_members, by_members),
    "ics": (by_entries, by_lines),
    "copy": (by_parts,),
    "settings": (by_parts,),
    "lock": (by_parts,),
    "enquiry": (by_parts,),
}
_A_BOMB, _ANY_WAY, _DRAWN, _SMALL = 0.01, 0.35, 0.02, 0.8


def file_of(seed: int, number: int) -> tuple[str, str, bytes]:
    """Give the kind of a round's file, how it was made, and its bytes."""
    rng = Random(f"{seed}/{number}")
    if rng.random() < _A_BOMB:
        return bomb(rng.randrange(len(NAMES)))
    kind = rng.choices(list(_WEIGHTS), list(_WEIGHTS.values()))[0]
    is_drawn = kind in ("book", "plan") and rng.random() < _DRAWN
    data = _drawn(kind, rng) if is_drawn else _sample(kind, rng)
    way = rng.choice(ANY) if rng.random() < _ANY_WAY else rng.choice(WAYS[kind])
    if is_drawn and rng.random() < 0.5:
        return kind, "drawn", data
    return kind, way.__name__, way(data, rng)[:LARGEST]


def _sample(kind: str, rng: Random) -> bytes:
    """A good file of a kind, mostly one of the smaller half."""
    found = samples(kind)
    return rng.choice(found[: (len(found) + 1) // 2] if rng.random() < _SMALL else found)


def _drawn(kind: str, rng: Random) -> bytes:
    """A book or a plan with any values that a file can hold, as hypothesis draws them."""
    from hypothesis import HealthCheck, Phase, given, seed, settings

    from tests.strategies import books, plans

    found: list[Any] = []

    @seed(rng.getrandbits(32))
    @settings(
        max_examples=4,
        database=None,
        deadline=None,
        derandomize=False,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(books() if kind == "book" else plans())
    def keep(value: Any) -> None:
        found.append(value)

    keep()
    return write_book(found[-1]) if kind == "book" else write_plan(found[-1])
