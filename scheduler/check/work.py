"""How long it takes: as many open quarters as the hours ask for, and not one more.

Open is a quarter that all of the team work, and in which nobody is alone who must not be. A
stage starts in an open quarter and ends with the last that it needs. Work in one go starts and
ends in one shift of everybody, which after laminating runs on for the watch; other work stands
still no longer than its longest pause, days on which the workshop is shut not counted.
"""

from collections.abc import Iterator

from scheduler.check.clock import DAY, QUARTER, iso, up
from scheduler.check.company import alone, hours_of
from scheduler.check.openings import Openings
from scheduler.check.running import is_long_enough, span_left
from scheduler.check.tell import of_task
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import Task, World, quarters
from scheduler.outcome import Breach
from scheduler.rules import Rule

_DAY_QUARTERS = DAY // QUARTER
_QUARTER_MINUTES = QUARTER // 60


def work(world: World) -> Iterator[Breach]:
    """Give what starts while nobody works, or takes another time than it needs."""
    for task in world.work():
        known = world.knows(task)
        if known and task.start <= task.end:
            yield from _length(world, task)


def _length(world: World, task: Task) -> Iterator[Breach]:
    needed = needed_quarters(world, task)
    if needed is None:
        return
    start, end = span_left(world, task) if task.running is not None else quarters(task)
    team = hours_of(world, task, (start, end), needed)
    yield from alone(world, task, (start, end), needed)
    if task.running is not None:
        if not is_long_enough(world, task, team, needed):
            yield _duration(task, team, (start, end), needed)
        return
    if needed == 0:
        if start != end:
            yield _duration(task, Openings(()), (start, end), 0)
        return
    if team.at(start) is None:
        yield of_task(Rule.HOURS, task, start=iso(task.start))
    if team.between(start, end) != needed or team.at(end - 1) is None:
        yield _duration(task, team, (start, end), needed)
    if task.in_one_go:
        yield from one_go(world, task)
    else:
        yield from _pauses(world, task, team, (start, end))


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
    if span[1] - span[0] <= longest:
        return
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
