"""Quarters before which nobody can arrive: the road alone, and the driver alone."""

from collections.abc import Hashable
from typing import Any

from shared.road.law import Law, Need
from shared.road.legs import Drive, Ferry
from shared.road.quarters import next_week
from shared.road.search import Cut
from shared.road.world import Position, World


def bound_of(world: World, law: Law[Any]) -> Cut:
    """Give the greater of what the road needs without a driver and the driver without a road.

    The waits of the road are rests that the driver's least counts already, so the two are never
    added to each other.
    """
    ahead = _ahead(world)

    def bound(world: World, where: Position, state: Hashable, quarter: int) -> int:
        road = world.earliest(where, quarter)
        if world.has_arrived(where):
            return road
        driving, other = ahead[where.leg]
        stage = world.stages[where.leg]
        if isinstance(stage.leg, Drive):
            driving -= where.done
        elif not isinstance(stage.leg, Ferry):
            other -= where.done
        need = Need(driving, other, 0, 1)
        road = max(road, _week_allows(law, state, driving, quarter))
        return max(road, quarter + law.least(state, need))

    return bound


def _week_allows(law: Law[Any], state: Hashable, driving: int, quarter: int) -> int:
    """Give when so much driving can be over as far as it goes by this fixed week."""
    left = law.week_left(state)
    if driving <= left:
        return quarter + driving
    return next_week(quarter) + driving - left


def _ahead(world: World) -> list[tuple[int, int]]:
    """Give for each leg the driving and the other work from its beginning on."""
    sums = [(0, 0)]
    for stage in reversed(world.stages):
        driving, other = sums[-1]
        if isinstance(stage.leg, Drive):
            sums.append((driving + stage.quarters, other))
        elif isinstance(stage.leg, Ferry):
            sums.append((driving, other))
        else:
            sums.append((driving, other + stage.quarters))
    return sums[:0:-1]
