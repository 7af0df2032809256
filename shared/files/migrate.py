"""Older formats brought up to today's, one step at a time; each step pure.

There is one format so far. When format 2 comes, `STEPS` gets `("book", 1): book_1_to_2`: a
function from the plain root of a format 1 file to that of a format 2 file. No step is ever
changed or taken away again, and tests/golden keeps a file of every format.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from shared.book import FORMAT

Tree = dict[str, Any]
Step = Callable[[Tree], Tree]

STEPS: Mapping[tuple[str, int], Step] = MappingProxyType({})
"""From a kind of file and a format to the function that lifts it to the next format."""


def migrated(
    root: Tree,
    kind: str,
    number: int,
    *,
    steps: Mapping[tuple[str, int], Step] = STEPS,
    until: int = FORMAT,
) -> Tree:
    """Give the plain root of a file lifted to the format `until`; a kind may skip a format."""
    for each in range(number, until):
        step = steps.get((kind, each))
        root = step(root) if step else root
    return root
