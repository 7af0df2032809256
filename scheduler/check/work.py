"""How long it takes: as many open quarters as the hours ask for, and not one more.

Bench hours = person-hours x (1 + loss x (hands - 1)) / hands, divided by the mean pace, times
shift hours / useful hours where the stage may pause, rounded up once to a quarter. Open is a
quarter that all of the team work. A stage starts in an open quarter and ends with the last
that it needs. Work in one go starts and ends in one shift of everybody, which after laminating
runs on for the watch; other work stands still no longer than its longest pause, days on which
the workshop is shut not counted.
"""

from collections.abc import Iterator
from fractions import Fraction

from scheduler.check.clock import DAY, QUARTER, iso, up
from scheduler.check.openings import Openings
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World, quarters
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.ids import PersonId

_DAY_QUARTERS = DAY // QUARTER
_QUARTER_MINUTES = QUARTER // 60


def work(world: World) -> Iterator[Breach]:
    """Give what starts while nobody works, or takes another time than it needs."""
    for task in world.work():
        known = all(person in world.people for person in task.placement.people)
        if known and task.start <= task.end:
            yield from _length(world, task)


def needed_quarters(world: World, task: Task) -> int | None:
    """Return the open quarters that a task needs, None if the book doesn't say."""
    way = task.way
    if way is None:
        return 0 if not task.ways else None
    person_hours, hands = way.hours.likely, max(1, way.hands_count)
    if task.running is not None:
        if task.running.remaining_hours is None:
            return None
        person_hours = task.running.remaining_hours
        hands = max(1, len(task.placement.people))
    workshop = world.book.workshop
    loss = Fraction(workshop.pair_loss_percent) / 100
    bench = Fraction(person_hours) * (1 + loss * (hands - 1)) / hands
    bench /= _mean_pace(world, task.placement.people)
    if not task.in_one_go:
        bench *= Fraction(workshop.shift_hours) / Fraction(workshop.useful_hours)
    exact = bench * 3600 / QUARTER
    return -(-exact.numerator // exact.denominator)


def _mean_pace(world: World, people: tuple[PersonId, ...]) -> Fraction:
    paces = [Fraction(world.people[person].pace) for person in people]
    return sum(paces, Fraction()) / len(paces) if paces else Fraction(1)


def _length(world: World, task: Task) -> Iterator[Breach]:
    needed = needed_quarters(world, task)
    if needed is None:
        return
    start, end = quarters(task)
    if task.running is not None:
        start = max(start, world.first_quarter())
    if needed == 0:
        if start != end:
            yield _duration(task, Openings(()), (start, end), 0)
        return
    team = world.hours.team(task.placement.people)
    if task.running is None and team.at(start) is None:
        yield of_task(Rule.HOURS, task, start=iso(task.start))
    if team.between(start, end) != needed or team.at(end - 1) is None:
        yield _duration(task, team, (start, end), needed)
    if not task.in_one_go:
        yield from _pauses(world, task, team, (start, end))
    elif task.running is None:
        yield from one_go(world, task)


def _duration(task: Task, team: Openings, span: tuple[int, int], needed: int) -> Breach:
    return of_task(
        Rule.DURATION,
        task,
        start=iso(task.start),
        end=iso(task.end),
        worked_minutes=team.between(*span) * _QUARTER_MINUTES,
        needed_minutes=needed * _QUARTER_MINUTES,
    )


def one_go(world: World, task: Task) -> Iterator[Breach]:
    """Give the people of a task in one go whose shift doesn't hold all of it and its watch."""
    start, end = quarters(task)
    for person in task.placement.people or (None,):
        name = None if person is None else world.people[person].name
        shift = world.hours.shifts(person).at(start)
        if shift is None or end > shift[1]:
            facts = {"start": iso(task.start), "end": iso(task.end), "person": name}
            yield of_task(Rule.ONE_GO, task, **facts)
        elif end + up(task.watch_minutes * 60) > shift[1]:
            yield of_task(
                Rule.WATCH,
                task,
                end=iso(task.end),
                shift_end=iso(shift[1] * QUARTER),
                watch_minutes=task.watch_minutes,
                person=name,
            )


def _pauses(world: World, task: Task, team: Openings, span: tuple[int, int]) -> Iterator[Breach]:
    longest = task.longest_pause_days * _DAY_QUARTERS
    for start, end in team.gaps(*span):
        if end - start <= longest:
            continue
        paused = world.hours.standstill(start, end)
        if paused > longest:
            yield of_task(
                Rule.PAUSE,
                task,
                start=iso(start * QUARTER),
                paused_minutes=paused * _QUARTER_MINUTES,
                longest_minutes=longest * _QUARTER_MINUTES,
            )
