"""The fast search: always legal, seldom a quarter or two late.

A rest begins only where a leg begins but not at the departure, where nothing else may be done,
or on board; it ends only at lengths that the law knows, once the daily rest has ended, or where
something has opened.
"""

from collections.abc import Hashable
from typing import Any

from shared.road.bounds import bound_of
from shared.road.itinerary import Doing
from shared.road.law import Law
from shared.road.search import Choice, Label, Move, reach
from shared.road.world import World

_RESTS = frozenset({Doing.REST, Doing.SEA_REST})


def fast_reach(
    world: World, law: Law[Any], departure: int, state: Hashable, by: int
) -> Label | None:
    """Give a label that arrives by `by`, early if not earliest; None says nothing."""
    bound = bound_of(world, law)
    return reach(world, law, (departure, state), by, choose=_few(law), bound=bound)


def _few(law: Law[Any]) -> Choice:
    rules = law.rules
    lengths = {
        1,
        rules.break_part,
        rules.break_second,
        rules.break_length,
        rules.break_counts,
        rules.rest_part,
        rules.reduced_rest,
        rules.rest,
    }

    def choose(world: World, label: Label, quarter: int, found: list[Move]) -> list[Move]:
        stage = world.stages[label.where.leg]
        if stage.sailings:
            return found
        active = [move for move in found if move[0] not in _RESTS]
        if label.doing in _RESTS:
            ends = law.is_rested(label.state) or label.state.resting in lengths
            if ends or quarter - 1 in stage.closed:
                return found
            return [move for move in found if move[0] in _RESTS]
        begun = label.where.done > 0 or label.before is None
        return active if active and begun else found

    return choose
