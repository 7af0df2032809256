"""Today and tomorrow stay as told: what the sheet has for them is held, as far as it can stand.

A stage that was told for today or tomorrow and has not begun keeps its start, people, way and
place. What can't be so (its people are away, what it waits for isn't ready, a pin says otherwise)
is let go, and so is what comes after it. The foreman says otherwise by a pin or by telling anew.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from datetime import datetime, time, timedelta

from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.net import Net, Nets
from scheduler.normalise import Normal, StageName
from scheduler.normalise.facts import told_placements
from scheduler.problem import Problem, Schedule, Stage
from scheduler.tables import Tables
from shared.ids import StepId
from shared.plan import Placement
from shared.units import STEP_SECONDS
from shared.worktime.zones import local_date, local_instant

Slot = tuple[StepId, int, str]
"""What is told once: a step, its round and part."""


def slot_of(name: StageName) -> Slot:
    """Return the slot that a stage of the problem stands for."""
    return name.step, name.round, name.part


def soon_until(now: datetime, zone: str) -> datetime:
    """Return the end of tomorrow in the workshop's zone."""
    day = local_date(now, zone) + timedelta(days=2)
    return local_instant(day, time(0), zone, opening=True)


def soon_told(normal: Normal) -> dict[int, Placement]:
    """Return by stage what was told for today or tomorrow and has not begun, people's work only."""
    told = told_placements(normal.book)
    until = soon_until(normal.now, normal.book.workshop.zone)
    found: dict[int, Placement] = {}
    for at, name in enumerate(normal.stages):
        is_open = not name.part and not name.round and name.begun is None
        placed = told.get(slot_of(name)) if is_open else None
        if placed is not None and placed.people and normal.now <= placed.start < until:
            found[at] = placed
    return found


def hold_told(
    normal: Normal, index: Index, tables: Tables, let_go: Collection[Slot] = ()
) -> tuple[Normal, Index]:
    """Return a book with what was told for today and tomorrow held; the same without any.

    let_go: what is not held whatever else holds.
    """
    soon = {} if normal.book.told is None else soon_told(normal)
    if not soon:
        return normal, index
    wanted = {
        at: held
        for at, placed in soon.items()
        if slot_of(normal.stages[at]) not in let_go
        and (held := _as_told(normal, at, placed)) is not None
    }
    moments = {at for at, name in enumerate(normal.stages) if not name.is_told}
    while wanted:
        problem = _with(normal.problem, {at: stage for at, (stage, _) in wanted.items()})
        made = Index(problem, tables=tables)
        stands = _standing(made, wanted, moments)
        if stands.issuperset(wanted):
            break
        wanted = {at: held for at, held in wanted.items() if at in stands}
    ways = {at: way for at, (_, way) in wanted.items()}
    gone = tuple(normal.stages[at] for at in soon if at not in ways)
    if not wanted:
        return replace(normal, let_go=gone), index
    names = tuple(
        (found[ways[at]],) if at in ways else found for at, found in enumerate(normal.ways)
    )
    kept = replace(
        normal, problem=problem, ways=names, let_go=gone, held=tuple(sorted(ways.items()))
    )
    return kept, made


def freed(normal: Normal, schedule: Schedule) -> Schedule:
    """Return a schedule of a book with held stages in the numbers of the book without."""
    if not normal.held:
        return schedule
    ways = list(schedule.ways)
    for at, way in normal.held:
        ways[at] = way if ways[at] >= 0 else ways[at]
    return replace(schedule, ways=tuple(ways))


def _as_told(normal: Normal, at: int, placed: Placement) -> tuple[Stage, int] | None:
    """Return a stage as it was told and its way, None where that can't be meant any more."""
    stage = normal.problem.stages[at]
    position = {person: each for each, person in enumerate(normal.workers)}
    if stage.optional or stage.under_way or any(one not in position for one in placed.people):
        return None
    team = tuple(sorted(position[one] for one in placed.people))
    start = int((placed.start - normal.origin).total_seconds()) // STEP_SECONDS
    way = next(
        (
            number
            for number, name in enumerate(normal.ways[at])
            if (name.way, name.place) == (placed.way, placed.place)
            and stage.ways[number].hands_count == len(team)
        ),
        None,
    )
    if way is None or not set(stage.asked) <= set(team) or start < stage.release:
        return None
    if stage.fixed_start not in (None, start) or (stage.only_asked and stage.asked != team):
        return None
    told = replace(stage, ways=(stage.ways[way],), fixed_start=start, asked=team, only_asked=True)
    return told, way


def _with(problem: Problem, stages: Mapping[int, Stage]) -> Problem:
    return replace(
        problem,
        stages=tuple(stages.get(at, stage) for at, stage in enumerate(problem.stages)),
    )


def _standing(index: Index, wanted: Collection[int], moments: Collection[int]) -> set[int]:
    """Return which of some stages can stand as told beside each other and what is a fact.

    moments: stages that are no step of the book; nobody waits for them.
    """
    problem = index.problem
    net = index.once(Nets).net(frozenset())
    board = Board(index, net)
    bounds = index.terms.bounds
    firm = [at for at in net.active if problem.stages[at].under_way or bounds[at].fixed]
    firm.sort(key=lambda at: (not problem.stages[at].under_way, bounds[at].earliest_start, at))
    placed = set(moments)
    for at in firm:
        spot = board.find(at)
        if spot is not None and not (at in wanted and _waits(net, at, placed)):
            board.book(at, spot)
            placed.add(at)
    return {at for at in wanted if at in board.spots}


def _waits(net: Net, stage: int, spots: Collection[int]) -> bool:
    """Return whether a stage comes after one that isn't placed yet."""
    return any(link.lag is not None and link.before not in spots for link in net.ins[stage])


def slots_let_go(normal: Normal, stage: int) -> Iterator[Slot]:
    """Give what to let go so that a stage which fitted nowhere may fit.

    What is held of its job; where nothing is, all.
    """
    held = [at for at, _ in normal.held]
    job = normal.stages[stage].job
    own = [at for at in held if normal.stages[at].job == job]
    yield from (slot_of(normal.stages[at]) for at in own or held)
