"""Bench, road and site of one person are one day, around a journey held to drivers' hours.

Whoever of the workshop is at the wheel has rested right before leaving. Whoever else goes has had
a daily rest, in one, within the day before their first duty of the journey ends: with their first
daily rest on it, else when they are back; so has who drives again on the same duty. What has left
already no plan can change.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from scheduler.check import legs
from scheduler.check.clock import DAY, QUARTER, hours, iso, seconds, up
from scheduler.check.duties import is_later_of_duty
from scheduler.check.held import is_held_to_hours
from scheduler.check.means import leaving, means_of
from scheduler.check.road.acts import BREAKS_REST, RESTS
from scheduler.check.tell import Fact, of_step
from scheduler.check.world import Task, World
from scheduler.outcome import Breach
from scheduler.rules import Rule
from shared.book import Journey
from shared.ids import PersonId, StepId
from shared.plan import Doing, Stretch, Trip
from shared.trade import figure

_Spans = list[tuple[int, int]]


def one_day(world: World) -> Iterator[Breach]:
    """Give who leaves, or works on site, without the rest that belongs to the day."""
    judged = {
        step
        for step, (_, journey, trip) in world.trips.items()
        if world.facts.has_begun(step) is False and is_held_to_hours(world, journey, trip)
    }
    if not judged:
        return
    busy = _busy(world)
    for step in judged:
        yield from _trip(world, step, busy)


def _trip(
    world: World, step: StepId, busy: dict[PersonId, list[tuple[int, int, StepId]]]
) -> Iterator[Breach]:
    job, journey, trip = world.trips[step]
    law = hours(figure("DR15a").amount)
    own = max(law, hours(world.book.workshop.rest_hours))
    means = means_of(journey, trip)
    drivers = set(means.driven_by) if means else set()
    ends = first_duty_ends(journey, trip, law)
    for person, leaves in leaving(journey, trip).items():
        if _is_under_way(world, person, step, leaves):
            continue
        begins = person in drivers and not is_later_of_duty(world, person, step)
        rest = own if begins else law
        start, end = (leaves - rest, leaves) if begins else (ends - DAY, ends)
        held = [(a, b) for a, b, by in busy[person] if by != step]
        if longest_gap([*held, (leaves, max(leaves, ends))], start, end) < rest:
            name = world.people[person].name if person in world.people else person
            facts: dict[str, Fact] = {"start": iso(start), "end": iso(end)}
            yield of_step(
                Rule.ONE_DAY, job, journey, person=name, least_minutes=rest // 60, **facts
            )


def _is_under_way(world: World, person: PersonId, step: StepId, leaves: int) -> bool:
    """Return whether a person is on another journey of the job when they leave on this one."""
    job = world.trips[step][0]
    return any(
        leaving(journey, trip).get(person, leaves) < leaves < seconds(trip.back)
        for journey, trip in world.trips_of(job)
        if journey.id != step
    )


def first_duty_ends(journey: Journey, trip: Trip, rest: int) -> int:
    """Return the second at which the first rest so long begins on a journey, else they are back.

    How they come home is not judged: where that would make the day too long, they rest before.
    """
    way: Iterable[Stretch] = trip.stretches
    if trip.travel:
        way = _own_way(trip.travel, trip.stretches, legs.site_from(journey))
    runs = [(key, list(group)) for key, group in groupby(way, key=_rests)]
    for number, (at_rest, run) in enumerate(runs):
        net = sum(seconds(e.end) - seconds(e.start) for e in run if e.doing in RESTS)
        if at_rest and number and net >= rest:
            return seconds(run[0].start)
    leaves = seconds(trip.travel[0].start if trip.travel else trip.start)
    back = seconds(trip.back)
    return back if back - leaves <= DAY - rest else max(leaves, seconds(trip.end))


def _own_way(
    travel: Sequence[Stretch], stretches: Sequence[Stretch], site: int
) -> Iterator[Stretch]:
    """Give what those do who come by their own way: they rest between their coming and the site."""
    yield from travel
    there = [each for each in stretches if each.leg >= site]
    if there and travel[-1].end < there[0].start:
        came, begins = travel[-1].end, there[0].start
        yield Stretch(doing=Doing.REST, leg=site, start=came, end=begins)
    yield from there


def _rests(each: Stretch) -> bool:
    return each.doing in RESTS | BREAKS_REST


def longest_gap(busy: _Spans, start: int, end: int) -> int:
    """Return the longest stretch of [start, end) in which nothing is done."""
    longest, at = 0, start
    for begins, ends in sorted(busy):
        if begins >= end:
            break
        longest = max(longest, min(begins, end) - at)
        at = max(at, ends)
    return max(longest, end - at)


def _busy(world: World) -> dict[PersonId, list[tuple[int, int, StepId]]]:
    """Return when everybody works, in seconds, and for which step."""
    found: dict[PersonId, list[tuple[int, int, StepId]]] = defaultdict(list)
    for task in world.tasks.values():
        if task.work:
            for start, end in _worked(world, task):
                for person in task.placement.people:
                    found[person].append((start, end, task.step.id))
    for work in world.book.other_work:
        for person in work.people:
            found[person].append((seconds(work.start), seconds(work.end), StepId("")))
    for step, (_, journey, trip) in world.trips.items():
        for person, leaves in leaving(journey, trip).items():
            found[person].append((leaves, seconds(trip.back), step))
    return found


def _worked(world: World, task: Task) -> _Spans:
    """Return the stretches of a task in which its people are on shift, pauses left out."""
    people = task.placement.people
    if not people or any(person not in world.people for person in people):
        return [(task.start, task.end)]
    team = world.hours.team(people)
    spans = team.within(task.start // QUARTER, up(task.end))
    return [(start * QUARTER, end * QUARTER) for start, end in spans]
