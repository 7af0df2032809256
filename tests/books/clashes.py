"""Books with a planted clash: `python -m tests.books clash-KIND --seed N OUT`.

One job of several can't keep its window for one cause; without the cause, or with what undoes
it, it does. Which stage is hit, by what, for how long and what is held out as a way out is drawn
from the seed, and so is everything around it.
"""

from collections.abc import Callable
from functools import partial

from tests.books.clash_outside import air, client, floor, sailing
from tests.books.clash_setting import Attempt, TooShortError
from tests.books.clash_within import certificate, cure, person, place
from tests.books.shapes import Planted

KINDS: dict[str, Attempt] = {
    "person": person,
    "place": place,
    "cure": cure,
    "client": client,
    "sailing": sailing,
    "certificate": certificate,
    "floor": floor,
    "air": air,
}


def planted_clash(kind: str, seed: int) -> Planted:
    """Plant a clash of a kind, for a week longer again and again until it decides.

    Raises
    ------
    TooShortError
        If it never does.
    """
    for weeks in range(20):
        try:
            return KINDS[kind](seed, weeks)
        except TooShortError:
            continue
    raise TooShortError(f"{kind} {seed}")


CLASHES: dict[str, Callable[[int], Planted]] = {
    f"clash-{kind}": partial(planted_clash, kind) for kind in KINDS
}
"""By shape, a function from a seed."""
