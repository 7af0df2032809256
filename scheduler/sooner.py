"""Beginning as soon as can be.

A schedule made by counting back leaves work as late as windows and buffers allow, so that pieces
stand about for less time. Hours that nobody works today are lost to whoever meets a surprise
tomorrow; on the floor work is begun as soon as people are free.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from scheduler.aims import SOON_STEPS, levels
from scheduler.board import Board
from scheduler.calendar import Index
from scheduler.chain import Unfit, place_unit
from scheduler.judge import is_sound
from scheduler.net import Nets
from scheduler.place import place
from scheduler.problem import Going, Problem, Room, Schedule, Span, Spans, Stage, Worker
from scheduler.ready import Queue
from scheduler.search import Spot
from scheduler.spans import merged
from scheduler.spots import journeys, schedule_of, spots_of
from scheduler.taken import Taken
from scheduler.terms import FOREVER, Bounds
from scheduler.urgency import countback_order

MISSED_LEVELS, LOSING_LEVELS = 2, 4


def as_soon(index: Index, schedule: Schedule) -> list[Schedule]:
    """Return schedules by the windows that they miss, then by how soon work begins, best first.

    They are: this one with what can be put sooner; passes in the order in which it begins, or
    by the countback, in which the most urgent comes first or whatever can start soonest; and
    last, whatever it is worth, this one as it is.
    """
    found = [put_sooner(index, schedule), *_passes(index, schedule)]
    found.sort(key=lambda each: (levels(index.problem, each)[:MISSED_LEVELS], _worth(each)))
    return [*found, schedule]


def _passes(index: Index, schedule: Schedule) -> Iterator[Schedule]:
    begin = [
        start if way >= 0 else FOREVER
        for start, way in zip(schedule.starts, schedule.ways, strict=True)
    ]
    in_order = sorted(range(len(begin)), key=lambda stage: (begin[stage], stage))
    for order in (in_order, countback_order(index)):
        for by_time in (False, True):
            found = place(index, order, by_time=by_time)
            if not isinstance(found, Unfit):
                yield found


def _worth(schedule: Schedule) -> int:
    """Return when work begins on the whole: starts, weighed by the work behind them."""
    spots = zip(schedule.starts, schedule.ends, schedule.teams, schedule.ways, strict=True)
    return sum(
        (end - start) * max(1, len(team)) * start for start, end, team, way in spots if way >= 0
    )


def put_sooner(index: Index, schedule: Schedule) -> Schedule:
    """Return the schedule with every unit as soon as the others let it be, and ending no later.

    What begins first moves first, into what is free before it. Journeys stay, and so does what
    is pinned, under way, or told for today and tomorrow. No window and no part of a buffer is
    lost; what would not be sound is not taken.
    """
    board = _standing(index, schedule)
    net, asked = board.net, index.problem.stages
    queue = Queue(net.waits, net.followers, _ranks(net.units, board.spots))
    while (unit := queue.pop()) is not None:
        stages = net.units[unit]
        if not any(_stays(asked[stage]) for stage in stages):
            _move(board, stages, unit)
        queue.done(unit)
    found = schedule_of(board.spots, len(asked), schedule.trips)
    problem = index.problem
    loses = levels(problem, found)[:LOSING_LEVELS] > levels(problem, schedule)[:LOSING_LEVELS]
    return schedule if loses or not is_sound(index, Taken(index, schedule), found) else found


def _stays(stage: Stage) -> bool:
    is_told = stage.told_start is not None and stage.told_start < SOON_STEPS
    return stage.fixed_start is not None or stage.under_way or is_told


def _standing(index: Index, schedule: Schedule) -> Board:
    """Return a board with all of a schedule on it, journeys as what people are away for."""
    problem = index.problem
    away = [going for _, going in journeys(problem, schedule)]
    taken = replace(
        problem,
        workers=tuple(_gone(one, away, number) for number, one in enumerate(problem.workers)),
        rooms=tuple(_used(one, away, number) for number, one in enumerate(problem.rooms)),
    )
    made = index.variant(taken, tuple(_bounds(index, schedule)))
    spots = spots_of(schedule)
    inserted = frozenset(stage for stage in spots if problem.stages[stage].optional)
    board = Board(made, made.once(Nets).net(inserted))
    for stage, spot in spots.items():
        board.book(stage, spot)
    return board


def _bounds(index: Index, schedule: Schedule) -> Iterator[Bounds]:
    """Give the bounds of all stages; what a lorry waits for loads no sooner than it does."""
    punctual = _punctual(index.problem)
    for stage, bounds in enumerate(index.terms.bounds):
        is_late = stage in punctual and schedule.ways[stage] >= 0
        yield replace(bounds, earliest_end=schedule.ends[stage]) if is_late else bounds


def _punctual(problem: Problem) -> set[int]:
    return {
        stage
        for job in problem.jobs
        if job.trip is not None and job.trip.stands_most is not None
        for stage in job.loads
    }


def _gone(worker: Worker, away: Sequence[Going], number: int) -> Worker:
    gone = [(a, b) for going in away for one, a, b in going.absences if one == number]
    busy, out = _with(worker.busy, gone), _with(worker.away, gone)
    return replace(worker, busy=busy, away=out) if gone else worker


def _with(spans: Spans, more: Iterable[Span]) -> Spans:
    return merged((*spans, *more))


def _used(room: Room, away: Sequence[Going], number: int) -> Room:
    taken = [(a, b, units) for going in away for one, a, b, units in going.takes if one == number]
    return replace(room, busy=(*room.busy, *taken)) if taken else room


def _move(board: Board, stages: Sequence[int], unit: int) -> None:
    """Place a unit anew, or leave it where it is if any of it would end later."""
    before = [(stage, board.spots[stage]) for stage in stages]
    for stage in reversed(stages):
        board.lift(stage)
    if place_unit(board, board.net, unit, None) is None:
        if all(board.spots[stage].end <= spot.end for stage, spot in before):
            return
        for stage in reversed(stages):
            board.lift(stage)
    for stage, spot in before:
        board.book(stage, spot)


def _ranks(units: Sequence[Sequence[int]], spots: dict[int, Spot]) -> list[int]:
    ordered = sorted(spots, key=lambda stage: (spots[stage].start, spots[stage].end, stage))
    order = {stage: rank for rank, stage in enumerate(ordered)}
    return [min((order[stage] for stage in unit), default=len(order)) for unit in units]
