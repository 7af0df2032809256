"""Nobody does alone in the building what must not be done alone.

One person by themselves works only while another person of the book is there: on shift, short
breaks bridged, and neither away with a journey nor resting after one. What is under way goes on
with the people who are on it.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from scheduler.check.acts import acts_of
from scheduler.check.clock import QUARTER, iso, seconds, up
from scheduler.check.means import leaving
from scheduler.check.openings import Openings, Pair, Pairs, less, union
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.ids import PersonId


def wants_company(world: World, task: Task) -> bool:
    """Return whether somebody else must be there while a task is worked on."""
    if len(task.placement.people) != 1 or is_given(task):
        return False
    return not world.never_alone.isdisjoint(acts_of(world, task))


def is_given(task: Task) -> bool:
    """Return whether a fact says who is on a task, so that no plan can have it otherwise."""
    return task.running is not None and bool(task.running.people)


def hours_of(world: World, task: Task, span: Pair, needed: int) -> Openings:
    """Return the hours in which a task goes on in a span.

    Work in one go is not broken off for want of company. What pauses stands still for it, unless
    the span has room for no standstill.
    """
    own = world.hours.team(task.placement.people)
    if not wants_company(world, task) or task.in_one_go or own.between(*span) == needed:
        return own
    return _with_company(world, task.placement.people[0])


def alone(world: World, task: Task, span: Pair, needed: int) -> Iterator[Breach]:
    """Give the first stretch of a span in which somebody is alone at a task."""
    if wants_company(world, task):
        person = task.placement.people[0]
        own, there = world.hours.team((person,)), _with_company(world, person)
        if task.in_one_go or own.between(*span) == needed:
            yield from _alone(world, task, own, there, span)


def _with_company(world: World, person: PersonId) -> Openings:
    """Return when a person works and somebody else is there."""
    if person not in world.company:
        own = world.hours.team((person,))
        others = tuple(there for each, there in _presence(world).items() if each != person)
        world.company[person] = world.memory.company.of(
            person, (own, others), lambda: _covered(own.pairs, others)
        )
    return world.company[person]


def _covered(own: Pairs, others: Iterable[Openings]) -> Openings:
    """Return what lies in some stretches and in any of the others."""
    alone = own
    for each in others:
        alone = less(alone, each.pairs) if alone else alone
    return Openings(less(own, alone))


def _presence(world: World) -> dict[PersonId, Openings]:
    """Return when each person is on shift and not away with a journey."""
    if not world.presence:
        away: dict[PersonId, list[Pair]] = defaultdict(list)
        for _, journey, trip in world.trips.values():
            for who, leaves in leaving(journey, trip).items():
                away[who].append((leaves // QUARTER, up(seconds(trip.free))))
        for person in world.people:
            world.presence[person] = _on_shift(world, person, union(away[person]))
    return world.presence


def _on_shift(world: World, person: PersonId, away: Pairs) -> Openings:
    shifts = world.hours.shifts(person)
    return world.memory.presence.of(
        person, (shifts, away), lambda: Openings(less(shifts.pairs, away)) if away else shifts
    )


def _alone(
    world: World, task: Task, own: Openings, there: Openings, span: Pair
) -> Iterator[Breach]:
    """Give the first stretch that somebody works alone."""
    if there.between(*span) == own.between(*span):
        return
    for first, last in own.within(*span):
        gaps = there.gaps(first, last)
        if gaps:
            start, end = gaps[0]
            name = world.people[task.placement.people[0]].name
            facts = {"start": iso(start * QUARTER), "end": iso(end * QUARTER), "person": name}
            yield of_task(Rule.COMPANY, task, **facts)
            return
