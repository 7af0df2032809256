"""The exact search: the earliest arrival of all, at a price."""

from shared.road.bounds import bound_of
from shared.road.rules import HoursRules
from shared.road.search import Label, reach
from shared.road.state import State
from shared.road.world import World


def exact_reach(
    world: World, rules: HoursRules, departure: int, state: State, by: int
) -> Label | None:
    """Give the label that arrives first, None if nobody can by `by`; quarters.

    Every legal course of quarters is looked at, but for those that another is as good as, and
    those that the bound rules out.
    """
    return reach(world, rules, (departure, state), by, bound=bound_of(world, rules))


def plain_reach(
    world: World, rules: HoursRules, departure: int, state: State, by: int
) -> Label | None:
    """Give the same without bound or dominance: slow, what the exact search is held against."""
    return reach(world, rules, (departure, state), by, prune=False)
