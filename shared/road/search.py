"""Label setting in step with time: what can be reached in each quarter, by which states."""

from collections.abc import Callable, Iterator
from typing import NamedTuple, Optional

from shared.road.itinerary import Doing
from shared.road.legs import Drive, Ferry
from shared.road.rules import HoursRules
from shared.road.state import (
    State,
    available,
    driven,
    interrupted,
    may_arrive,
    no_worse,
    rested,
    turned,
    worked,
)
from shared.road.world import Position, World


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
    rules: HoursRules,
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
            label = label._replace(state=turned(label.state, quarter))
            for doing, there, new in choose(
                world, label, quarter, moves(world, rules, label, quarter)
            ):
                if prune and bound is not None and bound(world, there, new, quarter + 1) > by:
                    continue
                if world.has_arrived(there) and not may_arrive(new, rules):
                    continue
                reached = Label(there, new, doing, label)
                if prune:
                    _keep(world, rules, found, reached)
                elif (there, new) not in equal:
                    equal.add((there, new))
                    found.setdefault(there, []).append(reached)
        quarter += 1
        layer = [label for labels in found.values() for label in labels]
        for label in layer:
            if world.has_arrived(label.where):
                return label
    return None


def moves(world: World, rules: HoursRules, label: Label, quarter: int) -> list[Move]:
    """Give what the law and the road let a driver do in a quarter."""
    where, state = label.where, label.state
    stage = world.stages[where.leg]
    if isinstance(stage.leg, Ferry):
        if where.done:
            return list(_on_board(world, rules, where, state, quarter))
        return [*_boarding(world, rules, where, state, quarter), *_resting(world, rules, label)]
    found = _resting(world, rules, label)
    if quarter not in stage.closed:
        drives = isinstance(stage.leg, Drive)
        new = driven(state, rules) if drives else worked(state, rules)
        there = _onward(world, where, quarter + 1)
        if new is not None and there is not None:
            found.append((Doing.DRIVE if drives else Doing.WORK, there, new))
    return found


def _resting(world: World, rules: HoursRules, label: Label) -> list[Move]:
    sea_ahead = world.sea_ahead(label.where)
    return [
        (Doing.REST, label.where, new) for new in rested(label.state, rules, sea_ahead=sea_ahead)
    ]


def _onward(world: World, where: Position, quarter: int) -> Position | None:
    if where.done + 1 < world.stages[where.leg].quarters:
        return Position(where.leg, where.done + 1, 0)
    return world.entry(where.leg + 1, quarter)


def _boarding(
    world: World, rules: HoursRules, where: Position, state: State, quarter: int
) -> Iterator[Move]:
    leg = world.stages[where.leg].leg
    for sailing in world.boardings(where, quarter):
        there = Position(where.leg, 1, sailing)
        new = worked(state, rules)
        if new is not None:
            yield Doing.BOARD, there, new
        new = interrupted(state, rules) if isinstance(leg, Ferry) and leg.bunk else None
        if new is not None:
            yield Doing.BOARD_IN_REST, there, new


def _on_board(
    world: World, rules: HoursRules, where: Position, state: State, quarter: int
) -> Iterator[Move]:
    stage = world.stages[where.leg]
    bunk = isinstance(stage.leg, Ferry) and stage.leg.bunk
    if quarter < stage.sailings[where.sailing][1]:
        if bunk:
            for new in rested(state, rules, sea_ahead=True):
                yield Doing.SEA_REST, where, new
            return
        sea = available(state, rules)
        if sea is not None:
            yield Doing.SEA, where, sea
        return
    there = world.entry(where.leg + 1, quarter + 1)
    if there is None:
        return
    ashore = worked(state, rules)
    if ashore is not None:
        yield Doing.LAND, there, ashore
    ashore = interrupted(state, rules) if bunk else None
    if ashore is not None:
        yield Doing.LAND_IN_REST, there, ashore


def _keep(
    world: World,
    rules: HoursRules,
    found: dict[Position, list[Label]],
    new: Label,
) -> None:
    """Add a label where none is as good, and drop those that it is as good as."""
    others = found.setdefault(new.where, [])
    sea = world.sea_ahead(new.where)
    if any(no_worse(each.state, new.state, rules, sea_ahead=sea) for each in others):
        return
    others[:] = [
        each for each in others if not no_worse(new.state, each.state, rules, sea_ahead=sea)
    ]
    others.append(new)
