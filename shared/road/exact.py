"""The exact search: the earliest arrival of all, at a price."""

from collections.abc import Hashable
from typing import Any

from shared.road.bounds import bound_of
from shared.road.law import Law
from shared.road.search import Label, reach
from shared.road.world import World


def exact_reach(
    world: World, law: Law[Any], departure: int, state: Hashable, by: int
) -> Label | None:
    """Give the label that arrives first, None if nobody can by `by`; quarters.

    Every legal course of quarters is looked at, but for those that another is as good as, and
    those that the bound rules out.
    """
    return reach(world, law, (departure, state), by, bound=bound_of(world, law))


def plain_reach(
    world: World, law: Law[Any], departure: int, state: Hashable, by: int
) -> Label | None:
    """Give the same without bound or dominance: slow, what the exact search is held against."""
    return reach(world, law, (departure, state), by, prune=False)
