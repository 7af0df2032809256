"""What one person does in a day: pieces in half of it, power sanding in all of it.

Counted is work, not being held: the open quarters between start and end. What is under way with
named people counts, and whatever comes to it where there is no room left is too much.
"""

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal

from scheduler.check.acts import acts_of
from scheduler.check.clock import QUARTER, day_of, half_of, hours_down, iso
from scheduler.check.company import hours_of, is_given
from scheduler.check.openings import Pair
from scheduler.check.running import resumed_at
from scheduler.check.tell import of_task
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import Task, World, quarters
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Act, Person, Stage
from shared.ids import PersonId
from shared.trade import defaults

_MINUTES = QUARTER // 60
_Work = dict[tuple[PersonId, int], list[tuple[Task, int]]]
"""By person and the second at which a day or half of one begins: tasks, each with quarters."""


def daily(world: World) -> Iterator[Breach]:
    """Give days on which somebody works on too many pieces, or sands for too long."""
    halves: _Work = defaultdict(list)
    days: _Work = defaultdict(list)
    for task in world.work():
        known = world.knows(task)
        if known and task.placement.people and task.start <= task.end:
            _note(world, task, halves, days)
    yield from _pieces(world, halves)
    yield from _sanding(world, days)


def _note(world: World, task: Task, halves: _Work, days: _Work) -> None:
    is_piece, sands = isinstance(task.step, Stage), Act.POWER_SAND in acts_of(world, task)
    if not (is_piece or sands):
        return
    people = tuple(dict.fromkeys(task.placement.people))
    for start, end in _worked(world, task):
        for half, day, worked in _by_halves(world, start, end):
            for person in people:
                if is_piece:
                    halves[person, half].append((task, worked))
                if sands:
                    days[person, day].append((task, worked))


def _worked(world: World, task: Task) -> Iterator[Pair]:
    """Give the stretches in which the people of a task work on it, in quarters."""
    needed = needed_quarters(world, task)
    if not needed:
        return
    start, end = quarters(task)
    if task.running is not None:
        start = resumed_at(world, task)
    yield from hours_of(world, task, (start, end), needed).within(start, end)


def _by_halves(world: World, start: int, end: int) -> Iterator[tuple[int, int, int]]:
    """Give the half days that a stretch lies in, each with its day and the quarters in it."""
    at = start
    while at < end:
        half, until, day = half_of(at * QUARTER, world.zone)
        stop = min(end, max(at + 1, until // QUARTER))
        yield half, day, stop - at
        at = stop


def _pieces(world: World, halves: _Work) -> Iterator[Breach]:
    told = world.book.workshop.pieces_per_half_day
    most = defaults.PIECES_PER_HALF_DAY if told is None else told
    if not most:
        return
    for (person, half), work in halves.items():
        pieces = {_piece(world, task) for task, _ in work} if len(work) > most else ()
        if len(pieces) <= most:
            continue
        given = {_piece(world, task) for task, _ in work if is_given(task)}
        added = [task for task, _ in work if _piece(world, task) not in given]
        if added:
            yield of_task(
                Rule.PIECES,
                max(added, key=lambda task: task.start),
                person=world.people[person].name,
                start=iso(half),
                count=len(pieces),
                most=most,
            )


def _piece(world: World, task: Task) -> tuple[str, frozenset[str]]:
    return task.job.id, world.table(task.job).pieces(task.step)


def _sanding(world: World, days: _Work) -> Iterator[Breach]:
    for (person, day), work in days.items():
        most = hours_down(_sanding_hours(world, world.people[person])) // QUARTER
        sanded = sum(worked for _, worked in work)
        added = [task for task, _ in work if not is_given(task)]
        if sanded > most and added:
            yield of_task(
                Rule.SANDING,
                max(added, key=lambda task: task.start),
                person=world.people[person].name,
                day=day_of(day, world.zone).isoformat(),
                sanded_minutes=sanded * _MINUTES,
                most_minutes=most * _MINUTES,
            )


def _sanding_hours(world: World, person: Person) -> Decimal:
    told = (person.sanding_hours_per_day, world.book.workshop.sanding_hours_per_day)
    return next((hours for hours in told if hours is not None), defaults.SANDING_HOURS)
