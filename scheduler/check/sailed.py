"""Stretches of a trip in quarters, and whether some of them go by a ship."""

from collections.abc import Sequence

from scheduler.check.clock import QUARTER, seconds
from scheduler.check.legs import Ship
from shared.plan import Doing, Stretch

IDLE = frozenset({Doing.REST, Doing.STAND})
"""What is done while nothing is."""

_BOARDS = frozenset({Doing.BOARD, Doing.BOARD_IN_REST})
_LANDS = frozenset({Doing.LAND, Doing.LAND_IN_REST})
_BROKEN = frozenset({Doing.BOARD_IN_REST, Doing.LAND_IN_REST})


def pair_of(each: Stretch) -> tuple[int, int]:
    """Return a stretch on the grid."""
    return seconds(each.start) // QUARTER, seconds(each.end) // QUARTER


def quarters_of(each: Stretch) -> int:
    """Return how long a stretch is."""
    start, end = pair_of(each)
    return end - start


def is_on(ship: Ship, mine: Sequence[Stretch], arrived: int, *, bunk: bool) -> bool:
    """Return whether stretches board, sail and land with a ship that is reached in time."""
    leaves = ship.leaves // QUARTER
    arrives = -(-ship.arrives // QUARTER)
    if len(mine) < 3 or mine[0].doing not in _BOARDS or mine[-1].doing not in _LANDS:
        return False
    at_sea = Doing.SEA_REST if bunk else Doing.SEA
    return (
        arrived <= min(ship.check_in // QUARTER, leaves - 1) * QUARTER
        and pair_of(mine[0]) == (leaves - 1, leaves)
        and pair_of(mine[-1]) == (arrives, arrives + 1)
        and all(each.doing is at_sea for each in mine[1:-1])
        and (bunk or not any(each.doing in _BROKEN for each in mine))
    )
