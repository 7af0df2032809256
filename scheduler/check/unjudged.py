"""What the book says of the planned jobs that no rule judges yet.

Told only where it bears on this plan, so that a plain book has nothing of it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import pairwise

from scheduler.check.clock import day_after, day_of, hours, midnight, seconds
from scheduler.check.floor import room_waiting, standing_places
from scheduler.check.hours import person_calendar
from scheduler.check.order import is_unjudged_wait, links
from scheduler.check.rooms import crowded, room_at_work
from scheduler.check.work import one_go
from scheduler.check.work_needed import needed_quarters
from scheduler.check.world import Task, World
from scheduler.rules import Rule
from shared.book import Job, Journey, Opening, Segment, Stage
from shared.climate import HEATING
from shared.ids import PersonId
from shared.plan import Placement
from shared.worktime import Span, open_spans


def unjudged(world: World) -> tuple[str, ...]:
    """Return the codes of what can't be judged, in the order of the rules."""
    found = {rule for rule, asks in _QUESTIONS.items() if any(asks(world))}
    return tuple(rule.value for rule in Rule if rule in found)


def _stages(world: World) -> Iterator[tuple[Task, Stage]]:
    for slot, task in world.tasks.items():
        if isinstance(task.step, Stage) and not slot[2] and not task.done:
            yield task, task.step


def _same_people(world: World) -> Iterator[bool]:
    """Tell of stages that want the people of another and don't have them."""
    for task, stage in _stages(world):
        other = stage.same_people_as
        if other is not None:
            placed = world.tasks.get((other, 0, ""))
            people = set(task.placement.people)
            yield placed is None or set(placed.placement.people) != people


def _drivers_hours(world: World) -> Iterator[bool]:
    for _, journey, _ in world.trips.values():
        yield any(leg.rules for leg in journey.legs)


def _offers(world: World) -> Iterator[bool]:
    yield any(offer.taken and offer.kind != HEATING for offer in world.book.offers)


def _told(world: World) -> Iterator[bool]:
    """Tell of what people were told for today and tomorrow and the plan has otherwise."""
    if world.book.told is None:
        return
    tomorrow = day_after(day_of(world.now, world.zone))
    until = midnight(day_after(tomorrow), world.zone)
    kept = {_sheet(placed) for placed in world.plan.placements}
    for placed in world.book.told.plan.placements:
        if placed.step in world.steps and seconds(placed.start) < until:
            over = world.facts.done(placed.step) or world.facts.said_yes(placed.step)
            yield not over and _sheet(placed) not in kept


def _sheet(placed: Placement) -> tuple[object, ...]:
    slot = (placed.step, placed.round, placed.part)
    return (*slot, placed.start, placed.end, frozenset(placed.people))


def _interrupted(world: World) -> Iterator[bool]:
    """Tell of work in one go that is under way and doesn't fit the shift it began in."""
    for task, _ in _stages(world):
        known = all(person in world.people for person in task.placement.people)
        if task.running is not None and task.in_one_go and known:
            yield any(True for _ in one_go(world, task))


def _remaining(world: World) -> Iterator[bool]:
    for task in world.work():
        known = all(person in world.people for person in task.placement.people)
        if task.running is not None and task.way is not None and known:
            yield needed_quarters(world, task) is None


def _late_work(world: World) -> Iterator[bool]:
    """Tell of overtime after which the next day's work begins before the rest is over."""
    busy: dict[PersonId, list[Task]] = defaultdict(list)
    for task in world.work():
        for person in task.placement.people:
            busy[person].append(task)
    rest = timedelta(seconds=hours(world.book.workshop.rest_hours))
    for person, tasks in busy.items():
        if person in world.people and world.people[person].overtime_taken:
            spans = _hours_worked(world, person, tasks)
            for before, after in pairwise(spans):
                days = [day_of(seconds(span.start), world.zone) for span in (before, after)]
                yield days[0] != days[1] and after.start - before.end < rest


def _hours_worked(world: World, person: PersonId, tasks: list[Task]) -> tuple[Span, ...]:
    """Return a person's hours over the days they work on the plan."""
    calendar = person_calendar(world.book.workshop, world.people[person])
    first = min(task.placement.start for task in tasks) - timedelta(days=1)
    last = max(task.placement.end for task in tasks) + timedelta(days=1)
    return open_spans(calendar, first, last)


def _sizes(world: World) -> Iterator[bool]:
    """Tell of missing sizes where room is counted, and of pieces that don't clearly pass."""
    for task in world.work():
        place = world.places.get(task.placement.place) if task.placement.place else None
        yield place is not None and room_at_work(world, task, place) is None
    for job in world.jobs:
        openings = (*world.book.workshop.openings, *job.site.openings)
        for segment in job.segments:
            for place in standing_places(world, job, segment):
                yield room_waiting(world, segment, place) is None
            yield not all(_passes(segment, opening) for opening in openings)
            yield not all(_fits_vehicles(world, job, segment))


def _passes(segment: Segment, opening: Opening) -> bool:
    """Return whether a piece passes as it stands."""
    length, width, height = segment.length_m, segment.width_m, segment.height_m
    if length is None or width is None or height is None:
        return False
    if opening.length_m is not None and max(length, width) > opening.length_m:
        return False
    return height <= opening.height_m and min(length, width) <= opening.width_m


def _fits_vehicles(world: World, job: Job, segment: Segment) -> Iterator[bool]:
    """Give, for each measured vehicle of its journeys, whether a piece alone fits and loads."""
    journeys = (step for step in job.steps if isinstance(step, Journey))
    named = {vehicle for journey in journeys for vehicle in journey.vehicles}
    for vehicle in (world.equipment[one] for one in sorted(named) if one in world.equipment):
        inner = (vehicle.inside_length_m, vehicle.inside_width_m, vehicle.inside_height_m)
        sizes = (segment.length_m, segment.width_m, segment.height_m)
        for room, size in zip(inner, sizes, strict=True):
            yield room is None or (size is not None and size <= room)
        mass = segment.mass_high_kg
        yield vehicle.payload_kg is None or mass is None or mass <= vehicle.payload_kg


def _after_outside(world: World) -> Iterator[bool]:
    """Tell of steps that come after something which neither the plan nor a fact ends."""
    for job, step in world.steps.values():
        for link in links(world, job, step):
            inside = link.before in world.steps
            yield not inside and world.end_of(link.before) is None


def _waits(world: World) -> Iterator[bool]:
    """Tell of greatest waits that run to a journey or from an answer."""
    for job, step in world.steps.values():
        for link in links(world, job, step):
            yield is_unjudged_wait(world, step, link)


_QUESTIONS: dict[Rule, Callable[[World], Iterator[bool]]] = {
    Rule.SAME_PEOPLE: _same_people,
    Rule.DRIVERS_HOURS: _drivers_hours,
    Rule.CROWDED: crowded,
    Rule.OFFERS: _offers,
    Rule.TOLD: _told,
    Rule.INTERRUPTED: _interrupted,
    Rule.REMAINING: _remaining,
    Rule.LATE_WORK: _late_work,
    Rule.SIZE: _sizes,
    Rule.AFTER_OUTSIDE: _after_outside,
    Rule.WAIT_FOR_JOURNEY: _waits,
}
