"""Nobody does alone in the building what must not be done alone.

One person by themselves works only while another person of the book is there: on shift, short
breaks bridged, and neither away with a journey nor resting after one. What is under way goes on
with the people who are on it.
"""

from collections.abc import Iterable, Iterator

from scheduler.check.acts import acts_of
from scheduler.check.clock import QUARTER, iso, seconds, up
from scheduler.check.means import leaving
from scheduler.check.openings import Openings, Pair, Pairs, common
from scheduler.check.tell import of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.ids import PersonId
from shared.trade import defaults


def wants_company(world: World, task: Task) -> bool:
    """Return whether somebody else must be there while a task is worked on."""
    if len(task.placement.people) != 1 or is_given(task):
        return False
    never = world.book.workshop.never_alone
    return not acts_of(world, task).isdisjoint(defaults.NEVER_ALONE if never is None else never)


def is_given(task: Task) -> bool:
    """Return whether a fact says who is on a task, so that no plan can have it otherwise."""
    return task.running is not None and bool(task.running.people)


def hours_of(
    world: World, task: Task, span: Pair, needed: int
) -> tuple[Openings, tuple[Breach, ...]]:
    """Return the hours in which a task goes on in a span, and where somebody is alone at it.

    Work in one go is not broken off for want of company. What pauses stands still for it, unless
    the span has room for no standstill.
    """
    own = world.hours.team(task.placement.people)
    if not wants_company(world, task):
        return own, ()
    there = _with_company(world, task.placement.people[0])
    if task.in_one_go or own.between(*span) == needed:
        return own, tuple(_alone(world, task, own, there, span))
    return there, ()


def _with_company(world: World, person: PersonId) -> Openings:
    """Return when a person works and somebody else is there."""
    if person not in world.company:
        others = {_in_building(world, each) for each in world.people if each != person}
        own = world.hours.team((person,)).pairs
        world.company[person] = Openings(common(own, _either(others)))
    return world.company[person]


def _in_building(world: World, person: PersonId) -> Pairs:
    if person not in world.presence:
        world.presence[person] = _on_shift(world, person)
    return world.presence[person]


def _on_shift(world: World, person: PersonId) -> Pairs:
    """Return when a person is on shift and not away with a journey."""
    away = [
        (leaves // QUARTER, up(seconds(trip.free)))
        for _, journey, trip in world.trips.values()
        for who, leaves in leaving(journey, trip).items()
        if who == person
    ]
    shifts = world.hours.shifts(person).pairs
    if not away:
        return shifts
    return tuple(piece for shift in shifts for piece in _rest([shift], away))


def _rest(pieces: list[Pair], away: Iterable[Pair]) -> list[Pair]:
    """Return what is left of stretches when others are cut out of them."""
    for gone, back in away:
        halves = [half for a, b in pieces for half in ((a, min(b, gone)), (max(a, back), b))]
        pieces = [(a, b) for a, b in halves if a < b]
    return pieces


def _either(stretches: Iterable[Pairs]) -> Pairs:
    """Return what lies in any of some stretches."""
    found: list[Pair] = []
    for start, end in sorted(pair for pairs in stretches for pair in pairs):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return tuple(found)


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
