"""Label setting in step with time: what can be reached in each quarter, by which states."""

from collections.abc import Callable, Hashable, Iterator
from operator import le
from typing import Any, NamedTuple, Optional

from shared.road.itinerary import Doing
from shared.road.law import Law
from shared.road.legs import Drive, Ferry
from shared.road.quarters import turns_week
from shared.road.world import Position, World

State = Hashable


class Label(NamedTuple):
    """A driver somewhere at the end of a quarter, and how that came about."""

    where: Position
    state: State
    doing: Doing | None
    before: Optional["Label"]


Move = tuple[Doing, Position, State]
Choice = Callable[[World, Label, int, list[Move]], list[Move]]
"""Which of the legal moves of a label in a quarter a search looks at."""

Cut = Callable[[World, Position, State, int], int]
"""Give a quarter before which nobody can arrive from there."""


def all_moves(world: World, label: Label, quarter: int, found: list[Move]) -> list[Move]:
    """Give every legal move: the choice of the exact search."""
    del world, label, quarter
    return found


def reach(
    world: World,
    law: Law[Any],
    start: tuple[int, State],
    by: int,
    *,
    choose: Choice = all_moves,
    bound: Cut | None = None,
    prune: bool = True,
) -> Label | None:
    """Give the label that arrives first when leaving at a quarter, None if not by `by`.

    `start` is the quarter of departure and the state then. With `prune` off only labels that are
    equal are joined, and no bound is asked: slow, and the measure of everything else.
    """
    quarter, state = start
    where = world.entry(0, quarter)
    if where is None:
        return None
    layer = [Label(where, state, None, None)]
    while layer and quarter < by:
        found: dict[Position, list[Label]] = {}
        equal: set[tuple[Position, State]] = set()
        for label in layer:
            label = label._replace(state=law.turned(label.state)) if turns_week(quarter) else label
            for doing, there, new in choose(
                world, label, quarter, moves(world, law, label, quarter)
            ):
                if prune and bound is not None and bound(world, there, new, quarter + 1) > by:
                    continue
                if world.has_arrived(there) and not law.may_arrive(new):
                    continue
                reached = Label(there, new, doing, label)
                if prune:
                    _keep(world, law, found, reached)
                elif (there, new) not in equal:
                    equal.add((there, new))
                    found.setdefault(there, []).append(reached)
        quarter += 1
        layer = [label for labels in found.values() for label in labels]
        for label in layer:
            if world.has_arrived(label.where):
                return label
    return None


def moves(world: World, law: Law[Any], label: Label, quarter: int) -> list[Move]:
    """Give what the law and the road let a driver do in a quarter."""
    where, state = label.where, label.state
    stage = world.stages[where.leg]
    if isinstance(stage.leg, Ferry):
        if where.done:
            return list(_on_board(world, law, where, state, quarter))
        return [*_boarding(world, law, where, state, quarter), *_resting(world, law, label)]
    found = _resting(world, law, label)
    if quarter not in stage.closed:
        drives = isinstance(stage.leg, Drive)
        there = _onward(world, where, quarter + 1)
        if there is not None and drives:
            found += [(Doing.DRIVE, there, new) for _, new in law.driven(state)]
        elif there is not None:
            found += [(Doing.WORK, there, new) for new in law.worked(state)]
    return found


def _resting(world: World, law: Law[Any], label: Label) -> list[Move]:
    sea_ahead = world.sea_ahead(label.where)
    return [(Doing.REST, label.where, new) for new in law.rested(label.state, sea_ahead=sea_ahead)]


def _onward(world: World, where: Position, quarter: int) -> Position | None:
    if where.done + 1 < world.stages[where.leg].quarters:
        return Position(where.leg, where.done + 1, 0)
    return world.entry(where.leg + 1, quarter)


def _boarding(
    world: World, law: Law[Any], where: Position, state: State, quarter: int
) -> Iterator[Move]:
    leg = world.stages[where.leg].leg
    for sailing in world.boardings(where, quarter):
        there = Position(where.leg, 1, sailing)
        for new in law.worked(state):
            yield Doing.BOARD, there, new
        for new in law.interrupted(state) if isinstance(leg, Ferry) and leg.bunk else ():
            yield Doing.BOARD_IN_REST, there, new


def _on_board(
    world: World, law: Law[Any], where: Position, state: State, quarter: int
) -> Iterator[Move]:
    stage = world.stages[where.leg]
    bunk = isinstance(stage.leg, Ferry) and stage.leg.bunk
    if quarter < stage.sailings[where.sailing][1]:
        if bunk:
            for new in law.rested(state, sea_ahead=True):
                yield Doing.SEA_REST, where, new
            return
        for new in law.available(state):
            yield Doing.SEA, where, new
        return
    there = world.entry(where.leg + 1, quarter + 1)
    if there is None:
        return
    for ashore in law.worked(state):
        yield Doing.LAND, there, ashore
    for ashore in law.interrupted(state) if bunk else ():
        yield Doing.LAND_IN_REST, there, ashore


def _keep(
    world: World,
    law: Law[Any],
    found: dict[Position, list[Label]],
    new: Label,
) -> None:
    """Add a label where none is as good, and drop those that it is as good as."""
    others = found.setdefault(new.where, [])
    sea = world.sea_ahead(new.where)
    rank = law.rank(new.state, sea_ahead=sea)
    ranks = [law.rank(each.state, sea_ahead=sea) for each in others]
    if any(all(map(le, each, rank)) for each in ranks):
        return
    others[:] = [
        each for each, other in zip(others, ranks, strict=True) if not all(map(le, rank, other))
    ]
    others.append(new)
