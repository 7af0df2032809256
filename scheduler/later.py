"""Pulling a schedule together from behind, unit by unit, while all others stay where they are.

A unit that finds nothing better stays too, so that the way back always works out.
"""

from collections.abc import Sequence

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import place_unit
from scheduler.mirror import Mirror
from scheduler.net import Nets
from scheduler.problem import Schedule, Stage
from scheduler.ready import Queue
from scheduler.search import Spot

NOWHERE = Spot(start=-1, end=-1, way=-1, team=())


def put_later(index: Index, schedule: Schedule, *, by_start: bool = False) -> Schedule:
    """Return the schedule with every unit as late as the others let it be.

    What ends last moves first; by_start: what starts last. Pinned and told stages stay.
    """
    mirror = index.once(Mirror)
    backward = mirror.index(schedule)
    asked = index.problem.stages
    spots = {
        stage: mirror.turned_spot(spot_of(schedule, stage))
        for stage, way in enumerate(schedule.ways)
        if way >= 0
    }
    inserted = frozenset(stage for stage in spots if asked[stage].optional)
    net = backward.once(Nets).net(inserted)
    board = Board(backward, net)
    for stage, spot in spots.items():
        board.book(stage, spot)
    queue = Queue(net.waits, net.followers, _ranks(net.units, spots, by_start=by_start))
    while (unit := queue.pop()) is not None:
        stages = net.units[unit]
        if not any(stays(asked[stage]) for stage in stages):
            _move(board, stages, unit)
        queue.done(unit)
    placed = [board.spots.get(stage, NOWHERE) for stage in range(len(asked))]
    found = Schedule(
        starts=tuple(spot.start for spot in placed),
        ends=tuple(spot.end for spot in placed),
        ways=tuple(spot.way for spot in placed),
        teams=tuple(spot.team for spot in placed),
    )
    return mirror.back(found, schedule.trips)


def _move(board: Board, stages: Sequence[int], unit: int) -> None:
    """Place a unit anew, or leave it where it is."""
    before = [(stage, board.spots[stage]) for stage in stages]
    for stage in reversed(stages):
        board.lift(stage)
    if place_unit(board, board.net, unit, None) is not None:
        for stage, spot in before:
            board.book(stage, spot)


def _ranks(units: Sequence[Sequence[int]], spots: dict[int, Spot], *, by_start: bool) -> list[int]:
    """Return the ranks of units as a pass on the whole would have them."""

    def key(stage: int) -> tuple[int, int, int]:
        spot = spots[stage]
        return (spot.end, spot.start, stage) if by_start else (spot.start, spot.end, stage)

    order = {stage: rank for rank, stage in enumerate(sorted(spots, key=key))}
    return [min(order[stage] for stage in unit) for unit in units]


def spot_of(schedule: Schedule, stage: int) -> Spot:
    """Return where a stage is in a schedule."""
    return Spot(
        start=schedule.starts[stage],
        end=schedule.ends[stage],
        way=schedule.ways[stage],
        team=schedule.teams[stage],
    )


def stays(stage: Stage) -> bool:
    """Return whether a stage is pinned or was told."""
    return stage.fixed_start is not None or stage.told_start is not None
