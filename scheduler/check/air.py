"""Shared air: acts that are kept apart never meet in it, and isocyanates are sprayed enclosed.

An act lasts from start to end of its task, what is wet for its hours longer. The acts of a pair
don't meet where places are the same or share air; from the end of the first to the start of the
second its minutes pass besides. A task is never kept apart from itself, what is done from nothing
that is done. What is under way may have to wait for what else is, or for what is done.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scheduler.check.acts import acts_of
from scheduler.check.airs import by_air, lasts_until, pairs_of, place_of
from scheduler.check.clock import iso
from scheduler.check.running import goes_on_at
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Act, Apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One act of a pair while it lasts, in seconds; of what is under way also from `resumed`."""

    task: Task
    act: Act
    start: int
    end: int
    resumed: int

    @property
    def is_fact(self) -> bool:
        """Return whether it is done or under way."""
        return self.task.done or self.task.running is not None


def air(world: World) -> Iterator[Breach]:
    """Give what may not be done where it is, or not while something else is done in its air."""
    for task in world.work():
        if Act.ISOCYANATE in acts_of(world, task):
            yield from _enclosed(world, task)
    pairs = pairs_of(world)
    for tasks in by_air(world).values() if pairs else ():
        acts = [(task, acts_of(world, task)) for task in tasks]
        for pair in pairs:
            firsts = [task for task, found in acts if pair.first in found]
            seconds = [task for task, found in acts if pair.second in found]
            if firsts and seconds:
                yield from _meetings(world, pair, firsts, seconds)


def _enclosed(world: World, task: Task) -> Iterator[Breach]:
    place = place_of(world, task)
    whole = place is not None and (place.whole or (task.way is not None and task.way.whole_place))
    if place is None or not place.is_enclosed or not whole:
        yield of_task(Rule.OPEN_SPRAYING, task, place=None if place is None else place.name)


def _meetings(
    world: World, pair: Apart, firsts: Iterable[Task], seconds: Iterable[Task]
) -> Iterator[Breach]:
    before = [_side(world, task, pair.first, pair.minutes * 60) for task in firsts]
    after = [_side(world, task, pair.second, 0) for task in seconds]
    sides = sorted(
        [(side, True) for side in before] + [(side, False) for side in after],
        key=lambda each: (each[0].start, each[0].end),
    )
    lasting: list[tuple[Side, bool]] = []
    for side, is_first in sides:
        lasting = [(other, which) for other, which in lasting if other.end > side.start]
        for other, which in lasting:
            if which is not is_first and _meet(other, side):
                yield _told(world, other, side)
        if side.start < side.end:
            lasting.append((side, is_first))


def _side(world: World, task: Task, act: Act, pause: int) -> Side:
    end = lasts_until(world, task, act) + pause
    resumed = goes_on_at(world, task)
    is_vague = task.running is not None and not task.running.people
    start = resumed if is_vague else task.start
    return Side(task=task, act=act, start=start, end=end, resumed=resumed)


def _meet(one: Side, other: Side) -> bool:
    if one.task is other.task or (one.task.done and other.task.done):
        return False
    both = one.is_fact and other.is_fact
    starts = [side.resumed if both else side.start for side in (one, other)]
    return max(starts) < min(one.end, other.end)


def _told(world: World, one: Side, other: Side) -> Breach:
    """Blame what is planned, of two that are what begins or goes on later."""
    known, blamed = sorted((one, other), key=lambda side: (not side.is_fact, side.resumed))
    name = f"{known.task.job.name}: {known.task.step.name}"
    place = place_of(world, blamed.task)
    return of_task(
        Rule.SHARED_AIR,
        blamed.task,
        place=None if place is None else place.name,
        start=iso(blamed.resumed),
        act=blamed.act.value,
        other=name,
        other_act=known.act.value,
        until=iso(known.end),
    )
