"""Pulling a schedule together from behind, unit by unit, while all others stay where they are.

A unit that finds nothing better stays too, so that the way back always works out.
"""

from collections.abc import Sequence

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import place_unit
from scheduler.mirror import Mirror
from scheduler.net import Nets
from scheduler.problem import Schedule
from scheduler.ready import Queue
from scheduler.search import Spot
from scheduler.spots import schedule_of, spots_of, stays


def put_later(index: Index, schedule: Schedule, *, by_start: bool = False) -> Schedule:
    """Return the schedule with every unit as late as the others let it be.

    What ends last moves first; by_start: what starts last. Pinned and told stages stay.
    """
    asked = index.problem.stages
    board = standing(index, schedule)
    net = board.net
    ranks = _ranks(net.units, board.spots, by_start=by_start)
    queue = Queue(net.waits, net.followers, ranks)
    while (unit := queue.pop()) is not None:
        stages = net.units[unit]
        if not any(stays(asked[stage]) for stage in stages):
            _move(board, stages, unit)
        queue.done(unit)
    found = schedule_of(board.spots, len(asked))
    return index.once(Mirror).back(found, schedule.trips)


def standing(index: Index, schedule: Schedule) -> Board:
    """Return a board with all of a schedule on it, time running backwards."""
    mirror = index.once(Mirror)
    backward = mirror.index(schedule)
    spots = {stage: mirror.turned_spot(spot) for stage, spot in spots_of(schedule).items()}
    asked = index.problem.stages
    inserted = frozenset(stage for stage in spots if asked[stage].optional)
    board = Board(backward, backward.once(Nets).net(inserted))
    for stage, spot in spots.items():
        board.book(stage, spot)
    return board


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
