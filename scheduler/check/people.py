"""A person does one thing at a time, and is off the bench after a journey until rested.

People are held from start to end of a stage, pauses included; by other work; and by a journey
from its departure until they are home, then for the workshop's rest, or until they go on with the
same duty.
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from scheduler.check.clock import iso, seconds
from scheduler.check.duties import leaves_again
from scheduler.check.means import leaving
from scheduler.check.running import goes_on_at
from scheduler.check.tell import of_step, of_task
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Job, Journey
from shared.ids import PersonId


class Held(NamedTuple):
    """A stretch, in seconds, in which a person can do nothing else; what holds them.

    given: by a journey that has begun, so no plan is to blame.
    """

    start: int
    end: int
    name: str
    by: Task | tuple[Job, Journey] | None = None
    rest: bool = False
    given: bool = False


def people(world: World) -> Iterator[Breach]:
    """Give who would have to do two things at once, or work without having rested."""
    for person, held in _held(world).items():
        name = world.people[person].name if person in world.people else person
        yield from _clashes(name, sorted(held, key=lambda each: (each.start, each.end)))


def _held(world: World) -> dict[PersonId, list[Held]]:
    found: dict[PersonId, list[Held]] = defaultdict(list)
    for task in world.work():
        start = goes_on_at(world, task)
        if start < task.end:
            for person in dict.fromkeys(task.placement.people):
                name = f"{task.job.name}: {task.step.name}"
                found[person].append(Held(start=start, end=task.end, name=name, by=task))
    for work in world.book.other_work:
        start, end = max(seconds(work.start), world.now), seconds(work.end)
        if start < end:
            for person in work.people:
                found[person].append(Held(start=start, end=end, name=work.name))
    for person, held in _away(world):
        found[person].append(held)
    return found


def _away(world: World) -> Iterator[tuple[PersonId, Held]]:
    for job, journey, trip in world.trips.values():
        home = seconds(trip.back)
        for person, leaves in leaving(journey, trip).items():
            again = leaves_again(world, person, journey.id)
            free = seconds(trip.free) if again is None else again
            for start, end, rest in ((leaves, home, False), (home, free, True)):
                if max(start, world.now) < end:
                    held = Held(
                        start=max(start, world.now),
                        end=end,
                        name=f"{job.name}: {journey.name}",
                        by=(job, journey),
                        rest=rest,
                        given=world.facts.has_begun(journey.id),
                    )
                    yield person, held


def _clashes(person: str, held: list[Held]) -> Iterator[Breach]:
    """Give each stretch that begins before all earlier ones are over."""
    longest: Held | None = None
    for each in held:
        if longest is not None and each.start < longest.end:
            yield from _clash(person, longest, each)
        if longest is None or each.end > longest.end:
            longest = each


def _clash(person: str, earlier: Held, later: Held) -> Iterator[Breach]:
    """Blame what begins later, or what the plan placed if the later one is not of its doing."""
    is_fixed = later.by is None or later.given
    blamed, other = (earlier, later) if is_fixed else (later, earlier)
    if blamed.given:
        return
    rule = Rule.REST if earlier.rest or later.rest else Rule.PERSON_TWICE
    facts = {
        "person": person,
        "other": other.name,
        "start": iso(max(earlier.start, later.start)),
        "end": iso(min(earlier.end, later.end)),
    }
    if isinstance(blamed.by, Task):
        yield of_task(rule, blamed.by, **facts)
    elif blamed.by is not None:
        job, journey = blamed.by
        yield of_step(rule, job, journey, **facts)
